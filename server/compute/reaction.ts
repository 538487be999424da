/** Equations: are they balanced, what limits them, how much can come out. */
import { foldName } from '../../grammar/names';
import { checkBalance, solveBalance } from '../chem/balance';
import type { Formula } from '../chem/formula';
import type { Material, NameRef, Reaction, ReactionTerm, Role } from '../model/page';
import { materialKey } from '../model/scope';
import { Decimal } from '../quantity/decimal';
import {
  divide,
  exact,
  type Held,
  held,
  isHeld,
  multiply,
  type Result,
  subtract,
  total,
  unknown,
} from '../quantity/held';
import { plain } from '../quantity/show';
import { formulaOf } from './substance';
import type { Balancing, ReactionValue, SubstanceValue, TakenValue, TermValue, TheoreticalValue } from './values';

/** A charge as a reaction sees it. */
export interface Charged extends TakenValue {
  readonly roles: readonly Role[];
  readonly key?: string;
  /** Where the statement stands, for pages with several reactions. */
  readonly block: number;
}

/** What was isolated of a substance on the page, mol; from the last stage. */
export type Isolated = (material: Material) => Result | undefined;

/** A charge with one of these roles never takes part in the equation, even if its substance does. */
const ASIDE: ReadonlySet<Role> = new Set<Role>([
  'solvent',
  'quench',
  'wash',
  'eluent',
  'atmosphere',
  'drying agent',
  'internal standard',
  'catalyst',
  'ligand',
]);

export const takesPart = (charge: Charged): boolean => !charge.roles.some((role) => ASIDE.has(role));

/** The key of what a charge brings: the solute of a solution. */
export function carriedKey(value: TakenValue): string | undefined {
  if (value.substance) return materialKey(value.substance.substance);
  return value.material && materialKey(value.material);
}

/** What a name nobody knows goes by, so that its charge and its term are found together. */
export const unresolvedKey = (name: NameRef): string => `name ${foldName(name.text)}`;

const termKey = ({ name, rest }: ReactionTerm): string | undefined =>
  name.target ? materialKey(name.target) : rest || name.several ? undefined : unresolvedKey(name);

export const coefficient = (term: ReactionTerm): Decimal =>
  new Decimal(term.coefficient.numerator.toString()).div(term.coefficient.denominator.toString());

export interface ReactionContext {
  readonly reactions: readonly Reaction[];
  readonly charges: readonly Charged[];
  readonly substance: (material: Material) => SubstanceValue | undefined;
  readonly isolated: Isolated;
}

/** The reaction of the page that a substance on one side belongs to. */
export function reactionWith(
  reactions: readonly Reaction[],
  side: 'left' | 'right',
  key: string | undefined,
  block: number,
): { reaction: Reaction; term: ReactionTerm } | undefined {
  if (key === undefined) return undefined;
  const found = reactions.flatMap((reaction) => {
    const term = reaction[side].find((t) => termKey(t) === key);
    return term ? [{ reaction, term }] : [];
  });
  return found.findLast((f) => f.reaction.entry.block < block) ?? found[0];
}

/** All reactions of a page; one that needs what another makes is worked out after it. */
export function reactionValues(context: ReactionContext): ReactionValue[] {
  const done = new Map<Reaction, ReactionValue>();
  const open = new Set<Reaction>();
  const work = (reaction: Reaction): ReactionValue | undefined => {
    const known = done.get(reaction);
    if (known || open.has(reaction)) return known;
    open.add(reaction);
    const value = reactionValue(reaction, context, work);
    open.delete(reaction);
    done.set(reaction, value);
    return value;
  };
  return context.reactions.map((reaction) => work(reaction)!);
}

function reactionValue(
  reaction: Reaction,
  context: ReactionContext,
  work: (r: Reaction) => ReactionValue | undefined,
): ReactionValue {
  const left = reaction.left.map((term) => leftTerm(term, reaction, context, work));
  const right = reaction.right.map(
    (term): TermValue => ({
      term,
      ...substanceOf(term, context),
      charged: unknown('not-charged', term.name.text),
      unlimited: false,
      carried: false,
    }),
  );
  const balancing = balance(reaction, left, right);
  const limits = limitingOf(left, reaction, context);
  const extent = extentOf(limits.limiting, reaction, left);
  return {
    reaction,
    left,
    right,
    balancing: balancing.balancing,
    coefficients: balancing.coefficients,
    ...limits,
    extent,
    theoretical: right.filter((t) => !t.term.rest).map((t) => theory(t, extent)),
    atomEconomy: atomEconomy(left, right, context),
  };
}

const substanceOf = (term: ReactionTerm, context: ReactionContext): { substance?: SubstanceValue } => {
  const value = term.name.target && context.substance(term.name.target);
  return value ? { substance: value } : {};
};

