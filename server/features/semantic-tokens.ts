/**
 * Colours that only the model knows: which name is declared, which nobody knows, which number is measured and which is
 * a claim. Prose gets none.
 */
import type {
  ClaimGroup,
  Fact,
  NumberNode,
  PageSource,
  PlacedBlock,
  QuantityNode,
  Range,
  Span,
  Statement,
} from '../../grammar/tree';
import { FACTS } from '../../grammar/vocabulary';
import type { NameRef, Page } from '../model/page';
import type { PageResult, Snapshot } from '../snapshot';
import { lineAt } from './folding';
import { perPage } from './per-page';

/** `unit` is our own, so that a theme without it keeps the colour of the grammar. */
export const TOKEN_TYPES = [
  'keyword',
  'class',
  'variable',
  'namespace',
  'function',
  'property',
  'modifier',
  'number',
  'unit',
  'operator',
] as const;
/** `claim` and `unknown` are our own. */
export const TOKEN_MODIFIERS = ['declaration', 'defaultLibrary', 'claim', 'unknown'] as const;

export type TokenType = (typeof TOKEN_TYPES)[number];
export type TokenModifier = (typeof TOKEN_MODIFIERS)[number];

export interface SemanticToken {
  readonly line: number;
  readonly character: number;
  readonly length: number;
  readonly type: TokenType;
  readonly modifiers: readonly TokenModifier[];
}

/** In text order, without overlaps, none over a line's end. With a range: those of the pages and lines it touches. */
export function semanticTokens(snapshot: Snapshot, range?: Range): readonly SemanticToken[] {
  const { pages } = snapshot.source;
  return pages.flatMap(({ page, line }, index) => {
    const after = line + page.lines.length;
    if (range && (range.end.line < line || range.start.line >= after)) return [];
    const found: SemanticToken[] = [];
    for (const token of pageTokens(snapshot, index)) {
      const at = token.line + line;
      if (!range || (at >= range.start.line && at <= range.end.line))
        found.push(line === 0 ? token : { ...token, line: at });
    }
    return found;
  });
}

/** Lines count from the page's start. */
export const pageTokens = perPage(({ page, source }: PageResult): readonly SemanticToken[] =>
  placed(source, [...names(page), ...source.blocks.flatMap(blockTokens)]),
);

interface Piece {
  readonly span: Span;
  readonly type: TokenType;
  readonly modifiers: readonly TokenModifier[];
}

const piece = (span: Span, type: TokenType, ...modifiers: readonly TokenModifier[]): Piece => ({
  span,
  type,
  modifiers,
});

// ── names ────────────────────────────────────────────────────────────────────────────────────────────────────────

const MENTIONED = {
  substance: 'class',
  vessel: 'variable',
  balance: 'variable',
  page: 'namespace',
  reaction: 'function',
} as const;

function names(page: Page): readonly Piece[] {
  const used = new Map([...refs(page)].map((ref) => [ref.span.start, ref]));
  return page.mentions.map(({ what, span, role }) => {
    if (role === 'declared') return piece(span, MENTIONED[what], 'declaration');
    const ref = what === 'substance' ? used.get(span.start) : undefined;
    return piece(span, MENTIONED[what], ...(ref ? standing(ref) : []));
  });
}

function standing({ target }: NameRef): readonly TokenModifier[] {
  if (!target) return ['unknown'];
  return target.where.kind === 'handbook' || target.where.kind === 'formula' ? ['defaultLibrary'] : [];
}

function* refs(page: Page): Generator<NameRef> {
  for (const { solute, solvent } of page.solutions) {
    if (solute) yield solute;
    if (solvent) yield solvent;
  }
  for (const { left, right } of page.reactions) for (const term of [...left, ...right]) yield term.name;
  for (const list of [page.plans, page.charges, page.weighs, page.recovered, page.measurements])
    for (const { name } of list) yield name;
  for (const { name, contains } of page.products) {
    yield name;
    for (const part of contains) yield part.name;
  }
  for (const { name } of page.samples) if (name) yield name;
}

// ── statements ───────────────────────────────────────────────────────────────────────────────────────────────────

function blockTokens({ block, at }: PlacedBlock): readonly Piece[] {
  if (!block.statement) return [];
  return [...statementTokens(block.statement)].map((token) => ({
    ...token,
    span: { start: token.span.start + at, end: token.span.end + at },
  }));
}

function* statementTokens({ keyword, keywordSpan, subject, body }: Statement): Generator<Piece> {
  yield piece(keywordSpan, 'keyword');
  if (keyword === 'accept' && subject) yield piece(subject.span, 'property');
  if (body.kind === 'text') return;
  for (const leg of body.legs) {
    for (const fact of leg.facts) yield* factTokens(fact, false);
  }
}

function* factTokens(fact: Fact, claim: boolean): Generator<Piece> {
  if (fact.key && fact.keySpan) {
    const { kind } = FACTS[fact.key];
    yield piece(fact.keySpan, kind === 'role' || kind === 'stage' || kind === 'amount' ? 'modifier' : 'property');
  }
  if (fact.equation) {
    for (const term of [...fact.equation.left, ...fact.equation.right])
      if (term.coefficient) yield piece(term.coefficient.span, 'number');
    yield piece(fact.equation.arrow.span, 'operator');
  }
  if (!fact.spectrum) for (const part of fact.parts) if (part.kind === 'quantity') yield* quantityTokens(part, claim);
  for (const group of fact.claims) yield* groupTokens(group);
}

function* groupTokens(group: ClaimGroup): Generator<Piece> {
  for (const fact of group.facts) yield* factTokens(fact, true);
}

function* quantityTokens({ count, number, plusMinus, to, unit }: QuantityNode, claim: boolean): Generator<Piece> {
  const modifiers: readonly TokenModifier[] = claim ? ['claim'] : [];
  const digits = [count, number, plusMinus, to].filter((node): node is NumberNode => node !== undefined);
  for (const { span } of digits) yield piece(span, 'number', ...modifiers);
  if (unit) yield piece(unit.span, 'unit', ...modifiers);
}

// ── places ───────────────────────────────────────────────────────────────────────────────────────────────────────

/** Sorted, the longer of two that begin together, nothing that overlaps; a name over two lines is two tokens. */
function placed(page: PageSource, pieces: readonly Piece[]): readonly SemanticToken[] {
  const sorted = pieces
    .filter(({ span }) => span.end > span.start)
    .sort((a, b) => a.span.start - b.span.start || b.span.end - a.span.end);
  const tokens: SemanticToken[] = [];
  let end = 0;
  for (const { span, type, modifiers } of sorted) {
    if (span.start < end) continue;
    end = span.end;
    for (const stretch of page.text.slice(span.start, span.end).matchAll(/[^\r\n]*\S/g)) {
      const blanks = stretch[0].length - stretch[0].trimStart().length;
      const start = span.start + stretch.index + blanks;
      const line = lineAt(page, start);
      tokens.push({ line, character: start - page.lines[line]!, length: stretch[0].length - blanks, type, modifiers });
    }
  }
  return tokens;
}
