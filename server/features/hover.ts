/**
 * What a number is and how it came about. The first line is the answer, then the working with the places of its inputs.
 * At most twelve lines, and never a word on whether something is without danger.
 */
import type { Position, Range, Span } from '../../grammar/tree';
import { FACTS, KEYWORDS, UNITS } from '../../grammar/vocabulary';
import { hillOrder, prettyFormula } from '../chem/formula';
import type {
  ChargeValue,
  ClaimValue,
  PlanValue,
  ProductValue,
  ReactionValue,
  RecoveredValue,
  SolutionValue,
  SubstanceValue,
  TakenValue,
  TermValue,
  WeighingValue,
  WeighValue,
} from '../compute/values';
import type {
  Amount,
  Balance,
  Datum,
  Entry,
  Material,
  NameRef,
  Reading,
  Substance,
  Vessel,
  Where,
} from '../model/page';
import { divide, exact, type Held, isHeld, multiply, type Result, subtract } from '../quantity/held';
import { BASE_UNITS } from '../quantity/kinds';
import { plain, show } from '../quantity/show';
import { unitOf } from '../quantity/units';
import { factsIn } from '../rules/walk';
import type { PageResult, Snapshot } from '../snapshot';
import { type PagePlace, placeAt, within } from './place';
import { shareOf } from './share';
import { filledIn, footnotes, lineOf, type Places, placesOn, steps } from './working';

export interface Hover {
  readonly range: Range;
  readonly markdown: string;
}

const MOST_LINES = 12;

export function hover(snapshot: Snapshot, at: Position): Hover | undefined {
  const place = placeAt(snapshot, at);
  if (!place || place.block.kind === 'prose' || place.block.kind === 'fence') return undefined;
  const desk: Desk = { snapshot, place, result: snapshot.page(place.page) };
  const found =
    claimHover(desk) ??
    vesselOrBalanceHover(desk) ??
    chargeHover(desk) ??
    productHover(desk) ??
    weighHover(desk) ??
    planHover(desk) ??
    reactionHover(desk) ??
    declaredHover(desk) ??
    vocabularyHover(desk);
  if (!found) return undefined;
  return { range: snapshot.range(place.page, found.span), markdown: markdown(found.lines.slice(0, MOST_LINES)) };
}

/** What lies open: the page, and where the reader points. */
interface Desk {
  readonly snapshot: Snapshot;
  readonly place: PagePlace;
  readonly result: PageResult;
}

interface Found {
  readonly span: Span;
  readonly lines: readonly string[];
}

const places = (desk: Desk, own?: Span): Places => placesOn(desk.snapshot, desk.place.page, own);
const pointsAt = (desk: Desk, span: Span): boolean => within(span, desk.place.offset);
/** The keyword with the name: the head of a statement. */
const head = (entry: Entry): Span => ({ start: entry.span.start, end: entry.mark.end });
const line = (desk: Desk, span: Span): number => lineOf(desk.snapshot.range(desk.place.page, span));

// ── claims ───────────────────────────────────────────────────────────────────────────────────────────────────────

function claimHover(desk: Desk): Found | undefined {
  const found = desk.result.values.claims.find(({ claim }) => pointsAt(desk, claim.span));
  return (
    found && {
      span: found.claim.span,
      lines: claimLines(found, places(desk, found.owner.span), textAt(desk, found.claim.span)),
    }
  );
}

