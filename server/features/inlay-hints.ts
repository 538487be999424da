/**
 * Computed numbers beside lines that claim none. They are not part of the file; accepting one writes it as a claim
 * group, with the digits that the measurement carries.
 */
import type { Position, Range, Span } from '../../grammar/tree';
import type {
  ChargeValue,
  ImpliedPlan,
  PlannedValue,
  PlanValue,
  ProductValue,
  ReactionValue,
  RecoveredValue,
  TakenValue,
  WeighValue,
} from '../compute/values';
import { amended } from '../model/amend';
import type { Amount, Claim, Entry } from '../model/page';
import { logOf } from '../model/timeline';
import { type Held, isHeld, type Result } from '../quantity/held';
import { show } from '../quantity/show';
import type { PageResult, Snapshot } from '../snapshot';
import { duration } from './duration';
import { chainOf } from './hover/signing';
import { isUncounted, type Share, shareOf } from './share';

export interface InlayHint {
  readonly position: Position;
  readonly label: string;
  readonly tooltip: string;
  readonly edit?: { readonly range: Range; readonly text: string };
}

export interface HintOptions {
  /** After what went in: charges, weighings, plans, terms of an equation. */
  readonly charges: boolean;
  /** After what came out. */
  readonly products: boolean;
  /** After a log time: how long since the page's first entry. */
  readonly elapsed?: boolean;
}

/** `quiet`: the line that is being written, which gets none. */
export function inlayHints(snapshot: Snapshot, range: Range, options: HintOptions, quiet?: number): InlayHint[] {
  const { pages } = snapshot.source;
  return pages.flatMap((placed, page) => {
    const last = placed.line + placed.page.lines.length - 1;
    if (last < range.start.line || placed.line > range.end.line) return [];
    return pageHints(snapshot.page(page), options).flatMap(({ at, label, tooltip, edit }) => {
      const position = snapshot.range(page, { start: at, end: at }).start;
      if (position.line < range.start.line || position.line > range.end.line || position.line === quiet) return [];
      return [
        { position, label, tooltip, ...(edit && { edit: { range: { start: position, end: position }, text: edit } }) },
      ];
    });
  });
}

/** A hint by its offset on the page. */
interface Hint {
  readonly at: number;
  readonly label: string;
  readonly tooltip: string;
  readonly edit?: string;
}

function pageHints(result: PageResult, options: HintOptions): Hint[] {
  const { values, page } = result;
  const charges = options.charges
    ? [
        ...values.charges.flatMap(chargeHint),
        ...values.weighs.flatMap(weighHint),
        ...values.plans.flatMap((value) => planHint(value, values.planned)),
        ...values.reactions.flatMap(termHints),
      ]
    : [];
  const products = options.products
    ? [...values.products.flatMap(productHint), ...values.recovered.flatMap(recoveredHint)]
    : [];
  const own = [...charges, ...products];
  return [
    // What is signed stays as it is: nothing can be written into it.
    ...(page.signed ? own.map(({ edit: _, ...hint }) => hint) : own),
    ...amendedHints(result),
    ...(options.elapsed ? elapsedHints(result) : []),
  ];
}

/** Behind what was replaced, and behind claims that were right before it was. */
function amendedHints({ page, values }: PageResult): Hint[] {
  const { amendments } = page;
  const replaced = amendments.flatMap((amendment): Hint[] => {
    const chain = chainOf(amendment, amendments);
    const now = chain.at(-1)?.now;
    if (!amendment.target || !now || chain[0] !== amendment) return [];
    return [
      {
        at: amendment.target.old.end,
        label: `amended: ${now.text}`,
        tooltip: chain
          .map(({ reason, by, when }) => [reason?.text, by?.text, when?.text].filter(Boolean).join(', '))
          .join('; '),
      },
    ];
  });
  const claims = values.claims.flatMap(({ amended, claim, value }): Hint[] =>
    amended && isHeld(value)
      ? [
          {
            at: claim.span.end,
            label: `amended: ${show(value, { as: 'claim', unit: claim.quantity.unit?.symbol ?? '' })}`,
            tooltip: 'Right as the page was signed; worked out again with what was amended.',
          },
        ]
      : [],
  );
  return [...replaced, ...claims];
}

/** Shorter than this is no news, s. */
const SOON = 300;

const elapsedHints = ({ source }: PageResult): Hint[] =>
  logOf(amended(source)).flatMap(({ span, elapsed }) =>
    elapsed !== undefined && elapsed > SOON
      ? [{ at: span.end, label: `+${duration(elapsed)}`, tooltip: "Since the page's first log entry." }]
      : [],
  );

