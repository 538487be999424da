import { describe, expect, test } from 'vitest';
import { type Completion, completion } from '../../../server/features/completion';
import { readMarked } from '../../kit/fixture';
import { notebook, uriOf } from '../../kit/notebook';
import { positionIn } from './at';

function offered(marked: string, more: Readonly<Record<string, string>> = {}, snippets = true) {
  const { text, cursors } = readMarked(marked);
  const workspace = notebook({ 'page.tare': text, ...more });
  const at = positionIn(text, cursors[0]!);
  const { items, incomplete } = completion(workspace.snapshot(uriOf('page.tare')), workspace, at, { snippets });
  return { items, incomplete, text, at };
}

const labels = (marked: string, more?: Readonly<Record<string, string>>): string[] =>
  [...offered(marked, more).items]
    .sort((a, b) => ((a.sortText ?? a.label) < (b.sortText ?? b.label) ? -1 : 1))
    .map(({ label }) => label);

/** The line once a completion is taken; stops as they are written. */
function taken(marked: string, label: string, more?: Readonly<Record<string, string>>, snippets = true): string {
  const { items, text } = offered(marked, more, snippets);
  const item = items.find((i) => i.label === label);
  if (!item) throw new Error(`${label} is not offered: ${items.map((i) => i.label).slice(0, 20)}`);
  const line = text.split('\n')[item.range.start.line]!;
  return line.slice(0, item.range.start.character) + item.text + line.slice(item.range.end.character);
}

const HEAD = `experiment TB-014: Isopentyl acetate
substance isopentyl alcohol: C5H12O, density 0.810 g/mL at 20 °C
substance acetic acid: C2H4O2, density 1.049 g/mL
vessel F-12: 50 mL flask, tare 41.207 g
balance B-2: readability 0.001 g
reaction R1: isopentyl alcohol + acetic acid -> isopentyl acetate + water
`;

describe('at the start of a line', () => {
  test('keywords, with empty stops', () => {
    expect(labels(`${HEAD}cha‸`)).toContain('charge');
    expect(taken(`${HEAD}cha‸`, 'charge')).toBe('charge $1: $2');
    expect(taken(`${HEAD}‸`, 'date')).toBe('date: ');
    expect(taken(`${HEAD}ves‸`, 'vessel')).toBe('vessel $1: $2, tare $3 g');
  });

  test('the bare word for an editor without stops, or before more text', () => {
    expect(taken(`${HEAD}cha‸`, 'charge', {}, false)).toBe('charge');
    expect(taken(`${HEAD}cha‸ acetic acid: 5 mL`, 'charge')).toBe('charge acetic acid: 5 mL');
  });

  test('behind a time of day, but no page begins there', () => {
    expect(taken(`${HEAD}09:40 cha‸`, 'charge')).toBe('09:40 charge $1: $2');
    expect(labels(`${HEAD}09:40 ‸`)).not.toContain('experiment');
    expect(labels(`${HEAD}09:40‸`)).toEqual([]);
  });
});

