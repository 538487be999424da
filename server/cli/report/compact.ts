/** One finding a line, `path:line:column: severity code message`, for problem matchers and `grep`. */
import { printable } from '../cells';
import type { FileReport } from '../findings';

export function compactReport(files: readonly FileReport[]): string {
  return files
    .flatMap(({ path, diagnostics }) =>
      diagnostics.map(({ range: { start }, severity, code, message }) =>
        printable(`${path}:${start.line + 1}:${start.character + 1}: ${severity} ${code} ${message}`),
      ),
    )
    .map((line) => `${line}\n`)
    .join('');
}
