/** The outline: pages, headings with what they hold, and the statements that a reader looks for. */
import type { PageSource, PlacedBlock, Position, Range, Span } from '../../grammar/tree';
import type { Keyword } from '../../grammar/vocabulary';
import type { Entry } from '../model/page';
import { isHeld, type Result } from '../quantity/held';
import { show } from '../quantity/show';
import type { PageResult, Snapshot } from '../snapshot';
import { lineAt } from './folding';
import { perPage } from './per-page';

/** Names of the protocol's symbol kinds; they decide icons only. */
export type SymbolKindName =
  | 'Namespace'
  | 'Module'
  | 'Function'
  | 'Class'
  | 'Object'
  | 'Field'
  | 'Property'
  | 'Event'
  | 'Array'
  | 'Constant';

export interface SymbolNode {
  readonly name: string;
  readonly detail: string;
  readonly kind: SymbolKindName;
  /** All of it, and inside it what is selected when somebody jumps there. */
  readonly range: Range;
  readonly selection: Range;
  readonly children: readonly SymbolNode[];
}

const KINDS: Readonly<Partial<Record<Keyword, SymbolKindName>>> = {
  reaction: 'Function',
  substance: 'Class',
  solution: 'Class',
  vessel: 'Object',
  balance: 'Object',
  plan: 'Constant',
  charge: 'Field',
  weigh: 'Field',
  product: 'Property',
  recovered: 'Property',
  sample: 'Property',
  titrate: 'Event',
  test: 'Event',
  measure: 'Event',
  consider: 'Event',
  neutralise: 'Event',
  amend: 'Event',
  signed: 'Event',
  waste: 'Array',
};

export function symbols(snapshot: Snapshot): readonly SymbolNode[] {
  return snapshot.source.pages.flatMap(({ line }, index) => lowered(pageSymbols(snapshot, index), line));
}

const lowered = (nodes: readonly SymbolNode[], lines: number): readonly SymbolNode[] =>
  lines === 0
    ? nodes
    : nodes.map((node) => ({
        ...node,
        range: down(node.range, lines),
        selection: down(node.selection, lines),
        children: lowered(node.children, lines),
      }));

const down = ({ start, end }: Range, lines: number): Range => ({
  start: { line: start.line + lines, character: start.character },
  end: { line: end.line + lines, character: end.character },
});

/** A node that still grows: a page or a heading. */
interface Open {
  readonly name: string;
  readonly detail: string;
  readonly kind: SymbolKindName;
  readonly level: number;
  readonly start: number;
  readonly selection: Span;
  end: number;
  readonly children: SymbolNode[];
  readonly log: Map<string, LogRun>;
}

interface LogRun {
  readonly at: number;
  readonly first: Span;
  end: number;
  readonly from: string;
  to: string;
}

/** With lines from the page's start. */
export const pageSymbols = perPage((result: PageResult): readonly SymbolNode[] => {
  const range = ({ start, end }: Span): Range => ({
    start: position(result.source, start),
    end: position(result.source, end),
  });
  const top: Open = open(0, 0, { start: 0, end: 0 }, '', '', 'Namespace');
  const stack: Open[] = [top];
  const close = (level: number): void => {
    while (stack.length > 1 && stack.at(-1)!.level >= level) {
      const done = stack.pop()!;
      stack.at(-1)!.children.push(finished(done, range));
      stack.at(-1)!.end = Math.max(stack.at(-1)!.end, done.end);
    }
  };
  const details = detailsOf(result);
  let date = result.page.date?.text ?? '';
  result.source.blocks.forEach(({ block, at }, i) => {
    const length = block.text.trimEnd().length;
    if (length === 0) return;
    const { statement } = block;
    if (statement?.keyword === 'experiment') {
      const id = statement.subject?.text ?? 'experiment';
      const title = result.page.title?.text;
      const selection = shifted(statement.subject?.span ?? statement.keywordSpan, at);
      stack.push(open(0.5, at, selection, title ? `${id}: ${title}` : id, date, 'Namespace'));
    } else if (block.kind === 'heading') {
      const level = block.level ?? 1;
      close(level);
      const title = block.body ?? { text: block.text.trim(), span: { start: 0, end: length } };
      stack.push(open(level, at, shifted(title.span, at), title.text || '#'.repeat(level), '', 'Module'));
    } else if (statement?.keyword === 'date' && statement.body.kind === 'text') {
      date = statement.body.text.text || date;
    }
    const holder = stack.at(-1)!;
    holder.end = Math.max(holder.end, at + length);
    if (block.clock) noteTime(holder, { block, at }, date);
    const kind = statement && KINDS[statement.keyword];
    if (!statement || !kind) return;
    const subject = statement.subject?.text || (statement.keyword === 'reaction' ? reactionId(result, i) : '');
    holder.children.push({
      name: subject ? `${statement.keyword} ${subject}` : statement.keyword,
      detail: details.get(i) ?? '',
      kind,
      range: range(shifted(statement.span, at)),
      selection: range(shifted(statement.subject?.span ?? statement.keywordSpan, at)),
      children: [],
    });
  });
  close(0.5);
  for (const node of stack.splice(1)) top.children.push(finished(node, range));
  return inOrder([...logNodes(top, range), ...top.children]);
});