function leftTerm(
  term: ReactionTerm,
  reaction: Reaction,
  context: ReactionContext,
  work: (r: Reaction) => ReactionValue | undefined,
): TermValue {
  const base = { term, ...substanceOf(term, context) };
  const key = termKey(term);
  const own = context.charges.filter(
    (charge) =>
      takesPart(charge) &&
      charge.key === key &&
      reactionWith(context.reactions, 'left', key, charge.block)?.reaction === reaction,
  );
  if (key !== undefined && own.length > 0) {
    const unlimited = own.some((charge) => charge.unlimited);
    const missing = own.find((charge) => !isHeld(charge.amount));
    const amounts = own.flatMap((charge) => held(charge.amount) ?? []);
    const charged =
      (!missing && !unlimited && total(amounts, 'n')) ||
      (missing?.amount ?? unknown('amount-missing', `an amount of ${term.name.text}`));
    return { ...base, charged, unlimited, carried: false };
  }
  const target = term.name.target;
  const maker = target && context.reactions.find((r) => r !== reaction && r.right.some((t) => termKey(t) === key));
  if (maker && target) {
    const isolated = context.isolated(target);
    const made = work(maker)?.theoretical.find((t) => termKey(t.term) === key);
    const charged = isolated ?? made?.amount ?? unknown('depends', `what reaction ${maker.id} gave`);
    return { ...base, charged, unlimited: false, carried: true };
  }
  return {
    ...base,
    charged: unknown('not-charged', `a charge of ${term.name.text}`),
    unlimited: false,
    carried: false,
  };
}

function limitingOf(
  left: readonly TermValue[],
  reaction: Reaction,
  context: ReactionContext,
): Pick<ReactionValue, 'limiting' | 'computedLimiting'> {
  const candidates = left.flatMap((term) => {
    const amount = held(term.charged);
    const nu = coefficient(term.term);
    return amount && !term.unlimited && nu.gt(0) ? [{ term, amount, share: amount.value.div(nu) }] : [];
  });
  const least = candidates.reduce<(typeof candidates)[number] | undefined>(
    (a, b) => (!a || b.share.lt(a.share) ? b : a),
    undefined,
  );
  const declaredKeys = new Set(
    context.charges
      .filter(
        (charge) =>
          charge.roles.includes('limiting') &&
          reactionWith(context.reactions, 'left', charge.key, charge.block)?.reaction === reaction,
      )
      .map((charge) => charge.key),
  );
  const declared = candidates.find((c) => declaredKeys.has(termKey(c.term.term)));
  // Where the declared reactant, or one that could be the limiting one, has no amount, nothing is known.
  const open = left.some((t) => !t.unlimited && isCharged(t) && !held(t.charged));
  const chosen = declared ?? (declaredKeys.size === 0 && !open ? least : undefined);
  return {
    ...(chosen && { limiting: { term: chosen.term, amount: chosen.amount, declared: declared !== undefined } }),
    ...(least && declared && least !== declared && { computedLimiting: least.term }),
  };
}

const isCharged = (term: TermValue): boolean => isHeld(term.charged) || term.charged.missing !== 'not-charged';

function extentOf(limiting: ReactionValue['limiting'], reaction: Reaction, left: readonly TermValue[]): Result {
  if (!limiting) {
    const open = left.find((t) => !t.unlimited && isCharged(t) && !isHeld(t.charged));
    return open && !isHeld(open.charged)
      ? open.charged
      : unknown('no-limiting', `an amount charged for reaction ${reaction.id}`);
  }
  const nu = exact('number', coefficient(limiting.term.term).times(reaction.resolution ? 2 : 1));
  if (nu.value.eq(1)) return limiting.amount;
  const inputs = [
    { symbol: 'n', held: limiting.amount },
    { symbol: 'ν', held: nu },
  ];
  return divide('amount', limiting.amount, nu, { formula: 'n ÷ ν', inputs }) ?? unknown('no-limiting', reaction.id);
}

function theory(t: TermValue, extent: Result): TheoreticalValue {
  const base = { term: t.term, ...(t.substance && { substance: t.substance }) };
  const n = held(extent);
  if (!n) return { ...base, amount: extent, mass: extent };
  const nu = exact('number', coefficient(t.term));
  const amount = nu.value.eq(1)
    ? n
    : multiply('amount', n, nu, {
        formula: 'ξ · ν',
        inputs: [
          { symbol: 'ξ', held: n },
          { symbol: 'ν', held: nu },
        ],
      });
  const molarMass = t.substance ? t.substance.molarMass : unknown('substance-unknown', `what ${t.term.name.text} is`);
  const m = held(molarMass);
  const mass = m
    ? multiply('mass', amount, m, {
        formula: 'n · M',
        inputs: [
          { symbol: 'n', held: amount },
          { symbol: 'M', held: m },
        ],
      })
    : molarMass;
  return { ...base, amount, mass };
}

// ── balance ──────────────────────────────────────────────────────────────────────────────────────────────────────

