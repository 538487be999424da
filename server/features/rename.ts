/** A new name for a vessel, a balance, a substance, a reaction or a page, wherever it stands. */
import { foldName } from '../../grammar/names';
import type { Position, Range, SourceFile, Span } from '../../grammar/tree';
import { looksLikeFormula } from '../chem/formula';
import { findInHandbook } from '../model/handbook';
import { editedFile } from '../prove';
import type { Edit } from '../rules/rule';
import type { PageResult, Snapshot } from '../snapshot';
import type { Workspace } from '../workspace';
import { type Entity, entityAt, type Occurrence, occurrences, placeAt } from './entities';

export interface TextEdit {
  readonly range: Range;
  readonly text: string;
}

/** In words that can be shown as they are. */
export interface Refused {
  readonly refused: string;
}

/** A name at a place, and all places where it stands so. */
interface Target {
  readonly entity: Entity;
  readonly text: string;
  readonly span: Span;
}

export function prepareRename(
  workspace: Workspace,
  uri: string,
  at: Position,
): { readonly range: Range; readonly placeholder: string } | Refused {
  const snapshot = workspace.files.has(uri) ? workspace.snapshot(uri) : undefined;
  const target = snapshot && targetAt(snapshot, at);
  if (!snapshot || !target) return { refused: 'There is no name here that can be changed.' };
  const refused = refusal(snapshot, target);
  if (refused) return { refused };
  return { range: snapshot.range(placeAt(snapshot.source, at).page, target.span), placeholder: target.text };
}

/** Edits by file. Refuses what would be read differently afterwards, and what would change a signed page. */
export function rename(
  workspace: Workspace,
  uri: string,
  at: Position,
  newName: string,
): ReadonlyMap<string, readonly TextEdit[]> | Refused {
  const snapshot = workspace.files.has(uri) ? workspace.snapshot(uri) : undefined;
  const target = snapshot && targetAt(snapshot, at);
  if (!snapshot || !target) return { refused: 'There is no name here that can be changed.' };
  const name = newName.trim().replace(/\s+/g, ' ');
  const refused = refusal(snapshot, target) ?? badName(target.entity, name);
  if (refused) return { refused };
  const places = spelledSo(workspace, uri, target);
  const taken = foldName(name) === foldName(target.text) ? undefined : clash(workspace, places, target.entity, name);
  if (taken) return { refused: taken };
  const signed = places.map((place) => workspace.snapshot(place.uri).page(place.page).page).find((page) => page.signed);
  if (signed) return { refused: `Page ${signed.id?.text ?? ''} is signed: its text stays as it is.` };
  if (!readsTheSame(workspace, places, target, name))
    return { refused: `“${name}” would not be read as a name there.` };
  const edits = new Map<string, TextEdit[]>();
  for (const { uri: file, page, span } of places) {
    const list = edits.get(file) ?? [];
    list.push({ range: workspace.snapshot(file).range(page, span), text: name });
    edits.set(file, list);
  }
  return edits;
}

function targetAt(snapshot: Snapshot, at: Position): Target | undefined {
  const place = placeAt(snapshot.source, at);
  const found = entityAt(snapshot, place);
  if (!found) return undefined;
  const span = nameIn(snapshot, place.page, found.span, found.entity);
  return { entity: found.entity, text: textAt(snapshot, place.page, span), span };
}

const textAt = (snapshot: Snapshot, page: number, span: Span): string =>
  snapshot.source.pages[page]!.page.text.slice(span.start, span.end);

/** `from TB-011/V-3` names a batch of the page: only the ID is the page's name. */
function nameIn(snapshot: Snapshot, page: number, span: Span, entity: Entity): Span {
  if (entity.what !== 'page') return span;
  const slash = textAt(snapshot, page, span).indexOf('/');
  return slash < 0 ? span : { start: span.start, end: span.start + slash };
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

function refusal(snapshot: Snapshot, { entity, text }: Target): string | undefined {
  if (entity.what !== 'substance') return undefined;
  const own = foldName(text) === entity.key;
  if (entity.home && own) return undefined;
  if (looksLikeFormula(text)) return `${text} is a formula; it says what the substance is.`;
  if (entity.home) {
    const { page } = snapshot.page(entity.home.uri === snapshot.uri ? entity.home.page : 0);
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

function clash(
  workspace: Workspace,
  places: readonly Occurrence[],
  { what }: Entity,
  name: string,
): string | undefined {
  const key = foldName(name);
  const taken = places.some((place) => {
    const { page, world } = workspace.snapshot(place.uri).page(place.page);
    if (page.mentions.some((mention) => mention.what === what && mention.key === key)) return true;
    if (what === 'vessel') return world.vessel(key).length > 0 || world.tares(key).length > 0;
    if (what === 'balance') return world.balance(key).length > 0;
    return what === 'page' ? world.page(name).length > 0 : what === 'substance' && world.material(key).length > 0;
  });
  return taken ? `${name} is already ${KINDS[what]} here.` : undefined;
}

/** Reads every changed file again: the name that was written stands for the same thing in as many places. */
function readsTheSame(
  workspace: Workspace,
  places: readonly Occurrence[],
  { entity, text }: Target,
  name: string,
): boolean {
  const key = foldName(text) === entity.key ? foldName(name) : entity.key;
  const pages = new Map<string, { readonly uri: string; readonly page: number; readonly edits: Edit[] }>();
  for (const { uri, page, span } of places) {
    const id = `${page} ${uri}`;
    const entry = pages.get(id) ?? { uri, page, edits: [] };
    entry.edits.push({ span, text: name });
    pages.set(id, entry);
  }
  const files = new Map<string, SourceFile>();
  for (const { uri, page, edits } of pages.values())
    files.set(uri, editedFile(files.get(uri) ?? workspace.files.get(uri)!, page, edits));
  const changed = workspace.with(files);
  return [...pages.values()].every(({ uri, page }) => {
    const before = workspace.snapshot(uri).page(page);
    const after = changed.snapshot(uri).page(page);
    const count = (read: PageResult, wanted: string): number =>
      read.page.mentions.filter((mention) => mention.what === entity.what && mention.key === wanted).length;
    return after.source.blocks.length === before.source.blocks.length && count(after, key) >= count(before, entity.key);
  });
}
