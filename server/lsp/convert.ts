/** From the engine's plain data to the protocol's: severities, kinds, tokens, and findings as diagnostics. */
import {
  CompletionItemKind,
  type Diagnostic,
  type DiagnosticRelatedInformation,
  DiagnosticSeverity,
  DiagnosticTag,
  type Location,
  SymbolKind,
} from 'vscode-languageserver/node';
import type { PageSource, Position, Range, Span } from '../../grammar/tree';
import type { Origin } from '../quantity/held';
import type { Finding, Severity } from '../rules/rule';

export const SEVERITIES: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  information: DiagnosticSeverity.Information,
  hint: DiagnosticSeverity.Hint,
};

/** What of a diagnostic this client understands. */
export interface DiagnosticSupport {
  readonly related: boolean;
  readonly tags: boolean;
  readonly description: boolean;
  readonly data: boolean;
}

export interface DiagnosticContext {
  readonly uri: string;
  readonly support: DiagnosticSupport;
  /** Address of the page that explains a rule. */
  rulePage(code: string): string | undefined;
  /** Where something on another page stands now. */
  locate(origin: Elsewhere): Location | undefined;
  /** What that place rests on: while it is the same object, the place is the same. */
  anchor(origin: Elsewhere): unknown;
}

export type Elsewhere = Extract<Origin, { from: 'there' }>;

const MOST_RELATED = 6;

/** A finding with lines counted from the start of its page, so that it stays the same wherever the page moves. */
export function diagnostic(finding: Finding, page: PageSource, context: DiagnosticContext): Diagnostic {
  const { support } = context;
  const href = support.description ? context.rulePage(finding.code) : undefined;
  const related = support.related ? relatedPlaces(finding, page, context.uri) : [];
  return {
    range: rangeInPage(page, finding.span),
    severity: SEVERITIES[finding.severity],
    code: finding.code,
    ...(href && { codeDescription: { href } }),
    source: 'tarebook',
    message: finding.message,
    ...(support.tags && finding.unnecessary && { tags: [DiagnosticTag.Unnecessary] }),
    ...(related.length > 0 && { relatedInformation: related }),
    ...(support.data && { data: { v: 1, rule: finding.code, ...(finding.slip && { slip: finding.slip }) } }),
  };
}

/** Inputs on the same page. */
function relatedPlaces(finding: Finding, page: PageSource, uri: string): DiagnosticRelatedInformation[] {
  const places: DiagnosticRelatedInformation[] = [];
  for (const { origin, message } of finding.related ?? []) {
    if (origin.from !== 'here' || places.length === MOST_RELATED) continue;
    places.push({ location: { uri, range: rangeInPage(page, origin) }, message });
  }
  return places;
}

const elsewhereOf = (finding: Finding) => finding.related?.filter(({ origin }) => origin.from === 'there') ?? [];

const NOWHERE_ELSE: readonly unknown[] = [];

export function anchorsOf(finding: Finding, { support, anchor }: DiagnosticContext): readonly unknown[] {
  if (!support.related || !finding.related?.some(({ origin }) => origin.from === 'there')) return NOWHERE_ELSE;
  return elsewhereOf(finding).map(({ origin }) => anchor(origin as Elsewhere));
}

/** With its inputs on other pages, which may have moved since the diagnostic was made. */
export function withElsewhere(found: Diagnostic, finding: Finding, { support, locate }: DiagnosticContext): Diagnostic {
  const elsewhere = support.related ? elsewhereOf(finding) : [];
  if (elsewhere.length === 0) return found;
  const places = elsewhere.flatMap(({ origin, message }) => {
    const location = locate(origin as Elsewhere);
    return location ? [{ location, message }] : [];
  });
  return { ...found, relatedInformation: [...(found.relatedInformation ?? []), ...places].slice(0, MOST_RELATED) };
}

export function withoutRelated({ relatedInformation: _, ...found }: Diagnostic): Diagnostic {
  return found;
}

/** The same diagnostic, its page beginning at `line`. */
export function shifted(found: Diagnostic, line: number): Diagnostic {
  if (line === 0) return found;
  return {
    ...found,
    range: down(found.range, line),
    ...(found.relatedInformation && {
      relatedInformation: found.relatedInformation.map(({ location, message }) => ({
        location: { uri: location.uri, range: down(location.range, line) },
        message,
      })),
    }),
  };
}

const down = ({ start, end }: Range, lines: number): Range => ({
  start: { line: start.line + lines, character: start.character },
  end: { line: end.line + lines, character: end.character },
});

export const rangeInPage = (page: PageSource, span: Span): Range => ({
  start: positionInPage(page, span.start),
  end: positionInPage(page, span.end),
});

function positionInPage({ lines }: PageSource, offset: number): Position {
  let low = 0;
  let high = lines.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (lines[middle]! <= offset) low = middle;
    else high = middle;
  }
  return { line: low, character: offset - (lines[low] ?? 0) };
}

/** Relative encoding of semantic tokens (LSP 3.17, `textDocument/semanticTokens`). */
export function encodeTokens(
  tokens: readonly Token[],
  types: readonly string[],
  modifiers: readonly string[],
): number[] {
  const data: number[] = [];
  let line = 0;
  let character = 0;
  for (const token of [...tokens].sort((a, b) => a.line - b.line || a.character - b.character)) {
    const bits = token.modifiers.reduce((sum, name) => sum | (1 << modifiers.indexOf(name)), 0);
    const from = token.line === line ? character : 0;
    data.push(token.line - line, token.character - from, token.length, types.indexOf(token.type), bits);
    ({ line, character } = token);
  }
  return data;
}

interface Token {
  readonly line: number;
  readonly character: number;
  readonly length: number;
  readonly type: string;
  readonly modifiers: readonly string[];
}

/** Kinds decide icons only. Anything unknown gets a plain one. */
export const symbolKind = (kind: string): SymbolKind =>
  (SymbolKind as unknown as Readonly<Record<string, SymbolKind>>)[kind] ?? SymbolKind.String;

export const completionKind = (kind: string): CompletionItemKind =>
  (CompletionItemKind as unknown as Readonly<Record<string, CompletionItemKind>>)[kind] ?? CompletionItemKind.Text;

/** The same for a client that shows no Markdown: without marks, a row of a table as its cells. */
export const plainText = (markdown: string): string =>
  markdown
    .split('\n')
    .filter((line) => !/^\|[\s|-]*$/.test(line))
    .map((line) => (/^\| /.test(line) ? line.slice(2, -2).split(' | ').join('  ') : line.trimEnd()))
    .join('\n')
    .replace(/(?<!\\)(?:\*\*|\*|`)/g, '')
    .replace(/\\([\\`*_[\]<>~|])/g, '$1')
    .replace(/\n{2,}/g, '\n');
