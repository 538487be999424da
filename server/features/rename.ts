/** A new name for a vessel, a balance, a substance, a reaction or a page, wherever it stands. */
import { foldName } from '../../grammar/names';
import { parse, textOf } from '../../grammar/parse';
import type { PageSource, Position, Range, SourceFile, Span } from '../../grammar/tree';
import { looksLikeFormula } from '../chem/formula';
import { findInHandbook } from '../model/handbook';
import { applyEdits } from '../prove';
import type { Edit } from '../rules/rule';
import type { Snapshot } from '../snapshot';
import type { Workspace } from '../workspace';
import { type Entity, entityAt, type Found, namesOn, type Occurrence, occurrences } from './entities';

export interface TextEdit {
  readonly range: Range;
  readonly text: string;
}

/** In words that can be shown as they are. */
export interface Refused {
  readonly refused: string;
}

const NOTHING: Refused = { refused: 'There is no name here that can be changed.' };

/** A name at a place, as it is spelled there. */
interface Target extends Found {
  readonly text: string;
}

export function prepareRename(
  workspace: Workspace,
  uri: string,
  at: Position,
): { readonly range: Range; readonly placeholder: string } | Refused {
  const target = targetAt(workspace, uri, at);
  if (!target) return NOTHING;
  const refused = refusal(workspace, target);
  return refused
    ? { refused }
    : { range: workspace.snapshot(uri).range(target.page, target.span), placeholder: target.text };
}

/** Edits by file. Refuses what would be read differently afterwards, and what would change a signed page. */
export function rename(
  workspace: Workspace,
  uri: string,
  at: Position,
  newName: string,
): ReadonlyMap<string, readonly TextEdit[]> | Refused {
  const target = targetAt(workspace, uri, at);
  if (!target) return NOTHING;
  const name = newName.trim().replace(/\s+/g, ' ');
  const unfit = refusal(workspace, target) ?? badName(target.entity, name);
  if (unfit) return { refused: unfit };
  const pages = pagesOf(workspace, spelledSo(workspace, uri, target), name);
  const other = foldName(name) !== foldName(target.text);
  const refused = (other ? clash(workspace, pages, target.entity, name) : undefined) ?? sealed(workspace, pages);
  if (refused) return { refused };
  if (!readsTheSame(workspace, pages, target, name)) return { refused: `“${name}” would not be read as a name there.` };
  const edits = new Map<string, TextEdit[]>();
  for (const changed of pages) {
    const { range } = workspace.snapshot(changed.uri);
    const list = edits.get(changed.uri) ?? [];
    list.push(...changed.edits.map(({ span, text }) => ({ range: range(changed.page, span), text })));
    edits.set(changed.uri, list);
  }
  return edits;
}

/** What changes on one page. */
interface Changed {
  readonly uri: string;
  readonly page: number;
  readonly edits: readonly Edit[];
}

function pagesOf(workspace: Workspace, places: readonly Occurrence[], text: string): readonly Changed[] {
  const pages = new Map<PageSource, { readonly uri: string; readonly page: number; readonly edits: Edit[] }>();
  for (const { uri, page, span } of places) {
    const source = workspace.files.get(uri)!.pages[page]!.page;
    const changed = pages.get(source) ?? { uri, page, edits: [] };
    changed.edits.push({ span, text });
    pages.set(source, changed);
  }
  return [...pages.values()];
}

function targetAt(workspace: Workspace, uri: string, at: Position): Target | undefined {
  const snapshot = workspace.files.has(uri) ? workspace.snapshot(uri) : undefined;
  const found = snapshot && entityAt(snapshot, at);
  if (!snapshot || !found) return undefined;
  const span = nameIn(snapshot, found.page, found.span, found.entity);
  return { ...found, span, text: textAt(snapshot, found.page, span) };
}

const textAt = (snapshot: Snapshot, page: number, span: Span): string =>
  snapshot.source.pages[page]!.page.text.slice(span.start, span.end);

/** `from TB-011/V-3` names a batch of the page: only the ID is the page's name. */
function nameIn(snapshot: Snapshot, page: number, span: Span, entity: Entity): Span {
  if (entity.what !== 'page' || !textAt(snapshot, page, span).startsWith(`${entity.name}/`)) return span;
  return { start: span.start, end: span.start + entity.name.length };
}

/** Only where it is spelled as here: another name or a formula of the same thing stays. */
function spelledSo(workspace: Workspace, uri: string, { entity, text }: Target): readonly Occurrence[] {
  const key = foldName(text);
  return occurrences(workspace, uri, entity).flatMap((place) => {
    const snapshot = workspace.snapshot(place.uri);
    const span = nameIn(snapshot, place.page, place.span, entity);
    return foldName(textAt(snapshot, place.page, span)) === key ? [{ ...place, span }] : [];
  });
}

