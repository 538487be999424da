/** A notebook in memory: pages by file name, and what the engine says of them. */
import { parse } from '../../grammar/parse';
import type { Finding, Fix } from '../../server/rules/rule';
import type { Settings } from '../../server/settings';
import { createWorkspace, type Workspace } from '../../server/workspace';

export const uriOf = (name: string): string => `file:///notebook/${name.split('/').map(encodeURIComponent).join('/')}`;

/** A rule that throws is silent for the user and loud here. */
export function notebook(files: Readonly<Record<string, string>>, settings?: Settings): Workspace {
  return createWorkspace(settings, (code, error) => {
    throw new Error(`${code} throws`, { cause: error });
  }).with(new Map(Object.entries(files).map(([name, text]) => [uriOf(name), parse(text)])));
}

/** A finding with its places counted from the start of the file. */
export interface FoundInFile {
  readonly page: number;
  readonly finding: Finding;
  readonly start: number;
  readonly end: number;
  readonly fixes: readonly FixInFile[];
}

export interface FixInFile {
  readonly fix: Fix;
  readonly edits: readonly { readonly span: { readonly start: number; readonly end: number }; readonly text: string }[];
}

export function findingsOf(workspace: Workspace, name: string): readonly FoundInFile[] {
  const snapshot = workspace.snapshot(uriOf(name));
  return Array.from({ length: snapshot.pageCount }, (_, page) => {
    const at = snapshot.source.pages[page]!.at;
    return snapshot.page(page).findings.map((finding) => ({
      page,
      finding,
      start: at + finding.span.start,
      end: at + finding.span.end,
      fixes: (finding.fixes ?? []).map((fix) => ({
        fix,
        edits: fix.edits.map(({ span, text }) => ({ span: { start: at + span.start, end: at + span.end }, text })),
      })),
    }));
  }).flat();
}
