/** What can be folded: pages, headings, statements that go on, runs of log entries, fences. */
import type { PageSource, PlacedBlock } from '../../grammar/tree';
import type { Snapshot } from '../snapshot';

export interface Fold {
  /** First and last line, from 0. */
  readonly start: number;
  readonly end: number;
  readonly kind?: 'region' | 'comment';
}

export function folding(snapshot: Snapshot): readonly Fold[] {
  return snapshot.source.pages.flatMap(({ page, line }, index) =>
    foldsOf(page, index > 0).map((fold) => ({ ...fold, start: fold.start + line, end: fold.end + line })),
  );
}

const known = new WeakMap<PageSource, readonly Fold[]>();

/** With lines from the page's start. */
function foldsOf(page: PageSource, experiment: boolean): readonly Fold[] {
  let folds = known.get(page);
  if (!folds) {
    folds = [...(experiment ? whole(page) : []), ...headings(page), ...runs(page), ...long(page)]
      .filter(({ start, end }) => end > start)
      .sort((a, b) => a.start - b.start || b.end - a.end);
    known.set(page, folds);
  }
  return folds;
}

const whole = (page: PageSource): readonly Fold[] => [
  { start: 0, end: lastLine(page, page.blocks.length), kind: 'region' },
];

/** A heading folds up to the next of its level or above. */
function headings(page: PageSource): readonly Fold[] {
  return page.blocks.flatMap(({ block, at }, index) => {
    if (block.kind !== 'heading') return [];
    const level = block.level ?? 1;
    const next = page.blocks.findIndex(
      (b, i) => i > index && b.block.kind === 'heading' && (b.block.level ?? 1) <= level,
    );
    return [
      { start: lineAt(page, at), end: lastLine(page, next < 0 ? page.blocks.length : next), kind: 'region' as const },
    ];
  });
}

/** Log entries one under the other. */
function runs(page: PageSource): readonly Fold[] {
  const folds: Fold[] = [];
  let first = -1;
  page.blocks.forEach(({ block, at }, index) => {
    if (block.clock === undefined) {
      first = -1;
      return;
    }
    const end = lastLine(page, index + 1);
    if (first < 0) {
      first = folds.length;
      folds.push({ start: lineAt(page, at), end });
    } else folds[first] = { ...folds[first]!, end };
  });
  return folds;
}

/** Statements with continuation lines, entries with more text, fences; a run of entries already begins with its first. */
function long(page: PageSource): readonly Fold[] {
  return page.blocks.flatMap(({ block, at }, index) => {
    if (block.kind !== 'statement' && block.kind !== 'fence' && block.kind !== 'log') return [];
    if (block.kind === 'log' && !page.blocks[index - 1]?.block.clock) return [];
    return [
      {
        start: lineAt(page, at),
        end: lastLine(page, index + 1),
        ...(block.kind === 'fence' && { kind: 'comment' as const }),
      },
    ];
  });
}

/** The last line with text on it before a block. */
function lastLine(page: PageSource, before: number): number {
  for (let i = before - 1; i >= 0; i--) {
    const { block, at } = page.blocks[i] as PlacedBlock;
    const text = block.text.trimEnd();
    if (text !== '') return lineAt(page, at + text.length - 1);
  }
  return 0;
}

/** Line of an offset, both from the page's start. */
export function lineAt({ lines }: PageSource, offset: number): number {
  let low = 0;
  let high = lines.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (lines[middle]! <= offset) low = middle;
    else high = middle;
  }
  return low;
}
