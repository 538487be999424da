/**
 * Plans: from one target everything else follows. Backwards from the product through its yield and the coefficients, or
 * forwards from a planned limiting reactant; a reactant without a plan of its own is taken at its coefficient.
 */
import type { Datum, Material, Page, Plan, Reaction, ReactionTerm, Role } from '../model/page';
import { materialKey } from '../model/scope';
import { exact, type Held, held, isHeld, type Result, relabel, unknown } from '../quantity/held';
import { times } from '../quantity/worked';
import { makingUp } from './making-up';
import { measurable, weighable } from './measurable';
import { type Needed, needed, over, volumeOf } from './needed';
import { coefficient, reactionWith, unresolvedKey } from './reaction';
import type { Materials } from './solution';
import { amountFromMass, taken } from './taken';
import type { ImpliedPlan, PlannedValue, PlanValue, ReactionValue } from './values';

/** What is at hand for planning: the page, its reactions as charged, materials as they stand at a block. */
export interface PlanContext {
  readonly page: Page;
  readonly reactions: readonly ReactionValue[];
  readonly at: (block: number) => Materials;
}

export function planValues(context: PlanContext): {
  readonly plans: readonly PlanValue[];
  readonly planned: readonly ImpliedPlan[];
} {
  const { page } = context;
  if (page.plans.length === 0) return { plans: [], planned: [] };
  const desk = openDesk(context);
  return {
    plans: page.plans.map((plan) => planValue(plan, desk)),
    planned: page.reactions.flatMap((reaction) => impliedOf(reaction, desk)),
  };
}

// ── what is planned of each reaction ─────────────────────────────────────────────────────────────────────────────

/** How far a reaction is meant to go, and what one equivalent is in it. */
interface Scale {
  /** ξ, mol. */
  readonly extent: Held;
  /** The plan it follows from; absent where it follows from what was charged. */
  readonly from?: Plan;
  /** The limiting reactant with its amount: what equivalents count by. */
  readonly limiting?: { readonly term: ReactionTerm; readonly amount: Held; readonly mass: Result };
}

interface Desk extends PlanContext {
  readonly scaleOf: (reaction: Reaction) => Scale | undefined;
  /** The plan line of a term of an equation. */
  readonly planOf: (reaction: Reaction, term: ReactionTerm, side: 'left' | 'right') => Plan | undefined;
}

const ABSOLUTE: ReadonlySet<string> = new Set(['mass', 'volume', 'amount']);
const kindOf = (plan: Plan): string | undefined => plan.quantity?.quantity.unit?.kind;
const isAbsolute = (plan: Plan | undefined): plan is Plan & { readonly quantity: Datum } =>
  plan?.quantity !== undefined && ABSOLUTE.has(kindOf(plan) ?? '');
const isShare = (plan: Plan): boolean => kindOf(plan) === 'equivalents' || kindOf(plan) === 'amountRatio';

/** `excess` without a number: as much as nobody can say. */
const isUncounted = (plan: Plan | undefined): boolean => plan?.roles.includes('excess') === true && !plan.quantity;

const ASIDE: ReadonlySet<Role> = new Set<Role>([
  ...(['solvent', 'quench', 'wash', 'eluent', 'atmosphere', 'drying agent'] as const),
  ...(['internal standard', 'catalyst', 'ligand'] as const),
]);
const takesPart = (plan: Plan): boolean => !plan.roles.some((role) => ASIDE.has(role));

/** What a planned material brings: the solute of a solution. */
function keyOf({ name, entry }: Plan, { at }: PlanContext): string {
  const { target } = name;
  if (!target) return unresolvedKey(name);
  const solute = target.kind === 'solution' ? at(entry.block).solution(target).solute : undefined;
  return materialKey(solute ?? target);
}

const keyOfTerm = ({ name }: ReactionTerm): string => (name.target ? materialKey(name.target) : unresolvedKey(name));

interface PlacedPlan {
  readonly plan: Plan;
  readonly left?: ReturnType<typeof reactionWith>;
  readonly right?: ReturnType<typeof reactionWith>;
}

