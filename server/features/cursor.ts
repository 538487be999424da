/** What is being typed at the cursor, read from the text before it. */
import { clockAt, headAt, lineEnd } from '../../grammar/lines';
import type { Position, Statement } from '../../grammar/tree';
import { FACTS, type FactKey, KEYWORDS, type Keyword } from '../../grammar/vocabulary';
import type { Snapshot } from '../snapshot';
import { placeAt } from './place';

interface Somewhere {
  readonly page: number;
  /** Index of the block. */
  readonly block: number;
  /** Letters before the cursor that a completion replaces. */
  readonly typed: string;
  /** A blank to put before the completion where none has been typed. */
  readonly gap: string;
  /** Something but white space follows on the line. */
  readonly textBehind: boolean;
}

export type Cursor = Somewhere &
  (
    | { readonly kind: 'claim' }
    /** `clock`: behind a time of day. */
    | { readonly kind: 'keyword'; readonly clock: boolean }
    | { readonly kind: 'subject'; readonly keyword: Keyword }
    /** A name in an equation or a recipe. */
    | { readonly kind: 'term'; readonly keyword: Keyword }
    | { readonly kind: 'unit'; readonly keyword: Keyword; readonly key?: FactKey }
    /** What a fact such as `in` points to. */
    | { readonly kind: 'reference'; readonly keyword: Keyword; readonly key: FactKey }
    | { readonly kind: 'fact'; readonly keyword: Keyword; readonly used: ReadonlySet<FactKey> }
  );

/** Undefined where nothing is to be completed: in prose, in a fence, behind a number that has its unit. */
export function cursorAt(snapshot: Snapshot, position: Position): Cursor | undefined {
  const place = placeAt(snapshot, position);
  if (!place || place.block.kind === 'fence' || place.block.kind === 'heading') return undefined;
  const { text } = snapshot.source.pages[place.page]!.page;
  const end = lineEnd(text, place.offset);
  const somewhere = { page: place.page, block: place.index, textBehind: text.slice(place.offset, end).trim() !== '' };
  const { statement } = place.block;
  const inBlock = place.offset - place.at;
  // The empty line at the end of a file belongs to no block.
  const behind = inBlock === place.block.text.length && /[\r\n]$/.test(place.block.text);
  if (statement && inBlock > statement.colon && !behind) {
    const found = inBody(statement, place.block.text.slice(statement.colon + 1, inBlock));
    return found && { ...somewhere, ...found };
  }
  let start = place.offset;
  while (start > 0 && !/[\r\n]/.test(text[start - 1]!)) start--;
  const found = inHead(text.slice(start, place.offset), text.slice(start, end));
  return found && { ...somewhere, gap: '', ...found };
}

type Head =
  | { readonly kind: 'keyword'; readonly clock: boolean; readonly typed: string }
  | { readonly kind: 'subject'; readonly keyword: Keyword; readonly typed: string };

/** The line up to the colon that may still be missing. */
function inHead(before: string, line: string): Head | undefined {
  const clock = clockAt(before, 0);
  const from = clock ? clock.end + (/^\s+/.exec(before.slice(clock.end))?.[0].length ?? 0) : 0;
  const typed = before.slice(from);
  if (/^[a-z]*$/.test(typed))
    return clock && from === clock.end ? undefined : { kind: 'keyword', clock: clock !== undefined, typed };
  const [, word = '', subject = ''] = /^([a-z]+)[^\S\r\n]+(.*)$/.exec(typed) ?? [];
  if (!Object.hasOwn(KEYWORDS, word)) return undefined;
  // `charge was taken` is a sentence, as it would be with a colon.
  const asStatement = `${typed.trimEnd()}:`;
  return headAt(asStatement, 0, asStatement.length) || headAt(line, from, line.length)
    ? { kind: 'subject', keyword: word as Keyword, typed: subject }
    : undefined;
}

type InBody = Pick<Somewhere, 'typed' | 'gap'> &
  (
    | { readonly kind: 'claim' }
    | { readonly kind: 'term'; readonly keyword: Keyword }
    | { readonly kind: 'unit'; readonly keyword: Keyword; readonly key?: FactKey }
    | { readonly kind: 'reference'; readonly keyword: Keyword; readonly key: FactKey }
    | { readonly kind: 'fact'; readonly keyword: Keyword; readonly used: ReadonlySet<FactKey> }
  );