describe('names', () => {
  test('of what the equation needs and has not got first', () => {
    const names = labels(`${HEAD}charge acetic acid: 20.0 mL\ncharge ‸`);
    expect(names[0]).toBe('isopentyl alcohol');
    expect(labels(`${HEAD}product ‸`)[0]).toBe('isopentyl acetate');
    expect(labels(`${HEAD}recovered ‸`)[0]).toBe('isopentyl alcohol');
  });

  test('are written with the colon that is still missing', () => {
    expect(taken(`${HEAD}charge ac‸`, 'acetic acid')).toBe('charge acetic acid: ');
    expect(taken(`${HEAD}charge ac‸: 5 mL`, 'acetic acid')).toBe('charge acetic acid: 5 mL');
  });

  test('replace all that was typed of them, blanks and brackets too', () => {
    expect(taken(`${HEAD}charge isopentyl al‸`, 'isopentyl alcohol')).toBe('charge isopentyl alcohol: ');
    expect(taken(`${HEAD}substance (S)-citronellal: C10H18O\ncharge (S‸`, '(S)-citronellal')).toBe(
      'charge (S)-citronellal: ',
    );
  });

  test('of the handbook bring their line with them', () => {
    const { items } = offered(`${HEAD}charge tolu‸`);
    const toluene = items.find(({ label }) => label === 'toluene') as Completion;
    expect(toluene.description).toBe('handbook');
    expect(toluene.additional).toEqual([
      {
        range: { start: { line: 3, character: 0 }, end: { line: 3, character: 0 } },
        text: expect.stringMatching(/^substance toluene: C\S+,.* CAS 108-88-3\n$/),
      },
    ]);
  });

  test('of the handbook come with the second letter', () => {
    expect(offered(`${HEAD}charge t‸`)).toMatchObject({ incomplete: true });
    expect(labels(`${HEAD}charge t‸`)).not.toContain('toluene');
    expect(offered(`${HEAD}charge to‸`).incomplete).toBe(false);
  });

  test('of a register and of the head of the file', () => {
    const register = { 'lab.tare': 'substance secret acid: C2H4O2\nvessel F-99: flask, tare 12.3 g\n' };
    expect(labels(`${HEAD}charge ‸`, register)).toContain('secret acid');
    expect(labels(`substance head acid: C2H4O2\n${HEAD}charge ‸`)).toContain('head acid');
    expect(labels(`${HEAD}charge acetic acid: gross 50 g, in ‸`, register)).toEqual(
      expect.arrayContaining(['F-12', 'F-99']),
    );
  });

  test('in an equation', () => {
    expect(taken(`${HEAD}reaction R2: acetic acid + isop‸`, 'isopentyl acetate')).toBe(
      'reaction R2: acetic acid + isopentyl acetate',
    );
    expect(taken(`${HEAD}reaction R2: acetic acid -> ‸`, 'water')).toBe('reaction R2: acetic acid -> water');
  });

  test('of vessels, balances and pages behind in, on and from', () => {
    expect(labels(`${HEAD}charge acetic acid: gross 50 g, in ‸`)).toEqual(['F-12']);
    expect(labels(`${HEAD}charge acetic acid: gross 50 g, on ‸`)).toEqual(['B-2']);
    const other = { 'other.tare': 'experiment TB-009: Other\nproduct ester: 5.0 g, label V-3\n' };
    expect(labels(`${HEAD}charge acetic acid: 5.0 g, from ‸`, other)).toEqual(['TB-009', 'TB-009/V-3']);
  });
});

describe('facts', () => {
  test('of this statement, those that are not there yet', () => {
    const found = labels(`${HEAD}charge acetic acid: 20.0 mL, limiting, ‸`);
    expect(found).toEqual(expect.arrayContaining(['solvent', 'catalyst', 'from']));
    expect(found).not.toContain('limiting');
    expect(found).not.toContain('readability');
  });

  test('right behind the comma they bring the blank', () => {
    expect(taken(`${HEAD}charge acetic acid: 20.0 mL,‸`, 'catalyst')).toBe('charge acetic acid: 20.0 mL, catalyst');
    expect(taken(`${HEAD}charge acetic acid: 20.0 mL, cat‸`, 'catalyst')).toBe('charge acetic acid: 20.0 mL, catalyst');
    expect(taken(`${HEAD}charge acetic acid:‸`, 'gross')).toBe('charge acetic acid: gross $1 g');
  });

  test('on a line that continues the statement', () => {
    expect(taken(`${HEAD}product isopentyl acetate: 5.0 g\n  dis‸`, 'distilled')).toBe('  distilled');
  });
});