function openDesk(context: PlanContext): Desk {
  const { page } = context;
  const made = page.plans.filter((plan) => makingUp(plan, context.at(plan.entry.block)));
  const lines = page.plans
    .filter((plan) => !made.includes(plan))
    .map((plan): PlacedPlan => {
      const key = keyOf(plan, context);
      const right = reactionWith(page.reactions, 'right', key, Number.POSITIVE_INFINITY);
      const left = takesPart(plan) ? reactionWith(page.reactions, 'left', key, plan.entry.block) : undefined;
      // An intermediate: a mass or a yield is what is to be made of it, equivalents are what goes on.
      const makes =
        right && (!left || plan.yield !== undefined || (isAbsolute(plan) && !plan.roles.includes('limiting')));
      return makes ? { plan, right } : { plan, left };
    });
  const scales = new Map<Reaction, Scale | undefined>();
  const desk: Desk = {
    ...context,
    planOf: (reaction, term, side) =>
      lines.find((line) => line[side]?.reaction === reaction && line[side]?.term === term)?.plan,
    scaleOf(reaction) {
      if (!scales.has(reaction)) {
        // Reactions that wait for each other have no scale.
        scales.set(reaction, undefined);
        scales.set(reaction, scaleOf(reaction, desk));
      }
      return scales.get(reaction);
    },
  };
  return desk;
}

function scaleOf(reaction: Reaction, desk: Desk): Scale | undefined {
  const found =
    forwards(reaction, desk, (plan) => plan.roles.includes('limiting')) ??
    backwards(reaction, desk) ??
    forwards(reaction, desk, () => true) ??
    forLater(reaction, desk) ??
    fromEarlier(reaction, desk);
  if (found) return { ...found, ...limitingOf(reaction, found, desk) };
  const value = desk.reactions.find((r) => r.reaction === reaction);
  if (!value?.limiting || !isHeld(value.extent)) return undefined;
  const { term, amount } = value.limiting;
  const mass = needed(amount, term.term.name.target, term.term.name.text, desk.at(reaction.entry.block)).mass;
  return { extent: value.extent, limiting: { term: term.term, amount, mass } };
}

type Found = Pick<Scale, 'extent' | 'from'>;

/** ξ = n ÷ ν; half of a racemate that is resolved. */
function extentFrom(amount: Held, term: ReactionTerm, halved: boolean): Held | undefined {
  const nu = coefficient(term).times(halved ? 2 : 1);
  return nu.eq(1) ? amount : nu.isZero() ? undefined : held(over('amount', amount, 'n', exact('number', nu), 'ν'));
}

function amountAt(extent: Held, term: ReactionTerm, halved: boolean): Held {
  const nu = coefficient(term).times(halved ? 2 : 1);
  return nu.eq(1) ? extent : times('amount', extent, 'ξ', exact('number', nu), 'ν');
}

function forwards(reaction: Reaction, desk: Desk, fits: (plan: Plan) => boolean): Found | undefined {
  const found = reaction.left.flatMap((term) => {
    const plan = desk.planOf(reaction, term, 'left');
    if (!isAbsolute(plan) || !fits(plan)) return [];
    const amount = held(absolute(plan, desk).amount);
    const extent = amount && extentFrom(amount, term, reaction.resolution);
    return extent ? [{ extent, from: plan }] : [];
  });
  return found.reduce<Found | undefined>((a, b) => (!a || b.extent.value.lt(a.extent.value) ? b : a), undefined);
}

function backwards(reaction: Reaction, desk: Desk): Found | undefined {
  for (const term of reaction.right) {
    const plan = desk.planOf(reaction, term, 'right');
    const amount = isAbsolute(plan) ? held(target(plan, desk).amount) : undefined;
    const extent = plan && amount && theoryFor(amount, term, plan, desk);
    if (extent) return { extent, from: plan };
  }
  return undefined;
}

/** What must be possible so that so much comes out at the yield that is expected. */
function theoryFor(amount: Held, term: ReactionTerm, plan: Plan | undefined, desk: Desk): Held | undefined {
  const share = yieldOf(plan, desk);
  const theory = share ? held(over('amount', amount, 'n', share, 'Y')) : amount;
  return theory && extentFrom(theory, term, false);
}

function yieldOf(plan: Plan | undefined, { at }: PlanContext): Held | undefined {
  const share = plan?.yield && at(plan.entry.block).readings(plan.yield);
  return share?.value.gt(0) ? share : undefined;
}