function position(source: PageSource, offset: number): Position {
  const line = lineAt(source, offset);
  return { line, character: offset - (source.lines[line] ?? 0) };
}

const open = (
  level: number,
  start: number,
  selection: Span,
  name: string,
  detail: string,
  kind: SymbolKindName,
): Open => ({
  name,
  detail,
  kind,
  level,
  start,
  selection,
  end: selection.end,
  children: [],
  log: new Map(),
});

const finished = (node: Open, range: (span: Span) => Range): SymbolNode => ({
  name: node.name,
  detail: node.detail,
  kind: node.kind,
  range: range({ start: node.start, end: node.end }),
  selection: range(node.selection),
  children: inOrder([...logNodes(node, range), ...node.children]),
});

const inOrder = (nodes: readonly SymbolNode[]): readonly SymbolNode[] =>
  [...nodes].sort(
    (a, b) => a.range.start.line - b.range.start.line || a.range.start.character - b.range.start.character,
  );

// ── the log: one node for each date ──────────────────────────────────────────────────────────────────────────────

function noteTime(holder: Open, { block, at }: PlacedBlock, date: string): void {
  const clock = block.clock!;
  const end = at + block.text.trimEnd().length;
  const run = holder.log.get(date);
  if (run) {
    run.end = end;
    run.to = clock.text;
  } else holder.log.set(date, { at, first: shifted(clock.span, at), end, from: clock.text, to: clock.text });
}

const logNodes = (holder: Open, range: (span: Span) => Range): readonly SymbolNode[] =>
  [...holder.log].map(([date, run]) => ({
    name: date ? `log of ${date}` : 'log',
    detail: run.from === run.to ? run.from : `${run.from}–${run.to}`,
    kind: 'Event',
    range: range({ start: run.at, end: run.end }),
    selection: range(run.first),
    children: [],
  }));

// ── details ──────────────────────────────────────────────────────────────────────────────────────────────────────

/** What a line came to, by the index of its block. */
function detailsOf({ page, values }: PageResult): ReadonlyMap<number, string> {
  const details = new Map<number, string>();
  const say = (block: number | undefined, ...parts: readonly (string | undefined)[]): void => {
    const text = parts.filter((part) => part !== undefined && part !== '').join(', ');
    if (block !== undefined && text !== '') details.set(block, text);
  };
  for (const { entry, formula } of page.substances) say(entry?.block, formula?.text);
  for (const { solution, concentration } of values.solutions) say(solution.entry?.block, shown(concentration));
  for (const { entry, description } of page.vessels) say(entry.block, description);
  for (const { entry, readability } of page.balances)
    say(
      entry.block,
      readability &&
        `readability ${readability.quantity.number.text} ${readability.quantity.unit?.symbol ?? ''}`.trim(),
    );
  for (const { entry, equation } of page.reactions) say(entry.block, equation.text);
  for (const { charge, amount, mass, volume, equiv } of values.charges)
    say(charge.entry.block, shown(amount) ?? shown(mass) ?? shown(volume), shown(equiv));
  for (const { product, yield: percent, mass } of values.products)
    say(product.entry.block, shown(percent) ?? shown(mass));
  for (const { recovered, recovery, mass } of values.recovered)
    say(recovered.entry.block, shown(recovery) ?? shown(mass));
  for (const { consideration, recovery } of values.considerations) say(consideration.entry.block, shown(recovery));
  for (const { plan, mass } of values.plans) say(plan.entry.block, shown(mass));
  for (const { test, legs } of values.tests)
    say(
      test.entry.block,
      legs.at(-1)?.outcome ?? legs.at(-1)?.leg.observation?.text,
      legs.at(-1)?.leg.conclusion?.text,
    );
  const kinds = (entry: Entry) => values.measured.filter((m) => m.measured.entry === entry).map((m) => m.measured.kind);
  for (const { entry, hrms, combustion } of page.measurements)
    say(entry.block, hrms && 'HRMS', combustion && 'combustion', ...new Set(kinds(entry)));
  for (const { entry, old, now } of page.amendments) say(entry.block, old && now && `${old.text} → ${now.text}`);
  for (const { entry, by, when } of page.signatures) say(entry.block, by?.text, when?.text);
  return details;
}

const shown = (result: Result): string | undefined => (isHeld(result) ? show(result, { as: 'claim' }) : undefined);

const reactionId = ({ page }: PageResult, block: number): string =>
  page.reactions.find(({ entry }) => entry.block === block)?.id ?? '';

const shifted = ({ start, end }: Span, by: number): Span => ({ start: start + by, end: end + by });
