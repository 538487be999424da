/**
 * What a page says, names resolved, nothing computed. Spans count from the page's start.
 *
 * Readings are {@link Datum}s: a quantity as typed with the place it was typed in. A definition read from a register or
 * made from the handbook has the same shape as one written on the page; its data only say another origin.
 */
import type { Span } from '../../grammar/tree';
import type { Keyword } from '../../grammar/vocabulary';
import type { Formula } from '../chem/formula';
import type { Origin } from '../quantity/held';
import type { Quantity } from '../quantity/written';
import type { Amendment } from './amend';
import type { Consideration } from './consider';
import type { Measured, Test, Used } from './evidence';
import type { Glassware } from './glassware';
import type { Signature } from './signature';
import type { Titration } from './titration';
import type { Neutralisation, Waste } from './waste';

/** A quantity that somebody wrote down, and where. */
export interface Datum {
  readonly quantity: Quantity;
  readonly origin: Origin;
  readonly span: Span;
  /** What a volume was measured with, where its class is written. */
  readonly glassware?: Glassware;
}

/** What every entry of a page has. */
export interface Entry {
  readonly keyword: Keyword;
  /** Index of its block on the page, and the block's text. */
  readonly block: number;
  readonly text: string;
  /** The whole statement, without white space at its end. */
  readonly span: Span;
  /** Where a missing thing is marked: the subject, or the keyword when there is none. */
  readonly mark: Span;
  /** End of the first line of the statement: where facts may be added. */
  readonly clock?: { readonly text: string; readonly seconds: number };
}

// ── names ────────────────────────────────────────────────────────────────────────────────────────────────────────

/** Where a definition stands. `page`: on this page; `file`: in the file's head; then registers; then the handbook. */
export type Where =
  | { readonly kind: 'page' }
  | { readonly kind: 'file' }
  | { readonly kind: 'register'; readonly uri: string }
  | { readonly kind: 'made'; readonly id: string; readonly uri: string }
  | { readonly kind: 'handbook'; readonly source: string }
  | { readonly kind: 'formula' };

export interface FormulaFact {
  readonly text: string;
  readonly span: Span;
  /** Absent when it cannot be read; `problem` then says why and `at` where in the text. */
  readonly formula?: Formula;
  readonly problem?: string;
  readonly at?: number;
}

export interface TextFact {
  readonly text: string;
  readonly span: Span;
}

/** `from TB-011` or `from TB-011/V-3`. */
export interface BatchRef {
  readonly id: string;
  readonly label?: string;
  readonly span: Span;
}

export type State = 'solid' | 'liquid' | 'gas' | 'mixture' | 'aqueous';

export interface Substance {
  readonly kind: 'substance';
  readonly name: string;
  /** `foldName(name)`, or the formula's own text for a bare formula. */
  readonly key: string;
  readonly also: readonly TextFact[];
  readonly where: Where;
  /** The subject in its own page; zero-length at 0 for the handbook. */
  readonly span: Span;
  /** Absent for the handbook and bare formulas. */
  readonly entry?: Entry;
  readonly formula?: FormulaFact;
  readonly smiles?: TextFact;
  readonly molarMass?: Datum;
  readonly density?: Datum;
  readonly densityAt?: Datum;
  readonly purity?: Datum;
  readonly cas?: TextFact;
  readonly lot?: TextFact;
  readonly supplier?: TextFact;
  readonly mp?: Datum;
  readonly bp?: Datum;
  /** Pressure of the boiling point; ordinary pressure when not said. */
  readonly bpAt?: Datum;
  readonly hazards: readonly string[];
  readonly state?: State;
  /** `10 % w/w` or `1.1 mmol/g`. */
  readonly loading?: Datum;
  /** Mass fraction of water or solvent in the material as taken. */
  readonly wet?: Datum;
  readonly repeatUnit?: FormulaFact;
  readonly racemateOf?: TextFact;
  readonly made?: BatchRef;
  readonly wasteClass?: string;
  readonly note?: string;
}

/** How strong a solution is: a written strength, or made up from so much solute. */
export type Strength =
  | { readonly kind: 'written'; readonly datum: Datum }
  | {
      readonly kind: 'made-up';
      readonly solute: Datum;
      readonly to?: Datum;
      /** `25.0 mL of 2.0 M hydrochloric acid`: a stock that has no line of its own. */
      readonly of?: Datum;
      /** `in 95.0 g water`: the solvent was measured, not the whole. */
      readonly solventAmount?: Datum;
    }
  | { readonly kind: 'saturated' };

