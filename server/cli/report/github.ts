/** Workflow commands of GitHub Actions, one annotation a finding, the worst first: only ten of a kind are shown. */
import type { Severity } from '../../rules/rule';
import { type Diagnostic, type FileReport, LEVELS } from '../findings';

const COMMANDS: Readonly<Record<Severity, string>> = {
  error: 'error',
  warning: 'warning',
  information: 'notice',
  hint: 'notice',
};

export function githubReport(files: readonly FileReport[]): string {
  const all = files.flatMap(({ path, diagnostics }) => diagnostics.map((d) => ({ path, d })));
  return LEVELS.flatMap((level) => all.filter(({ d }) => d.severity === level))
    .map(({ path, d }) => `${annotation(path, d)}\n`)
    .join('');
}

function annotation(path: string, { range: { start, end }, severity, code, message }: Diagnostic): string {
  const places: [string, string][] = [
    ['file', path],
    ['line', String(start.line + 1)],
    ['endLine', String(end.line + 1)],
  ];
  // Columns are understood only within one line.
  if (start.line === end.line)
    places.push(['col', String(start.character + 1)], ['endColumn', String(end.character + 1)]);
  places.push(['title', `tarebook (${code})`]);
  return `::${COMMANDS[severity]} ${places.map(([key, value]) => `${key}=${escapeValue(value)}`).join(',')}::${escapeData(message)}`;
}

const escapeData = (text: string): string => text.replace(/%/g, '%25').replace(/\r/g, '%0D').replace(/\n/g, '%0A');

const escapeValue = (text: string): string => escapeData(text).replace(/:/g, '%3A').replace(/,/g, '%2C');
