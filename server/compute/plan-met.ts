/** Plan against what was then charged. */
import type { Plan, Role } from '../model/page';
import { materialKey } from '../model/scope';
import { divide, type Held, held, isHeld, total } from '../quantity/held';
import { carriedKey, unresolvedKey } from './reaction';
import type { ChargeValue, PlannedValue, PlanValue, Values } from './values';

/** What was planned of something and all that was charged of it, as it was measured. */
export interface Met {
  readonly name: string;
  /** The line of the plan, or of the target that it follows from. */
  readonly plan: Plan;
  readonly charges: readonly ChargeValue[];
  readonly planned: Held;
  readonly charged: Held;
  /** Charged over planned by amount where both have one, 1. */
  readonly ratio: Held;
}

/** Those for which both exist. What follows from a target without a line of its own counts only if it is limiting. */
export function metPlans(values: Values): readonly Met[] {
  const lines = groups(values.plans.filter((value) => !value.makingUp && value.role !== 'product'));
  const implied = values.planned.flatMap((value) => {
    const key = keyOf(value);
    const isLimiting = values.reactions.some(
      ({ reaction, limiting }) => reaction === value.reaction && limiting?.term.term === value.term,
    );
    return value.role !== 'product' && key && isLimiting ? [{ plan: value.target, key, values: [value] }] : [];
  });
  return [...lines, ...implied].flatMap(({ plan, key, values: planned }) => {
    const roles = planned.flatMap(({ role }) => (role && role !== 'product' ? [role] : []));
    const charges = values.charges.filter((c) => chargeKey(c) === key && fits(c, roles));
    const met = compared(planned, charges);
    return met ? [{ name: planned[0]!.name, plan, charges, ...met }] : [];
  });
}

interface Group {
  readonly plan: Plan;
  readonly key: string;
  readonly values: readonly PlannedValue[];
}

/** Lines of one name add up, as charges do. */
function groups(plans: readonly PlanValue[]): readonly Group[] {
  const found = new Map<string, PlanValue[]>();
  for (const value of plans) {
    const key = `${keyOf(value) ?? unresolvedKey(value.plan.name)} ${sideOf(value.plan.roles)}`;
    found.set(key, [...(found.get(key) ?? []), value]);
  }
  return [...found.values()].map((values) => {
    const [first] = values;
    return { plan: first!.plan, key: keyOf(first!) ?? unresolvedKey(first!.plan.name), values };
  });
}

/** Of a solution the solute counts, as with charges. */
function keyOf({ material, substance }: PlannedValue): string | undefined {
  if (substance) return materialKey(substance.substance);
  const solute = material?.kind === 'solution' ? material.solute?.target : undefined;
  return solute?.kind === 'substance' ? materialKey(solute) : material && materialKey(material);
}

const chargeKey = (value: ChargeValue): string => carriedKey(value) ?? unresolvedKey(value.charge.name);

/** Used for another end than to react. */
const ELSEWHERE: readonly Role[] = ['solvent', 'quench', 'wash', 'eluent', 'atmosphere', 'drying agent'];
const sideOf = (roles: readonly Role[]): Role | undefined => roles.find((role) => ELSEWHERE.includes(role));

/** A solvent is charged as a solvent; what was planned without a role is not a wash. */
const fits = ({ charge }: ChargeValue, roles: readonly Role[]): boolean =>
  sideOf(charge.roles.map(({ role }) => role)) === sideOf(roles);

function compared(
  planned: readonly PlannedValue[],
  charges: readonly ChargeValue[],
): Pick<Met, 'planned' | 'charged' | 'ratio'> | undefined {
  if (charges.length === 0 || charges.some(({ unlimited }) => unlimited)) return undefined;
  const both = (what: Quantity): readonly [Held, Held] | undefined => {
    const was = sumOf(planned.map((value) => value[what]));
    const is = sumOf(charges.map((value) => value[what]));
    return was && is && was.value.gt(0) ? [was, is] : undefined;
  };
  const compare = both('amount') ?? both('mass') ?? both('volume');
  if (!compare) return undefined;
  const [was, is] = compare;
  const inputs = [
    { symbol: 'charged', held: is },
    { symbol: 'planned', held: was },
  ];
  const ratio = divide('ratio', is, was, { formula: 'charged ÷ planned', inputs });
  const [as, asCharged] = both(measuredAs(charges[0]!)) ?? compare;
  return ratio && { planned: as, charged: asCharged, ratio };
}

type Quantity = 'mass' | 'volume' | 'amount';

function measuredAs({ charge: { amount } }: ChargeValue): Quantity {
  if (amount.weighing.readings.length > 0) return 'mass';
  const kinds = amount.quantities.map(({ quantity }) => quantity.unit?.kind);
  return (['mass', 'volume', 'amount'] as const).find((kind) => kinds.includes(kind)) ?? 'mass';
}

const sumOf = (results: readonly PlannedValue['mass'][]): Held | undefined =>
  results.every(isHeld)
    ? total(
        results.flatMap((result) => held(result) ?? []),
        'q',
      )
    : undefined;