export interface Solution {
  readonly kind: 'solution';
  readonly name: string;
  readonly key: string;
  readonly also: readonly TextFact[];
  readonly where: Where;
  readonly span: Span;
  readonly entry?: Entry;
  readonly strength?: Strength;
  readonly solute?: NameRef;
  readonly solvent?: NameRef;
  /** Mixed from several (`50.0 mL A; 50.0 mL B`): what came after the first. */
  readonly parts?: readonly SolutionPart[];
  readonly density?: Datum;
  readonly densityAt?: Datum;
  readonly claims: readonly Claim[];
}

/** One of several things that a solution was mixed from. */
export interface SolutionPart {
  readonly datum: Datum;
  readonly name: NameRef;
  /** `50.0 mL of 0.5 M sodium acetate`. */
  readonly of?: Datum;
}

export type Material = Substance | Solution;

/** A name where it is used, and what it stands for. */
export interface NameRef {
  readonly text: string;
  readonly span: Span;
  readonly target?: Material;
  /** Several things share the name, none of them is meant for sure. */
  readonly several?: readonly string[];
}

// ── weighing ─────────────────────────────────────────────────────────────────────────────────────────────────────

export interface Balance {
  readonly name: string;
  readonly key: string;
  readonly where: Where;
  readonly span: Span;
  readonly entry: Entry;
  readonly readability?: Datum;
  readonly repeatability?: Datum;
  readonly capacity?: Datum;
  readonly minimum?: Datum;
  readonly checked?: TextFact;
  /** Masses weighed on it are corrected for buoyancy where a density is known. */
  readonly buoyancy: boolean;
}

export interface Vessel {
  readonly name: string;
  readonly key: string;
  readonly where: Where;
  readonly span: Span;
  readonly entry: Entry;
  readonly description?: string;
  readonly tares: readonly Reading[];
  /** `tare …` written without a number: an empty slot waiting for a reading. */
  readonly emptyTare?: Span;
}

/** One reading of a balance. */
export interface Reading {
  readonly what: 'tare' | 'gross' | 'net' | 'before' | 'after' | 'residue';
  readonly datum: Datum;
  readonly word: Span;
  /** Seconds since midnight, when said. */
  readonly seconds?: number;
  /** `tare … from ID`. */
  readonly from?: BatchRef;
}

export interface VesselRef {
  readonly text: string;
  readonly span: Span;
  /** Fact that names it, with its `in`. */
  readonly fact: Span;
  readonly target?: Vessel;
}

export interface BalanceRef {
  readonly text: string;
  readonly span: Span;
  readonly target?: Balance;
}

/** The weighing facts of a statement or leg, as written. */
export interface WeighingFacts {
  readonly readings: readonly Reading[];
  readonly vessel?: VesselRef;
  readonly balance?: BalanceRef;
}

// ── claims ───────────────────────────────────────────────────────────────────────────────────────────────────────

/** A derived number in parentheses: recomputed, never trusted. */
export interface Claim {
  readonly quantity: Quantity;
  /** Number with its unit. */
  readonly span: Span;
  /** Known word before it (`net`, `mean`, `calcd`, `lit.`), or the words as written. */
  readonly label?: string;
  /** Index of its group within the entry. */
  readonly group: number;
  /** The group with its brackets. */
  readonly groupSpan: Span;
}

// ── reactions, charges, products ─────────────────────────────────────────────────────────────────────────────────

export interface ReactionTerm {
  readonly name: NameRef;
  readonly coefficient: { readonly text: string; readonly numerator: bigint; readonly denominator: bigint };
  readonly span: Span;
  readonly state?: string;
  /** `...`: by-products that are not written. */
  readonly rest: boolean;
}

export interface Reaction {
  readonly entry: Entry;
  readonly id: string;
  readonly left: readonly ReactionTerm[];
  readonly right: readonly ReactionTerm[];
  readonly equation: TextFact;
  readonly arrow: string;
  /** `resolution`: theory is half. */
  readonly resolution: boolean;
}

export type Role =
  | 'limiting'
  | 'catalyst'
  | 'ligand'
  | 'base'
  | 'acid'
  | 'additive'
  | 'solvent'
  | 'excess'
  | 'quench'
  | 'wash'
  | 'eluent'
  | 'atmosphere'
  | 'drying agent'
  | 'internal standard';

/** What was taken: written quantities in order, weighing facts, or a word nobody can compute. */
export interface Amount {
  /** Quantities outside brackets with a unit of mass, volume, amount, drops or equivalents, in written order. */
  readonly quantities: readonly Datum[];
  readonly weighing: WeighingFacts;
  readonly word?: {
    readonly word: 'excess' | 'balloon' | 'saturated' | 'catalytic' | 'trace' | 'weighed';
    readonly span: Span;
  };
  /** `correct for buoyancy` is written. */
  readonly buoyancy?: boolean;
  /** `of 2.5 M in hexanes`. */
  readonly strength?: { readonly datum: Datum; readonly solvent?: TextFact };
}