function claimLines({ property, value, verdict, slip }: ClaimValue, where: Places, written: string): string[] {
  if (property === 'literature') return [`**${plainText(written)}** · from the literature, not computed`];
  if (!isHeld(value)) return [`**${plainText(written)}** cannot be checked: needs ${plainText(value.what)}.`];
  const computed = `**${show(value)}**`;
  const working = worked(value, where);
  switch (verdict) {
    case undefined:
      return [`${computed} computed`, ...said(working)];
    case 'no': {
      const slipLine =
        slip &&
        `Slip that gives ${plainText(written)}: *${slip.says}*${slip.working ? `, ${plainText(slip.working)}` : ''}.`;
      return [
        `**${plainText(written)}** does not match: ${computed}`,
        ...said(working),
        ...(slipLine ? ['', slipLine] : []),
      ];
    }
    case 'nearly':
      return [`${plainText(written)} is one unit of its last digit away from ${computed}.`, ...said(working)];
    case 'over-precise':
      return [
        `${plainText(written)} agrees: ${show(value, { u: true })} computed; it has more digits than are known.`,
        ...said(working),
      ];
    default:
      return [`${plainText(written)} agrees: ${computed} computed.`, ...said(working)];
  }
}

// ── what went in ─────────────────────────────────────────────────────────────────────────────────────────────────

