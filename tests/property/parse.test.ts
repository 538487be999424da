import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { edit, offsetAt, parse, positionAt, textOf } from '../../grammar/parse';
import type { Block, Fact, Leg, Part, SourceFile, Span, Statement } from '../../grammar/tree';
import { FACTS, KEYWORDS, UNITS } from '../../grammar/vocabulary';

// ------------------------------------------------------------------------------------------ texts to parse

/** Pieces that mean something to the language, so that random joins reach deep into the grammar. */
const PIECES = [
  ...Object.keys(KEYWORDS),
  ...Object.keys(FACTS),
  ...Object.keys(UNITS),
  ...['experiment TB-1: a', 'charge acetic acid: ', 'product x:\n  ', 'reaction R1: A + 2 B -> C', 'measure x: mp '],
  ...[
    'test t: ',
    'note: ',
    '09:40 ',
    '09:40 [JL] ',
    '```',
    '```\n',
    '# ',
    '## Work-up',
    '\uFEFF',
    '\uFEFFexperiment a: b\n',
  ],
  ...[
    '15.0',
    '1,0',
    '1,234',
    '.5',
    '2 × 25 mL',
    '25.00 ± 0.03 mL',
    '133–135 °C',
    '-78 to -90',
    '1.2 × 10⁻³',
    '12.345(6)',
  ],
  ...[
    '(',
    ')',
    '[',
    ']',
    '{',
    '}',
    '(12.2 g, 138 mmol)',
    '(2 × 5 mL)',
    '(S)-citronellal',
    'iron(III)',
    '~~',
    '~~5 g~~',
  ],
  ...[
    ',',
    ', ',
    ';',
    '; ',
    ':',
    ': ',
    '=>',
    ' => ',
    '->',
    ' -> ',
    ' + ',
    '⇌',
    '...',
    '~',
    'ca. ',
    'about ',
    '±',
    '×',
    '–',
  ],
  ...['\n', '\r', '\r\n', '\n\n', '\n  ', '\r\n\t', ' ', '  ', '\t', '\u00a0', '\u202f', '\u2009', '\u2028'],
  ...['α', '𝛼', 'µ', '°', '′', 'é', '\0', '\ud800', 'was', 'x'],
];
const text = fc.oneof(
  { weight: 4, arbitrary: fc.array(fc.constantFrom(...PIECES), { maxLength: 40 }).map((parts) => parts.join('')) },
  { weight: 2, arbitrary: fc.array(fc.constantFrom(...PIECES), { maxLength: 30 }).map((parts) => parts.join(' ')) },
  { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 80 }) },
);

// --------------------------------------------------------------------------------------------------- laws

const blocksOf = (source: SourceFile): Block[] =>
  source.pages.flatMap(({ page }) => page.blocks.map(({ block }) => block));

const partLeaves = (part: Part): Span[] => [part.span];

const factLeaves = (fact: Fact): Span[] => [
  ...(fact.keySpan === undefined ? [] : [fact.keySpan]),
  ...fact.parts.flatMap(partLeaves),
  ...fact.claims.flatMap((claims) => claims.facts.flatMap(factLeaves)),
  ...(fact.equation === undefined
    ? []
    : [...fact.equation.left, fact.equation.arrow, ...fact.equation.right].map((node) => node.span)),
];

const legLeaves = (leg: Leg): Span[] => [
  ...leg.facts.flatMap(factLeaves),
  ...(leg.conclusion === undefined ? [] : [leg.conclusion.span]),
];

const statementLeaves = (statement: Statement): Span[] => [
  statement.keywordSpan,
  ...(statement.subject === undefined ? [] : [statement.subject.span]),
  ...(statement.body.kind === 'text' ? [statement.body.text.span] : statement.body.legs.flatMap(legLeaves)),
];

const inside = (outer: Span, inner: Span) => {
  expect(inner.start).toBeGreaterThanOrEqual(outer.start);
  expect(inner.end).toBeLessThanOrEqual(outer.end);
};