function balance(
  reaction: Reaction,
  left: readonly TermValue[],
  right: readonly TermValue[],
): { balancing: Balancing; coefficients: ReadonlyMap<string, string> | null } {
  if ([...left, ...right].some((t) => t.term.rest))
    return { balancing: { kind: 'open', why: 'rest' }, coefficients: null };
  const formulas = (side: readonly TermValue[]): (Formula | undefined)[] =>
    side.map((t) => t.substance && formulaOf(t.substance.substance));
  const l = formulas(left);
  const r = formulas(right);
  if (l.length === 0 || r.length === 0 || l.includes(undefined) || r.includes(undefined)) {
    return { balancing: { kind: 'open', why: 'unknown' }, coefficients: null };
  }
  const terms = (side: readonly TermValue[], list: (Formula | undefined)[]) =>
    side.map((t, i) => ({ formula: list[i]!, coefficient: coefficient(t.term) }));
  const check = checkBalance(terms(left, l), terms(right, r));
  const solved = solveBalance(l as Formula[], r as Formula[]);
  const written =
    solved.kind === 'one'
      ? new Map([...left, ...right].map((t, i) => [t.term.name.text, [...solved.left, ...solved.right][i]!.toString()]))
      : null;
  if (check.balanced) return { balancing: { kind: 'balanced' }, coefficients: written };
  return {
    balancing: {
      kind: 'unbalanced',
      differences: check.differences.map((d) => ({ what: d.what, left: plain(d.left), right: plain(d.right) })),
      solution: solved.kind,
      ...(solved.kind === 'one' && { equation: equationWith(reaction, solved.left, solved.right) }),
    },
    coefficients: written,
  };
}

function equationWith(reaction: Reaction, left: readonly bigint[], right: readonly bigint[]): string {
  const side = (terms: readonly ReactionTerm[], nu: readonly bigint[]): string =>
    terms.map((t, i) => `${nu[i] === 1n ? '' : `${nu[i]} `}${t.name.text}${t.state ? `(${t.state})` : ''}`).join(' + ');
  return `${side(reaction.left, left)} ${reaction.arrow} ${side(reaction.right, right)}`;
}

// ── metrics of the equation ──────────────────────────────────────────────────────────────────────────────────────

/** M of the product with its coefficient over that of all reactants (Trost 1991); the product is the first one made. */
function atomEconomy(left: readonly TermValue[], right: readonly TermValue[], context: ReactionContext): Result {
  const wanted =
    right.find((t) => t.term.name.target && context.isolated(t.term.name.target)) ?? right.find((t) => !t.term.rest);
  if (!wanted) return unknown('no-reaction', 'a product');
  if (left.some((t) => t.term.rest)) return unknown('depends', 'all reactants');
  const share = (t: TermValue): Result => {
    const m = t.substance ? t.substance.molarMass : unknown('substance-unknown', `what ${t.term.name.text} is`);
    const molarMass = held(m);
    const nu = exact('number', coefficient(t.term));
    return molarMass
      ? multiply('molarMass', molarMass, nu, {
          formula: 'ν · M',
          inputs: [
            { symbol: 'ν', held: nu },
            { symbol: 'M', held: molarMass },
          ],
        })
      : m;
  };
  const top = share(wanted);
  const bottom = left.map(share);
  const missing = [top, ...bottom].find((s) => !isHeld(s));
  if (missing) return missing;
  const all = total(
    bottom.flatMap((s) => held(s) ?? []),
    'M',
  );
  const product = held(top)!;
  const inputs = [
    { symbol: 'νM(product)', held: product },
    { symbol: 'ΣνM', held: all! },
  ];
  return (
    (all && divide('ratio', product, all, { formula: 'νM(product) ÷ ΣνM', inputs })) ??
    unknown('no-reaction', 'reactants')
  );
}

// ── yields ───────────────────────────────────────────────────────────────────────────────────────────────────────

export function yieldOf(amount: Result, theoretical: Result): Result {
  const n = held(amount);
  const t = held(theoretical);
  if (!n) return amount;
  if (!t) return theoretical;
  const inputs = [
    { symbol: 'n', held: n },
    { symbol: 'n(theory)', held: t },
  ];
  return divide('ratio', n, t, { formula: 'n ÷ n(theory)', inputs }) ?? unknown('no-limiting', 'a theoretical amount');
}

/** 1 − n(recovered) ÷ n(charged), of the limiting reactant. */
export function conversionOf(recovered: Held, charged: Held): Held | undefined {
  const used = subtract(charged, recovered, {
    formula: 'n − n(recovered)',
    inputs: [
      { symbol: 'n', held: charged },
      { symbol: 'n(recovered)', held: recovered },
    ],
  });
  return divide('ratio', used, charged, {
    formula: 'n(used) ÷ n',
    inputs: [
      { symbol: 'n(used)', held: used },
      { symbol: 'n', held: charged },
    ],
  });
}

/** The yield over the conversion: based on what was not recovered. */
export function basedOnRecovered(yields: Held, conversion: Held): Held | undefined {
  return divide('ratio', yields, conversion, {
    formula: 'Y ÷ X',
    inputs: [
      { symbol: 'Y', held: yields },
      { symbol: 'X', held: conversion },
    ],
  });
}
