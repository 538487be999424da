/** Walks over the statements of a page with places counted from the page's start. */
import type { Block, Fact, PageSource, QuantityNode, Span, Statement } from '../../grammar/tree';

export interface PlacedStatement {
  readonly statement: Statement;
  /** Index of its block. */
  readonly block: number;
  /** Where its block begins. */
  readonly at: number;
}

export interface PlacedFact extends PlacedStatement {
  readonly fact: Fact;
  /** In a claim group. */
  readonly claim: boolean;
}

export interface PlacedQuantity extends PlacedFact {
  readonly node: QuantityNode;
  /** Index among the parts of the fact. */
  readonly index: number;
}

export const shift = (span: Span, by: number): Span => ({ start: span.start + by, end: span.end + by });

export function* statementsOf(source: PageSource): Generator<PlacedStatement> {
  for (let block = 0; block < source.blocks.length; block++) {
    const placed = source.blocks[block]!;
    if (placed.block.statement) yield { statement: placed.block.statement, block, at: placed.at };
  }
}

/** Every fact, those of claim groups after the fact they stand in. */
export const factsIn = lastOnly((source: PageSource): readonly PlacedFact[] => {
  const out: PlacedFact[] = [];
  for (const { statement, block, at } of statementsOf(source)) {
    if (statement.body.kind !== 'facts') continue;
    for (const leg of statement.body.legs) {
      for (const fact of leg.facts) {
        out.push({ statement, block, at, fact, claim: false });
        for (const group of fact.claims) {
          for (const claimed of group.facts) out.push({ statement, block, at, fact: claimed, claim: true });
        }
      }
    }
  }
  return out;
});

export const quantitiesIn = lastOnly((source: PageSource): readonly PlacedQuantity[] => {
  const out: PlacedQuantity[] = [];
  for (const { statement, block, at, fact, claim } of factsIn(source)) {
    fact.parts.forEach((node, index) => {
      if (node.kind === 'quantity') out.push({ statement, block, at, fact, claim, node, index });
    });
  }
  return out;
});

/** Remembers the last page: the rules walk one after another over the same. */
function lastOnly<T>(of: (source: PageSource) => T): (source: PageSource) => T {
  let last: { readonly source: PageSource; readonly value: T } | undefined;
  return (source) => {
    if (last?.source !== source) last = { source, value: of(source) };
    return last.value;
  };
}

export interface PlacedProse {
  /** The first line of the block, without its clock. */
  readonly text: string;
  readonly of: Block;
  readonly block: number;
  /** Where the text begins. */
  readonly at: number;
}

/** Remembers what was found in a line: a block with the same text is the same block, on every page. */
export function perLine<T>(find: (text: string) => T): (line: PlacedProse) => T {
  const known = new WeakMap<Block, { readonly found: T }>();
  return ({ of, text }) => {
    const entry = known.get(of) ?? { found: find(text) };
    known.set(of, entry);
    return entry.found;
  };
}

/** Lines of prose and log entries that are no statement. Fences hold other people's text and are not looked at. */
export function* proseIn(source: PageSource): Generator<PlacedProse> {
  for (let index = 0; index < source.blocks.length; index++) {
    const { block, at } = source.blocks[index]!;
    if (block.statement || (block.kind !== 'prose' && block.kind !== 'log')) continue;
    const from = block.kind === 'log' ? (block.body?.span.start ?? block.text.length) : 0;
    const text = /^[^\r\n]*/.exec(block.text.slice(from))![0].trimEnd();
    if (text !== '') yield { text, of: block, block: index, at: at + from };
  }
}
