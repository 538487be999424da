/**
 * What a name at a place in a notebook stands for, and where else the same thing is named.
 *
 * Vessels, balances and pages are things of the whole notebook: `F-12` is one flask whatever page it stands on. A
 * substance belongs to whoever declares it: a page, a file's head, a register, or else to the handbook.
 */
import { foldName } from '../../grammar/names';
import { offsetAt, pageAt } from '../../grammar/parse';
import type { PageSource, Position, Range, SourceFile, Span } from '../../grammar/tree';
import type { Keyword } from '../../grammar/vocabulary';
import type { Mention, Where } from '../model/page';
import type { PageResult, Snapshot } from '../snapshot';
import type { Workspace } from '../workspace';

export interface Place {
  /** Index of the page in its file. */
  readonly page: number;
  /** From the page's start. */
  readonly offset: number;
}

export interface Location {
  readonly uri: string;
  readonly range: Range;
}

/** Where a thing is declared: all uses that lead there mean the same thing. */
export interface Home {
  readonly uri: string;
  readonly page: number;
}

export interface Entity {
  readonly what: Mention['what'];
  readonly key: string;
  readonly name: string;
  /** Of a substance or a reaction; none when only the handbook knows it, or nobody. */
  readonly home?: Home;
}

/** One place where an entity is named. */
export interface Occurrence {
  readonly uri: string;
  readonly page: number;
  readonly span: Span;
  readonly role: Mention['role'];
}

export function placeAt(source: SourceFile, position: Position): Place {
  const page = pageAt(source, position.line);
  return { page, offset: offsetAt(source, position) - (source.pages[page]?.at ?? 0) };
}

/** All that a page names: the reader's mentions, and the other names of what it declares. */
function mentionsOf({ page }: PageResult): readonly Mention[] {
  const aliases = [...page.substances, ...page.solutions].flatMap(({ name, key, also }) =>
    also
      .filter(({ span }) => span.end > span.start)
      .map(({ span }): Mention => ({ what: 'substance', name, key, span, role: 'used' })),
  );
  return [...page.mentions, ...aliases];
}

const holds = (span: Span, offset: number): boolean => span.start <= offset && offset <= span.end;

/** The thing named at a place, and the text that names it. */
export function entityAt(snapshot: Snapshot, { page, offset }: Place): { entity: Entity; span: Span } | undefined {
  const result = snapshot.page(page);
  const here = mentionsOf(result).filter((mention) => mention.name !== '' && holds(mention.span, offset));
  const mention = here.sort((a, b) => a.span.end - a.span.start - (b.span.end - b.span.start))[0];
  if (mention) return { entity: entityOf(snapshot, page, mention), span: mention.span };
  const word = plainWords(result.source, offset).find(({ span }) => holds(span, offset));
  if (!word || result.world.page(word.text).length === 0) return undefined;
  return { entity: { what: 'page', key: foldName(word.text), name: word.text }, span: word.span };
}

/** What a mention on a page stands for. */
export function entityOf(snapshot: Snapshot, page: number, { what, key, name }: Mention): Entity {
  if (what === 'vessel' || what === 'balance' || what === 'page') return { what, key, name };
  const home =
    what === 'reaction' || declares(snapshot.page(page), key)
      ? { uri: snapshot.uri, page }
      : homeOf(snapshot.page(page).world.material(key)[0]?.where, snapshot.uri);
  return { what, key, name, ...(home && { home }) };
}

const declares = ({ page }: PageResult, key: string): boolean =>
  page.mentions.some((m) => m.what === 'substance' && m.role === 'declared' && m.key === key);

function homeOf(where: Where | undefined, uri: string): Home | undefined {
  if (where?.kind === 'file') return { uri, page: 0 };
  return where?.kind === 'register' ? { uri: where.uri, page: 0 } : undefined;
}

export const sameEntity = (a: Entity, b: Entity): boolean =>
  a.what === b.what && a.key === b.key && a.home?.uri === b.home?.uri && a.home?.page === b.home?.page;

/** Where one page names an entity, in text order. */
export function occurrencesOn(snapshot: Snapshot, page: number, entity: Entity): readonly Occurrence[] {
  const result = snapshot.page(page);
  const found = new Map<number, Occurrence>();
  const add = (span: Span, role: Mention['role']): void => {
    if (found.get(span.start)?.role !== 'declared') found.set(span.start, { uri: snapshot.uri, page, span, role });
  };
  for (const mention of mentionsOf(result)) {
    if (mention.what !== entity.what || mention.key !== entity.key || mention.span.end <= mention.span.start) continue;
    if (sameEntity(entityOf(snapshot, page, mention), entity)) add(mention.span, mention.role);
  }
  if (entity.what === 'page')
    for (const { text, span } of plainWords(result.source)) if (foldName(text) === entity.key) add(span, 'used');
  return [...found.values()].sort((a, b) => a.span.start - b.span.start);
}

/** Where a notebook names an entity: the file that asks first, then the others in their order. */
export function occurrences(workspace: Workspace, uri: string, entity: Entity): readonly Occurrence[] {
  const hint = letters(entity.key);
  const files = [uri, ...[...workspace.files.keys()].filter((other) => other !== uri)];
  return files.flatMap((file) => {
    const source = workspace.files.get(file);
    if (!source || (isLocal(entity) && file !== entity.home?.uri)) return [];
    const snapshot = workspace.snapshot(file);
    return source.pages.flatMap(({ page }, index) => {
      if (isLocal(entity) && index !== entity.home?.page) return [];
      // A substance may hide behind a formula; every other name stands in the text.
      if (entity.what !== 'substance' && !page.text.toLowerCase().includes(hint)) return [];
      return occurrencesOn(snapshot, index, entity);
    });
  });
}

/** Declared on a page, so named nowhere else. */
const isLocal = ({ home }: Entity): boolean => home !== undefined && home.page > 0;

/** The longest run of plain letters and digits: what every spelling of a name has in common. */
const letters = (key: string): string =>
  (key.toLowerCase().match(/[a-z0-9]+/g) ?? ['']).reduce((a, b) => (b.length > a.length ? b : a));

// ── IDs in plain text ────────────────────────────────────────────────────────────────────────────────────────────

const WORD = /[\p{L}\p{N}]+(?:[-‐–._/][\p{L}\p{N}]+)*/gu;

interface Word {
  readonly text: string;
  readonly span: Span;
}

/** Words with a digit in prose, in the log and in statements that are plain text: `see TB-009`. */
function plainWords({ blocks }: PageSource, near?: number): readonly Word[] {
  return blocks.flatMap(({ block, at }) => {
    if (near !== undefined && (near < at || near > at + block.text.length)) return [];
    const { statement } = block;
    const text = statement
      ? statement.body.kind === 'text' && KEEPS_IDS.has(statement.keyword) && statement.body.text
      : block.body;
    if (!text || block.kind === 'fence') return [];
    const start = text.span.start;
    return [...block.text.slice(start, text.span.end).matchAll(WORD)]
      .filter(([word]) => /\d/.test(word))
      .map((match) => ({
        text: match[0],
        span: { start: at + start + match.index, end: at + start + match.index + match[0].length },
      }));
  });
}

/** Statements whose text may name another page; not a date, not a signature. */
const KEEPS_IDS: ReadonlySet<Keyword> = new Set<Keyword>(['experiment', 'aim', 'reference', 'note', 'decided']);
