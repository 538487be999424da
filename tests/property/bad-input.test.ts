/** Nothing that can be typed makes the engine throw, hang or lose a rule. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { edit, parse, positionAt } from '../../grammar/parse';
import { uriOf } from '../kit/notebook';
import { findingsIn, HABITS, NOTEBOOKS, notebookOf, SAMPLES, strictWorkspace, valuesIn } from './pages';

/** Analyses every page of a notebook; a rule that fails throws here. */
function analyse(files: ReadonlyMap<string, string>): readonly string[] {
  const workspace = notebookOf(files);
  return [...files.keys()].flatMap((name) => {
    valuesIn(workspace, name);
    return findingsIn(workspace, name).map(({ code }) => code);
  });
}
const alone = (text: string): readonly string[] => analyse(new Map([['page.tare', text]]));

describe('a page as far as it has been typed', () => {
  const whole = notebookOf(SAMPLES);

  /** Inside a word of prose one letter more makes no difference; inside the first word of a line it does. */
  const isInsideWord = (text: string, at: number): boolean =>
    /^[a-z]{2}$/.test(text.slice(at, at + 2)) && /^.*\s.*$/.test(text.slice(text.lastIndexOf('\n', at) + 1, at));

  // Typed like in the editor: one character more each time, the other files as they are.
  test.each([...SAMPLES.keys()])(
    '%s',
    (name) => {
      const text = SAMPLES.get(name)!;
      let source = parse('');
      let workspace = whole;
      for (const [at, character] of text.split('').entries()) {
        const end = positionAt(source, source.length);
        source = edit(source, { start: end, end }, character);
        if (isInsideWord(text, at)) continue;
        workspace = workspace.with(new Map([[uriOf(name), source]]));
        findingsIn(workspace, name);
      }
      expect(findingsIn(workspace, name)).toEqual(findingsIn(whole, name));
    },
    120_000,
  );

  test('any end of any line may still be missing', () => {
    const pages = [...NOTEBOOKS.values()].flatMap((files) => [...files.values()]);
    fc.assert(
      fc.property(fc.constantFrom(...pages), fc.nat(), fc.nat(), (text, line, cut) => {
        const lines = text.split('\n');
        const at = line % lines.length;
        lines[at] = lines[at]!.slice(0, cut % (lines[at]!.length + 1));
        alone(lines.join('\n'));
      }),
      { numRuns: 500 },
    );
  });
});

