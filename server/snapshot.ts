/** The result of reading one file: what every view (editor, checker) is made from. Immutable. */
import type { PageSource, Range, SourceFile, Span } from '../grammar/tree';
import type { Values } from './compute/values';
import type { Page } from './model/page';
import type { Outcome, Summary, World } from './model/world';
import type { Finding } from './rules/rule';

/** What is known of one page. Spans count from the page's start. */
export interface PageResult {
  readonly source: PageSource;
  readonly page: Page;
  readonly values: Values;
  readonly world: World;
  /** In text order; those that an `accept` covers are in `accepted`. */
  readonly findings: readonly Finding[];
  readonly accepted: readonly { readonly finding: Finding; readonly reason: string }[];
  readonly summary?: Summary;
  readonly outcome?: Outcome;
}

export interface Snapshot {
  readonly uri: string;
  readonly source: SourceFile;
  /** Index 0 is the file's head. Everything about one page; computed when first asked for, then kept a while. */
  page(index: number): PageResult;
  /** Findings of one page, without keeping the rest. */
  findings(index: number): readonly Finding[];
  readonly pageCount: number;
  /** A span of a page as lines and characters of the file. */
  range(index: number, span: Span): Range;
}