/** Nobody counts the solvent. */
const chargeHint = (value: ChargeValue): Hint[] =>
  isUncounted(value) ? [] : amountHint(value.charge, value, shareOf(value));

const weighHint = ({ weigh, ...value }: WeighValue): Hint[] => amountHint(weigh, value);

const productHint = (value: ProductValue): Hint[] => amountHint(value.product, value, percent(value.yield));

const recoveredHint = (value: RecoveredValue): Hint[] => amountHint(value.recovered, value, percent(value.recovery));

const percent = (ratio: Result): Share | undefined => (isHeld(ratio) ? { held: ratio, unit: {} } : undefined);

interface Line {
  readonly entry: Entry;
  readonly amount: Amount;
  readonly claims: readonly Claim[];
}

/** What is not measured on the line: mass, amount, and the line's own ratio. */
function amountHint({ amount, claims }: Line, taken: TakenValue, share?: Share): Hint[] {
  const at = endOfAmount(amount);
  if (claims.length > 0 || at === undefined) return [];
  const net = taken.weighing?.net;
  const parts = [
    ...(net && derived(net) ? part(net, 'net ') : part(taken.mass)),
    ...part(taken.amount),
    ...(share ? [ratio(share)] : []),
  ];
  return parts.length > 0 ? [writable(at, parts)] : [];
}

/** Only what was worked out; what was measured stands there already. */
const derived = (result: Result): Held | undefined =>
  isHeld(result) && result.working.formula !== undefined ? result : undefined;

interface Part {
  readonly label: string;
  readonly claim: string;
}

function part(result: Result, label = ''): Part[] {
  const held = derived(result);
  return held ? [{ label: label + show(held), claim: label + show(held, { as: 'claim' }) }] : [];
}

function ratio({ held, unit }: Share): Part {
  const claim = show(held, { ...unit, as: 'claim' });
  return { label: claim, claim };
}

function writable(at: number, parts: readonly Part[]): Hint {
  const claim = `(${parts.map((p) => p.claim).join(', ')})`;
  return {
    at,
    label: parts.map((p) => p.label).join(' · '),
    tooltip: `Computed, not in the file. A double click writes ${claim}.`,
    edit: ` ${claim}`,
  };
}

/** Behind the last measured number, where a claim group may stand. */
function endOfAmount({ quantities, weighing, word, strength }: Amount): number | undefined {
  const ends = [
    ...quantities.map(({ span }) => span.end),
    ...weighing.readings.map(({ datum: { span } }) => span.end),
    ...(word?.word === 'weighed' ? [word.span.end] : []),
    ...[strength?.solvent?.span, strength?.datum.span].flatMap((span: Span | undefined) => span?.end ?? []),
  ];
  return ends.length > 0 ? Math.max(...ends) : undefined;
}

/** What to take, as balance and glassware measure it; behind a target also what follows from it. */
function planHint(value: PlanValue, implied: readonly ImpliedPlan[]): Hint[] {
  const { plan, role } = value;
  const at = plan.quantity?.span.end ?? plan.entry.mark.end + 1;
  const own = role === 'product' ? [] : toTake(value, value.makingUp !== undefined);
  const others = implied
    .filter(({ target, role: part }) => target === plan && part !== 'product')
    .flatMap((other) => {
      const take = toTake(other, true);
      return take.length > 0 ? [`${other.name} ${take.join(' or ')}`] : [];
    });
  const take = [...(own.length > 0 ? [own.join(' or ')] : []), ...others];
  if (take.length === 0) return [];
  return [{ at, label: `take ${take.join(', ')}`, tooltip: 'Computed, not in the file.' }];
}

/** `all`: what was written stands on another line. */
function toTake({ mass, volume, weigh, measure, role }: PlannedValue, all: boolean): string[] {
  const one = (result: Result, rounded: Held | undefined): string[] => {
    const value = all && isHeld(result) ? result : derived(result);
    return value ? [show(rounded ?? value)] : [];
  };
  // Nobody weighs a solvent.
  return role === 'solvent' && measure ? one(volume, measure) : [...one(mass, weigh), ...one(volume, measure)];
}

/** How much of each reactant there is, and which runs out first. */
function termHints({ left, limiting }: ReactionValue): Hint[] {
  return left.flatMap(({ term, charged }) => {
    if (!isHeld(charged)) return [];
    const mark = limiting?.term.term === term ? ', limiting' : '';
    return [
      {
        at: term.span.end,
        label: `${show(charged)}${mark}`,
        tooltip: 'Computed from what was charged, not in the file.',
      },
    ];
  });
}
