/** What went in and what came out: how much, from which readings. */
import { metPlans } from '../../compute/plan-met';
import type {
  ChargeValue,
  ImpliedPlan,
  PlannedValue,
  PlanValue,
  ProductValue,
  RecoveredValue,
  TakenValue,
  WeighingValue,
  WeighValue,
} from '../../compute/values';
import type { Amount } from '../../model/page';
import { divide, exact, type Held, isHeld, multiply, type Result, subtract } from '../../quantity/held';
import { show } from '../../quantity/show';
import { filledIn, type Places } from '../../quantity/steps';
import { shareOf } from '../share';
import { footnotes } from '../working';
import {
  after,
  amountSpan,
  cell,
  type Desk,
  type Found,
  heldOf,
  line,
  places,
  plainText,
  pointsAt,
  pointsAtAmount,
  said,
  worked,
} from './desk';
import { uncertaintyFrom } from './uncertainty';
import { precisionLine, seriesLines } from './weighing';

export function chargeHover(desk: Desk): Found | undefined {
  const value = desk.result.values.charges.find(({ charge }) => pointsAtAmount(desk, charge.entry, charge.amount));
  if (!value) return undefined;
  const { entry, name, roles, amount } = value.charge;
  const share = shareOf(value);
  const titles = [
    'charge',
    ...roles.map(({ role }) => role),
    share && show(share.held, { ...share.unit, as: 'claim' }),
  ];
  return {
    span: amountSpan(desk, entry),
    lines: [
      `**${plainText(name.text)}** · ${said(titles).join(', ')}`,
      ...incomplete(value.weighing, amount),
      ...takenTable(desk, value, places(desk, entry.span), ...shareRow(value)),
      ...after(
        excess(value),
        plannedBeside(desk, value),
        uncertaintyFrom(heldOf(value.amount)[0]),
        ...footnotes(heldOf(value.mass, value.volume, value.amount)),
      ),
    ],
  };
}

function takenTable(desk: Desk, taken: TakenValue, where: Places, ...more: readonly string[]): string[] {
  const row = (label: string, result: Result, withU = false): string[] => {
    if (isHeld(result)) return [`| ${label} | ${show(result, { u: withU })} | ${cell(how(desk, result, where))} |`];
    return result.missing === 'depends' || result.missing === 'amount-missing'
      ? []
      : [`| ${label} | not computable | needs ${cell(result.what)} |`];
  };
  const missing = [taken.mass, taken.volume].filter((result) => !isHeld(result));
  const rows = [
    // Of mass and volume the one that was not measured needs no excuse.
    ...(missing.includes(taken.volume) ? [] : row('volume', taken.volume)),
    ...(missing.includes(taken.mass) && isHeld(taken.amount)
      ? []
      : row('mass', taken.mass, taken.weighing !== undefined)),
    ...row('amount', taken.amount, true),
    ...more,
  ];
  return rows.length === 0 ? [] : ['', '| | | |', '|---|---|---|', ...rows];
}

function how(desk: Desk, held: Held, where: Places): string {
  const { origin } = held.working;
  if (held.working.formula !== undefined) return filledIn(held, where) ?? '';
  if (origin?.from === 'here') return `measured, line ${line(desk, origin)}`;
  return (origin && where(origin)) ?? '';
}

function shareRow(value: ChargeValue): string[] {
  const share = shareOf(value);
  const limiting = value.reaction?.limiting;
  if (!share || !limiting || limiting.term.term === value.term) return [];
  const label = share.unit.unit ? 'share' : 'equivalents';
  return [
    `| ${label} | ${show(share.held, share.unit)} | ÷ ${show(limiting.amount)} ${cell(limiting.term.term.name.text)}, limiting |`,
  ];
}

/** How much more of a reactant there is than the reaction can use. */
function excess({ reaction, term, amount, unlimited }: ChargeValue): string | undefined {
  if (!reaction || !term || unlimited || !isHeld(amount) || !isHeld(reaction.extent)) return undefined;
  if (reaction.limiting?.term.term === term) return undefined;
  const { numerator, denominator } = term.coefficient;
  const coefficient = divide(
    'number',
    exact('number', String(numerator)),
    exact('number', String(denominator)),
    NO_WORKING,
  );
  if (!coefficient) return undefined;
  const over = subtract(amount, multiply('amount', reaction.extent, coefficient, NO_WORKING), NO_WORKING);
  return over.value.gt(0) ? `Excess over ${plainText(reaction.reaction.id)}: ${show(over)}.` : undefined;
}