/** Every span lies in its parent's, and siblings follow one another. */
function checkSpans(block: Block): void {
  const { statement } = block;
  if (statement === undefined) return;
  const whole = { start: 0, end: block.text.length };
  inside(whole, statement.span);
  for (const leaf of statementLeaves(statement)) {
    inside(statement.span, leaf);
    expect(leaf.end).toBeGreaterThanOrEqual(leaf.start);
  }
  if (statement.body.kind === 'text') return;
  const { legs } = statement.body;
  const ordered = (spans: readonly Span[]) => {
    for (let i = 1; i < spans.length; i++) expect(spans[i]!.start).toBeGreaterThanOrEqual(spans[i - 1]!.end);
  };
  ordered(legs.map((leg) => leg.span));
  for (const leg of legs) {
    ordered([...leg.facts, ...(leg.conclusion === undefined ? [] : [leg.conclusion])].map((node) => node.span));
    for (const fact of leg.facts) {
      inside(leg.span, fact.span);
      ordered(fact.parts.map((part) => part.span));
      for (const leaf of factLeaves(fact)) inside(fact.span, leaf);
      for (const claims of fact.claims) {
        inside(fact.span, claims.span);
        ordered(claims.facts.map((claim) => claim.span));
        for (const claim of claims.facts) inside(claims.span, claim.span);
      }
    }
  }
}

/** What no leaf covers is punctuation: nothing that was written is lost. */
function checkNothingLost(block: Block): void {
  const { statement } = block;
  if (statement === undefined) return;
  const left = block.text.split('');
  for (const { start, end } of statementLeaves(statement)) left.fill(' ', start, end);
  if (block.clock !== undefined) left.fill(' ', 0, statement.keywordSpan.start);
  expect(left.join('').replace(/=>|[\s,;:()+]/g, '')).toBe('');
}

describe('parsing is total', () => {
  it('gives the text back, with spans that nest, and loses nothing', () => {
    fc.assert(
      fc.property(text, (written) => {
        const source = parse(written);
        expect(textOf(source)).toBe(written);
        expect(source.length).toBe(written.length);
        let line = 0;
        let at = 0;
        for (const placed of source.pages) {
          expect([placed.at, placed.line]).toEqual([at, line]);
          expect(placed.page.blocks.map(({ block }) => block.text).join('')).toBe(placed.page.text);
          for (const { block, at: start } of placed.page.blocks)
            expect(placed.page.text.startsWith(block.text, start)).toBe(true);
          at += placed.page.text.length;
          line += placed.page.lines.length;
        }
        for (const block of blocksOf(source)) {
          checkSpans(block);
          checkNothingLost(block);
        }
      }),
      { numRuns: 20_000 },
    );
  }, 120_000);

  it('gives prose, a heading and a fence no statement', () => {
    fc.assert(
      fc.property(text, (written) => {
        for (const block of blocksOf(parse(written))) {
          expect(block.statement !== undefined).toBe(
            block.kind === 'statement' || (block.kind === 'log' && block.body === undefined),
          );
        }
      }),
      { numRuns: 2000 },
    );
  });

  it('shares equal blocks', () => {
    fc.assert(
      fc.property(text, (written) => {
        const seen = new Map<string, Block>();
        for (const block of blocksOf(parse(`${written}\n${written}`))) {
          const key = `${block.kind} ${block.text}`;
          expect(seen.get(key) ?? block).toBe(block);
          seen.set(key, block);
        }
      }),
      { numRuns: 500 },
    );
  });
});

describe('positions', () => {
  /** Line starts found by another road. */
  const starts = (written: string) => [0, ...[...written.matchAll(/\r\n|\r|\n/g)].map((m) => m.index + m[0].length)];

  it('go there and back', () => {
    fc.assert(
      fc.property(text, fc.nat(), (written, seed) => {
        const source = parse(written);
        const offset = seed % (written.length + 2);
        const lines = starts(written);
        const position = positionAt(source, offset);
        const line = lines.findLastIndex((start) => start <= Math.min(offset, written.length));
        expect(position.line).toBe(line);
        const content = /^[^\r\n]*/.exec(written.slice(lines[line]))![0].length;
        expect(position.character).toBe(Math.min(Math.min(offset, written.length) - lines[line]!, content));
        expect(offsetAt(source, position)).toBe(lines[line]! + position.character);
      }),
      { numRuns: 5000 },
    );
  });
});

