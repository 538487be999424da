/** Molality, mol of solute a kilogram of solvent: to and from a mass fraction, and to mol/L. */
import { add, divide, exact, type Held, held, subtract } from '../quantity/held';
import { times } from '../quantity/worked';
import type { Materials } from './solution';
import type { SolutionValue } from './values';

/** Mass of solute for a mass of solvent. */
const soluteRatio = (b: Held, molarMass: Held): Held => times('ratio', b, 'b', molarMass, 'M', '0.001');

const oneAnd = (ratio: Held): Held =>
  add(exact('ratio', 1), ratio, { formula: '1 + bM', inputs: [{ symbol: 'bM', held: ratio }] });

/** w = b M ÷ (1 + b M). */
export function fractionOfMolality(b: Held, molarMass: Held): Held | undefined {
  const ratio = soluteRatio(b, molarMass);
  const whole = oneAnd(ratio);
  return divide('massFraction', ratio, whole, {
    formula: 'bM ÷ (1+bM)',
    inputs: [
      { symbol: 'bM', held: ratio },
      { symbol: '(1+bM)', held: whole },
    ],
  });
}

/** b = w ÷ (M (1 − w)); the molality that a mass fraction means. */
export function molalityOf(value: SolutionValue, materials: Materials): Held | undefined {
  if (value.molality) return value.molality;
  const w = held(value.massFraction);
  const molarMass = value.solute && held(materials.substance(value.solute).molarMass);
  if (!w || !molarMass || w.value.gte(1)) return undefined;
  const solvent = subtract(exact('ratio', 1), w, { formula: '1 − w', inputs: [{ symbol: 'w', held: w }] });
  const below = times('molarMass', solvent, '(1−w)', molarMass, 'M');
  return divide(
    'molality',
    w,
    below,
    {
      formula: 'w ÷ (M·(1−w))',
      inputs: [
        { symbol: 'w', held: w },
        { symbol: '(M·(1−w))', held: below },
      ],
    },
    1000,
  );
}

/** c = b ρ ÷ (1 + b M), with ρ that of the solution. */
export function fromMolality(b: Held, molarMass: Held, rho: Held): Held | undefined {
  const whole = oneAnd(soluteRatio(b, molarMass));
  const top = times('concentration', b, 'b', rho, 'ρ');
  return divide('concentration', top, whole, {
    formula: 'bρ ÷ (1+bM)',
    inputs: [
      { symbol: 'bρ', held: top },
      { symbol: '(1+bM)', held: whole },
    ],
  });
}

export function withMolality(value: SolutionValue, materials: Materials): SolutionValue {
  const molality = molalityOf(value, materials);
  return molality ? { ...value, molality } : value;
}
