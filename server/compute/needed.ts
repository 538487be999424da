/** The way back: from an amount that is wanted to the mass and the volume that bring it. */
import type { Material } from '../model/page';
import { type Held, held, isHeld, type Result, unknown } from '../quantity/held';
import { over as quotientOf, times } from '../quantity/worked';
import type { Materials } from './solution';
import { isPure } from './substance';
import type { SolutionValue, SubstanceValue } from './values';

export interface Needed {
  readonly substance?: SubstanceValue;
  /** Of the material as taken, g. */
  readonly mass: Result;
  /** Of the material as taken where it is a liquid, mL. */
  readonly volume: Result;
  /** Of the substance, or of the solute; mol. */
  readonly amount: Result;
}

/** A quotient with the reason why there is none. */
export const over = (...quotient: Parameters<typeof quotientOf>): Result =>
  quotientOf(...quotient) ?? unknown('unreadable', 'a number that is not zero');

/** Purity, water, a support's loading and the strength of a solution are in what has to be taken. */
export function needed(amount: Held, material: Material | undefined, name: string, materials: Materials): Needed {
  if (!material) {
    const missing = unknown('substance-unknown', `what ${name} is`);
    return { amount, mass: missing, volume: missing };
  }
  if (material.kind === 'substance') {
    const substance = materials.substance(material);
    const mass = massFor(amount, substance);
    return { substance, amount, mass, volume: volumeOf(mass, substance) };
  }
  const solution = materials.solution(material);
  const substance = solution.solute && materials.substance(solution.solute);
  return { ...(substance && { substance }), amount, ...ofSolution(amount, solution, substance) };
}

function massFor(amount: Held, { substance, molarMass, purity, loading }: SubstanceValue): Result {
  if (substance.loading?.quantity.unit?.kind === 'molality' && loading)
    return over('mass', amount, 'n', loading, 'b', 1000);
  if (!isHeld(molarMass)) return molarMass;
  const pure = times('mass', amount, 'n', molarMass, 'M');
  return isPure(purity) ? pure : over('mass', pure, 'm', purity, 'w');
}

/** Of a liquid: nobody measures a powder by its volume. */
export function volumeOf(mass: Result, { substance, density }: SubstanceValue): Result {
  if (!isHeld(mass)) return mass;
  if (substance.state === 'solid' || substance.state === 'gas' || !isHeld(density))
    return unknown('density-missing', `a density of ${substance.name}`);
  return over('volume', mass, 'm', density, 'ρ');
}

function ofSolution(
  amount: Held,
  solution: SolutionValue,
  solute: SubstanceValue | undefined,
): Pick<Needed, 'mass' | 'volume'> {
  const { concentration, massFraction, density } = solution;
  const rho = held(density);
  const w = held(massFraction);
  const molarMass = solute && held(solute.molarMass);
  if (isHeld(concentration)) {
    const volume = over('volume', amount, 'n', concentration, 'c', 1000);
    return { volume, mass: isHeld(volume) && rho ? times('mass', volume, 'V', rho, 'ρ') : density };
  }
  if (!w || !molarMass) return { volume: concentration, mass: concentration };
  const mass = over('mass', times('mass', amount, 'n', molarMass, 'M'), 'm', w, 'w');
  return { mass, volume: rho && isHeld(mass) ? over('volume', mass, 'm', rho, 'ρ') : density };
}
