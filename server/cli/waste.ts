/**
 * `tarebook waste`: a sheet per waste stream, over pages and dates: what went in, when, from which page, and how much.
 */
import { foldName } from '../../grammar/names';
import { type Content, clashesIn } from '../compute/contents';
import type { WasteValue } from '../compute/ledger';
import type { Stream } from '../model/streams';
import { type Held, held, isHeld, type Result, total } from '../quantity/held';
import { machine, show } from '../quantity/show';
import { severityOf, streamOf, WHO_DECIDES } from '../rules/streams';
import type { PageResult } from '../snapshot';
import { padEnd, padStart, printable } from './cells';
import { internal } from './findings';
import { open } from './notebook';
import { type Exit, type Terminal, UsageError } from './terminal';

export interface WasteOptions {
  readonly format: 'text' | 'json';
  readonly output?: string;
  readonly stdinFilename?: string;
  /** Only this stream. */
  readonly stream?: string;
  /** ISO dates, both included. */
  readonly since?: string;
  readonly until?: string;
}

interface Row {
  readonly date: string;
  readonly page: string;
  readonly path: string;
  readonly line: number;
  readonly value: WasteValue;
}

interface Sheet {
  readonly name: string;
  readonly stream: Stream | undefined;
  readonly rows: Row[];
}

export function waste(paths: readonly string[], options: WasteOptions, terminal: Terminal): Exit {
  for (const date of [options.since, options.until])
    if (date !== undefined && !/^\d{4}-\d{2}-\d{2}$/.test(date)) throw new UsageError(`no ISO date: ${date}`);
  const { cwd, note } = terminal;
  const sheets = new Map<string, Sheet>();
  let exit: Exit = 0;
  for (const entry of open({ paths, cwd, stdinFilename: options.stdinFilename, note, detail: () => {} })) {
    if (entry.kind === 'problem') {
      note(`${entry.problem.path}: ${entry.problem.message}`);
      exit = 2;
      continue;
    }
    const { path, snapshot } = entry.opened;
    try {
      for (let index = 1; index < snapshot.pageCount; index++) {
        const result = snapshot.page(index);
        for (const value of result.values.wastes) {
          const line = snapshot.range(index, value.waste.entry.mark).start.line + 1;
          add(
            sheets,
            { date: dateOf(result, value), page: result.page.id?.text ?? '', path, line, value },
            result,
            options,
          );
        }
      }
    } catch (error) {
      note(`${path}: ${internal(error)}`);
      exit = 2;
    }
  }
  const sorted = [...sheets.values()].sort((a, b) => compare(foldName(a.name), foldName(b.name)));
  for (const { rows } of sorted)
    rows.sort((a, b) => compare(a.date, b.date) || compare(a.path, b.path) || a.line - b.line);
  terminal.write(options.format === 'json' ? json(sorted) : text(sorted), options.output);
  return exit;
}

