/** Sentences and edits that several rules share. */
import type { PageSource, Span } from '../../grammar/tree';
import type { Entry } from '../model/page';
import type { Fix } from './rule';

/** A message fits on a line of a problem list. */
const LONGEST = 199;

/** Sentences in order of weight, as many as fit; the first always stands. */
export function sentences(...parts: readonly (string | false | undefined)[]): string {
  let message = '';
  for (const part of parts) {
    if (!part) continue;
    if (message === '') message = part;
    else if (message.length + 1 + part.length <= LONGEST) message += ` ${part}`;
  }
  return message;
}

export const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);

/** A name cut short where two of them stand in a sentence. */
export const brief = (name: string): string => (name.length > 40 ? `${name.slice(0, 39)}…` : name);

/** `a, b or c` */
export function either(words: readonly string[]): string {
  const last = words[words.length - 1] ?? '';
  return words.length < 2 ? last : `${words.slice(0, -1).join(', ')} or ${last}`;
}

/** The line ending to use in edits. */
export const lineEnd = (source: PageSource): '\n' | '\r\n' => (source.text.includes('\r\n') ? '\r\n' : '\n');

/** Text that a snippet shall not read as a stop; inside a choice, commas and bars separate. */
export const inSnippet = (text: string): string => text.replace(/[\\$}]/g, '\\$&');
export const inChoice = (text: string): string => text.replace(/[\\$},|]/g, '\\$&');

/** An empty stop of a snippet with a word in it that says what to write. */
export const stop = (n: number, word: string): string => `\${${n}:${word}}`;

/** Replaces a text; the title shows both. */
export const replaceFix = (span: Span, old: string, text: string, more: Partial<Fix> = {}): Fix => ({
  title: `Replace ${old} with ${text}`,
  edits: [{ span, text }],
  ...more,
});

/** A line right below a statement. */
export function lineBelow(source: PageSource, entry: Entry, text: string): Fix['edits'] {
  return [{ span: { start: entry.span.end, end: entry.span.end }, text: `${lineEnd(source)}${text}` }];
}

/** A line right above a block. */
export function lineAbove(source: PageSource, block: number, text: string): Fix['edits'] {
  const at = source.blocks[block]?.at ?? 0;
  return [{ span: { start: at, end: at }, text: `${text}${lineEnd(source)}` }];
}
