/** `plan SOLUTION: 250.0 mL`: what to weigh or measure to make so much of it. */
import { sameComposition } from '../chem/formula';
import type { Material, Plan, Solution, Substance } from '../model/page';
import { type Held, held, isHeld, type Result, unknown } from '../quantity/held';
import { times } from '../quantity/worked';
import { over } from './needed';
import type { Materials } from './solution';
import { formulaOf, isPure } from './substance';
import type { MakingUpValue, SolutionValue } from './values';

/**
 * Undefined when nobody makes that solution: it is a bottle of the handbook, has no strength, or the target is no mass
 * or volume of it.
 */
export function makingUp(plan: Plan, materials: Materials): MakingUpValue | undefined {
  const target = plan.name.target;
  const quantity = plan.quantity;
  const kind = quantity?.quantity.unit?.kind;
  if (target?.kind !== 'solution' || !quantity || (kind !== 'volume' && kind !== 'mass')) return undefined;
  if (!target.entry || target.parts || !target.strength || target.strength.kind === 'saturated') return undefined;
  const source = plan.source?.target ?? target.solute?.target;
  if (!source) return undefined;
  const whole = materials.readings(quantity);
  const value = materials.solution(target);
  const base = { source, whole };
  const n = amountIn(whole, value, target, materials);
  if (source.kind === 'solution') return { ...base, amount: n, ...ofStock(n, source, materials) };
  return { ...base, amount: n, ...ofSubstance(n, whole, value, source, materials) };
}

/** Of the solute in so much of the solution, mol. */
function amountIn(whole: Held, value: SolutionValue, solution: Solution, materials: Materials): Result {
  if (whole.kind === 'volume')
    return isHeld(value.concentration)
      ? times('amount', whole, 'V', value.concentration, 'c', '0.001')
      : value.concentration;
  if (!isHeld(value.massFraction)) return value.massFraction;
  const molarMass = value.solute && materials.substance(value.solute).molarMass;
  if (!molarMass) return unknown('substance-unknown', `what ${solution.solute?.text ?? 'the solute'} is`);
  if (!isHeld(molarMass)) return molarMass;
  return over('amount', times('mass', whole, 'm', value.massFraction, 'w'), 'm', molarMass, 'M');
}

type Taken = Pick<MakingUpValue, 'mass' | 'volume'>;

function ofStock(n: Result, stock: Solution, materials: Materials): Taken {
  const { concentration, density } = materials.solution(stock);
  if (!isHeld(n)) return { mass: n, volume: n };
  if (!isHeld(concentration)) return { mass: concentration, volume: concentration };
  const volume = over('volume', n, 'n', concentration, 'c', 1000);
  return { volume, mass: isHeld(volume) && isHeld(density) ? times('mass', volume, 'V', density, 'ρ') : density };
}

/** Purity, water and a hydrate's water of crystallisation are in what is weighed. */
function ofSubstance(n: Result, whole: Held, value: SolutionValue, source: Substance, materials: Materials): Taken {
  const { molarMass, purity, density, substance } = materials.substance(source);
  const pure = pureMass(n, whole, value, source, molarMass);
  if (!isHeld(pure)) return { mass: pure, volume: pure };
  const mass = isPure(purity) ? pure : over('mass', pure, 'm', purity, 'w');
  const rho = substance.state === 'solid' ? undefined : held(density);
  const none = unknown('density-missing', `a density of ${substance.name}`);
  return { mass, volume: rho && isHeld(mass) ? over('volume', mass, 'm', rho, 'ρ') : none };
}

function pureMass(n: Result, whole: Held, value: SolutionValue, source: Substance, molarMass: Result): Result {
  const same = value.solute === undefined || value.solute === source || samePart(value.solute, source);
  if (!same) return unknown('formula-missing', `how much ${value.solute!.name} a mole of ${source.name} gives`);
  if (isHeld(n) && isHeld(molarMass)) return times('mass', n, 'n', molarMass, 'M');
  // A mixture has no molar mass, and a strength in g/L needs none.
  const perVolume = held(value.massConcentration);
  if (value.solute === source && perVolume && whole.kind === 'volume') return times('mass', whole, 'V', perVolume, 'β');
  return isHeld(n) ? molarMass : n;
}

/** Hydrates of one salt, or grades of one substance: a mole of either is a mole of the other. */
function samePart(a: Material, b: Material): boolean {
  const [fa, fb] = [a, b].map((m) => (m.kind === 'substance' ? formulaOf(m) : undefined));
  return fa && fb ? sameComposition(fa.hydrate?.dry ?? fa, fb.hydrate?.dry ?? fb) : false;
}
