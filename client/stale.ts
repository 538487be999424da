import { type CancellationToken, type CodeAction, type ProviderResult, workspace } from 'vscode';

type Resolve = (action: CodeAction, token: CancellationToken) => ProviderResult<CodeAction>;

/**
 * Drops the edit of an action if a page changed while the server worked it out: the version that the server sends with
 * the edit is lost when the client turns it into the editor's own kind. Any page counts, because the editor's kind does
 * not tell which pages its snippets touch.
 */
export async function refuseStaleEdit(
  action: CodeAction,
  token: CancellationToken,
  resolve: Resolve,
): Promise<CodeAction | null | undefined> {
  const before = versions();
  const resolved = await resolve(action, token);
  return versions() === before ? resolved : null;
}

const versions = () =>
  workspace.textDocuments
    .filter((page) => page.languageId === 'tarebook')
    .map((page) => `${page.uri} ${page.version}`)
    .join('\n');
