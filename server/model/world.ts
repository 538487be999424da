/** What a page can learn from outside: the file's head, the registers, the other pages. Answers are plain data. */
import type { Span } from '../../grammar/tree';
import type { Balance, Material, Substance, Vessel } from './page';
import type { Stream } from './streams';

/** What other pages may see of a page, read but not computed. A summary never depends on another summary. */
export interface Summary {
  readonly uri: string;
  readonly id: string;
  readonly title: string;
  readonly date?: string;
  /** Tares recorded on the page, by `foldName` of the vessel; the last one of a page counts. */
  readonly tares: readonly TareRecord[];
  /** What the page made: its product lines. */
  readonly products: readonly MadeRecord[];
  /** Where its waste went. */
  readonly wastes: readonly WasteRecord[];
}

export interface TareRecord {
  readonly vessel: string;
  readonly key: string;
  /** As written: `27.236`. */
  readonly digits: string;
  readonly unit: string;
  /** Keyword and folded subject of the statement, and the reading within that statement's block. */
  readonly entry: string;
  readonly span: Span;
}

export interface MadeRecord {
  readonly name: string;
  readonly key: string;
  readonly label?: string;
  /** The substance as that page has it. */
  readonly substance?: Substance;
}

/** One `waste` line. */
export interface WasteRecord {
  readonly stream: string;
  /** `foldName` of the stream. */
  readonly key: string;
  /** What went there, as written. */
  readonly text: string;
  /** Keyword and folded subject of the statement, and the text within that statement's block. */
  readonly entry: string;
  readonly span: Span;
  /** Substances that the page declares and the text may name. */
  readonly known: readonly Substance[];
}

/** Something that a page put into a waste stream, by one of its reactive groups. */
export interface Brought {
  readonly group: string;
  readonly name: string;
  /** All its groups as they count there. */
  readonly groups: readonly string[];
  readonly uri: string;
  readonly id: string;
  readonly date?: string;
  readonly entry: string;
  readonly span: Span;
}

/** What a page turned out to be, for those that build on it. */
export interface Outcome {
  readonly uri: string;
  readonly id: string;
  /** Mass and yield of what was made, g and 1; absent where not computable. */
  readonly made: readonly {
    readonly name: string;
    readonly key: string;
    readonly label?: string;
    readonly mass?: number;
    readonly yield?: number;
    /** The batch its route comes from: that of the limiting reactant, else of any. */
    readonly from?: { readonly id: string; readonly label?: string };
  }[];
  /** What was taken of other pages' batches, g. */
  readonly taken: readonly { readonly id: string; readonly label?: string; readonly mass?: number }[];
}

export interface Batch {
  readonly made?: number;
  readonly taken: readonly { readonly page: string; readonly uri: string; readonly mass?: number }[];
}

/** A tare of a vessel found elsewhere. */
export interface TareElsewhere extends TareRecord {
  readonly uri: string;
  /** Page it stands on; absent in a register. */
  readonly id?: string;
  readonly date?: string;
}

/**
 * The window through which a page sees the rest. Every question is recorded with a fingerprint of its answer, so that
 * a page is computed again exactly when an answer changes.
 */
export interface World {
  /** Definitions by `foldName`, nearest first: the file's head, then registers. */
  material(key: string): readonly Material[];
  /** Definitions with this Hill formula, nearest first. */
  byFormula(hill: string): readonly Substance[];
  vessel(key: string): readonly Vessel[];
  balance(key: string): readonly Balance[];
  /** All balances that hold for every page of the file: of its head, else of the registers. */
  balances(): readonly Balance[];
  page(id: string): readonly Summary[];
  /** Tares of a vessel on other pages and in registers, newest first. */
  tares(key: string): readonly TareElsewhere[];
  /** What is known of a batch: the mass that was made, and what pages took of it, g; absent where not computable. */
  batch(id: string, label?: string): Batch | undefined;
  /** Waste streams by `foldName`, nearest first: the file's head, then registers. */
  stream(key: string): readonly Stream[];
  /** What pages put into a waste stream: of each reactive group the first two pages that brought it. */
  wastes(key: string): readonly Brought[];
  /** Yield over the pages that made a batch, 1; undefined where a step is not known. */
  overall(id: string, label?: string): number | undefined;
  /** Names of all pages, for completion and did-you-mean. */
  pageIds(): readonly string[];
}
