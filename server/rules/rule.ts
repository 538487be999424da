/** The contract of a rule. One file per rule holds everything about it: its page and its tests are made from it. */
import type { PageSource, Span } from '../../grammar/tree';
import type { Slip, Values } from '../compute/values';
import type { Page } from '../model/page';
import type { World } from '../model/world';
import type { Held, Origin } from '../quantity/held';

export type Severity = 'error' | 'warning' | 'information' | 'hint';

export type Family =
  | 'reading'
  | 'units'
  | 'weighing'
  | 'substance'
  | 'reaction'
  | 'claims'
  | 'yield'
  | 'evidence'
  | 'ledger'
  | 'page';

export interface Edit {
  readonly span: Span;
  /** With `snippet`: `${1}`, `${1:reason}`, `${1|a,b|}` stand for empty stops; without snippets they become plain text. */
  readonly text: string;
}

export interface Fix {
  /** Starts with a verb and shows the result: `Replace 13.764 g with 13.674 g`. */
  readonly title: string;
  readonly edits: readonly Edit[];
  /** Its result cannot be disputed: it may join fix-all. */
  readonly bulk?: boolean;
  readonly preferred?: boolean;
  /** The text has stops to fill; such a fix need not remove its finding by itself. */
  readonly snippet?: boolean;
  /** The line becomes prose, or prose becomes a line, and that is the point. */
  readonly reclassifies?: boolean;
}

export interface Finding {
  readonly code: string;
  readonly severity: Severity;
  /** The smallest text that is wrong, from the page's start; for something missing, the subject. */
  readonly span: Span;
  /** Plain text, both numbers with units first, then why, then what to do; under 200 characters, one line. */
  readonly message: string;
  readonly slip?: Slip;
  /** Steps, one a line: `5.00 mL × 1.044 g/mL = 5.22 g`. */
  readonly working?: readonly string[];
  readonly related?: readonly { readonly origin: Origin; readonly message: string }[];
  readonly fixes?: readonly Fix[];
  /** Index of the block it belongs to, for `accept` and for the grace of the line being typed. */
  readonly block: number;
  /** Text it makes doubtful: findings of later rules that rest on it are dropped. */
  readonly doubts?: readonly Span[];
  /** Text it rests on. */
  readonly rests?: readonly Span[];
  readonly unnecessary?: boolean;
}

/** What a rule yields: `code` is added by the runner, `severity` only where it differs from the rule's own. */
export type Found = Omit<Finding, 'code' | 'severity'> & { readonly severity?: Severity };

export interface RuleContext {
  readonly page: Page;
  readonly values: Values;
  readonly source: PageSource;
  readonly world: World;
  readonly settings: { readonly hrmsPpm: number };
  /** What the rules before this one found, for `accept-unused`. */
  readonly found: readonly Finding[];
  /** Text of the page between two offsets. */
  text(span: Span): string;
}

export interface Example {
  readonly name: string;
  /** A page with carets under what is found: `      ^^^^^^^ net-mismatch`. Only lines of this code's findings. */
  readonly wrong?: string;
  /** A page without any finding: the page after the first fix, or a near miss. */
  readonly right?: string;
  /** The wrong page after its first fix; `right` by default where there is a fix. */
  readonly fixed?: string;
  /** Other pages of the same notebook, by file name. */
  readonly files?: Readonly<Record<string, string>>;
}

export interface Rule {
  readonly code: string;
  readonly family: Family;
  readonly severity: Severity | 'off';
  readonly fixable: 'always' | 'sometimes' | 'never';
  /** What is wrong, as a heading: `The net mass is not gross minus tare`. */
  readonly title: string;
  /** Why it matters and what the finding rests on; Markdown. */
  readonly why: string;
  /** What to do at the bench or on the page; Markdown. */
  readonly help: string;
  readonly examples: readonly Example[];
  /** Standards or handbooks; `common practice, no source` where there is none. */
  readonly sources: readonly string[];
  check(context: RuleContext): Iterable<Found>;
}

export const rule = (r: Rule): Rule => r;

/** The readings a value rests on that stand on this page: for `rests` and related places. */
export function* readingsOf(
  held: Held,
): Generator<{ readonly symbol: string; readonly held: Held; readonly origin: Origin }> {
  const seen = new Set<Held>();
  const walk = function* (symbol: string, h: Held): Generator<{ symbol: string; held: Held; origin: Origin }> {
    if (seen.has(h)) return;
    seen.add(h);
    if (h.working.origin) yield { symbol, held: h, origin: h.working.origin };
    for (const input of h.working.inputs) yield* walk(input.symbol, input.held);
  };
  yield* walk('', held);
}
