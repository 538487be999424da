/** Walks over the statements of a page with places counted from the page's start. */
import type { Fact, PageSource, QuantityNode, Span, Statement } from '../../grammar/tree';

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
export function* factsIn(source: PageSource): Generator<PlacedFact> {
  for (const placed of statementsOf(source)) {
    if (placed.statement.body.kind !== 'facts') continue;
    for (const leg of placed.statement.body.legs) {
      for (const fact of leg.facts) {
        yield { ...placed, fact, claim: false };
        for (const group of fact.claims)
          for (const claimed of group.facts) yield { ...placed, fact: claimed, claim: true };
      }
    }
  }
}

export function* quantitiesIn(source: PageSource): Generator<PlacedQuantity> {
  for (const placed of factsIn(source)) {
    for (let index = 0; index < placed.fact.parts.length; index++) {
      const node = placed.fact.parts[index]!;
      if (node.kind === 'quantity') yield { ...placed, node, index };
    }
  }
}

export interface PlacedProse {
  /** The first line of the block, without its clock. */
  readonly text: string;
  readonly block: number;
  /** Where the text begins. */
  readonly at: number;
}

/** Lines of prose and log entries that are no statement. Fences hold other people's text and are not looked at. */
export function* proseIn(source: PageSource): Generator<PlacedProse> {
  for (let index = 0; index < source.blocks.length; index++) {
    const { block, at } = source.blocks[index]!;
    if (block.statement || (block.kind !== 'prose' && block.kind !== 'log')) continue;
    const from = block.kind === 'log' ? (block.body?.span.start ?? block.text.length) : 0;
    const text = /^[^\r\n]*/.exec(block.text.slice(from))![0].trimEnd();
    if (text !== '') yield { text, block: index, at: at + from };
  }
}
