/** From a place in the editor to a place on a page. */
import { offsetAt, pageAt } from '../../grammar/parse';
import type { Block, Position, Span } from '../../grammar/tree';
import type { Snapshot } from '../snapshot';

export interface PagePlace {
  /** Index of the page. */
  readonly page: number;
  /** From the page's start. */
  readonly offset: number;
  /** Index of the block on the page, and the block itself with its start. */
  readonly index: number;
  readonly block: Block;
  readonly at: number;
}

/** Undefined only in an empty file. */
export function placeAt(snapshot: Snapshot, position: Position): PagePlace | undefined {
  const { source } = snapshot;
  const inFile = offsetAt(source, position);
  const page = pageAt(source, position.line);
  const placed = source.pages[page];
  if (!placed) return undefined;
  const { blocks } = placed.page;
  const offset = inFile - placed.at;
  const index = Math.max(
    0,
    blocks.findLastIndex(({ at }) => at <= offset),
  );
  const found = blocks[index];
  return found && { page, offset, index, block: found.block, at: found.at };
}

/** With its end, so that a cursor right behind a word still means it. */
export const within = (span: Span, offset: number): boolean => span.start <= offset && offset <= span.end;
