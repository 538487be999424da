/**
 * SARIF 2.1.0 (OASIS Standard, errata 01), for code scanning. Lines and columns count from 1, in UTF-16 code units;
 * paths are relative and percent-encoded.
 */
import { createHash } from 'node:crypto';
import type { Range } from '../../../grammar/tree';
import { rulePage } from '../../rules/page';
import type { Rule, Severity } from '../../rules/rule';
import type { Accepted, Diagnostic, Report } from '../findings';

const SCHEMA = 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json';

type Level = 'error' | 'warning' | 'note' | 'none';

const LEVEL: Readonly<Record<Severity | 'off', Level>> = {
  error: 'error',
  warning: 'warning',
  information: 'note',
  hint: 'note',
  off: 'none',
};

export function sarifReport(reports: readonly Report[], rules: readonly Rule[], version: string): string {
  const problems = reports.filter((report) => report.kind === 'problem');
  const indices = new Map(rules.map((rule, index) => [rule.code, index]));
  const fingerprint = fingerprints();
  const results = reports.flatMap((report) =>
    report.kind === 'problem'
      ? []
      : [...report.diagnostics, ...report.accepted].map((d) => ({
          ruleId: d.code,
          ...(indices.has(d.code) && { ruleIndex: indices.get(d.code) }),
          level: LEVEL[d.severity],
          message: { text: messageOf(d) },
          locations: [location(report.path, d.range)],
          ...(d.related.length > 0 && {
            relatedLocations: d.related.map(({ range, message }, id) => ({
              id,
              ...location(report.path, range),
              message: { text: message },
            })),
          }),
          partialFingerprints: { 'rulePageSubject/v1': fingerprint(d) },
          // An empty list says that it was looked for: one run must not leave a result open that another accepts.
          suppressions: 'reason' in d ? [{ kind: 'inSource', justification: (d as Accepted).reason }] : [],
        })),
  );
  const run = {
    tool: { driver: { name: 'Tarebook', semanticVersion: version, version, rules: rules.map(descriptor) } },
    columnKind: 'utf16CodeUnits',
    invocations: [
      {
        executionSuccessful: problems.length === 0,
        ...(problems.length > 0 && {
          toolExecutionNotifications: problems.map(({ path, message }) => ({
            level: 'error',
            message: { text: `${path}: ${message}` },
            locations: [{ physicalLocation: { artifactLocation: { uri: uriOf(path) } } }],
          })),
        }),
      },
    ],
    results,
  };
  return `${JSON.stringify({ $schema: SCHEMA, version: '2.1.0', runs: [run] }, null, 2)}\n`;
}

const descriptor = (rule: Rule) => ({
  id: rule.code,
  shortDescription: { text: `${rule.title}.` },
  fullDescription: { text: rule.why.trim() },
  help: { text: rule.help.trim(), markdown: rulePage(rule) },
  defaultConfiguration: { enabled: rule.severity !== 'off', level: LEVEL[rule.severity] },
  properties: { tags: [rule.family] },
});

const messageOf = (d: Diagnostic): string => [d.message, ...d.working].join('\n');

const location = (path: string, { start, end }: Range) => ({
  physicalLocation: {
    artifactLocation: { uri: uriOf(path) },
    region: {
      startLine: start.line + 1,
      startColumn: start.character + 1,
      endLine: end.line + 1,
      endColumn: end.character + 1,
    },
  },
});

const uriOf = (path: string): string => path.split('/').map(encodeURIComponent).join('/');

/** Rule, page and statement, numbered where they repeat: it stays while lines are added above. */
function fingerprints(): (d: Diagnostic) => string {
  const seen = new Map<string, number>();
  return ({ code, page, statement }) => {
    const hash = createHash('sha256').update([code, page, statement].join('\n')).digest('hex').slice(0, 16);
    const n = (seen.get(hash) ?? 0) + 1;
    seen.set(hash, n);
    return `${hash}:${n}`;
  };
}
