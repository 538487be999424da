/** Findings for a person at a terminal. */
import { cells, padEnd, padStart, printable, underlined } from '../cells';
import { type Counts, count, type Diagnostic, type FileReport, LEVELS, plural } from '../findings';
import type { SummaryRow } from '../summary';

export interface TextOptions {
  readonly color: boolean;
  /** With the main job of each page. */
  readonly summary: boolean;
  /** With the accepted findings and their reasons. */
  readonly verbose: boolean;
  /** Without the closing lines. */
  readonly quiet: boolean;
}

const STYLES = { error: 31, warning: 33, information: 36, hint: 34, bold: 1, dim: 2, caret: 31, help: 32 } as const;

type Paint = (style: keyof typeof STYLES, text: string) => string;

const painter = (color: boolean): Paint =>
  color ? (style, text) => (text === '' ? '' : `\u001B[${STYLES[style]}m${text}\u001B[0m`) : (_, text) => text;

export function textReport(files: readonly FileReport[], options: TextOptions): string {
  const paint = painter(options.color);
  const blocks = files.map((file) => fileBlock(file, options, paint)).filter((block) => block !== '');
  if (options.summary) blocks.push(summaryBlock(files, paint));
  if (!options.quiet && files.length > 0) blocks.push(closing(files));
  return blocks
    .filter((block) => block !== '')
    .map((block) => `${block}\n`)
    .join('\n');
}

// ── findings ─────────────────────────────────────────────────────────────────────────────────────────────────────

const INDENT = ' '.repeat(6);

function fileBlock(file: FileReport, options: TextOptions, paint: Paint): string {
  const accepted = options.verbose ? file.accepted : [];
  if (file.diagnostics.length + accepted.length === 0) return '';
  const all = [...file.diagnostics, ...accepted];
  const place = Math.max(...all.map((d) => position(d).length));
  const level = Math.max(...all.map((d) => d.severity.length));
  const head = (d: Diagnostic): string =>
    `  ${padStart(position(d), place)}  ${paint(d.severity, padEnd(d.severity, level))}  ${paint('bold', d.code)}  `;
  const lines = [paint('bold', printable(file.path))];
  const textLine = lineReader(file.text);
  for (const d of file.diagnostics) {
    lines.push(head(d) + printable(d.message));
    const { start, end } = d.range;
    const source = textLine(start.line);
    const marked = underlined(source, start.character, end.line === start.line ? end.character : source.length);
    if (source !== '') lines.push(`${INDENT}${marked.text}`, `${INDENT}${paint('caret', marked.carets)}`);
    lines.push(...d.working.map((step) => paint('dim', `${INDENT}  ${printable(step)}`)));
    const [first, ...others] = d.fixes;
    if (first !== undefined) lines.push(`${INDENT}${paint('help', 'help:')} ${printable(first)}`);
    lines.push(...others.map((title) => `${INDENT}  or: ${printable(title)}`));
  }
  for (const d of accepted)
    lines.push(`${head(d)}${printable(d.message)}`, `${INDENT}accepted: ${printable(d.reason)}`);
  return lines.join('\n');
}

const position = ({ range: { start } }: Diagnostic): string => `${start.line + 1}:${start.character + 1}`;

/** Lines of a text, split once and only when the first is asked for. */
function lineReader(text: string): (line: number) => string {
  let lines: readonly string[] | undefined;
  return (line) => {
    lines ??= text.split(/\r\n|\n|\r/);
    return lines[line] ?? '';
  };
}

// ── the main job ─────────────────────────────────────────────────────────────────────────────────────────────────

/** A column is as wide as its widest cell, yet no wider than this: one long name must not push all the others away. */
const WIDEST = 34;

function summaryBlock(files: readonly FileReport[], paint: Paint): string {
  const rows = files.flatMap((file) =>
    file.summary.map((row) => ({ row: printableRow(row), findings: findingsOf(row, file) })),
  );
  const width = (column: (row: SummaryRow) => string): number =>
    Math.min(WIDEST, Math.max(0, ...rows.map(({ row }) => cells(column(row)))));
  const id = width((r) => r.id);
  // A title or a solution stands alone in its row and may run on.
  const what = width((r) => (r.mass + r.yield + r.theory + r.limiting === '' ? '' : r.what));
  const mass = width((r) => r.mass);
  const yields = width((r) => r.yield);
  const theory = width((r) => r.theory);
  return rows
    .map(({ row: r, findings }) =>
      [
        `  ${paint('bold', padEnd(r.id, id))}`,
        // A name that runs on takes the blanks before its mass.
        r.what + padStart(r.mass, Math.max(cells(r.mass) + 2, what + 2 + mass - cells(r.what))),
        padEnd(r.yield, yields),
        padEnd(r.theory, theory),
        r.limiting,
      ]
        .join('  ')
        .trimEnd()
        .concat(findings === '' ? '' : `  ${paint('error', findings)}`),
    )
    .join('\n');
}

/** `1 error, 2 warnings` of the page, beside its first row. */
function findingsOf(row: SummaryRow, file: FileReport): string {
  const { error, warning } = count(row.id === '' ? [] : file.diagnostics.filter((d) => d.page === row.id));
  return counted({ error, warning, information: 0, hint: 0 });
}

const printableRow = (row: SummaryRow): SummaryRow => ({
  id: printable(row.id),
  what: printable(row.what),
  mass: row.mass,
  yield: printable(row.yield),
  theory: row.theory,
  limiting: printable(row.limiting),
});

// ── the last line ────────────────────────────────────────────────────────────────────────────────────────────────

/** `3 errors, 1 warning on 2 pages (4 accepted)` */
export function closing(files: readonly FileReport[]): string {
  const all = files.flatMap((file) => file.diagnostics);
  const accepted = files.reduce((sum, file) => sum + file.accepted.length, 0);
  const note = accepted > 0 ? ` (${accepted} accepted)` : '';
  if (all.length === 0) {
    const pages = files.reduce((sum, file) => sum + file.experiments, 0);
    return `no findings on ${plural(pages, 'page')}${note}`;
  }
  const pages = new Set(files.flatMap((file) => file.diagnostics.map((d) => `${file.path}\n${d.page}`)));
  return `${counted(count(all))} on ${plural(pages.size, 'page')}${note}`;
}

export const counted = (counts: Counts): string =>
  LEVELS.filter((level) => counts[level] > 0)
    .map((level) => plural(counts[level], level))
    .join(', ');