/** What a later reaction of the page needs of its product. */
function forLater(reaction: Reaction, desk: Desk): Found | undefined {
  for (const term of reaction.right) {
    if (term.rest) continue;
    for (const later of desk.page.reactions) {
      const taker =
        later === reaction ? undefined : later.left.find((t) => !t.rest && keyOfTerm(t) === keyOfTerm(term));
      const scale = taker && desk.scaleOf(later);
      const amount = taker && scale?.from && held(amountOf(later, taker, scale, desk));
      const extent = amount && theoryFor(amount, term, desk.planOf(reaction, term, 'right'), desk);
      if (extent) return { extent, from: scale!.from! };
    }
  }
  return undefined;
}

/** What an earlier reaction of the page gives of its reactant. */
function fromEarlier(reaction: Reaction, desk: Desk): Found | undefined {
  for (const term of reaction.left) {
    if (term.rest) continue;
    for (const earlier of desk.page.reactions) {
      const maker =
        earlier === reaction ? undefined : earlier.right.find((t) => !t.rest && keyOfTerm(t) === keyOfTerm(term));
      const scale = maker && desk.scaleOf(earlier);
      if (!maker || !scale?.from) continue;
      const share = yieldOf(desk.planOf(earlier, maker, 'right'), desk);
      const theory = amountAt(scale.extent, maker, false);
      const extent = extentFrom(share ? times('amount', theory, 'n', share, 'Y') : theory, term, reaction.resolution);
      if (extent) return { extent, from: scale.from };
    }
  }
  return undefined;
}

/** The one that is marked; else the one whose plan leaves it at its coefficient; else the scarcest. */
function limitingOf(reaction: Reaction, { extent, from }: Found, desk: Desk): Pick<Scale, 'limiting'> {
  const terms = reaction.left.filter((term) => !term.rest);
  const planned = (term: ReactionTerm): Plan | undefined => desk.planOf(reaction, term, 'left');
  const charged = desk.reactions.find((r) => r.reaction === reaction)?.limiting;
  const declared = charged?.declared ? charged.term.term : undefined;
  const equivalents = (term: ReactionTerm): Held | undefined => {
    const plan = planned(term);
    return plan?.quantity && isShare(plan) ? desk.at(plan.entry.block).readings(plan.quantity) : undefined;
  };
  const scarcest = terms
    .flatMap((term) => {
      const share = equivalents(term);
      return share?.value.gt(0) ? [{ term, least: share.value.div(coefficient(term)) }] : [];
    })
    .sort((a, b) => a.least.cmp(b.least))[0]?.term;
  const term =
    terms.find((t) => planned(t)?.roles.includes('limiting')) ??
    terms.find((t) => from !== undefined && planned(t) === from) ??
    (declared && !equivalents(declared)?.value.gt(1) ? declared : undefined) ??
    terms.find((t) => !planned(t)?.quantity && !isUncounted(planned(t))) ??
    scarcest;
  if (!term) return {};
  const own = amountAt(extent, term, reaction.resolution);
  const share = equivalents(term);
  const amount = share && !share.value.eq(1) ? (held(over('amount', own, 'n', share, 'equiv')) ?? own) : own;
  const { mass } = needed(amount, term.name.target, term.name.text, desk.at(reaction.entry.block));
  return { limiting: { term, amount, mass } };
}

// ── one line ─────────────────────────────────────────────────────────────────────────────────────────────────────

type Three = Pick<PlannedValue, 'mass' | 'volume' | 'amount'>;

const nothing = (missing: Result): Three => ({ mass: missing, volume: missing, amount: missing });

/** A mass, volume or amount, as written. */
function absolute({ quantity, name, entry }: Plan, { at }: PlanContext): Three {
  const amount = { quantities: quantity ? [quantity] : [], weighing: { readings: [] } };
  return taken({ amount, subject: name.text, ...(name.target && { material: name.target }) }, at(entry.block));
}

/** The product is wanted pure, whatever the bottle of the same name is. */
function target({ quantity, name, entry }: Plan, { at }: PlanContext): Three {
  const amount = { quantities: quantity ? [quantity] : [], weighing: { readings: [] } };
  const purity = exact('ratio', 1);
  return taken({ amount, subject: name.text, purity, ...(name.target && { material: name.target }) }, at(entry.block));
}

/** Of a term of a reaction, mol. */
function amountOf(reaction: Reaction, term: ReactionTerm, scale: Scale, desk: Desk): Result {
  const plan = desk.planOf(reaction, term, 'left');
  if (plan?.quantity) return ofLine(plan, scale, desk).amount;
  return scale.limiting?.term === term ? scale.limiting.amount : amountAt(scale.extent, term, reaction.resolution);
}