/** Planned against charged, all lines of one name together. */
function plannedBeside(desk: Desk, value: ChargeValue): string | undefined {
  const met = metPlans(desk.result.values).find(({ charges }) => charges.includes(value));
  if (!met) return undefined;
  const { planned, charged, ratio, charges, plan } = met;
  const together = charges.length > 1 ? ` in ${charges.length} lines` : '';
  const three = (held: Held): string => show({ ...held, figures: 3 }, { as: 'claim' });
  return `Planned ${three(planned)} (line ${line(desk, plan.entry.mark)}), charged ${three(charged)}${together}: ${three(ratio)} of it.`;
}

const NO_WORKING = { inputs: [] };

export function productHover(desk: Desk): Found | undefined {
  const { products, recovered } = desk.result.values;
  const product = products.find(({ product }) => pointsAtAmount(desk, product.entry, product.amount));
  if (product) return { span: amountSpan(desk, product.product.entry), lines: productLines(desk, product, products) };
  const back = recovered.find(({ recovered }) => pointsAtAmount(desk, recovered.entry, recovered.amount));
  return back && { span: amountSpan(desk, back.recovered.entry), lines: recoveredLines(desk, back) };
}

function productLines(desk: Desk, value: ProductValue, all: readonly ProductValue[]): string[] {
  const { entry, name, stage, part, label, amount } = value.product;
  const percent = isHeld(value.yield) && `**${show(value.yield)}**`;
  const titles = [stage?.text ?? 'product', part?.text, label && `label ${label.text}`, percent];
  const theory = value.theory && isHeld(value.theory.amount) ? value.theory.amount : undefined;
  const limiting = value.reaction?.limiting?.term.term.name.text;
  const named = limiting ? `, limiting ${plainText(limiting)}` : '';
  return [
    `**${plainText(name.text)}** · ${said(titles).join(' · ')}`,
    ...(value.weighing?.how === 'incomplete'
      ? incomplete(value.weighing, amount)
      : said([
          ...workingOf(value, places(desk, entry.span)),
          theory && isHeld(value.yield) && `÷ ${show(theory)} (theory${named}) = **${show(value.yield, { u: true })}**`,
          isHeld(value.amount) && !isHeld(value.yield) && `yield not computable: needs ${plainText(value.yield.what)}`,
          ...(value.weighing ? seriesLines(value.weighing) : []),
        ])),
    ...after(
      value.stageYield && `All of this stage together: ${show(value.stageYield)}.`,
      value.brsm && `Based on recovered starting material: ${show(value.brsm)}.`,
      before(value, all),
      value.superseded && 'A later stage replaces this line.',
      uncertaintyFrom(heldOf(value.yield)[0]),
      ...footnotes(heldOf(value.mass, value.amount)),
    ),
  ];
}

/** The stage before, and how much of it is left. */
function before(value: ProductValue, all: readonly ProductValue[]): string | undefined {
  const earlier = all
    .slice(0, all.indexOf(value))
    .findLast((p) => p.superseded && p.product.name.text === value.product.name.text);
  if (!earlier || !isHeld(earlier.mass) || !isHeld(value.mass)) return undefined;
  const left = divide('ratio', value.mass, earlier.mass, NO_WORKING);
  const percent = isHeld(earlier.yield) ? ` (${show(earlier.yield)})` : '';
  return `${earlier.product.stage?.text ?? 'Before'}: ${show(earlier.mass)}${percent}${left ? `; ${show(left)} of it is here` : ''}.`;
}

function recoveredLines(desk: Desk, value: RecoveredValue): string[] {
  const { entry, name, amount } = value.recovered;
  const where = places(desk, entry.span);
  const share = isHeld(value.recovery) ? value.recovery : undefined;
  return [
    `**${plainText(name.text)}** · recovered${share ? ` · **${show(share)}**` : ''}`,
    ...(value.weighing?.how === 'incomplete'
      ? incomplete(value.weighing, amount)
      : [...workingOf(value, where), ...(share ? worked(share, where, 1) : [])]),
  ];
}

function workingOf(taken: TakenValue, where: Places): string[] {
  if (isHeld(taken.amount)) {
    const lines = worked(taken.amount, where);
    return lines.length > 0 ? lines : [show(taken.amount)];
  }
  const net = isHeld(taken.mass) ? worked(taken.mass, where) : [];
  return taken.amount.missing === 'depends'
    ? net
    : [...net, `amount not computable: needs ${plainText(taken.amount.what)}`];
}

export function weighHover(desk: Desk): Found | undefined {
  const value = desk.result.values.weighs.find(({ weigh }) => pointsAtAmount(desk, weigh.entry, weigh.amount));
  if (!value) return undefined;
  return { span: amountSpan(desk, value.weigh.entry), lines: weighLines(desk, value) };
}