export interface Charge {
  readonly entry: Entry;
  readonly name: NameRef;
  readonly amount: Amount;
  readonly roles: readonly { readonly role: Role; readonly span: Span }[];
  /** Of a gas. */
  readonly temperature?: Datum;
  readonly pressure?: Datum;
  readonly batch?: BatchRef;
  readonly lot?: TextFact;
  readonly claims: readonly Claim[];
}

export interface Weigh {
  readonly entry: Entry;
  /** A vessel (its tare is recorded), or a substance. */
  readonly name: NameRef;
  readonly vessel?: Vessel;
  readonly amount: Amount;
  readonly claims: readonly Claim[];
}

export interface Product {
  readonly entry: Entry;
  readonly name: NameRef;
  readonly amount: Amount;
  /** The last stage named: `distilled`. */
  readonly stage?: TextFact;
  /** `first crop`, `fractions 14–23`: parts of one stage add up. */
  readonly part?: TextFact;
  /** `label V-3`: a batch of its own, not counted in the yield. */
  readonly label?: TextFact;
  readonly purity?: Datum;
  readonly contains: readonly { readonly name: NameRef; readonly fraction: Datum }[];
  readonly claims: readonly Claim[];
}

export interface Recovered {
  readonly entry: Entry;
  readonly name: NameRef;
  readonly amount: Amount;
  readonly purity?: Datum;
  readonly claims: readonly Claim[];
}

export interface Sample {
  readonly entry: Entry;
  readonly id: string;
  readonly quantity?: Datum;
  readonly name?: NameRef;
  /** `for NMR` */
  readonly purpose?: TextFact;
  readonly kept: boolean;
}

export interface Plan {
  readonly entry: Entry;
  readonly name: NameRef;
  readonly quantity?: Datum;
  /** `5.00 g at 80 %`. */
  readonly yield?: Datum;
  /** Of a solution: the hydrate, the grade or the stock that it is to be made from. */
  readonly source?: NameRef;
  readonly roles: readonly Role[];
  /** What it can be weighed on. */
  readonly balances: readonly Balance[];
}

/** One `measure` statement; facts are kept for the evidence computations. */
export interface Measurement {
  readonly entry: Entry;
  readonly name: NameRef;
  readonly hrms?: { readonly adduct: TextFact; readonly found: Datum };
  readonly combustion?: readonly { readonly element: string; readonly percent: Datum }[];
  readonly claims: readonly Claim[];
  /** `(calcd C 43.24, H 6.35)`. */
  readonly elementClaims: readonly { readonly element: string; readonly claim: Claim }[];
}

export interface Accept {
  readonly entry: Entry;
  readonly rule: TextFact;
  readonly reason?: TextFact;
  readonly wholePage: boolean;
}

/** A name that stands in a page in a way the model has no entry for: still found by references and rename. */
export interface Mention {
  readonly what: 'substance' | 'vessel' | 'balance' | 'page' | 'reaction';
  readonly name: string;
  readonly key: string;
  readonly span: Span;
  readonly role: 'declared' | 'used';
}

export interface Page {
  readonly id?: { readonly text: string; readonly span: Span };
  readonly title?: TextFact;
  readonly date?: TextFact;
  readonly author?: TextFact;
  /** The first signature; all of them, and those of witnesses, are in `signatures`. */
  readonly signed?: Entry;
  readonly signatures: readonly Signature[];
  readonly amendments: readonly Amendment[];
  readonly substances: readonly Substance[];
  readonly solutions: readonly Solution[];
  readonly vessels: readonly Vessel[];
  readonly balances: readonly Balance[];
  readonly reactions: readonly Reaction[];
  readonly plans: readonly Plan[];
  readonly charges: readonly Charge[];
  readonly weighs: readonly Weigh[];
  readonly products: readonly Product[];
  readonly considerations: readonly Consideration[];
  readonly recovered: readonly Recovered[];
  readonly samples: readonly Sample[];
  readonly wastes: readonly Waste[];
  readonly neutralisations: readonly Neutralisation[];
  readonly titrations: readonly Titration[];
  readonly measurements: readonly Measurement[];
  readonly tests: readonly Test[];
  readonly measured: readonly Measured[];
  readonly used: readonly Used[];
  readonly accepts: readonly Accept[];
  readonly mentions: readonly Mention[];
  /** Every claim of the page, whoever owns it. */
  readonly claims: readonly Claim[];
}
