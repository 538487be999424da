import { describe, expect, test } from 'vitest';
import { type HintOptions, inlayHints } from '../../../server/features/inlay-hints';
import { notebook, uriOf } from '../../kit/notebook';

const ALL: HintOptions = { charges: true, products: true };
const EVERYWHERE = { start: { line: 0, character: 0 }, end: { line: 999, character: 0 } };

interface Shown {
  /** The line with the hint where it stands. */
  readonly line: string;
  /** The line once the hint is accepted. */
  readonly accepted?: string;
}

function hints(text: string, options = ALL, range = EVERYWHERE, quiet?: number): Shown[] {
  const snapshot = notebook({ 'page.tare': text }).snapshot(uriOf('page.tare'));
  return inlayHints(snapshot, range, options, quiet).map(({ position: { line, character }, label, edit }) => {
    const own = text.split('\n')[line]!;
    const put = (more: string) => own.slice(0, character) + more + own.slice(character);
    return { line: put(`«${label}»`), ...(edit && { accepted: put(edit.text) }) };
  });
}

/** The numbers: see hover.test.ts. */
const HEAD = `experiment TB-014: Isopentyl acetate
substance isopentyl alcohol: C5H12O, density 0.810 g/mL at 20 °C
substance acetic acid: C2H4O2, density 1.049 g/mL, purity 99.7 %
substance isopentyl acetate: C7H14O2
vessel F-12: 50 mL flask, tare 41.207 g
reaction R1: isopentyl alcohol + acetic acid -> isopentyl acetate + water
`;
const ALCOHOL = 'charge isopentyl alcohol: 15.0 mL, limiting\n';
const lineOf = (shown: readonly Shown[], start: string) => shown.filter(({ line }) => line.startsWith(start));

describe('what went in', () => {
  test('mass, amount and equivalents behind the number; accepted with the digits of the measurement', () => {
    expect(
      lineOf(hints(`${HEAD}${ALCOHOL}charge acetic acid: 20.0 mL, from the new bottle\n`), 'charge acetic'),
    ).toEqual([
      {
        line: 'charge acetic acid: 20.0 mL«20.98 g · 348.3 mmol · 2.53 equiv», from the new bottle',
        accepted: 'charge acetic acid: 20.0 mL (21.0 g, 348 mmol, 2.53 equiv), from the new bottle',
      },
    ]);
  });

  test('none where something is claimed, none for what nobody counts, none without a number', () => {
    const text = `${HEAD}${ALCOHOL}charge acetic acid: 20.0 mL (348 mmol)
charge toluene: 20 mL, solvent
charge water: excess
charge nonsuch: 5.0 mL
`;
    expect(hints(text).filter(({ line }) => /^charge (?:acetic|toluene|water|nonsuch)/.test(line))).toEqual([]);
  });

  test('by difference: the net', () => {
    const [hint] = lineOf(
      hints(`${HEAD}${ALCOHOL}charge acetic acid: before 14.382 g, after 13.747 g\n`),
      'charge acetic',
    );
    expect(hint?.accepted).toMatch(
      /^charge acetic acid: before 14\.382 g, after 13\.747 g \(net 0\.635 g, 10\.5 mmol, 0\.0765 equiv\)$/,
    );
  });

  test('a catalyst in mol%', () => {
    const [hint] = lineOf(hints(`${HEAD}${ALCOHOL}charge sulfuric acid: 100 mg, catalyst\n`), 'charge sulfuric');
    // 0.100 g ÷ 98.07 g/mol = 1.020 mmol, of 137.8 mmol 0.740 %
    expect(hint?.accepted).toBe('charge sulfuric acid: 100 mg (1.02 mmol, 0.740 mol%), catalyst');
  });

  test('in the equation: how much there is, and which runs out', () => {
    expect(lineOf(hints(`${HEAD}${ALCOHOL}charge acetic acid: 20.0 mL\n`), 'reaction').map(({ line }) => line)).toEqual(
      [
        expect.stringContaining('isopentyl alcohol«137.8 mmol, limiting» +'),
        expect.stringContaining('acetic acid«348.3 mmol» ->'),
      ],
    );
  });

  test('a plan says what to take', () => {
    // 137.8 mmol × 2.5 = 344.6 mmol; × 60.052 g/mol ÷ 99.7 % = 20.75 g
    const [hint] = lineOf(hints(`${HEAD}${ALCOHOL}plan acetic acid: 2.50 equiv\n`), 'plan');
    expect(hint?.line).toMatch(/^plan acetic acid: 2\.50 equiv«take 20\.\d+ g/);
    expect(hint?.accepted).toBeUndefined();
  });
});

describe('what came out', () => {
  test('net, amount and yield, behind the last reading', () => {
    const [hint] = lineOf(hints(`${HEAD}${ALCOHOL}product isopentyl acetate: gross 54.881 g, in F-12\n`), 'product');
    expect(hint?.line).toMatch(
      /^product isopentyl acetate: gross 54\.881 g«net 13\.674 g · 105\.03\d? mmol · 76\.2 %», in F-12$/,
    );
    expect(hint?.accepted).toMatch(
      /^product isopentyl acetate: gross 54\.881 g \(net 13\.674 g, 105\.03 mmol, 76\.2 %\), in F-12$/,
    );
  });

  test('nothing without the tare', () => {
    expect(
      lineOf(hints(`${HEAD}${ALCOHOL}product isopentyl acetate: gross 54.881 g, in beaker 4\n`), 'product'),
    ).toEqual([]);
  });
});

describe('which', () => {
  const TEXT = `${HEAD}${ALCOHOL}charge acetic acid: 20.0 mL\nproduct isopentyl acetate: 13.674 g\n`;

  test('charges and products have a switch each', () => {
    expect(lineOf(hints(TEXT, { charges: false, products: true }), 'charge')).toEqual([]);
    expect(lineOf(hints(TEXT, { charges: false, products: true }), 'product')).toHaveLength(1);
    expect(lineOf(hints(TEXT, { charges: true, products: false }), 'product')).toEqual([]);
  });

  test('only in the lines asked for, and not in the one being written', () => {
    const seven = { start: { line: 7, character: 0 }, end: { line: 7, character: 999 } };
    expect(hints(TEXT, ALL, seven)).toHaveLength(1);
    expect(hints(TEXT, ALL, seven, 7)).toEqual([]);
  });

  test('an accepted hint is a right claim, and the hint is gone', () => {
    const [hint] = lineOf(hints(TEXT), 'charge acetic');
    const accepted = TEXT.replace(/charge acetic.*/, hint!.accepted!);
    expect(lineOf(hints(accepted), 'charge acetic')).toEqual([]);
    const result = notebook({ 'page.tare': accepted }).snapshot(uriOf('page.tare')).page(1);
    expect(result.values.claims.map(({ verdict }) => verdict)).toEqual(['rounded', 'rounded', 'rounded']);
  });

  test('prose has none', () => {
    expect(hints('experiment A\nWashed with water, 2 × 25 mL, then 5 mL brine.\n')).toEqual([]);
  });
});