describe('an edit', () => {
  const change = fc.record({
    from: fc.nat(),
    length: fc.oneof(fc.nat(3), fc.nat(200)),
    insert: fc.oneof(fc.constant(''), text),
  });

  it('gives what parsing the new text gives', () => {
    fc.assert(
      fc.property(
        fc.array(text, { maxLength: 4 }),
        fc.array(change, { minLength: 1, maxLength: 5 }),
        (pages, changes) => {
          let written = pages.join('\nexperiment X: y\n');
          let source = parse(written);
          for (const { from, length, insert } of changes) {
            const range = {
              start: positionAt(source, from % (written.length + 1)),
              end: positionAt(source, (from % (written.length + 1)) + length),
            };
            const start = offsetAt(source, range.start);
            const end = offsetAt(source, range.end);
            written = written.slice(0, start) + insert + written.slice(end);
            source = edit(source, range, insert);
            expect(source).toEqual(parse(written));
          }
        },
      ),
      { numRuns: 5000 },
    );
  }, 120_000);
});

describe('time grows with length, not faster', () => {
  const MEGA = 1_000_000;
  const fill = (piece: string) => piece.repeat(MEGA / piece.length);

  /** A quadratic scan of a million characters takes minutes, a linear one well under a second. */
  it.each([
    ['prose', fill('word ')],
    ['one word', `charge x: ${fill('w')}`],
    ['keywords without a colon', fill('charge ')],
    ['subject', `charge ${fill('x ')}: 5 g`],
    ['facts', `charge x: ${fill('5 g, ')}`],
    ['claims', `charge x: ${fill('5 g (5 mol), ')}`],
    ['digits', `charge x: ${fill('5')}`],
    ['points', `charge x: ${fill('1.')}`],
    ['dashes', `charge x: ${fill('1–')}`],
    ['ranges', `charge x: ${fill('1 - ')}`],
    ['factors', `charge x: ${fill('1 × ')}`],
    ['powers', `charge x: ${fill('10^')}`],
    ['blanks', `charge x: 5${fill(' ')}g`],
    ['10 000 nested brackets', `charge x: 5 g ${'('.repeat(10_000)}${')'.repeat(10_000)}`],
    ['nested brackets', `charge x: 5 g ${'('.repeat(MEGA / 2)}${')'.repeat(MEGA / 2)}`],
    ['opened brackets', `charge x: 5 g ${fill('( ')}`],
    ['brackets after words', `charge x: 5 g ${fill('a (b) ')}`],
    ['struck', `charge x: ${fill('~~a ')}`],
    ['tildes', `charge x: ${fill('~')}`],
    ['terms', `reaction x: ${fill('A + ')}-> B`],
    ['arrows', `reaction x: ${fill('<')}->`],
    ['spectra', `measure x: ${fill('IR;')}`],
    ['initials', `09:40 ${fill('[')}`],
    ['line ends', fill('\r')],
    ['continuation lines', `charge x: 5 g\n${fill('  5 g\n')}`],
    ['pages', fill('experiment a: b\n')],
    ['5 MB', fill('experiment a: b\ncharge x: 15.0 mL (12.2 g, 138 mmol), limiting\n09:40 On.\nText.\n').repeat(5)],
  ])('%s', (_, written) => {
    const began = performance.now();
    expect(textOf(parse(written)) === written).toBe(true);
    expect(performance.now() - began).toBeLessThan(10_000);
  });

  it('edits a file of very many pages', () => {
    const written = fill('experiment a: b\n').repeat(4);
    const source = parse(written);
    const at = { line: 5, character: 0 };
    const changed = edit(source, { start: at, end: at }, 'note: c\n');
    expect(changed.length).toBe(written.length + 8);
    expect(changed.pages.at(-1)).toMatchObject({ line: source.pages.at(-1)!.line + 1 });
  });
});
