import type { Position } from '../../../grammar/tree';

/** Line and character of an offset in a text with plain line ends. */
export function positionIn(text: string, offset: number): Position {
  const before = text.slice(0, offset).split('\n');
  return { line: before.length - 1, character: before.at(-1)!.length };
}
