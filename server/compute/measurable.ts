/** A planned quantity as the bench can measure it: the balance that suits it, the step of the glassware. */
import type { Balance } from '../model/page';
import { Decimal } from '../quantity/decimal';
import { exact, type Held } from '../quantity/held';
import { nearest } from '../quantity/nearest';
import { toBase } from '../quantity/units';
import { minimumWeight, relativeSpread } from './precision';

const gramsOf = (datum: Balance['readability']): Held | undefined => {
  const quantity = datum?.quantity;
  return datum && quantity?.unit?.kind === 'mass'
    ? exact('mass', toBase(quantity.number.value, quantity.unit), datum.origin)
    : undefined;
};

/** The smallest mass it should weigh: as declared, else by USP general chapter 41. */
export const leastOf = (balance: Balance): Held | undefined => gramsOf(balance.minimum) ?? minimumWeight(balance);

/** The coarsest balance that can weigh it well, else the finest there is. Undefined where none says its readability. */
export function balanceFor(mass: Held, balances: readonly Balance[]): Balance | undefined {
  const known = balances
    .flatMap((balance) => {
      const step = gramsOf(balance.readability);
      return step ? [{ balance, step }] : [];
    })
    .sort((a, b) => b.step.value.cmp(a.step.value));
  const carries = known.filter(({ balance }) => gramsOf(balance.capacity)?.value.gte(mass.value) ?? true);
  const fit = carries.find(({ balance }) => leastOf(balance)?.value.lte(mass.value) ?? true);
  return (fit ?? carries.at(-1) ?? known[0])?.balance;
}

export interface Weighable {
  readonly balance?: Balance;
  /** To the balance's readability, g. */
  readonly weigh?: Held;
  /** It is less than the balance weighs well. */
  readonly below?: {
    readonly least: Held;
    /** Twice the standard deviation over the mass, 1. */
    readonly relative?: Held;
  };
}

export function weighable(mass: Held, balances: readonly Balance[]): Weighable {
  const balance = balanceFor(mass, balances);
  const step = balance && gramsOf(balance.readability);
  if (!balance || !step) return {};
  const weigh = nearest(mass, step.value, `as ${balance.name} shows it`);
  const least = leastOf(balance);
  const relative = relativeSpread(mass, balance);
  return {
    balance,
    ...(weigh && { weigh }),
    ...(least && mass.value.lt(least.value) && { below: { least, ...(relative && { relative }) } }),
  };
}

/**
 * Steps of what a volume is usually measured with, mL: micropipette, 1 mL syringe, graduated pipettes (half a graduation),
 * then cylinders. Common practice, no source; the graduations of cylinders are those of ISO 4788, from memory.
 */
const STEPS: readonly (readonly [upTo: string, step: string])[] = [
  ['0.2', '0.001'],
  ['1', '0.01'],
  ['5', '0.05'],
  ['25', '0.1'],
  ['100', '1'],
  ['250', '2'],
  ['500', '5'],
  ['1000', '10'],
  ['Infinity', '20'],
];

/** A volume as the usual glassware measures it, mL. */
export function measurable(volume: Held): Held | undefined {
  const row = STEPS.find(([upTo]) => volume.value.lte(upTo));
  return row && nearest(volume, new Decimal(row[1]), `as the usual glassware measures it, to ${row[1]} mL`);
}
