/** Fills claims in: what the inlay hints show, written into the line, where that is proven to be right. */
import { offsetAt } from '../../grammar/parse';
import type { Range } from '../../grammar/tree';
import { prove } from '../prove';
import type { Edit } from '../rules/rule';
import type { Workspace } from '../workspace';
import { inlayHints } from './inlay-hints';

export interface Filling {
  /** `(12.2 g, 138 mmol, 1.00 equiv)` */
  readonly claims: string;
  readonly edit: Edit;
}

/** Of the lines of a page that carry no claim and whose statement touches the range. */
export function fillings(workspace: Workspace, uri: string, page: number, range?: Range): readonly Filling[] {
  const snapshot = workspace.snapshot(uri);
  const placed = snapshot.source.pages[page];
  if (!placed || snapshot.page(page).page.signed) return [];
  const { blocks, text } = placed.page;
  const offset = (position: Range['start']): number => offsetAt(snapshot.source, position) - placed.at;
  const from = range ? offset(range.start) : 0;
  const to = range ? offset(range.end) : text.length;
  const hints = inlayHints(snapshot, snapshot.range(page, { start: 0, end: text.length }), {
    charges: true,
    products: true,
  });
  return hints.flatMap(({ position, edit }) => {
    const at = offset(position);
    const block = blocks.findLast((candidate) => candidate.at <= at);
    if (!edit || !block || from > block.at + block.block.text.length || to < block.at) return [];
    const filling: Filling = { claims: edit.text.trim(), edit: { span: { start: at, end: at }, text: edit.text } };
    return prove(workspace, uri, page, undefined, { title: '', edits: [filling.edit] }).ok ? [filling] : [];
  });
}
