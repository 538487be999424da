import { nearest } from '../rules/nearest';

/** ` (did you mean "x"?)` for the nearest of the known words, or nothing when none is near. */
export function didYouMean(word: string, known: readonly string[]): string {
  const near = nearest(word, known);
  return near === undefined ? '' : ` (did you mean "${near}"?)`;
}