describe('units', () => {
  test('of the kinds that fit, behind a number', () => {
    expect(labels(`${HEAD}charge acetic acid: 20.0 ‸`).slice(0, 2)).toEqual(['mL', 'L']);
    expect(labels(`${HEAD}charge acetic acid: gross 20.0 ‸`)).toEqual(['g', 'mg', 'kg', 'µg']);
    expect(labels(`${HEAD}substance x: C2H4O2, density 1.05 ‸`)[0]).toBe('g/mL');
    expect(taken(`${HEAD}charge acetic acid: 20.0‸`, 'mL')).toBe('charge acetic acid: 20.0 mL');
    expect(taken(`${HEAD}charge acetic acid: 20.0 m‸`, 'mL')).toBe('charge acetic acid: 20.0 mL');
  });

  test('found by the letters of the keyboard', () => {
    expect(taken(`${HEAD}charge acetic acid: 20 ul‸`, 'µL')).toBe('charge acetic acid: 20 µL');
  });
});

describe('claims', () => {
  const CHARGED = `${HEAD}charge isopentyl alcohol: 15.0 mL, limiting\n`;

  test('what can be computed, with the digits of the measurement', () => {
    // 20.0 mL × 1.049 g/mL = 20.98 g; ÷ 60.052 g/mol = 349.4 mmol; ÷ 137.8 mmol = 2.53
    expect(labels(`${CHARGED}charge acetic acid: 20.0 mL (‸`)).toEqual([
      '21.0 g, 349 mmol, 2.53 equiv',
      '21.0 g',
      '349 mmol',
      '2.53 equiv',
    ]);
    expect(taken(`${CHARGED}charge acetic acid: 20.0 mL (‸)`, '349 mmol')).toBe(
      'charge acetic acid: 20.0 mL (349 mmol)',
    );
  });

  test('what is claimed already is not offered again', () => {
    expect(labels(`${CHARGED}charge acetic acid: 20.0 mL (21.0 g, ‸`)).toEqual([
      '349 mmol, 2.53 equiv',
      '349 mmol',
      '2.53 equiv',
    ]);
  });

  test('net and yield of a product', () => {
    expect(labels(`${CHARGED}product isopentyl acetate: gross 54.881 g, in F-12 (‸`)).toEqual(
      expect.arrayContaining(['net 13.674 g', '76.2 %']),
    );
  });
});

describe('accept', () => {
  test('the rules that found something on the page first', () => {
    const found = labels(`${HEAD}product isopentyl acetate: gross 54.881 g, in beaker 4\naccept ‸`);
    expect(found).toContain('tare-missing');
    expect(found.indexOf('tare-missing')).toBeLessThan(found.indexOf('net-mismatch'));
  });
});

describe('never', () => {
  test.each([
    'Washed with water, ‸',
    'Washed with water (‸',
    'Note: ‸',
    'charge was taken from the bottle, ‸',
    '09:40 Stirred, ‸',
    '09:‸',
    '# Heading, ‸',
    '```\ncharge ‸\n```',
    'author: MK, ‸',
    'note: charge ‸',
    'charge acetic acid: 20.0 mL ‸',
    'charge acetic acid: 20.0 mL, limiting ‸',
  ])('%s', (line) => {
    expect(labels(`${HEAD}${line}`)).toEqual([]);
  });

  test('a number outside a claim group, or a range that is not the word at the cursor', () => {
    const text = `${HEAD}charge isopentyl alcohol: 15.0 mL, limiting\ncharge acetic acid: 20.0 mL (21.0 g), from the bottle\nsolution x: 8.00 g sodium hydroxide in water\n`;
    for (let offset = HEAD.length - 40; offset < text.length; offset++) {
      const { items, at } = offered(`${text.slice(0, offset)}‸${text.slice(offset)}`);
      for (const item of items) {
        expect(item.range.end).toEqual(at);
        expect(item.range.start.line).toBe(at.line);
        if (item.kind === 'Value') expect(text.slice(0, offset).split('\n').at(-1)).toMatch(/ \([^)]*$/);
        else expect(item.text).not.toMatch(/^ ?\d[\d.]* ?(?:g|mL|mmol)\b/);
      }
    }
  });
});
