/** How much of one thing reacts with how much of another in a titration: from the page's equation, else one to one. */
import { foldName } from '../../grammar/names';
import { type Formula, sameComposition } from '../chem/formula';
import { equivalentsPerMole } from '../chem/normality';
import type { Material, NameRef, Reaction, ReactionTerm, Substance } from '../model/page';
import { materialKey } from '../model/scope';
import { Decimal, ONE } from '../quantity/decimal';
import { plain } from '../quantity/show';
import { coefficient } from './reaction';
import { formulaOf } from './substance';

/** One of the two: as named, and the substance that counts. */
export interface Partner {
  readonly name: NameRef;
  readonly substance?: Substance;
}

export interface Ratio {
  /** Moles of the analyte for each mole of the known. */
  readonly value: Decimal;
  /** `2 : 1`, analyte first. */
  readonly text: string;
  /** The equation that says so; without one it is one to one. */
  readonly reaction?: Reaction;
}

export function ratioOf(analyte: Partner, known: Partner, reactions: readonly Reaction[], block: number): Ratio {
  const found = reactions.flatMap((reaction) => {
    const a = termOf(analyte, reaction);
    const k = termOf(known, reaction);
    return a && k && a.term !== k.term ? [{ reaction, a, k }] : [];
  });
  const best = found.findLast(({ reaction }) => reaction.entry.block < block) ?? found[0];
  if (!best) return { value: ONE, text: '1 : 1' };
  const { reaction, a, k } = best;
  // Moles of a partner that stand for one formula unit of the equation.
  const perA = coefficient(a.term).div(a.times);
  const perK = coefficient(k.term).div(k.times);
  return { value: perA.div(perK), text: `${plain(perA)} : ${plain(perK)}`, reaction };
}

interface Match {
  readonly term: ReactionTerm;
  /** How many of the term one mole of the partner brings: two OH^- of Ba(OH)2. */
  readonly times: Decimal;
}

/** By name, then by composition without water of crystallisation, then the ion that it brings. */
function termOf(partner: Partner, reaction: Reaction): Match | undefined {
  const terms = reaction.left.filter((term) => !term.rest && !coefficient(term).isZero());
  const keys = [partner.name.target, partner.substance].flatMap((m: Material | undefined) =>
    m ? [materialKey(m)] : [],
  );
  const named = terms.find(
    ({ name }) =>
      (name.target && keys.includes(materialKey(name.target))) || foldName(name.text) === foldName(partner.name.text),
  );
  if (named) return { term: named, times: ONE };
  const formula = partner.substance && formulaOf(partner.substance);
  if (!formula) return undefined;
  const same = terms.find((term) => {
    const own = formulaOfTerm(term);
    return own && sameComposition(dry(own), dry(formula));
  });
  return same ? { term: same, times: ONE } : ionOf(dry(formula), terms);
}

const dry = (formula: Formula): Formula => formula.hydrate?.dry ?? formula;

function formulaOfTerm({ name }: ReactionTerm): Formula | undefined {
  return name.target?.kind === 'substance' ? formulaOf(name.target) : undefined;
}

/** `MnO4^-` of KMnO4, `Fe^2+` of FeSO4, `OH^-` of NaOH: the largest ion of the equation that the formula holds. */
function ionOf(formula: Formula, terms: readonly ReactionTerm[]): Match | undefined {
  const ions = terms.flatMap((term) => {
    const ion = formulaOfTerm(term);
    const times = ion && ion.charge !== 0 ? timesHeld(formula, ion) : undefined;
    return ion && times ? [{ term, times, size: atoms(ion) }] : [];
  });
  const [largest, next] = ions.sort((a, b) => b.size.cmp(a.size));
  return largest && !next?.size.eq(largest.size) ? largest : undefined;
}

function timesHeld(formula: Formula, ion: Formula): Decimal | undefined {
  const protons = ion.counts.size === 1 && ion.counts.has('H');
  const hydroxide = ion.counts.size === 2 && ion.counts.has('H') && ion.counts.has('O');
  if (protons || hydroxide) {
    const count = equivalentsPerMole(formula);
    const basic =
      formula.counts.has('O') && [...formula.counts].every(([, n]) => n.isInteger()) && isHydroxide(formula);
    return count !== undefined && basic === hydroxide ? new Decimal(count) : undefined;
  }
  let times: Decimal | undefined;
  for (const [element, count] of ion.counts) {
    const here = (formula.counts.get(element) ?? new Decimal(0)).div(count).floor();
    times = times ? Decimal.min(times, here) : here;
  }
  return times?.gt(0) ? times : undefined;
}

/** As many H as O, and a metal: NaOH, Ba(OH)2. */
const isHydroxide = ({ counts }: Formula): boolean =>
  counts.size === 3 && !counts.has('C') && (counts.get('H')?.eq(counts.get('O') ?? -1) ?? false);

const atoms = (formula: Formula): Decimal =>
  [...formula.counts.values()].reduce((sum, count) => sum.plus(count), new Decimal(0));