/** What a line asks for beside the limiting reactant, or by itself. */
function ofLine(plan: Plan, scale: Scale | undefined, desk: Desk): Needed {
  const { quantity, name, entry } = plan;
  const materials = desk.at(entry.block);
  if (!quantity) return nothing(unknown('amount-missing', `a quantity of ${name.text}`));
  if (isAbsolute(plan)) return absolute(plan, desk);
  const limiting = scale?.limiting;
  if (!limiting) return nothing(unknown('no-limiting', 'a target or a limiting reactant to plan from'));
  const value = materials.readings(quantity);
  const { unit } = quantity.quantity;
  if (isShare(plan)) {
    const amount = times('amount', limiting.amount, 'n(limiting)', value, 'equiv');
    return needed(value.value.eq(1) ? limiting.amount : amount, name.target, name.text, materials);
  }
  if (unit?.symbol === 'mL/g') {
    const perGram = relabel(exact('number', quantity.quantity.number.value), value.working);
    return isHeld(limiting.mass)
      ? fromVolume(times('volume', limiting.mass, 'm(limiting)', perGram, 'v'), name.target, materials)
      : nothing(limiting.mass);
  }
  if (unit?.kind === 'concentration') {
    const volume = over('volume', limiting.amount, 'n(limiting)', value, 'c', 1000);
    return isHeld(volume) ? fromVolume(volume, name.target, materials) : nothing(volume);
  }
  if ((unit?.kind === 'massFraction' || unit?.kind === 'ratio') && isHeld(limiting.mass))
    return fromMass(times('mass', limiting.mass, 'm(limiting)', value, 'w'), name.target, materials);
  return nothing(unknown('unit-kind', `a mass, a volume, an amount or equivalents of ${name.text}`));
}

/** So much solvent: its mass where the density is known. */
function fromVolume(volume: Held, material: Material | undefined, materials: Materials): Three {
  const density = material?.kind === 'substance' && materials.substance(material).density;
  const rho = density ? held(density) : undefined;
  const mass = rho
    ? times('mass', volume, 'V', rho, 'ρ')
    : unknown('density-missing', `a density of ${material?.name ?? 'it'}`);
  return { volume, mass, amount: amountIn(mass, material, materials) };
}

function fromMass(mass: Held, material: Material | undefined, materials: Materials): Three {
  const none = unknown('substance-unknown', 'what it is');
  if (material?.kind !== 'substance') return { mass, volume: none, amount: none };
  return {
    mass,
    volume: volumeOf(mass, materials.substance(material)),
    amount: amountIn(mass, material, materials),
  };
}

const amountIn = (mass: Result, material: Material | undefined, materials: Materials): Result =>
  isHeld(mass) && material?.kind === 'substance'
    ? amountFromMass(mass, materials.substance(material))
    : unknown('depends', 'a molar mass');

function planValue(plan: Plan, desk: Desk): PlanValue {
  const materials = desk.at(plan.entry.block);
  const made = makingUp(plan, materials);
  if (made)
    return { plan, name: plan.name.text, makingUp: made, mass: made.mass, volume: made.volume, amount: made.amount };
  for (const reaction of desk.page.reactions) {
    const product = reaction.right.find((term) => desk.planOf(reaction, term, 'right') === plan);
    if (product) return { plan, ...productValue(plan, reaction, product, desk) };
  }
  const own = desk.page.reactions.find((r) => r.left.some((term) => desk.planOf(r, term, 'left') === plan));
  const term = own?.left.find((t) => desk.planOf(own, t, 'left') === plan);
  const reaction = own ?? nearestReaction(plan, desk.page);
  const scale = reaction && desk.scaleOf(reaction);
  // `plan A: limiting` is planned by what the target needs.
  const amount =
    own && term && scale && !plan.quantity && !isUncounted(plan) ? amountOf(own, term, scale, desk) : undefined;
  const three =
    amount && isHeld(amount) ? needed(amount, plan.name.target, plan.name.text, materials) : ofLine(plan, scale, desk);
  const [role] = plan.roles;
  return { plan, ...described(plan.name.text, plan.name.target, three, plan, materials), ...(role && { role }) };
}

/** The single reaction, else the last one above the line. */
const nearestReaction = ({ entry }: Plan, { reactions }: Page): Reaction | undefined =>
  reactions.findLast((r) => r.entry.block < entry.block) ?? reactions[0];