function chargeHover(desk: Desk): Found | undefined {
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
      ...after(excess(value), ...footnotes(heldOf(value.mass, value.volume, value.amount))),
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

const NO_WORKING = { inputs: [] };

// ── what came out ────────────────────────────────────────────────────────────────────────────────────────────────

function productHover(desk: Desk): Found | undefined {
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
        ])),
    ...after(
      value.stageYield && `All of this stage together: ${show(value.stageYield)}.`,
      value.brsm && `Based on recovered starting material: ${show(value.brsm)}.`,
      before(value, all),
      value.superseded && 'A later stage replaces this line.',
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

function weighHover(desk: Desk): Found | undefined {
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
    ...after(value.weighing?.balance && `Balance ${value.weighing.balance.name}.`),
  ];
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

function planHover(desk: Desk): Found | undefined {
  const value = desk.result.values.plans.find(({ plan }) => pointsAt(desk, plan.entry.span));
  if (!value) return undefined;
  const { entry, name } = value.plan;
  return {
    span: amountSpan(desk, entry),
    lines: [`**${plainText(name.text)}** · plan${toTake(value)}`, ...planRows(value, places(desk, entry.span))],
  };
}

const toTake = ({ mass, volume }: PlanValue): string => {
  const found = [mass, volume].filter(isHeld).map((held) => `**${show(held)}**`);
  return found.length > 0 ? ` · ${found.join(' or ')}` : '';
};

function planRows({ mass, volume, amount }: PlanValue, where: Places): string[] {
  const rest = [amount, mass, volume];
  const lines = rest.flatMap((result) => (isHeld(result) ? worked(result, where, 1) : []));
  const missing = isHeld(mass) || isHeld(amount) ? [] : [`needs ${mass.what}`];
  return said([...new Set(lines), ...missing]);
}

// ── reactions ────────────────────────────────────────────────────────────────────────────────────────────────────

function reactionHover(desk: Desk): Found | undefined {
  const value = desk.result.values.reactions.find(({ reaction }) => pointsAt(desk, reaction.entry.span));
  if (!value) return undefined;
  const term = [...value.left, ...value.right].find(({ term }) => pointsAt(desk, term.span) && !term.rest);
  if (term) return termHover(desk, term);
  return pointsAt(desk, value.reaction.equation.span) || pointsAt(desk, head(value.reaction.entry))
    ? { span: value.reaction.equation.span, lines: reactionLines(value, isolated(desk, value)) }
    : undefined;
}

/** Products that are weighed on this page; where none is, the first. */
function isolated({ result }: Desk, { right }: ReactionValue): readonly TermValue[] {
  const made = right.filter(({ term }) => result.page.products.some(({ name }) => sameName(name, term.name)));
  return made.length > 0 ? made : right.slice(0, 1);
}

const sameName = (a: NameRef, b: NameRef): boolean => (a.target ? a.target.key === b.target?.key : a.text === b.text);

function reactionLines(value: ReactionValue, wanted: readonly TermValue[]): string[] {
  const { reaction, balancing, atomEconomy, limiting } = value;
  // Molar masses are known far better than anybody wants to read here.
  const economy =
    balancing.kind === 'balanced' && isHeld(atomEconomy)
      ? ` · atom economy ${show({ ...atomEconomy, figures: 3 }, { as: 'claim' })}`
      : '';
  const title =
    balancing.kind === 'balanced'
      ? 'balanced'
      : balancing.kind === 'unbalanced'
        ? '**not balanced**'
        : 'balance not checked';
  const reactant = (term: TermValue): string => {
    const name = plainText(term.term.name.text);
    if (limiting?.term.term === term.term) return `${name} **${show(limiting.amount)}, limiting**`;
    return isHeld(term.charged) ? `${name} ${show(term.charged)}` : term.unlimited ? `${name} (excess)` : name;
  };
  const product = (made: TermValue): string => {
    const theory = wanted.includes(made) ? value.theoretical.find((t) => t.term === made.term) : undefined;
    const name = plainText(made.term.name.text);
    return theory && isHeld(theory.mass) ? `${name} (theory ${show(theory.mass)})` : name;
  };
  const side = (terms: readonly TermValue[], shownAs: (term: TermValue) => string): string =>
    terms.map((term) => (term.term.rest ? '…' : shownAs(term))).join(' + ');
  return [
    `**${plainText(reaction.id)}** · ${title}${economy}`,
    '',
    `${side(value.left, reactant)} → ${side(value.right, product)}`,
    ...after(...balanceLines(value)),
  ];
}

function balanceLines({ left, right, balancing, reaction }: ReactionValue): string[] {
  if (balancing.kind === 'unbalanced') {
    const differences = balancing.differences.map(({ what, left: l, right: r }) => `${what} ${l} ≠ ${r}`).join(' · ');
    const answer = {
      one: `Balanced: ${balancing.equation ?? ''}`,
      several: 'Several sets of coefficients balance it.',
      none: 'No coefficients balance it.',
    };
    return [differences, answer[balancing.solution]];
  }
  if (balancing.kind === 'open')
    return [balancing.why === 'rest' ? 'By-products are not written (…).' : 'A formula of the equation is not known.'];
  const l = atoms(left);
  const r = atoms(right);
  const counts = hillOrder(l).map((element) => {
    const count = l.get(element)!;
    return `${element} ${plain(count.value)} = ${plain((r.get(element) ?? count).value)}`;
  });
  return [counts.join(' · '), ...(reaction.resolution ? ['Resolution: theory is half.'] : [])];
}

/** Atoms on one side. */
function atoms(terms: readonly TermValue[]): ReadonlyMap<string, Held> {
  const sum = new Map<string, Held>();
  for (const { term, substance } of terms) {
    const { numerator, denominator } = term.coefficient;
    for (const [element, count] of substance?.substance.formula?.formula?.counts ?? []) {
      const here = exact('number', count.times(String(numerator)).div(String(denominator)));
      const known = sum.get(element);
      sum.set(element, known ? exact('number', known.value.plus(here.value)) : here);
    }
  }
  return sum;
}

function termHover(desk: Desk, { term, substance, charged }: TermValue): Found {
  const card = substance ? substanceLines(desk, substance) : nameLines(term.name);
  const amount = isHeld(charged) ? [`charged ${show(charged, { u: true })}`] : [];
  return { span: term.name.span, lines: [...card, ...said(amount)] };
}

function nameLines(name: NameRef): string[] {
  if (name.several)
    return [`**${plainText(name.text)}** may be ${name.several.slice(0, 5).map(plainText).join(', ')}.`];
  return [`**${plainText(name.text)}** · nothing is known of it: no line on the page, no register, no handbook entry`];
}

// ── declarations ─────────────────────────────────────────────────────────────────────────────────────────────────

function declaredHover(desk: Desk): Found | undefined {
  const { substances, solutions } = desk.result.values;
  const substance = substances.find(({ substance: { entry } }) => entry && pointsAt(desk, head(entry)));
  if (substance?.substance.entry)
    return { span: substance.substance.entry.mark, lines: substanceLines(desk, substance) };
  const solution = solutions.find(({ solution: { entry } }) => entry && pointsAt(desk, head(entry)));
  if (solution?.solution.entry) return { span: solution.solution.entry.mark, lines: solutionLines(desk, solution) };
  const mention = desk.result.page.mentions.find((m) => m.what === 'substance' && pointsAt(desk, m.span));
  if (!mention) return undefined;
  const known = [...substances.map((s) => s.substance), ...solutions.map((s) => s.solution)].find(
    (m) => m.key === mention.key,
  );
  const value = known && materialLines(desk, known);
  return value && { span: mention.span, lines: value };
}

function materialLines(desk: Desk, material: Material): string[] | undefined {
  const { substances, solutions } = desk.result.values;
  if (material.kind === 'substance') {
    const value = substances.find(({ substance }) => substance.key === material.key);
    return value && substanceLines(desk, value);
  }
  const value = solutions.find(({ solution }) => solution.key === material.key);
  return value && solutionLines(desk, value);
}

function substanceLines(desk: Desk, { substance, molarMass, density, purity }: SubstanceValue): string[] {
  const where = places(desk, substance.entry?.span);
  const formula = substance.formula ? ` · ${prettyFormula(substance.formula.text)}` : '';
  const source = isHeld(molarMass) ? tableOf(molarMass) : undefined;
  const facts = [
    isHeld(density) && `density ${shownWith(density, where)}`,
    substance.purity && `purity ${datum(substance.purity, where)}`,
    !purity.value.eq(1) && !substance.purity && `${show(purity)} of the material`,
    substance.mp && `mp ${datum(substance.mp, where)}`,
    substance.bp && `bp ${datum(substance.bp, where)}`,
    substance.cas && `CAS ${substance.cas.text}`,
  ];
  return [
    `**${plainText(substance.name)}**${formula}`,
    ...said([
      isHeld(molarMass)
        ? `${show(molarMass)}${source ? ` (${source})` : ''}`
        : `molar mass not computable: needs ${molarMass.what}`,
      facts.filter(Boolean).join(' · '),
      usesOf(desk, substance),
      substance.hazards.length > 0 && `${substance.hazards.join(', ')}: see the safety data sheet`,
      whence(substance.where),
    ]),
    ...after(...footnotes(heldOf(density, purity))),
  ];
}

/** Where else on the page it stands: `here: charged 20.0 mL · theory 17.94 g · distilled 13.674 g`. */
function usesOf(desk: Desk, substance: Substance): string | undefined {
  const { charges, products, reactions } = desk.result.values;
  const is = (name: NameRef) => name.target?.key === substance.key;
  // As it was measured; what was worked out stands on its own line.
  const taken = ({ mass, volume, amount }: TakenValue): Result =>
    [mass, volume, amount].find((held) => isHeld(held) && held.working.formula === undefined) ?? mass;
  const uses: readonly (readonly [string, Result])[] = [
    ...charges.filter(({ charge }) => is(charge.name)).map((v) => ['charged', taken(v)] as const),
    ...reactions.flatMap((r) =>
      r.theoretical.filter(({ term }) => is(term.name)).map((t) => ['theory', t.mass] as const),
    ),
    ...products
      .filter(({ product }) => is(product.name))
      .map((v) => [v.product.part?.text ?? v.product.stage?.text ?? 'product', taken(v)] as const),
  ];
  const shown = uses.flatMap(([what, held]) => (isHeld(held) ? [`${what} ${show(held)}`] : []));
  return shown.length > 0 ? `here: ${shown.join(' · ')}` : undefined;
}

function solutionLines(desk: Desk, { solution, concentration, massFraction, density }: SolutionValue): string[] {
  const where = places(desk, solution.entry?.span);
  const strength = [concentration, massFraction].find(isHeld);
  return [
    `**${plainText(solution.name)}** · ${[solution.solute?.text, solution.solvent && `in ${solution.solvent.text}`]
      .filter(Boolean)
      .map((t) => plainText(String(t)))
      .join(' ')}`,
    ...said([
      isHeld(concentration)
        ? `**${show(concentration, { u: true })}**`
        : `concentration not computable: needs ${concentration.what}`,
      ...(strength ? worked(strength, where) : []),
      isHeld(density) && `density ${shownWith(density, where)}`,
      whence(solution.where),
    ]),
    ...after(...footnotes(heldOf(concentration, density))),
  ];
}

function vesselOrBalanceHover(desk: Desk): Found | undefined {
  const { page } = desk.result;
  for (const { amount } of [...page.charges, ...page.products, ...page.recovered, ...page.weighs]) {
    const { vessel, balance } = amount.weighing;
    if (vessel?.target && pointsAt(desk, vessel.span))
      return { span: vessel.span, lines: vesselLines(desk, vessel.target) };
    if (balance?.target && pointsAt(desk, balance.span))
      return { span: balance.span, lines: balanceLinesOf(desk, balance.target) };
  }
  const vessel = page.vessels.find(({ entry }) => pointsAt(desk, head(entry)));
  if (vessel) return { span: vessel.entry.mark, lines: vesselLines(desk, vessel) };
  const balance = page.balances.find(({ entry }) => pointsAt(desk, head(entry)));
  return balance && { span: balance.entry.mark, lines: balanceLinesOf(desk, balance) };
}

function vesselLines(desk: Desk, vessel: Vessel): string[] {
  const where = places(desk, vessel.where.kind === 'page' ? vessel.entry.span : undefined);
  const tare = (reading: Reading): string => {
    const page = reading.from ? `from ${reading.from.id}` : undefined;
    return `tare ${datum(reading.datum, where)}${page ? ` (${page})` : ''}`;
  };
  const elsewhere = desk.result.world
    .tares(vessel.key)
    .map((t) => `tare ${t.digits} ${t.unit} (${[t.id ?? 'register', t.date].filter(Boolean).join(', ')})`);
  const readings = [...vessel.tares.map(tare), ...new Set(elsewhere)];
  return [
    `**${plainText(vessel.name)}**${vessel.description ? ` · ${plainText(vessel.description)}` : ' · vessel'}`,
    ...said([...(readings.length > 0 ? readings.slice(0, 8) : ['no tare written']), whence(vessel.where)]),
  ];
}

function balanceLinesOf(desk: Desk, balance: Balance): string[] {
  const where = places(desk, balance.where.kind === 'page' ? balance.entry.span : undefined);
  const says = (label: string, value: Datum | undefined) => value && `${label} ${datum(value, where)}`;
  return [
    `**${plainText(balance.name)}** · balance`,
    ...said([
      says('readability', balance.readability),
      says('repeatability', balance.repeatability),
      says('capacity', balance.capacity),
      says('smallest net mass', balance.minimum),
      balance.checked && `checked ${balance.checked.text}`,
      whence(balance.where),
    ]),
  ];
}

function whence(where: Where): string | undefined {
  switch (where.kind) {
    case 'page':
      return undefined;
    case 'file':
      return 'declared at the head of the file';
    case 'register':
      return `register ${decodeURIComponent(where.uri.slice(where.uri.lastIndexOf('/') + 1))}`;
    case 'made':
      return `made on ${where.id}`;
    case 'handbook':
      return 'handbook entry';
    case 'formula':
      return 'a formula; nothing else is declared';
  }
}

// ── words and units ──────────────────────────────────────────────────────────────────────────────────────────────

function vocabularyHover({ place, result }: Desk): Found | undefined {
  const { statement } = place.block;
  if (!statement) return undefined;
  const shift = (span: Span): Span => ({ start: span.start + place.at, end: span.end + place.at });
  if (within(shift(statement.keywordSpan), place.offset))
    return {
      span: shift(statement.keywordSpan),
      lines: [`**${statement.keyword}** · ${KEYWORDS[statement.keyword].help}`],
    };
  for (const { fact, block, at } of factsIn(result.source)) {
    if (block !== place.index) continue;
    const here = (span: Span): Span => ({ start: span.start + at, end: span.end + at });
    for (const part of fact.parts)
      if (part.kind === 'quantity' && part.unit && within(here(part.unit.span), place.offset))
        return { span: here(part.unit.span), lines: unitLines(part.unit.symbol) };
    if (fact.key && fact.keySpan && within(here(fact.keySpan), place.offset))
      return { span: here(fact.keySpan), lines: [`**${fact.key}** · ${FACTS[fact.key].help}`] };
  }
  return undefined;
}

function unitLines(symbol: keyof typeof UNITS): string[] {
  const { kind, factor, offset } = unitOf(symbol);
  const base = BASE_UNITS[kind];
  const worth =
    kind === 'other' || base === symbol || offset
      ? ''
      : ` · 1 ${symbol} = ${plain(factor)}${base === '1' ? '' : ` ${base}`}`;
  return [`**${symbol}** · ${UNITS[symbol].name}${worth}`];
}

// ── text ─────────────────────────────────────────────────────────────────────────────────────────────────────────

/** The head of the statement, a quantity of it or a reading: what a person points at to learn about the amount. */
function pointsAtAmount(desk: Desk, entry: Entry, amount: ChargeValue['charge']['amount']): boolean {
  if (!pointsAt(desk, entry.span)) return false;
  if (pointsAt(desk, head(entry)) || (amount.word && pointsAt(desk, amount.word.span))) return true;
  return (
    amount.quantities.some(({ span }) => pointsAt(desk, span)) ||
    amount.weighing.readings.some(({ word, datum: { span } }) => pointsAt(desk, { start: word.start, end: span.end }))
  );
}

/** What is pointed at: the head, or else the line's own number. */
function amountSpan(desk: Desk, entry: Entry): Span {
  if (pointsAt(desk, head(entry))) return entry.mark;
  for (const { fact, block, at } of factsIn(desk.result.source)) {
    if (block !== desk.place.index) continue;
    for (const { span } of fact.parts) {
      const here = { start: span.start + at, end: span.end + at };
      if (pointsAt(desk, here)) return here;
    }
  }
  return entry.mark;
}

const textAt = ({ result }: Desk, { start, end }: Span): string => result.source.text.slice(start, end);

const heldOf = (...results: readonly Result[]): Held[] => results.filter(isHeld);

const said = (lines: readonly (string | false | undefined)[]): string[] =>
  lines.filter((text): text is string => Boolean(text));

/** Lines of text stay lines: Markdown would run them together without the two blanks. */
const markdown = (lines: readonly string[]): string =>
  lines.map((text, i) => (text && lines[i + 1] && !text.startsWith('|') ? `${text}  ` : text)).join('\n');

const worked = (held: Held, where: Places, limit?: number): string[] => steps(held, where, limit).map(plainText);

/** A paragraph, if there is anything to say. */
function after(...texts: readonly (string | false | undefined)[]): string[] {
  const lines = said(texts);
  return lines.length > 0 ? ['', lines.map(plainText).join(' · ')] : [];
}

function datum({ quantity, origin }: Datum, where: Places): string {
  const to = quantity.to ? `–${quantity.to.text}` : '';
  const unit = quantity.unit?.symbol ? ` ${quantity.unit.symbol}` : '';
  const place = where(origin);
  return `${quantity.number.text}${to}${unit}${place ? ` (${place})` : ''}`;
}

function shownWith(held: Held, where: Places): string {
  const place = held.working.origin && where(held.working.origin);
  return `${held.working.written ?? show(held)}${place ? ` (${place})` : ''}`;
}

/** The table a value rests on in the end. */
function tableOf(held: Held): string | undefined {
  const { origin, inputs } = held.working;
  if (origin) return origin.from === 'table' ? origin.source : undefined;
  return inputs.map((input) => tableOf(input.held)).find((source) => source !== undefined);
}

/** Names hold characters that Markdown would take for its own. */
const plainText = (text: string): string => text.replace(/[\\`*_[\]<>~]/g, '\\$&');
const cell = (text: string): string => plainText(text).replace(/\|/g, '\\|');