describe('pages that nobody should write', () => {
  test.each([
    ['itself', [['A', 'A']]],
    [
      'two pages',
      [
        ['A', 'B'],
        ['B', 'A'],
      ],
    ],
    [
      'three pages',
      [
        ['A', 'B'],
        ['B', 'C'],
        ['C', 'A'],
      ],
    ],
  ])('from in a circle: %s', (_, links) => {
    const files = new Map(
      links.map(([id, from]) => [
        `${id}.tare`,
        `experiment ${id}: circle\nsubstance acetanilide: C8H9NO, from ${from}\nvessel V-1: flask, tare 10.000 g from ${from}\n` +
          `reaction R1: acetanilide -> acetanilide\ncharge acetanilide: 1.00 g, from ${from}\n` +
          `product acetanilide: gross 10.900 g, in V-1, recrystallised\n`,
      ]),
    );
    expect(() => analyse(files)).not.toThrow();
  });

  test('a long chain of pages', () => {
    const files = new Map(
      Array.from({ length: 300 }, (_, i) => [
        `p${i}.tare`,
        `experiment P-${i}: link\nsubstance acetanilide: C8H9NO, from P-${i + 1}\nreaction R1: acetanilide -> acetanilide\n` +
          `charge acetanilide: 1.00 g, from P-${i + 1}\nproduct acetanilide: 0.90 g\n`,
      ]),
    );
    expect(() => analyse(files)).not.toThrow();
  });

  test('two pages with one ID', () => {
    const files = new Map(['a.tare', 'b.tare'].map((name) => [name, 'experiment TB-1: twice\ndate: 2026-03-02\n']));
    expect(analyse(files).filter((code) => code === 'id-duplicate')).toHaveLength(2);
  });

  test.each([
    '10^400',
    '1e400',
    '1e-400',
    '9'.repeat(500),
    `0.${'0'.repeat(500)}1`,
    '1.5 × 10^-999999999',
    '-5',
    '0',
    '0.000',
    '1e999999999999',
    '1(999999)',
    '5 ± 10^300',
    '1 × 10^10^10',
  ])('the number %s, wherever a number may stand', (number) => {
    const text = `experiment X-1: numbers
balance B: readability ${number} g, capacity ${number} g
substance acid: C2H4O2, density ${number} g/mL, purity ${number} %
substance wet salt: CuSO4·xH2O, x = ${number}
solution base: ${number} g NaOH in water, made up to ${number} mL
vessel V: tare ${number} g
reaction R1: ${number} acid + NaOH -> acetate + water
charge acid: ${number} mL (${number} g, ${number} mmol, ${number} equiv)
charge base: ${number} mL of ${number} M in water
charge hydrogen: ${number} mL, at ${number} °C, at ${number} kPa
product acetate: gross ${number} g (net ${number} g, ${number} %), in V, on B
recovered acid: ${number} mg
measure acetate: HRMS [M+H]+ found ${number}, combustion C ${number}, H ${number}
plan acetate: ${number} g at ${number} %
titrate base: against acid; run ${number} g, titre ${number} mL
`;
    expect(() => alone(text)).not.toThrow();
  });

  test.each([
    ['brackets in a formula', (n: number) => `substance x: ${'('.repeat(n)}C${')2'.repeat(n)}`],
    ['open brackets in a formula', (n: number) => `substance x: ${'(C'.repeat(n)}`],
    ['a hydrate of a hydrate', (n: number) => `substance x: CuSO4${'·5H2O'.repeat(n)}`],
    ['a SMILES of branches', (n: number) => `substance x: SMILES ${'C('.repeat(n)}C${')'.repeat(n)}`],
    ['a huge index', (n: number) => `substance x: C${'9'.repeat(n)}H`],
    [
      'an equation of many terms',
      (n: number) => `reaction R1: ${Array.from({ length: n }, (_, i) => `A${i}`).join(' + ')} -> B`,
    ],
    [
      'an equation of many formulas',
      (n: number) =>
        `reaction R1: ${Array.from({ length: Math.min(n, 60) }, (_, i) => `C${i + 1}H4`).join(' + ')} -> CO2`,
    ],
    ['many facts', (n: number) => `charge x: ${'1.0 g, '.repeat(n)}`],
    ['many claims', (n: number) => `charge acetic acid: 5 mL (${'5 g, '.repeat(n)}1 g)`],
    ['many also', (n: number) => `substance x: C2H6O${', also y'.repeat(n)}`],
    ['dilutions of dilutions', (n: number) => dilutions(Math.min(n, 400))],
    ['a dilution of itself', () => 'solution a: 5 mL a in water, made up to 10 mL\ncharge a: 5 mL'],
    [
      'two dilutions of each other',
      () =>
        'solution a: 5 mL b in water, made up to 10 mL\nsolution b: 5 mL a in water, made up to 10 mL\ncharge a: 5 mL',
    ],
    ['a racemate of itself', () => 'substance x: racemate of x\ncharge x: 5 g'],
  ])('%s', (_, line) => {
    for (const n of [1, 40, 2000])
      expect(() => alone(`experiment X-1: deep\ndate: 2026-03-02\n${line(n)}\n`)).not.toThrow();
  });

  test('any bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => {
        alone(`experiment X-1: bytes\n${new TextDecoder().decode(bytes)}`);
      }),
      { numRuns: 500 },
    );
  });

  test('any characters inside a page', () => {
    const pages = [...HABITS.values(), ...SAMPLES.values()];
    fc.assert(
      fc.property(
        fc.constantFrom(...pages),
        fc.nat(),
        fc.string({ unit: 'binary', maxLength: 6 }),
        (text, seed, insert) => {
          const at = seed % (text.length + 1);
          alone(text.slice(0, at) + insert + text.slice(at));
        },
      ),
      { numRuns: 1000 },
    );
  }, 60_000);

  test('a file that goes away while others build on it', () => {
    const whole = notebookOf(SAMPLES);
    for (const gone of SAMPLES.keys()) {
      const left = whole.with(new Map([[uriOf(gone), undefined]]));
      for (const name of SAMPLES.keys()) if (name !== gone) findingsIn(left, name);
    }
    expect(() => strictWorkspace().snapshot(uriOf('nowhere.tare'))).toThrow(RangeError);
  });
});

const dilutions = (n: number): string =>
  [
    'solution s0: 1.000 g sodium chloride in water, made up to 100 mL',
    ...Array.from({ length: n }, (_, i) => `solution s${i + 1}: 50 mL s${i} in water, made up to 100 mL`),
  ].join('\n');
