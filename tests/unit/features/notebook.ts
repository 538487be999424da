/** A notebook in memory, and places in it by what stands there. */
import { offsetAt, parse, positionAt, textOf } from '../../../grammar/parse';
import type { Position, Range } from '../../../grammar/tree';
import { createWorkspace, type Workspace } from '../../../server/workspace';

export const PAGE = 'page.tare';

export const notebook = (files: Readonly<Record<string, string>>): Workspace =>
  createWorkspace().with(new Map(Object.entries(files).map(([uri, text]) => [uri, parse(text)])));

/** One page; `‸` is the cursor. */
export function marked(
  text: string,
  others: Readonly<Record<string, string>> = {},
): { workspace: Workspace; at: Position } {
  const offset = text.indexOf('‸');
  const workspace = notebook({ [PAGE]: text.replace('‸', ''), ...others });
  return { workspace, at: positionAt(workspace.files.get(PAGE)!, Math.max(0, offset)) };
}

/** The text of a range. */
export function textAt(workspace: Workspace, uri: string, { start, end }: Range): string {
  const source = workspace.files.get(uri)!;
  return textOf(source).slice(offsetAt(source, start), offsetAt(source, end));
}

/** The line of a range, and the text in it: what a reader of a failing test wants to see. */
export function seen(workspace: Workspace, uri: string, range: Range): string {
  const line = textOf(workspace.files.get(uri)!).split('\n')[range.start.line]!;
  return `${line.slice(0, range.start.character)}[${textAt(workspace, uri, range)}]${line.slice(range.end.character)}`;
}

/** A file after edits in it. */
export function edited(
  workspace: Workspace,
  uri: string,
  edits: readonly { readonly range: Range; readonly text: string }[],
): string {
  const source = workspace.files.get(uri)!;
  return [...edits]
    .sort((a, b) => offsetAt(source, b.range.start) - offsetAt(source, a.range.start))
    .reduce(
      (text, { range, text: written }) =>
        text.slice(0, offsetAt(source, range.start)) + written + text.slice(offsetAt(source, range.end)),
      textOf(source),
    );
}
