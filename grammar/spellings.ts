/** Longest-match lookup of known words in a text: one walk, no back-tracking, white space folded to one blank. */
import { isWhite } from './lines';

interface Node<T> {
  readonly next: Map<number, Node<T>>;
  value?: T;
}

export interface Spellings<T> {
  /** The longest spelling that stands at `at` and ends at a boundary. */
  readonly at: (text: string, at: number) => { readonly value: T; readonly end: number } | undefined;
  readonly startsWith: ReadonlySet<number>;
}

const BLANK = 32;
const SKIP = 0;

/** The first of several equal spellings counts. `fold` joins look-alikes; 0 leaves a character out. */
export function spellings<T>(
  entries: Iterable<readonly [spelling: string, value: T]>,
  isBoundary: (text: string, end: number) => boolean,
  fold: (code: number) => number = (code) => code,
): Spellings<T> {
  const root: Node<T> = { next: new Map() };
  const startsWith = new Set<number>();
  for (const [spelling, value] of entries) {
    startsWith.add(spelling.charCodeAt(0));
    let node = root;
    for (let i = 0; i < spelling.length; i++) {
      const code = fold(spelling.charCodeAt(i));
      if (code === SKIP) continue;
      let next = node.next.get(code);
      if (next === undefined) {
        next = { next: new Map() };
        node.next.set(code, next);
      }
      node = next;
    }
    node.value ??= value;
  }
  const at = (text: string, start: number) => {
    let node = root;
    let found: { value: T; end: number } | undefined;
    for (let i = start; i < text.length; i++) {
      const raw = text.charCodeAt(i);
      const code = isWhite(raw) && raw !== 10 && raw !== 13 ? BLANK : fold(raw);
      if (code === SKIP || (code === BLANK && i > start && isWhite(text.charCodeAt(i - 1)))) continue;
      const next = node.next.get(code);
      if (next === undefined) break;
      node = next;
      if (node.value !== undefined && isBoundary(text, i + 1)) found = { value: node.value, end: i + 1 };
    }
    return found;
  };
  return { at, startsWith };
}
