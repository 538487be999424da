/** What evidence cost: masses taken for tests and measurements. Samples are the ledger's own. */
import type { Page } from '../model/page';
import { type Held, isHeld } from '../quantity/held';
import type { Materials } from './solution';
import { taken } from './taken';
import type { UsedValue, Values } from './values';

export function usedValues(page: Page, materials: Materials): UsedValue[] {
  return page.used.map(({ entry, name, amount }) => {
    const { mass } = taken(
      {
        amount: { quantities: [amount], weighing: { readings: [] } },
        subject: name.text,
        ...(name.target && { material: name.target }),
      },
      materials,
    );
    return { entry, name, mass };
  });
}

/** For the ledger: every mass that is known, tests first. */
export function usedInEvidence(
  values: Pick<Values, 'used'>,
): readonly (Omit<UsedValue, 'mass'> & { readonly mass: Held })[] {
  return values.used.flatMap((used) => (isHeld(used.mass) ? [{ ...used, mass: used.mass }] : []));
}