function productValue(plan: Plan, reaction: Reaction, term: ReactionTerm, desk: Desk): PlannedValue {
  const materials = desk.at(plan.entry.block);
  const own = target(plan, desk);
  const scale = desk.scaleOf(reaction);
  const theory = scale && amountAt(scale.extent, term, false);
  const share = yieldOf(plan, desk);
  const expected = theory && (share ? times('amount', theory, 'n(theory)', share, 'Y') : theory);
  const three = plan.quantity || !expected ? own : pureOf(expected, plan.name.target, materials);
  const substance = plan.name.target?.kind === 'substance' ? materials.substance(plan.name.target) : undefined;
  return {
    name: plan.name.text,
    ...(plan.name.target && { material: plan.name.target }),
    ...(substance && { substance }),
    ...three,
    role: 'product',
    ...(theory && { theory: { amount: theory, mass: pureOf(theory, plan.name.target, materials).mass } }),
    ...(share && { yield: share }),
  };
}

function pureOf(amount: Held, material: Material | undefined, materials: Materials): Three {
  const molarMass = material?.kind === 'substance' ? held(materials.substance(material).molarMass) : undefined;
  const none = unknown('formula-missing', 'a molar mass');
  return { amount, mass: molarMass ? times('mass', amount, 'n', molarMass, 'M') : none, volume: none };
}

function described(
  name: string,
  material: Material | undefined,
  { mass, volume, amount }: Three,
  { balances }: Plan,
  materials: Materials,
): PlannedValue {
  const substance = material?.kind === 'substance' ? materials.substance(material) : undefined;
  const liquid = material && (material.kind === 'solution' || !['solid', 'gas'].includes(material.state ?? ''));
  const measure = liquid && isHeld(volume) ? measurable(volume) : undefined;
  return {
    name,
    ...(material && { material }),
    ...(substance && { substance }),
    mass,
    volume,
    amount,
    ...(isHeld(mass) && weighable(mass, balances)),
    ...(measure && { measure }),
  };
}

// ── what has no line ─────────────────────────────────────────────────────────────────────────────────────────────

/** Reactants at their coefficients; forwards also what would come out. */
function impliedOf(reaction: Reaction, desk: Desk): readonly ImpliedPlan[] {
  const scale = desk.scaleOf(reaction);
  const from = scale?.from;
  if (!scale || !from) return [];
  const materials = desk.at(reaction.entry.block);
  const made = new Set(desk.page.reactions.flatMap((r) => (r === reaction ? [] : r.right.map(keyOfTerm))));
  const reactants = reaction.left.flatMap((term): ImpliedPlan[] => {
    if (term.rest || made.has(keyOfTerm(term)) || desk.planOf(reaction, term, 'left')) return [];
    const amount = amountOf(reaction, term, scale, desk);
    if (!isHeld(amount)) return [];
    const material = asCharged(term, desk);
    const { text } = term.name;
    const value = described(text, material, needed(amount, material, text, materials), from, materials);
    return [{ ...value, target: from, term, reaction, ...(scale.limiting?.term === term && { role: 'limiting' }) }];
  });
  const first = reaction.right.find((term) => !term.rest);
  const wanted = reaction.right.some((term) => desk.planOf(reaction, term, 'right'));
  if (!first || wanted || !reaction.left.some((term) => desk.planOf(reaction, term, 'left') === from)) return reactants;
  const theory = amountAt(scale.extent, first, false);
  const name = first.name.text;
  const { target: material } = first.name;
  const three = pureOf(theory, material, materials);
  return [
    ...reactants,
    {
      name,
      ...(material && { material }),
      ...three,
      role: 'product',
      theory: { amount: theory, mass: three.mass },
      target: from,
      term: first,
      reaction,
    },
  ];
}

/** A reactant that the page charges as a solution is planned as that. */
function asCharged(term: ReactionTerm, { page, at }: PlanContext): Material | undefined {
  const key = keyOfTerm(term);
  const charge = page.charges.find(({ name, entry, roles }) => {
    const solution = name.target?.kind === 'solution' ? at(entry.block).solution(name.target) : undefined;
    return solution?.solute && materialKey(solution.solute) === key && !roles.some(({ role }) => ASIDE.has(role));
  });
  return charge?.name.target ?? term.name.target;
}