function refusal(workspace: Workspace, { entity, text }: Target): string | undefined {
  if (entity.what !== 'substance') return undefined;
  const own = foldName(text) === entity.key;
  if (entity.home && own) return undefined;
  if (looksLikeFormula(text)) return `${text} is a formula; it says what the substance is.`;
  if (entity.home) {
    const { page } = workspace.snapshot(entity.home.uri).page(entity.home.page);
    const named = [...page.substances, ...page.solutions].some(({ also }) =>
      also.some((a) => foldName(a.text) === foldName(text)),
    );
    return named ? undefined : `${text} is another usual name of ${entity.name}: rename that one.`;
  }
  return findInHandbook(text)
    ? `${text} is a name of the handbook. A substance line on the page can give it another.`
    : undefined;
}

const KINDS = {
  substance: 'a substance',
  vessel: 'a vessel',
  balance: 'a balance',
  page: 'a page',
  reaction: 'a reaction',
} as const;

function badName({ what }: Entity, name: string): string | undefined {
  if (name === '') return 'A name cannot be empty.';
  if ((what === 'page' || what === 'reaction') && /\s/.test(name)) return 'An ID holds no blanks.';
  if (/[;:,](?:\s|$)|~~|[\r\n]/.test(name)) return 'A name holds no colon, comma or semicolon before a blank.';
  return undefined;
}

function clash(workspace: Workspace, pages: readonly Changed[], { what }: Entity, name: string): string | undefined {
  const key = foldName(name);
  const files = new Map(pages.map((changed) => [changed.uri, changed.page]));
  const outside = [...files].some(([uri, page]) => {
    const { world } = workspace.snapshot(uri).page(page);
    if (what === 'vessel') return world.vessel(key).length > 0 || world.tares(key).length > 0;
    if (what === 'balance') return world.balance(key).length > 0;
    return what === 'page' ? world.page(name).length > 0 : what === 'substance' && world.material(key).length > 0;
  });
  const here = ({ uri, page }: Changed): boolean =>
    namesOn(workspace.snapshot(uri), page).some((named) => named.what === what && named.key === key);
  return outside || pages.some(here) ? `${name} is already ${KINDS[what]} here.` : undefined;
}

function sealed(workspace: Workspace, pages: readonly Changed[]): string | undefined {
  for (const { uri, page } of pages) {
    const statements = workspace.files.get(uri)!.pages[page]!.page.blocks.flatMap(({ block }) => block.statement ?? []);
    if (!statements.some(({ keyword }) => keyword === 'signed')) continue;
    const id = statements.find(({ keyword }) => keyword === 'experiment')?.subject?.text ?? '';
    return `Page ${id} is signed: its text stays as it is.`;
  }
  return undefined;
}

/** Pages whose names are looked up again; of the rest only the lines, which is what a name can break. */
const LOOKED_UP = 24;

/** Reads the changed pages again: the name that was written stands for the same thing in as many places. */
function readsTheSame(
  workspace: Workspace,
  pages: readonly Changed[],
  { entity, text }: Target,
  name: string,
): boolean {
  const key = foldName(text) === entity.key ? foldName(name) : entity.key;
  const kinds = ({ blocks }: PageSource): string =>
    blocks.map(({ block }) => `${block.kind} ${block.statement?.keyword ?? ''}`).join('\n');
  const changed = workspace.with(changedFiles(workspace, pages));
  return pages.every(({ uri, page, edits }, i) => {
    const before = workspace.files.get(uri)!.pages[page]!.page;
    const after = changed.files.get(uri)!.pages[page]?.page;
    if (!after || kinds(after) !== kinds(before)) return false;
    if (i >= LOOKED_UP) return true;
    const named = namesOn(changed.snapshot(uri), page).filter(
      (found) => found.what === entity.what && found.key === key,
    );
    const plain = edits.filter(({ span }) => !isNamed(namesOn(workspace.snapshot(uri), page), span)).length;
    return named.length + plain >= edits.length;
  });
}

/** Else it is the ID of a page in plain text. */
const isNamed = (names: readonly { readonly span: Span }[], { start }: Span): boolean =>
  names.some(({ span }) => span.start === start);

function changedFiles(workspace: Workspace, pages: readonly Changed[]): ReadonlyMap<string, SourceFile> {
  const edits = new Map<string, Edit[]>();
  for (const { uri, page, edits: own } of pages) {
    const { at } = workspace.files.get(uri)!.pages[page]!;
    const list = edits.get(uri) ?? [];
    list.push(...own.map(({ span, text }) => ({ span: { start: span.start + at, end: span.end + at }, text })));
    edits.set(uri, list);
  }
  return new Map(
    [...edits].map(([uri, list]) => [uri, parse(applyEdits(textOf(workspace.files.get(uri)!), list))] as const),
  );
}
