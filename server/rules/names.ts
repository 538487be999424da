/** Names of substances where an amount may depend on them. */
import { foldName } from '../../grammar/names';
import type { Amount, NameRef, Page, Role } from '../model/page';

export interface NameUse {
  readonly ref: NameRef;
  readonly block: number;
  readonly where: 'equation' | 'charge' | 'product' | 'recovered' | 'solution' | 'measure';
  /** In an equation: the page charges or makes it. */
  readonly needed: boolean;
}

/** Charges with these roles are nobody's stoichiometry. */
export const BESIDE: ReadonlySet<Role> = new Set<Role>([
  'solvent',
  'quench',
  'wash',
  'eluent',
  'atmosphere',
  'drying agent',
]);

export const isBeside = (charge: { readonly roles: readonly { readonly role: Role }[] }): boolean =>
  charge.roles.some(({ role }) => BESIDE.has(role));

export const isMeasured = ({ quantities, weighing, word }: Amount): boolean =>
  quantities.length > 0 || weighing.readings.length > 0 || word?.word === 'weighed';

/** What only helps is counted where a number in parentheses says how much of it there is. */
const isCounted = ({ roles, claims }: Page['charges'][number]): boolean =>
  claims.length > 0 || !roles.some(({ role }) => HELPERS.has(role));

const HELPERS: ReadonlySet<Role> = new Set<Role>([
  'catalyst',
  'ligand',
  'additive',
  'internal standard',
  'base',
  'acid',
]);

/** In the order of the page; solvents, washes and things that were only counted are left out. */
export function namesUsed(page: Page): readonly NameUse[] {
  const charged = page.charges.filter((c) => !isBeside(c) && isMeasured(c.amount) && isCounted(c));
  const made = [...page.products, ...page.recovered].filter((p) => isMeasured(p.amount));
  const keys = (owners: readonly { readonly name: NameRef }[]): ReadonlySet<string> =>
    new Set(owners.map((o) => foldName(o.name.text)));
  const [into, out] = [keys(charged), keys(made)];
  const uses: NameUse[] = [
    ...page.reactions.flatMap(({ left, right, entry }) =>
      [left, right].flatMap((side) =>
        side
          .filter((term) => !term.rest)
          .map(({ name }): NameUse => {
            const needed = (side === left ? into : out).has(foldName(name.text));
            return { ref: name, block: entry.block, where: 'equation', needed };
          }),
      ),
    ),
    ...charged.map((c): NameUse => ({ ref: c.name, block: c.entry.block, where: 'charge', needed: false })),
    ...page.products
      .filter((p) => isMeasured(p.amount))
      .map((p): NameUse => ({ ref: p.name, block: p.entry.block, where: 'product', needed: false })),
    ...page.recovered
      .filter((r) => isMeasured(r.amount))
      .map((r): NameUse => ({ ref: r.name, block: r.entry.block, where: 'recovered', needed: false })),
    ...page.solutions.flatMap(({ solute, entry }): NameUse[] =>
      solute && entry ? [{ ref: solute, block: entry.block, where: 'solution', needed: false }] : [],
    ),
    ...page.measurements
      .filter((m) => m.hrms || m.combustion)
      .map((m): NameUse => ({ ref: m.name, block: m.entry.block, where: 'measure', needed: false })),
  ];
  return uses.filter(({ ref }) => ref.span.end > ref.span.start).sort((a, b) => a.ref.span.start - b.ref.span.start);
}

export interface NameGroup {
  readonly first: NameUse;
  readonly uses: readonly NameUse[];
  /** An amount in an equation depends on it. */
  readonly needed: boolean;
}

/** One group for each name that is not resolved. */
export function unresolvedNames(page: Page, which: (ref: NameRef) => boolean): readonly NameGroup[] {
  const groups = new Map<string, NameUse[]>();
  for (const use of namesUsed(page)) {
    if (use.ref.target || !which(use.ref)) continue;
    const key = foldName(use.ref.text);
    groups.set(key, [...(groups.get(key) ?? []), use]);
  }
  return [...groups.values()].map((uses) => ({ first: uses[0]!, uses, needed: uses.some((u) => u.needed) }));
}

/** Every place of the page where a name stands, by `foldName`. */
export const placesOf = (page: Page, text: string) => {
  const key = foldName(text);
  return page.mentions.filter((m) => m.what === 'substance' && foldName(m.name) === key).map((m) => m.span);
};
