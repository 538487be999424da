/**
 * Reads the case files of this folder. A case is a heading `## id: title`, a line `Source: …`, a `tare` block and a
 * table of checks: a path into the computed document with its value, or a finding that is expected or must not come.
 */
import { readFixtures } from '../kit/fixture';

export interface Case {
  readonly id: string;
  readonly source: string;
  readonly page: string;
  readonly checks: readonly Check[];
}

export type Check =
  | {
      readonly kind: 'value';
      /** Page of the case by its ID; the first one otherwise. */
      readonly experiment?: string;
      readonly path: string;
      readonly value: number | string | boolean | null;
      /** Largest difference from a number. */
      readonly tolerance: number;
    }
  | {
      readonly kind: 'finding';
      readonly codes: readonly string[];
      readonly line?: number;
      readonly slip?: string;
      readonly fix?: string;
    }
  /** Without a code: no finding of severity error. */
  | { readonly kind: 'none'; readonly code?: string };

export function readCases(markdown: string): readonly Case[] {
  return readFixtures(markdown).map(({ title, prose, files }) => {
    const id = title.split(':')[0]!;
    const source = /^Source: (.+)$/m.exec(prose)?.[1];
    const rows = prose.split('\n').filter((line) => line.startsWith('|'));
    if (!source || rows.length < 3) throw new Error(`The case ${id} lacks its source or its checks`);
    return { id, source, page: files[0]!.text, checks: rows.slice(2).map(readCheck) };
  });
}

function readCheck(row: string): Check {
  const [what = '', expected = '', tolerance = ''] = row
    .slice(1)
    .split('|')
    .map((cell) => cell.trim());
  const codes = [...what.matchAll(/`([^`]+)`/g)].map(([, code]) => code!);
  if (what === 'no error') return { kind: 'none' };
  if (what.startsWith('no finding ')) return { kind: 'none', code: codes[0]! };
  if (what.startsWith('finding ')) {
    const line = /line (\d+)/.exec(expected)?.[1];
    const slip = /slip ([a-z0-9-]+)/.exec(expected)?.[1];
    const fix = /fix (.+)$/.exec(expected)?.[1];
    return { kind: 'finding', codes, ...(line && { line: Number(line) }), ...(slip && { slip }), ...(fix && { fix }) };
  }
  const place = /^`(?:(?<experiment>[^:[\]]+): )?(?<path>.+)`$/.exec(what)?.groups;
  if (!place) throw new Error(`No check: ${row}`);
  const value = readValue(expected);
  return {
    kind: 'value',
    path: place.path!,
    value,
    tolerance: readTolerance(tolerance, value),
    ...(place.experiment && { experiment: place.experiment }),
  };
}

function readValue(text: string): number | string | boolean | null {
  if (text === 'true' || text === 'false') return text === 'true';
  if (text === 'null') return null;
  return text !== '' && Number.isFinite(Number(text)) ? Number(text) : text;
}

function readTolerance(text: string, value: unknown): number {
  if (typeof value !== 'number') return 0;
  const match = /^± (?<size>\S+)(?<percent> %)?$/.exec(text)?.groups;
  if (!match) throw new Error(`A number without a tolerance: ${value}`);
  return match.percent ? (Math.abs(value) * Number(match.size)) / 100 : Number(match.size);
}