function weighLines(desk: Desk, value: WeighValue): string[] {
  const { entry, name, amount } = value.weigh;
  const net = value.weighing && isHeld(value.weighing.net) ? value.weighing.net : undefined;
  return [
    `**${plainText(name.text)}** · weighed${net ? ` · **${show(net, { u: true })}**` : ''}`,
    ...incomplete(value.weighing, amount),
    ...(net ? worked(net, places(desk, entry.span)) : []),
    ...corrected(places(desk, entry.span), value),
    ...(value.weighing ? seriesLines(value.weighing) : []),
    ...after(
      value.weighing?.balance && `Balance ${value.weighing.balance.name}.`,
      value.weighing && precisionLine(value.weighing),
    ),
  ];
}

/** The mass where it is not the net as shown: corrected for buoyancy, or in want of a density for that. */
function corrected(where: Places, { mass, weighing }: WeighValue): string[] {
  if (!weighing || !isHeld(weighing.net) || mass === weighing.net) return [];
  if (!isHeld(mass)) return [`mass not computable: needs ${plainText(mass.what)}`];
  const { note, formula } = mass.working;
  return note ? [...(formula?.includes('ρₐ') ? worked(mass, where, 1) : []), plainText(note)] : [];
}

/** Said as a fact, not guessed: the tare of another vessel is no tare. */
function incomplete(weighing: WeighingValue | undefined, { weighing: { vessel } }: Amount): string[] {
  if (weighing?.how !== 'incomplete') return [];
  const { gross, tare, net } = weighing;
  if (!gross || tare) return isHeld(net) ? [] : [`Not computable: needs ${plainText(net.what)}.`];
  const named = vessel && plainText(vessel.text);
  return [
    `gross ${show(gross.held)}${named ? ` in ${named}` : ''} · no tare written${named ? ` for ${named}` : ''}`,
    'Net and yield are not computable. Tares of other vessels are not used.',
  ];
}

export function planHover(desk: Desk): Found | undefined {
  const value = desk.result.values.plans.find(({ plan }) => pointsAt(desk, plan.entry.span));
  if (!value) return undefined;
  const { entry, name } = value.plan;
  const where = places(desk, entry.span);
  const implied = desk.result.values.planned.filter(({ target }) => target === value.plan);
  return {
    span: amountSpan(desk, entry),
    lines: [
      `**${plainText(name.text)}** · plan${toTake(value)}`,
      ...planRows(value, where),
      ...impliedRows(implied),
      ...after(
        belowSaid(value),
        uncertaintyFrom(heldOf(value.makingUp?.volume ?? value.mass, value.mass)[0]),
        ...footnotes(heldOf(value.mass, value.volume)),
      ),
    ],
  };
}

const toTake = (value: PlanValue): string => {
  const { mass, volume, makingUp, role, yield: share } = value;
  if (role === 'product') return share ? ` at ${show(share)}` : '';
  const of = makingUp ? ` of ${plainText(makingUp.source.name)}, made up to ${show(makingUp.whole)}` : '';
  const found = makingUp ? [mass, volume].filter(isHeld).map((held) => show(held)) : measures(value);
  return found.length > 0 ? ` · **${found.join('** or **')}**${of}` : '';
};

/** As balance and glassware measure it; as computed where nobody says on what. */
const measures = ({ mass, volume, weigh, measure, role }: PlannedValue): string[] => {
  const byVolume = measure ? show(measure) : isHeld(volume) && show(volume);
  // Nobody weighs a solvent.
  if (role === 'solvent' && byVolume) return [byVolume];
  return said([weigh ? show(weigh) : isHeld(mass) && show(mass), byVolume]);
};

const belowSaid = ({ below, balance }: PlannedValue): string | undefined =>
  below &&
  `Below the minimum weight of ${balance?.name ?? 'the balance'}, ${show({ ...below.least, figures: 2 }, { as: 'claim' })}${
    below.relative
      ? `: twice its standard deviation is ${show({ ...below.relative, figures: 2 }, { as: 'claim' })} of the mass`
      : ''
  }.`;

function impliedRows(implied: readonly ImpliedPlan[]): string[] {
  const rows = implied.map((value) => {
    const amount = isHeld(value.amount) ? show(value.amount) : '';
    const role = value.role ? `, ${value.role}` : '';
    return `| ${cell(value.name)}${role} | ${amount} | ${measures(value).join(' or ')} |`;
  });
  return rows.length > 0 ? ['', '| to take | | |', '|---|---|---|', ...rows] : [];
}

function planRows({ mass, volume, amount, theory, makingUp }: PlanValue, where: Places): string[] {
  const rest = [...(theory ? [theory.amount, theory.mass] : []), amount, mass, ...(theory ? [] : [volume])];
  const lines = rest.flatMap((result) => (isHeld(result) ? worked(result, where, makingUp ? 1 : 2) : []));
  const missing = isHeld(mass) || isHeld(amount) ? [] : [`needs ${mass.what}`];
  return said([...[...new Set(lines)].slice(0, 6), ...missing]);
}
