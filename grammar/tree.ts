/**
 * The syntax tree of a notebook. Every node is plain, immutable data.
 *
 * Spans are half-open, in UTF-16 code units. Inside a {@link Block} they count from the block's first character, so
 * that a block never knows where it stands: two blocks with the same text are interchangeable, and text that moves
 * costs nothing. Only {@link PageSource} and {@link SourceFile} know positions.
 */
import type { FactKey, Keyword, UnitSymbol } from './vocabulary';

export interface Span {
  readonly start: number;
  readonly end: number;
}

/** A stretch of text as written, trimmed; line breaks and the blanks round them are folded to one blank. */
export interface Text {
  readonly text: string;
  readonly span: Span;
}

/** A number as typed. `digits` is what a decimal reader takes (`1.2e-3`), absent when the form has no single reading. */
export interface NumberNode {
  readonly text: string;
  readonly span: Span;
  readonly digits?: string;
  /** What is wrong with the form: `1,0` · `1,234` or `1,234.5` · `.5` · `1.2.3`. */
  readonly defect?: 'decimal-comma' | 'thousands-comma' | 'leading-point' | 'malformed';
  /** Concise uncertainty of the last digits: the `6` of `12.345(6)`. */
  readonly concise?: string;
}

/** A unit as typed; `symbol` is the form to write. `wrong`: understood, but a common wrong spelling (`ml`, `gm`). */
export interface UnitNode {
  readonly text: string;
  readonly span: Span;
  readonly symbol: UnitSymbol;
  readonly wrong: boolean;
}

export interface QuantityNode {
  readonly kind: 'quantity';
  readonly span: Span;
  /** The `2` of `2 × 25 mL`. */
  readonly count?: NumberNode;
  /** Written with `~`, `ca.`, `about`. */
  readonly about: boolean;
  readonly number: NumberNode;
  readonly plusMinus?: NumberNode;
  /** Upper end of a range `A–B`, or the end of a course `A to B`. */
  readonly to?: NumberNode;
  readonly course: boolean;
  /** No unit, or none that is known: what follows then stands in the next word. */
  readonly unit?: UnitNode;
}

/** A run of characters without white space; a bracket with white space inside, when no claim, belongs to its word. */
export interface WordNode {
  readonly kind: 'word';
  readonly text: string;
  readonly span: Span;
}

/** `~~20.0 mL~~`: kept, never read. */
export interface StruckNode {
  readonly kind: 'struck';
  readonly text: string;
  readonly span: Span;
}

export type Part = QuantityNode | WordNode | StruckNode;

/** A group of derived numbers. `closed` is false while the closing bracket is still to be typed. */
export interface ClaimGroup {
  readonly span: Span;
  readonly closed: boolean;
  readonly facts: readonly Fact[];
}

export interface Fact {
  readonly span: Span;
  /** The known word or words the fact begins with (`density`, `made up to`, `in`, `limiting`), by its statement. */
  readonly key?: FactKey;
  readonly keySpan?: Span;
  /** What follows the key, in order. */
  readonly parts: readonly Part[];
  readonly claims: readonly ClaimGroup[];
  /** Only the first fact of a `reaction` that has an arrow. */
  readonly equation?: Equation;
  /** A spectrum line (`1H NMR …`): runs to the end of its line or `;`, its parts are not split. */
  readonly spectrum?: boolean;
}

/** The facts between two `;`, with what was concluded from them (`=> ester`). */
export interface Leg {
  readonly span: Span;
  readonly facts: readonly Fact[];
  readonly conclusion?: Text;
}

export interface Term {
  readonly span: Span;
  /** `2`, `0.5` or `1/2`, as typed. */
  readonly coefficient?: Text;
  /** Name or formula; `...` when `rest`. */
  readonly name: Text;
  /** s, l, g or aq. */
  readonly state?: string;
  readonly rest: boolean;
}

export interface Equation {
  readonly span: Span;
  readonly left: readonly Term[];
  readonly arrow: Text;
  readonly right: readonly Term[];
}

export type Body =
  | { readonly kind: 'text'; readonly text: Text }
  | { readonly kind: 'facts'; readonly legs: readonly Leg[] };

export interface Statement {
  readonly keyword: Keyword;
  readonly keywordSpan: Span;
  /** Between keyword and colon; absent when empty. */
  readonly subject?: Text;
  /** Offset of the colon. */
  readonly colon: number;
  readonly body: Body;
  /** From the keyword to the last character that is not white space. */
  readonly span: Span;
}

export interface Clock {
  readonly text: string;
  readonly span: Span;
  /** Seconds since midnight. */
  readonly seconds: number;
  /** `[JL]` right after the clock. */
  readonly by?: string;
}

export type BlockKind = 'statement' | 'heading' | 'log' | 'prose' | 'fence' | 'blank';

/** A line with its continuation lines, line ends included, so that the blocks of a page joined are its text. */
export interface Block {
  readonly kind: BlockKind;
  readonly text: string;
  /** Of a statement, or of a log entry whose text is a statement. */
  readonly statement?: Statement;
  /** Of a log entry. */
  readonly clock?: Clock;
  /** Of a heading (1 to 3, with its title), of prose and of a log entry without a statement: the text itself. */
  readonly level?: number;
  readonly body?: Text;
}

export interface PlacedBlock {
  readonly block: Block;
  /** Offset from the page's start. */
  readonly at: number;
}

/** One page: from its `experiment` line to the next. The first page of a file is its head and may be empty. */
export interface PageSource {
  readonly text: string;
  readonly blocks: readonly PlacedBlock[];
  /** Offsets of the first character of each line, from the page's start. */
  readonly lines: readonly number[];
  /** A fence is still open at the page's end: only ever true of a file's last page. */
  readonly openFence: boolean;
}

export interface PlacedPage {
  readonly page: PageSource;
  /** Offset and line of the page's start in the file. */
  readonly at: number;
  readonly line: number;
}

/** A whole file. `pages[0]` is the head: all that stands before the first `experiment`. */
export interface SourceFile {
  readonly pages: readonly PlacedPage[];
  readonly length: number;
  /** The line ending to use in edits. */
  readonly eol: '\n' | '\r\n';
}

export interface Position {
  readonly line: number;
  readonly character: number;
}

export interface Range {
  readonly start: Position;
  readonly end: Position;
}
