/** Where a substance, a vessel, a balance, a page or a reaction is named. */
import type { Position } from '../../grammar/tree';
import type { Workspace } from '../workspace';
import { entityAt, type Location, occurrences } from './entities';

export function references(
  workspace: Workspace,
  uri: string,
  at: Position,
  includeDeclaration: boolean,
): readonly Location[] {
  if (!workspace.files.has(uri)) return [];
  const snapshot = workspace.snapshot(uri);
  const found = entityAt(snapshot, at);
  if (!found) return [];
  return occurrences(workspace, uri, found.entity)
    .filter(({ role }) => includeDeclaration || role !== 'declared')
    .map((o) => ({ uri: o.uri, range: workspace.snapshot(o.uri).range(o.page, o.span) }));
}