const REFERENCES = ['in', 'on', 'from', 'against', 'with', 'of', 'contains'] as const satisfies readonly FactKey[];

/** What stands between the colon and the cursor decides what may come. */
function inBody(statement: Statement, body: string): InBody | undefined {
  const { keyword } = statement;
  if (statement.body.kind === 'text') return undefined;
  const { fragment, claim, first } = lastFact(body);
  const typed = fragment.trimStart();
  const gap = typed === '' && !/\s$/.test(fragment) && !(claim && fragment === '') ? ' ' : '';
  if (claim) return { kind: 'claim', typed, gap };
  if (keyword === 'reaction' && first)
    return { kind: 'term', keyword, ...lastWords(typed, /(?:.*(?:\s\+|->|→|<=>|⇌)|^)(\s*)(?:\d+\s+)?(.*)$/s) };

  const key = keyOf(typed, keyword);
  const rest = key ? typed.slice(key.length) : typed;
  const unit = /(?:^|\s|[~–×±])\d[\d.\u202f]*(\s*)([^\s\d,;()]*|%\s?[a-z/]*)$/u.exec(rest);
  if (unit) return { kind: 'unit', keyword, ...(key && { key }), typed: unit[2]!, gap: unit[1] === '' ? ' ' : '' };
  if (keyword === 'solution' && first) {
    const name = /^.*\sin(\s+)(.*)$/s.exec(typed) ?? /^\d\S*\s*\S+(\s+)(.*)$/s.exec(typed);
    if (name) return { kind: 'term', keyword, typed: name[2]!, gap: '' };
  }
  const reference = REFERENCES.find((word) => word === key) ?? inlineReference(typed);
  if (reference) {
    const [, name = ''] = new RegExp(`(?:^|\\s)${reference}\\s+(.*)$`, 's').exec(typed) ?? [];
    return /(?:^|\s)\S+\s/.test(typed)
      ? { kind: 'reference', keyword, key: reference, typed: name, gap: '' }
      : undefined;
  }
  // Behind a number with its unit, and behind a word that takes none, nothing but a comma can come.
  if (/^\d/.test(typed) || (key && rest !== '')) return undefined;
  return { kind: 'fact', keyword, used: usedFacts(statement), typed, gap };
}

/** `in` and `from` right behind a quantity: `15.0 mL from TB-011`. */
const inlineReference = (typed: string): FactKey | undefined =>
  /^\d.*\s(in|on|from|of)\s+[^,;]*$/s.exec(typed)?.[1] as FactKey | undefined;

function lastWords(typed: string, pattern: RegExp): { typed: string; gap: string } {
  const [, blank = '', name = ''] = pattern.exec(typed) ?? [];
  return { typed: name, gap: name === '' && blank === '' && typed !== '' ? ' ' : '' };
}

/** The longest known word (or words) that the fact begins with. */
function keyOf(typed: string, keyword: Keyword): FactKey | undefined {
  return KEYWORDS[keyword].facts
    .filter((key) => typed.startsWith(`${key} `) || typed === key)
    .reduce<FactKey | undefined>((best, key) => (best && best.length >= key.length ? best : key), undefined);
}

/** The fact at the end of a body: what follows the last separator outside brackets, or inside an open claim group. */
function lastFact(body: string): { fragment: string; claim: boolean; first: boolean } {
  const open: { readonly at: number; readonly claim: boolean }[] = [];
  let start = 0;
  for (let i = 0; i < body.length; i++) {
    const char = body[i]!;
    const innermost = open.at(-1);
    if (char === '(' || char === '[')
      open.push({ at: i, claim: char === '(' && /\s/.test(body[i - 1] ?? '') && !innermost });
    else if (char === ')' || char === ']') open.pop();
    else if ((char === ',' && /^(?:\s|$)/.test(body.slice(i + 1, i + 2))) || char === ';' || char === '\n') {
      if (!innermost || innermost.claim) start = i + 1;
    }
  }
  const group = open.find(({ claim }) => claim);
  return {
    fragment: body.slice(Math.max(start, group ? group.at + 1 : 0)),
    claim: group !== undefined,
    first: start === 0 && !group,
  };
}

function usedFacts(statement: Statement): ReadonlySet<FactKey> {
  const legs = statement.body.kind === 'facts' ? statement.body.legs : [];
  return new Set(
    legs.flatMap(({ facts }) => facts.flatMap(({ key }) => (key && Object.hasOwn(FACTS, key) ? [key] : []))),
  );
}
