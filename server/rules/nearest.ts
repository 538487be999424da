/** Did you mean: the known word that a slip of the finger would have turned into this one. */

/** Edits between two words; swapped neighbours are one edit (optimal string alignment). */
export function edits(a: string, b: string): number {
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      let least = Math.min(next[j - 1]! + 1, row[j]! + 1, row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) least = Math.min(least, before[j - 2]! + 1);
      next.push(least);
    }
    before = row;
    row = next;
  }
  return row[b.length]!;
}

/** One slip in a short word, two from eight letters on: more is another word. */
export const slipsAllowed = (word: string): number => (word.length >= 8 ? 2 : 1);

/** The known word nearest to a misspelt one; undefined when none is near or the word is known. */
export function nearest<Word extends string>(word: string, known: Iterable<Word>): Word | undefined {
  let best: Word | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const candidate of known) {
    const allowed = slipsAllowed(candidate);
    if (Math.abs(candidate.length - word.length) > allowed) continue;
    const distance = edits(word, candidate);
    if (distance === 0) return undefined;
    if (distance <= allowed && distance < least) {
      best = candidate;
      least = distance;
    }
  }
  return best;
}
