/**
 * Reads pages with marks in them. A mark is a line of carets under the text it means, with the code of the finding and,
 * after a colon, a part of its message:
 *
 *     charge acetic acid: 20.0 mL (21.0 mg)
 *                                  ^^^^^^^ claim-mismatch: 20.98 g
 *
 * `‸` is a cursor, `⟦ ⟧` a range. Fixture files are Markdown: every heading with a `tare` block under it is one
 * fixture; the word after `tare` is the file's name, and a block named `after` is the text after the first fix.
 */

export interface Span {
  readonly start: number;
  readonly end: number;
}

/** Where a finding is expected: offsets in the text without marks. */
export interface Mark extends Span {
  readonly code: string;
  /** The message holds this. */
  readonly says?: string;
}

/** A text without its marks, and what they said. */
export interface Marked {
  readonly text: string;
  readonly marks: readonly Mark[];
  readonly cursors: readonly number[];
  readonly ranges: readonly Span[];
}

export interface FixtureFile extends Marked {
  readonly name: string;
}

export interface Fixture {
  readonly title: string;
  /** The text round the blocks, trimmed. */
  readonly prose: string;
  /** First line of the fixture in its file, from 1. */
  readonly line: number;
  /** In the order of the file; the first is the page that is meant. */
  readonly files: readonly FixtureFile[];
  /** The first page after the first fix of its first finding. */
  readonly after?: string;
}

const MARK = /^(?<blanks>\s*)(?<carets>\^+) +(?<code>[a-z]+(?:-[a-z0-9]+)*)(?:: *(?<says>.*\S))?\s*$/;

/** Takes the marks out of a text. Throws where a mark has no text above it: a fixture that cannot hold is no fixture. */
export function readMarked(source: string): Marked {
  const kept: string[] = [];
  const marks: Mark[] = [];
  const cursors: number[] = [];
  const ranges: Span[] = [];
  let open: number | undefined;
  let offset = 0;
  let lineStart = 0;
  let lineEnd = 0;
  for (const line of source.split('\n')) {
    const mark = MARK.exec(line)?.groups;
    if (mark) {
      const start = lineStart + mark.blanks!.length;
      const end = start + mark.carets!.length;
      if (kept.length === 0 || end > lineEnd) throw new Error(`No text above the mark: ${line}`);
      marks.push({ code: mark.code!, start, end, ...(mark.says && { says: mark.says }) });
      continue;
    }
    lineStart = offset;
    let plain = '';
    for (const character of line) {
      if (character === '‸') cursors.push(lineStart + plain.length);
      else if (character === '⟦') open = lineStart + plain.length;
      else if (character === '⟧') {
        if (open === undefined) throw new Error(`A range ends that never began: ${line}`);
        ranges.push({ start: open, end: lineStart + plain.length });
        open = undefined;
      } else plain += character;
    }
    kept.push(plain);
    lineEnd = lineStart + plain.length;
    offset = lineEnd + 1;
  }
  if (open !== undefined) throw new Error('A range is not closed');
  return { text: kept.join('\n'), marks, cursors, ranges };
}

/** The fixtures of a Markdown file. */
export function readFixtures(markdown: string): readonly Fixture[] {
  const fixtures: Fixture[] = [];
  let title = '';
  let line = 1;
  let prose: string[] = [];
  let files: FixtureFile[] = [];
  let after: string | undefined;
  const close = (): void => {
    if (files.length > 0) {
      fixtures.push({ title, prose: prose.join('\n').trim(), line, files, ...(after !== undefined && { after }) });
    }
    prose = [];
    files = [];
    after = undefined;
  };
  const lines = markdown.split('\n');
  for (let i = 0; i < lines.length; i++) {
    const text = lines[i]!;
    const fence = /^(?<ticks>`{3,})(?<info>.*)$/.exec(text)?.groups;
    if (fence) {
      const end = lines.indexOf(fence.ticks!, i + 1);
      if (end < 0) throw new Error(`The block in line ${i + 1} is not closed`);
      const body = `${lines.slice(i + 1, end).join('\n')}\n`;
      const [language, name = files.length === 0 ? 'page.tare' : `page-${files.length + 1}.tare`] = fence
        .info!.trim()
        .split(/\s+/);
      if (language === 'tare' && name === 'after') after = body;
      else if (language === 'tare') files.push({ name, ...readMarked(body) });
      i = end;
      continue;
    }
    const heading = /^#+\s+(?<title>.*\S)/.exec(text)?.groups;
    if (heading) {
      close();
      title = heading.title!;
      line = i + 1;
    } else prose.push(text);
  }
  close();
  return fixtures;
}

/** The line of an offset, from 1, with the text of the line: for messages of tests. */
export function lineOf(text: string, offset: number): string {
  const before = text.slice(0, offset);
  const line = before.split('\n').length;
  return `${line}: ${text.split('\n')[line - 1]}`;
}
