/** The main job of a page in one line: what was made, how much of it, how well, and what set the limit. */
import type { ProductValue, ReactionValue, TheoreticalValue, Values } from '../compute/values';
import { type Held, held, isHeld, type Result, total } from '../quantity/held';
import { show } from '../quantity/show';
import type { PageResult } from '../snapshot';

/** Columns of the summary; an empty text where there is nothing to say. */
export interface SummaryRow {
  readonly id: string;
  readonly what: string;
  readonly mass: string;
  /** Yield with its stage, or why there is none. */
  readonly yield: string;
  readonly theory: string;
  readonly limiting: string;
}

/** Figures of a computed number that one look takes in; hovers and `compute` show what it holds. */
const LOOK = 4;
const percent = (share: Held): string => show(share, { figures: 3 });

const NOTHING: Omit<SummaryRow, 'id'> = { what: '', mass: '', yield: '', theory: '', limiting: '' };

/** One row for each product that counts; a page without a reaction has one with its solution or title. */
export function summaryOf(result: PageResult): readonly SummaryRow[] {
  const { page, values } = result;
  const rows = rowsOf(values);
  if (rows.length === 0) rows.push({ ...NOTHING, what: solution(values) ?? page.title?.text ?? '' });
  return rows.map((row, index) => ({ ...row, id: index === 0 ? (page.id?.text ?? '') : '' }));
}

function rowsOf(values: Values): Omit<SummaryRow, 'id'>[] {
  const rows: Omit<SummaryRow, 'id'>[] = [];
  const made = values.products.filter((p) => !p.superseded);
  for (const crops of groupBy(
    made,
    (p) => `${p.reaction?.reaction.id ?? ''}\n${p.product.name.target?.key ?? p.product.name.text}`,
  ))
    rows.push(productRow(crops));
  const last = values.reactions.at(-1);
  if (last && !values.products.some((p) => p.reaction === last)) rows.push(openRow(last));
  return rows;
}

/** The lines of one stage of one product; crops add up. */
function productRow(crops: readonly ProductValue[]): Omit<SummaryRow, 'id'> {
  const first = crops[0]!;
  const masses = crops.map((crop) => held(crop.mass));
  const mass = masses.every((m) => m !== undefined) ? total(masses, 'm') : undefined;
  const share: Result = crops.map((crop) => crop.stageYield).find((y) => y !== undefined) ?? first.yield;
  const stage = crops.at(-1)?.product.stage?.text ?? '';
  return {
    ...limits(first.reaction, first.theory),
    what: first.product.name.text,
    mass: mass ? show(mass) : '',
    yield: isHeld(share) ? `${percent(share)} ${stage}`.trim() : `no yield without ${share.what}`,
  };
}

/** A reaction that nothing has come out of yet. */
function openRow(reaction: ReactionValue): Omit<SummaryRow, 'id'> {
  const theory = reaction.theoretical[0];
  return {
    ...NOTHING,
    ...limits(reaction, theory),
    what: theory?.term.name.text ?? reaction.reaction.id,
    yield: 'no product yet',
  };
}

function limits(
  reaction: ReactionValue | undefined,
  theory: TheoreticalValue | undefined,
): Pick<SummaryRow, 'theory' | 'limiting'> {
  const mass = held(theory?.mass);
  const limiting = reaction?.limiting?.term.term.name.text;
  return {
    theory: mass ? `theory ${show(mass, { figures: LOOK })}` : '',
    limiting: limiting ? `limiting ${limiting}` : '',
  };
}

function solution(values: Values): string | undefined {
  const strength = (c: Held): string => show(c, { unit: 'mol/L' });
  const made = values.solutions.filter((s) => s.solution.where.kind === 'page');
  const last = made.at(-1);
  const concentration = held(last?.concentration);
  return last && concentration ? `${last.solution.name}, ${strength(concentration)}` : last?.solution.name;
}

function groupBy<T>(items: readonly T[], key: (item: T) => string): readonly T[][] {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const k = key(item);
    const group = groups.get(k);
    if (group) group.push(item);
    else groups.set(k, [item]);
  }
  return [...groups.values()];
}
