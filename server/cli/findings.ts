/** What a snapshot says of one file, flat and in order: the one shape that all reports are made from. */
import type { Range, Span } from '../../grammar/tree';
import type { Slip } from '../compute/values';
import { isOpen } from '../model/signature';
import type { Finding, Severity } from '../rules/rule';
import type { PageResult, Snapshot } from '../snapshot';
import type { Entry } from './notebook';
import { type SummaryRow, summaryOf } from './summary';

export interface Diagnostic {
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  readonly range: Range;
  readonly slip: Slip | null;
  readonly working: readonly string[];
  /** Titles of the quick fixes. */
  readonly fixes: readonly string[];
  readonly related: readonly { readonly range: Range; readonly message: string }[];
  /** Where it stands whatever the line: the page's ID and the statement's head. */
  readonly page: string;
  readonly statement: string;
}

export interface Accepted extends Diagnostic {
  readonly reason: string;
}

export interface FileReport {
  readonly path: string;
  readonly text: string;
  /** Experiments in the file. */
  readonly experiments: number;
  readonly diagnostics: readonly Diagnostic[];
  readonly accepted: readonly Accepted[];
  readonly summary: readonly SummaryRow[];
}

export type Report =
  | ({ readonly kind: 'page' } & FileReport)
  | { readonly kind: 'problem'; readonly path: string; readonly message: string };

export function* reports(entries: Iterable<Entry>): Generator<Report> {
  for (const entry of entries) {
    if (entry.kind === 'problem') yield { kind: 'problem', ...entry.problem };
    else yield reportOf(entry.opened.path, () => fileReport(entry.opened));
  }
}

/** A defect of ours in one file must not hide the findings of the others. */
function reportOf(path: string, make: () => FileReport): Report {
  try {
    return { kind: 'page', ...make() };
  } catch (error) {
    return { kind: 'problem', path, message: internal(error) };
  }
}

export const internal = (error: unknown): string =>
  `internal error: ${(error instanceof Error ? error.message : String(error)).split('\n')[0]}`;

function fileReport(opened: { readonly path: string; readonly text: string; readonly snapshot: Snapshot }): FileReport {
  const { path, text, snapshot } = opened;
  const diagnostics: Diagnostic[] = [];
  const accepted: Accepted[] = [];
  const summary: SummaryRow[] = [];
  for (let index = 0; index < snapshot.pageCount; index++) {
    const result = snapshot.page(index);
    const range = (span: Span): Range => snapshot.range(index, span);
    for (const finding of result.findings)
      diagnostics.push(diagnosticOf(withoutSigned(finding, result), result, range));
    for (const { finding, reason } of result.accepted)
      accepted.push({ ...diagnosticOf(finding, result, range), reason });
    if (index > 0) summary.push(...summaryOf(result));
  }
  return {
    path,
    text,
    experiments: snapshot.pageCount - 1,
    diagnostics: diagnostics.sort(byPlace),
    accepted: accepted.sort(byPlace),
    summary,
  };
}

/** Nobody is told to change what is signed; `compute` still lists what would have been right. */
function withoutSigned(finding: Finding, { page: { signatures } }: PageResult): Finding {
  const fixes = finding.fixes?.filter(({ edits }) => edits.every(({ span }) => isOpen(signatures, span)));
  return { ...finding, ...(fixes && { fixes }) };
}

export function diagnosticOf(finding: Finding, result: PageResult, range: (span: Span) => Range): Diagnostic {
  const statement = result.source.blocks[finding.block]?.block.statement;
  return {
    code: finding.code,
    severity: finding.severity,
    message: finding.message,
    range: range(finding.span),
    slip: finding.slip ?? null,
    working: finding.working ?? [],
    fixes: (finding.fixes ?? []).map((fix) => fix.title),
    related: (finding.related ?? []).flatMap(({ origin, message }) =>
      origin.from === 'here' ? [{ range: range(origin), message }] : [],
    ),
    page: result.page.id?.text ?? '',
    statement: statement ? [statement.keyword, statement.subject?.text ?? ''].join(' ').trim() : '',
  };
}

export function byPlace(a: Diagnostic, b: Diagnostic): number {
  return (
    a.range.start.line - b.range.start.line ||
    a.range.start.character - b.range.start.character ||
    (a.code < b.code ? -1 : a.code > b.code ? 1 : 0)
  );
}

// ── counting ─────────────────────────────────────────────────────────────────────────────────────────────────────

export const LEVELS: readonly Severity[] = ['error', 'warning', 'information', 'hint'];

export type Counts = Readonly<Record<Severity, number>>;

export function count(diagnostics: Iterable<Diagnostic>): Counts {
  const counts = { error: 0, warning: 0, information: 0, hint: 0 };
  for (const { severity } of diagnostics) counts[severity]++;
  return counts;
}

export const plural = (n: number, word: string): string =>
  `${n} ${word}${n === 1 || word === 'information' ? '' : 's'}`;
