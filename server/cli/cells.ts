/** Text as a terminal shows it: how wide it is, and what must not be sent to one. */

/** East Asian wide and fullwidth characters, by Unicode Standard Annex #11 (blocks, not single characters). */
const WIDE =
  /[\u1100-\u115F\u2E80-\u303E\u3041-\u33FF\u3400-\u4DBF\u4E00-\u9FFF\uA000-\uA4CF\uAC00-\uD7A3\uF900-\uFAFF\uFE30-\uFE6F\uFF00-\uFF60\uFFE0-\uFFE6\u{20000}-\u{3FFFD}\p{Emoji_Presentation}]/u;
/** Marks that stand on the character before, and characters without a shape. */
const EMPTY = /[\p{Mn}\p{Me}\p{Cf}]/u;

/** Display cells of printable text. */
export function cells(text: string): number {
  let sum = 0;
  for (const character of text) sum += EMPTY.test(character) ? 0 : WIDE.test(character) ? 2 : 1;
  return sum;
}

export const padEnd = (text: string, width: number): string => text + ' '.repeat(Math.max(0, width - cells(text)));
export const padStart = (text: string, width: number): string => ' '.repeat(Math.max(0, width - cells(text))) + text;

/**
 * A page may hold anything; a terminal obeys some of it. Control characters become their pictures, characters that
 * turn the direction of reading (and with it the order of digits) are named, a tab becomes two blanks.
 */
export function printable(text: string): string {
  return (
    text
      .replace(/\t/g, '  ')
      // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is taken out.
      .replace(/[\u0000-\u001F]/g, (c) => String.fromCharCode(0x2400 + c.charCodeAt(0)))
      .replace(/[\u007F-\u009F]/g, '\u2421')
      .replace(/[\u202A-\u202E\u2066-\u2069\u2028\u2029]/g, (c) => `<U+${c.charCodeAt(0).toString(16).toUpperCase()}>`)
      .replace(/[\uD800-\uDFFF]/gu, '\uFFFD')
  );
}

const BEFORE = 60;
const LENGTH = 110;

/** A line and the carets under `[start, end)`, cut to a window round the carets when it is long. */
export function underlined(
  line: string,
  start: number,
  end: number,
): { readonly text: string; readonly carets: string } {
  const long = line.length > LENGTH;
  const from = long ? Math.max(0, Math.min(start - BEFORE, line.length - LENGTH)) : 0;
  const to = long ? Math.min(line.length, from + LENGTH) : line.length;
  const head = `${from > 0 ? '…' : ''}${printable(line.slice(from, start))}`;
  const marked = printable(line.slice(start, Math.min(Math.max(end, start), to)));
  const tail = `${printable(line.slice(Math.min(Math.max(end, start), to), to))}${to < line.length ? '…' : ''}`;
  return {
    text: `${head}${marked}${tail}`.trimEnd(),
    carets: ' '.repeat(cells(head)) + '^'.repeat(Math.max(1, cells(marked))),
  };
}
