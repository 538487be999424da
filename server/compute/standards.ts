/** What is known of a solution depends on where one stands on the page: after a titration its mean counts. */
import type { Page } from '../model/page';
import type { Titration } from '../model/titration';
import { isHeld } from '../quantity/held';
import { type Materials, standardised } from './solution';
import { type TitrationContext, titrationValue } from './titration';
import type { SolutionValue, TitrationValue } from './values';

export interface Standards {
  /** Materials as known to a statement at a block. */
  at(block: number): Materials;
  titrations(): readonly TitrationValue[];
}

/** A titration rests on statements above it only, so that no strength rests on itself. */
export function createStandards(page: Page, materials: Materials, weighed: TitrationContext['weighed']): Standards {
  const known = new Map<Titration, TitrationValue>();
  const strengths = new Map<Titration, SolutionValue>();
  const open = new Set<Titration>();

  const titrated = (titration: Titration): TitrationValue | undefined => {
    const value = known.get(titration);
    if (value || open.has(titration)) return value;
    open.add(titration);
    const made = titrationValue(titration, { page, materials: at(titration.entry.block), weighed });
    open.delete(titration);
    known.set(titration, made);
    return made;
  };

  const at = (block: number): Materials => {
    const before = page.titrations.filter(({ entry, runs }) => entry.block < block && runs.length > 0);
    if (before.length === 0) return materials;
    return {
      ...materials,
      solution(solution) {
        const own = materials.solution(solution);
        // The last that came to a result: half a line below it takes nothing away.
        for (const titration of before.filter(({ name }) => name.target === solution).reverse()) {
          const value = titrated(titration);
          if (!isHeld(value?.mean)) continue;
          const made = strengths.get(titration) ?? standardised(own, value, materials);
          strengths.set(titration, made);
          return made;
        }
        return own;
      },
    };
  };

  return { at, titrations: () => page.titrations.flatMap((titration) => titrated(titration) ?? []) };
}