function add(
  sheets: Map<string, Sheet>,
  row: Row,
  { world }: PageResult,
  { stream, since, until }: WasteOptions,
): void {
  const { waste } = row.value;
  if (stream !== undefined && waste.key !== foldName(stream)) return;
  // A page without a date stands on every sheet: nobody can say that it does not belong there.
  if (row.date !== '' && ((since && row.date < since) || (until && row.date > until))) return;
  const sheet = sheets.get(waste.key);
  if (sheet) sheet.rows.push(row);
  else sheets.set(waste.key, { name: waste.stream.text, stream: streamOf(world, waste.stream.text), rows: [row] });
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** The last `date:` above the line. */
function dateOf({ source }: PageResult, { waste }: WasteValue): string {
  let date = '';
  for (const { block } of source.blocks.slice(0, waste.entry.block)) {
    const { statement } = block;
    if (statement?.keyword === 'date' && statement.body.kind === 'text')
      date = /\d{4}-\d{2}-\d{2}/.exec(statement.body.text.text)?.[0] ?? date;
  }
  return date;
}

// ── sums ─────────────────────────────────────────────────────────────────────────────────────────────────────────

const sumOf = (rows: readonly Row[], of: (value: WasteValue) => Result): Held | undefined =>
  total(
    rows.flatMap(({ value }) => held(of(value)) ?? []),
    'm',
  );

/** What was written: a mass, a volume, or both of several. */
const written = ({ value: { waste } }: Row): { mass: boolean; volume: boolean } => ({
  mass: waste.quantities.some(({ quantity }) => quantity.unit?.kind === 'mass'),
  volume: waste.quantities.some(({ quantity }) => quantity.unit?.kind === 'volume'),
});

interface Meeting {
  readonly a: string;
  readonly b: string;
  readonly what: string;
}

/** Pairs of one sheet that must not meet; each pair of names once. */
function meetings(rows: readonly Row[]): readonly Meeting[] {
  const named = new Map<string, { content: Content; page: string }>();
  for (const { value, page } of rows)
    for (const content of value.contents) {
      const key = `${foldName(content.name)} ${[...content.groups].join(' ')}`;
      if (!named.has(key)) named.set(key, { content, page });
    }
  const list = [...named.values()];
  const all = new Set(list.flatMap(({ content }) => [...content.groups]));
  return list.flatMap((a, i) =>
    list.slice(0, i).flatMap((b): Meeting[] => {
      const pair = clashesIn(a.content, b.content, all)[0];
      if (!pair || severityOf(pair) !== 'warning') return [];
      const who = ({ content, page }: typeof a): string => `${content.name} (${page})`;
      return [{ a: who(b), b: who(a), what: `${pair.consequence.join(', ')}. ${pair.happens}` }];
    }),
  );
}

// ── forms ────────────────────────────────────────────────────────────────────────────────────────────────────────

const oneLine = (written: string): string => printable(written.replace(/\s+/g, ' ').trim());

function text(sheets: readonly Sheet[]): string {
  if (sheets.length === 0) return 'No waste lines.\n';
  const blocks = sheets.map(({ name, stream, rows }) => {
    const cells = rows.map((row) => [
      row.date || '(no date)',
      printable(row.page),
      amountOf(row),
      oneLine(row.value.waste.text.text),
    ]);
    const widths = [0, 1, 2].map((column) => Math.max(...cells.map((row) => row[column]!.length)));
    const lines = cells.map(
      ([date, page, amount, what]) =>
        `  ${padEnd(date!, widths[0]!)}  ${padEnd(page!, widths[1]!)}  ${padStart(amount!, widths[2]!)}  ${what}`,
    );
    const declared = stream ? stream.says : 'not declared in a register, nothing is judged of it';
    const warnings = meetings(rows).map(
      ({ a, b, what }) => `  keep apart: ${printable(a)} and ${printable(b)}: ${what}.`,
    );
    return [
      `${printable(name)}  (${printable(declared)})`,
      ...lines,
      `  ${sumLine(rows)}`,
      ...warnings,
      ...(warnings.length > 0 ? [`  ${WHO_DECIDES}`] : []),
    ].join('\n');
  });
  return `${blocks.join('\n\n')}\n`;
}

function amountOf(row: Row): string {
  const { mass, volume } = row.value;
  const has = written(row);
  return [has.volume && isHeld(volume) && show(volume), has.mass && !has.volume && isHeld(mass) && show(mass)]
    .filter(Boolean)
    .join(' + ');
}

function sumLine(rows: readonly Row[]): string {
  const volume = sumOf(
    rows.filter((row) => written(row).volume),
    (value) => value.volume,
  );
  const mass = sumOf(
    rows.filter((row) => written(row).mass),
    (value) => value.mass,
  );
  const sums = [volume && show(volume), mass && show(mass)].filter(Boolean);
  const open = rows.filter((row) => !written(row).mass && !written(row).volume).length;
  const lines = `${rows.length} ${rows.length === 1 ? 'line' : 'lines'}`;
  return `${sums.length > 0 ? `${sums.join(' and ')} in ` : ''}${lines}${open > 0 ? `, ${open} without an amount` : ''}`;
}

function json(sheets: readonly Sheet[]): string {
  const streams = sheets.map(({ name, stream, rows }) => ({
    name,
    declared: stream === undefined ? null : stream.entry ? 'register' : 'stock list',
    takes: stream?.takes ?? [],
    not: stream?.not ?? [],
    volume_mL: number(
      sumOf(rows, (value) => value.volume),
      'mL',
    ),
    mass_g: rows.every(({ value }) => isHeld(value.mass))
      ? number(
          sumOf(rows, (value) => value.mass),
          'g',
        )
      : null,
    keep_apart: meetings(rows),
    lines: rows.map(({ date, page, path, line, value }) => ({
      date: date || null,
      page,
      path,
      line,
      text: value.waste.text.text,
      volume_mL: number(held(value.volume), 'mL'),
      mass_g: number(held(value.mass), 'g'),
      contents: value.contents.map((content) => content.name),
    })),
  }));
  return `${JSON.stringify({ version: 1, streams }, null, 2)}\n`;
}

const number = (value: Held | undefined, unit: 'mL' | 'g'): number | null => (value ? machine(value, unit) : null);
