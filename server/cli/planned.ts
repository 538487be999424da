/** Plans and considerations as keys of the computed document. */
import type { UnitSymbol } from '../../grammar/vocabulary';
import type { ConsiderationValue, Turn } from '../compute/consider';
import { says } from '../compute/considered';
import type { PlannedValue, PlanValue } from '../compute/values';
import { isHeld, type Result } from '../quantity/held';
import { machine, machineU } from '../quantity/show';

const number = (result: Result | undefined, unit: UnitSymbol): number | null =>
  isHeld(result) ? machine(result, unit) : null;
const spread = (result: Result | undefined, unit: UnitSymbol): number | null =>
  isHeld(result) ? machineU(result, unit) : null;

export const planJson = ({ makingUp, ...plan }: PlanValue): object => ({
  ...plannedJson(plan),
  ...(makingUp && {
    take: makingUp.source.name,
    u_mass_g: spread(plan.mass, 'g'),
    u_volume_mL: spread(plan.volume, 'mL'),
    made_up_to_mL: makingUp.whole.kind === 'volume' ? number(makingUp.whole, 'mL') : null,
  }),
});

/** `weigh_g` and `measure_mL` are rounded to what balance and glassware measure; all else is not rounded. */
export const plannedJson = ({ name, mass, volume, amount, ...value }: PlannedValue): object => ({
  substance: name,
  mass_g: number(mass, 'g'),
  volume_mL: number(volume, 'mL'),
  amount_mol: number(amount, 'mol'),
  ...(value.role && { role: value.role }),
  ...(value.weigh && { weigh_g: number(value.weigh, 'g') }),
  ...(value.balance && { balance: value.balance.name }),
  ...(value.measure && { measure_mL: number(value.measure, 'mL') }),
  ...(value.below && { minimum_g: number(value.below.least, 'g'), spread_percent: number(value.below.relative, '%') }),
  ...(value.theory && {
    theoretical_mol: number(value.theory.amount, 'mol'),
    theoretical_g: number(value.theory.mass, 'g'),
  }),
  ...(value.yield && { yield_percent: number(value.yield, '%') }),
});

export function considerationJson(value: ConsiderationValue, line: number): object {
  const { consideration, solvent, losses, left, recovery, turns } = value;
  return {
    step: consideration.known ?? consideration.step.text,
    substance: consideration.name.text,
    line,
    start_g: number(value.start, 'g'),
    left_g: number(left, 'g'),
    u_left_g: spread(left, 'g'),
    recovery_percent: number(recovery, '%'),
    u_recovery_percent: spread(recovery, '%'),
    yield_percent: number(value.yield, '%'),
    ...(solvent && {
      solvent: consideration.solvent?.text ?? null,
      solvent_mL: number(solvent.volume, 'mL'),
      solvent_g: number(solvent.mass, 'g'),
      solvent_is_minimum: solvent.least,
    }),
    losses: losses.map(({ where, mass }) => ({ where, mass_g: number(mass, 'g') })),
    break_even: turns.map(turnJson),
    says: says(value),
    decided: consideration.decided?.text.text ?? null,
  };
}

/** Where the recovery would be 80 %. */
const turnJson = ({ what, at }: Turn): object => ({
  what,
  ...(at.kind === 'mass' && { mass_g: number(at, 'g') }),
  ...(at.kind === 'volume' && { volume_mL: number(at, 'mL') }),
  ...(at.kind === 'density' && { solubility_g_L: number(at, 'g/L') }),
  ...(at.kind === 'massRatio' && { solubility_g_g: number(at, 'g/g') }),
});
