/** `tarebook check`: findings for a person, a machine or a service. */
import { RULES } from '../rules';
import type { Severity } from '../rules/rule';
import type { SeverityName } from '../settings';
import { isSeverity, SEVERITIES } from './config';
import { count, type Diagnostic, LEVELS, type Report, reports } from './findings';
import { open } from './notebook';
import { compactReport } from './report/compact';
import { githubReport } from './report/github';
import { jsonReport } from './report/json';
import { sarifReport } from './report/sarif';
import { textReport } from './report/text';
import { didYouMean } from './suggest';
import { type Exit, type Terminal, UsageError } from './terminal';

export const FORMATS = ['text', 'compact', 'json', 'sarif', 'github'] as const;

export interface CheckOptions {
  readonly format: (typeof FORMATS)[number];
  readonly output?: string;
  readonly failOn: Severity | 'never';
  readonly maxWarnings?: number;
  readonly quiet?: boolean;
  readonly verbose?: boolean;
  readonly summary: boolean;
  readonly rule?: readonly string[];
  readonly stdinFilename?: string;
}

export function check(paths: readonly string[], options: CheckOptions, terminal: Terminal, version: string): Exit {
  const entries = open({
    paths,
    cwd: terminal.cwd,
    stdinFilename: options.stdinFilename,
    severity: severities(options.rule ?? []),
    note: terminal.note,
    detail: options.verbose ? terminal.note : () => {},
  });
  const all = [...reports(entries)];
  const shown = options.quiet ? all.map(onlyErrors) : all;
  terminal.write(render(shown, options, terminal.color, version), options.output);
  if (options.format === 'github') noteHidden(shown, terminal);
  return exitOf(all, options, terminal);
}

/** GitHub shows so many annotations of a kind for one step. */
const ANNOTATIONS = 10;

function noteHidden(all: readonly Report[], terminal: Terminal): void {
  const { error, warning, information, hint } = count(diagnosticsOf(all));
  const hidden = [error, warning, information + hint].reduce((sum, n) => sum + Math.max(0, n - ANNOTATIONS), 0);
  if (hidden > 0) terminal.note(`GitHub will not show ${hidden} of these findings; --format sarif has no such limit`);
}

const diagnosticsOf = (all: readonly Report[]): readonly Diagnostic[] =>
  all.flatMap((report) => (report.kind === 'page' ? report.diagnostics : []));

function render(all: readonly Report[], options: CheckOptions, color: boolean, version: string): string {
  const files = all.filter((report) => report.kind === 'page');
  const quiet = options.quiet ?? false;
  switch (options.format) {
    case 'compact':
      return compactReport(files);
    case 'github':
      return githubReport(files);
    case 'json':
      return jsonReport(all);
    case 'sarif':
      return sarifReport(all, RULES, version);
    case 'text':
      return textReport(files, {
        color: color && options.output === undefined,
        summary: options.summary && !quiet,
        verbose: options.verbose ?? false,
        quiet,
      });
  }
}

const onlyErrors = (report: Report): Report =>
  report.kind === 'problem'
    ? report
    : { ...report, diagnostics: report.diagnostics.filter((d) => d.severity === 'error') };

/** What could not be read outweighs findings: then nobody knows how many there are. */
function exitOf(all: readonly Report[], options: CheckOptions, terminal: Terminal): Exit {
  let exit: Exit = 0;
  const counts = count(diagnosticsOf(all));
  if (options.failOn !== 'never') {
    const counted = LEVELS.slice(0, LEVELS.indexOf(options.failOn) + 1);
    if (counted.some((level) => counts[level] > 0)) exit = 1;
  }
  if (options.maxWarnings !== undefined && counts.warning > options.maxWarnings) {
    terminal.note(`${counts.warning} warnings, ${options.maxWarnings} allowed`);
    exit = 1;
  }
  for (const report of all) {
    if (report.kind === 'page') continue;
    terminal.note(`${report.path}: ${report.message}`);
    exit = 2;
  }
  return exit;
}

/** `claim-rounding=warning`, as many as were given; the last of one rule counts. */
function severities(settings: readonly string[]): Readonly<Record<string, SeverityName>> {
  const codes = RULES.map((rule) => rule.code);
  const entries = settings.map((setting): [string, SeverityName] => {
    const [code = '', severity = ''] = setting.split('=', 2);
    if (!codes.includes(code)) throw new UsageError(`unknown rule "${code}"${didYouMean(code, codes)}`);
    if (!isSeverity(severity))
      throw new UsageError(`--rule ${setting}: the severity must be one of ${SEVERITIES.join(', ')}`);
    return [code, severity];
  });
  return Object.fromEntries(entries);
}
