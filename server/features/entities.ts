/**
 * What a name at a place in a notebook stands for, and where else the same thing is named.
 *
 * Vessels, balances and pages are things of the whole notebook: `F-12` is one flask whatever page it stands on. A
 * substance belongs to whoever declares it: a page, a file's head, a register, or else to the handbook.
 */
import { foldName } from '../../grammar/names';
import type { PageSource, Position, Range, Span } from '../../grammar/tree';
import type { Keyword } from '../../grammar/vocabulary';
import type { Mention, Where } from '../model/page';
import type { PageResult, Snapshot } from '../snapshot';
import type { Workspace } from '../workspace';
import { perPage } from './per-page';
import { placeAt, within } from './place';

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

/** A mention, and who declares what it means: this page, this file's head, or a register. */
interface Named extends Mention {
  readonly home?: 'page' | 'file' | { readonly register: string };
}

/** All that a page names: the reader's mentions, and the other names of what it declares. */
export const namesOn = perPage(({ page, world }: PageResult): readonly Named[] => {
  const aliases = [...page.substances, ...page.solutions].flatMap(({ name, key, also }) =>
    also.map(({ span }): Mention => ({ what: 'substance', name, key, span, role: 'used' })),
  );
  const declared = new Set(
    page.mentions.filter(({ what, role }) => what === 'substance' && role === 'declared').map(({ key }) => key),
  );
  const homes = new Map<string, Named['home']>();
  const homeOf = ({ what, key }: Mention): Named['home'] => {
    if (what === 'reaction') return 'page';
    if (what !== 'substance') return undefined;
    if (declared.has(key)) return 'page';
    if (!homes.has(key)) homes.set(key, homeElsewhere(world.material(key)[0]?.where));
    return homes.get(key);
  };
  return [...page.mentions, ...aliases]
    .filter(({ name, span }) => name !== '' && span.end > span.start)
    .map((mention) => {
      const home = homeOf(mention);
      return home ? { ...mention, home } : mention;
    });
});

function homeElsewhere(where: Where | undefined): Named['home'] {
  if (where?.kind === 'file') return 'file';
  return where?.kind === 'register' ? { register: where.uri } : undefined;
}

function entityOf({ uri }: Snapshot, page: number, { what, key, name, home }: Named): Entity {
  if (home === undefined) return { what, key, name };
  const place = home === 'page' ? { uri, page } : home === 'file' ? { uri, page: 0 } : { uri: home.register, page: 0 };
  return { what, key, name, home: place };
}

const sameEntity = (a: Entity, b: Entity): boolean =>
  a.what === b.what && a.key === b.key && a.home?.uri === b.home?.uri && a.home?.page === b.home?.page;

export interface Found {
  readonly entity: Entity;
  readonly page: number;
  /** The text that names it. */
  readonly span: Span;
}

/** The thing named at a place. */
export function entityAt(snapshot: Snapshot, position: Position): Found | undefined {
  const place = placeAt(snapshot, position);
  if (!place) return undefined;
  const { page, offset } = place;
  const [named] = namesOn(snapshot, page)
    .filter(({ span }) => within(span, offset))
    .sort((a, b) => a.span.end - a.span.start - (b.span.end - b.span.start));
  if (named) return { entity: entityOf(snapshot, page, named), page, span: named.span };
  const { source, world } = snapshot.page(page);
  const word = plainWords(source, offset).find(({ span }) => within(span, offset));
  if (!word || world.page(word.text).length === 0) return undefined;
  return { entity: { what: 'page', key: foldName(word.text), name: word.text }, page, span: word.span };
}

/** Where one page names an entity, in text order. */
export function occurrencesOn(snapshot: Snapshot, page: number, entity: Entity): readonly Occurrence[] {
  const found = new Map<number, Occurrence>();
  const add = (span: Span, role: Mention['role']): void => {
    if (found.get(span.start)?.role !== 'declared') found.set(span.start, { uri: snapshot.uri, page, span, role });
  };
  for (const named of namesOn(snapshot, page)) {
    if (named.key === entity.key && sameEntity(entityOf(snapshot, page, named), entity)) add(named.span, named.role);
  }
  if (entity.what === 'page')
    for (const { text, span } of plainWords(snapshot.source.pages[page]!.page))
      if (foldName(text) === entity.key) add(span, 'used');
  return [...found.values()].sort((a, b) => a.span.start - b.span.start);
}

/** Where a notebook names an entity: the file that asks first, then the others in their order. */
export function occurrences(workspace: Workspace, uri: string, entity: Entity): readonly Occurrence[] {
  // A substance may hide behind a formula; every other name stands in the text.
  const hint = entity.what === 'substance' ? /(?:)/ : spelling(entity.key);
  const files = [uri, ...[...workspace.files.keys()].filter((other) => other !== uri)];
  return files.flatMap((file) => {
    const source = workspace.files.get(file);
    if (!source || !reaches(workspace, entity, file)) return [];
    const snapshot = workspace.snapshot(file);
    return source.pages.flatMap(({ page }, index) =>
      (isLocal(entity) && index !== entity.home?.page) || !hint.test(page.text)
        ? []
        : occurrencesOn(snapshot, index, entity),
    );
  });
}

/** What a page or a file's head declares is named nowhere else; what a register declares, everywhere. */
function reaches({ files }: Workspace, { home }: Entity, uri: string): boolean {
  if (!home || home.uri === uri) return true;
  return home.page === 0 && files.get(home.uri)?.pages.length === 1;
}

/** Declared on a page, so named nowhere else. */
const isLocal = ({ home }: Entity): boolean => home !== undefined && home.page > 0;

/** The plain letters and digits of a name in their order: what every spelling of it has in common. */
const spelling = (key: string): RegExp => new RegExp((key.match(/[a-z0-9]+/gi) ?? []).join('[^a-z0-9]+'), 'i');

// ── IDs in plain text ────────────────────────────────────────────────────────────────────────────────────────────

const WORD = /[\p{L}\p{N}]+(?:[-‐‑._][\p{L}\p{N}]+)*/gu;

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
