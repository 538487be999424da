/** Equations, and what their names stand for: substances, solutions, vessels, balances. */
import { hillOrder, prettyFormula } from '../../chem/formula';
import type { ReactionValue, SolutionValue, SubstanceValue, TakenValue, TermValue } from '../../compute/values';
import type { Balance, Datum, Material, NameRef, Reading, Substance, Vessel, Where } from '../../model/page';
import { exact, type Held, isHeld, type Result } from '../../quantity/held';
import { plain, show } from '../../quantity/show';
import { footnotes } from '../working';
import {
  after,
  brief,
  type Desk,
  datum,
  type Found,
  head,
  heldOf,
  line,
  places,
  plainText,
  pointsAt,
  said,
  shownWith,
  tableOf,
  worked,
} from './desk';
import { uncertaintyFrom } from './uncertainty';
import { finestLine, tareLines } from './weighing';

export function reactionHover(desk: Desk): Found | undefined {
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
  const economy = balancing.kind === 'balanced' && isHeld(atomEconomy) ? ` · atom economy ${brief(atomEconomy)}` : '';
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

export function declaredHover(desk: Desk): Found | undefined {
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

/** What else is in a mixture. */
function others(components: SolutionValue['components']): string | undefined {
  const rest = components
    ?.slice(1)
    .flatMap(({ name, concentration }) => (isHeld(concentration) ? [`${plainText(name)} ${show(concentration)}`] : []));
  return rest && rest.length > 0 ? `also ${rest.join(' · ')}` : undefined;
}

/** After a titration the solution's own line is only nominal. */
function titrated(desk: Desk, solution: SolutionValue['solution']): string | undefined {
  const found = desk.result.values.titrations.findLast(
    ({ titration, mean }) => titration.name.target === solution && isHeld(mean),
  );
  if (!found || !isHeld(found.mean)) return undefined;
  const at = line(desk, found.titration.entry.mark);
  return `by titration, line ${at}: **${show(found.mean, { u: true })}**; later lines count this`;
}

function solutionLines(
  desk: Desk,
  { solution, concentration, massFraction, density, components }: SolutionValue,
): string[] {
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
      others(components),
      titrated(desk, solution),
      whence(solution.where),
    ]),
    ...after(uncertaintyFrom(strength), ...footnotes(heldOf(concentration, density))),
  ];
}

export function vesselOrBalanceHover(desk: Desk): Found | undefined {
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
    const page = reading.from ? ` (from ${reading.from.id})` : '';
    return `tare ${datum(reading.datum, where)}${page}`;
  };
  const tares = tareLines(vessel, desk.result.world.tares(vessel.key), tare, desk.result.page.date?.text);
  return [
    `**${plainText(vessel.name)}**${vessel.description ? ` · ${plainText(vessel.description)}` : ' · vessel'}`,
    ...said([...(tares.length > 0 ? tares : ['no tare written']), whence(vessel.where)]),
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
      !balance.minimum && finestLine(balance),
      balance.buoyancy && 'masses are corrected for buoyancy where a density is known',
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
