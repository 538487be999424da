/** The part of the machine document that both `compute` and `check --format json` print for a file. */
import type { Accepted, Diagnostic, Report } from '../findings';

export const VERSION = 1;

export interface DiagnosticJson {
  readonly code: string;
  readonly severity: string;
  readonly message: string;
  readonly range: Diagnostic['range'];
  readonly slip: string | null;
  readonly working: readonly string[];
  readonly fixes: readonly string[];
}

export const diagnosticJson = (d: Diagnostic): DiagnosticJson => ({
  code: d.code,
  severity: d.severity,
  message: d.message,
  range: d.range,
  slip: d.slip,
  working: d.working,
  fixes: d.fixes,
});

export const acceptedJson = (d: Accepted): DiagnosticJson & { readonly reason: string } => ({
  ...diagnosticJson(d),
  reason: d.reason,
});

/** What stands in `files[]` for something that could not be read. */
export const errorJson = (path: string, message: string) => ({ path, error: { message }, diagnostics: [] });

export const document = (files: readonly object[], more: object = {}): string =>
  `${JSON.stringify({ version: VERSION, files, ...more }, null, 2)}\n`;

export function jsonReport(reports: readonly Report[]): string {
  return document(
    reports.map((report) =>
      report.kind === 'problem'
        ? errorJson(report.path, report.message)
        : {
            path: report.path,
            diagnostics: report.diagnostics.map(diagnosticJson),
            ...(report.accepted.length > 0 && { accepted: report.accepted.map(acceptedJson) }),
          },
    ),
  );
}
