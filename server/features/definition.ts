/** From a name to where it was declared. */
import type { Position, Range, Span } from '../../grammar/tree';
import type { Snapshot } from '../snapshot';
import type { Workspace } from '../workspace';
import { type Entity, entityAt, type Found, type Location, occurrencesOn } from './entities';

export interface Definition extends Location {
  /** The text in the asking file that was understood. */
  readonly origin?: Range;
}

/** Nearest first; empty for what is no name, and for what only the handbook knows. */
export function definition(workspace: Workspace, uri: string, at: Position): readonly Definition[] {
  if (!workspace.files.has(uri)) return [];
  const snapshot = workspace.snapshot(uri);
  const found = entityAt(snapshot, at);
  if (!found) return [];
  const origin = snapshot.range(found.page, found.span);
  return targets(workspace, snapshot, found).map((target) => ({ ...target, origin }));
}

function targets(workspace: Workspace, snapshot: Snapshot, found: Found): readonly Location[] {
  const { entity, page } = found;
  if (entity.what === 'page') return pageTargets(workspace, snapshot, found);
  const here = declarations(snapshot, page, entity);
  if (here.length > 0) return here;
  const { world } = snapshot.page(page);
  if (entity.home) {
    const home = workspace.snapshot(entity.home.uri);
    return declarations(home, entity.home.page, entity);
  }
  if (entity.what === 'balance')
    return world.balance(entity.key).flatMap(({ where, span }) => declaredIn(workspace, snapshot, where, span));
  if (entity.what !== 'vessel') return [];
  const vessels = world.vessel(entity.key).flatMap(({ where, span }) => declaredIn(workspace, snapshot, where, span));
  if (vessels.length > 0) return vessels;
  return world.tares(entity.key).flatMap((tare) => {
    const { vessel: where, uri, id, entry, span: at } = tare;
    return workspace.locate({ from: 'there', where, uri, ...(id && { page: id }), entry, ...at }) ?? [];
  });
}

const declarations = (snapshot: Snapshot, page: number, entity: Entity): readonly Location[] =>
  occurrencesOn(snapshot, page, entity)
    .filter(({ role }) => role === 'declared')
    .map((found) => ({ uri: snapshot.uri, range: snapshot.range(page, found.span) }));

/** `from TB-011` → that page; `from TB-011/V-3` → the line that made that batch. */
function pageTargets(workspace: Workspace, snapshot: Snapshot, { entity, page, span }: Found): readonly Location[] {
  const result = snapshot.page(page);
  const batch = [...result.page.charges, ...result.page.substances.map(({ made }) => ({ batch: made }))]
    .map((user) => user.batch)
    .find((ref) => ref?.span.start === span.start);
  return result.world.page(entity.name).flatMap(({ uri, id }) => {
    const index = pageOf(workspace, uri, id);
    if (index < 0) return [];
    const maker = workspace.snapshot(uri).page(index).page;
    const made = maker.products.find(({ label }) => label !== undefined && label.text === batch?.label);
    const target = made?.entry.mark ?? maker.id?.span;
    return target ? at(workspace, uri, index, target) : [];
  });
}

const pageOf = (workspace: Workspace, uri: string, id: string): number =>
  (workspace.files.get(uri)?.pages ?? []).findIndex(({ page }) =>
    page.blocks.some(
      ({ block: { statement } }) => statement?.keyword === 'experiment' && statement.subject?.text === id,
    ),
  );

function declaredIn(
  workspace: Workspace,
  snapshot: Snapshot,
  where: { readonly kind: string; readonly uri?: string },
  span: Span,
): readonly Location[] {
  if (where.kind === 'file') return at(workspace, snapshot.uri, 0, span);
  return where.uri === undefined ? [] : at(workspace, where.uri, 0, span);
}

const at = (workspace: Workspace, uri: string, page: number, span: Span): readonly Location[] =>
  workspace.files.has(uri) ? [{ uri, range: workspace.snapshot(uri).range(page, span) }] : [];
