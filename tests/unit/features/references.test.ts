import { describe, expect, test } from 'vitest';
import { highlights } from '../../../server/features/highlight';
import { references } from '../../../server/features/references';
import { prepareRename, rename } from '../../../server/features/rename';
import { edited, marked, PAGE, seen, textAt } from './notebook';

function places(text: string, others: Readonly<Record<string, string>> = {}, declaration = true): readonly string[] {
  const { workspace, at } = marked(text, others);
  return references(workspace, PAGE, at, declaration).map(({ uri, range }) => `${uri} ${seen(workspace, uri, range)}`);
}

const ESTER = `experiment TB-014: Ester
substance acetic acid: C2H4O2, also AcOH, density 1.049 g/mL
reaction R1: acetic acid + C5H12O -> ester + water
charge AcOH: 20.0 mL
recovered acetic acid: 1.0 g
`;

describe('references', () => {
  test('of a substance: by every name it has', () => {
    expect(places(ESTER.replace('recovered acetic', 'recovered ‸acetic'))).toEqual([
      'page.tare substance [acetic acid]: C2H4O2, also AcOH, density 1.049 g/mL',
      'page.tare substance acetic acid: C2H4O2, also [AcOH], density 1.049 g/mL',
      'page.tare reaction R1: [acetic acid] + C5H12O -> ester + water',
      'page.tare charge [AcOH]: 20.0 mL',
      'page.tare recovered [acetic acid]: 1.0 g',
    ]);
  });

  test('of a substance: in tests, titrations and what else names it', () => {
    const text = `experiment A: a
solution base: 4.0 g NaOH in water, made up to 1.00 L
substance aspirin: C9H8O4
test iron(III) chloride: of aspi‸rin, at 22 °C, no colour => pure
titrate aspirin: 0.5 g with base, titre 24.78 mL
titrate base: against aspirin, run 0.5 g
neutralise aspirin: with base, to pH 7
consider recrystallisation of aspirin: from ethanol, loss 5 %
`;
    expect(places(text)).toEqual([
      'page.tare substance [aspirin]: C9H8O4',
      'page.tare test iron(III) chloride: of [aspirin], at 22 °C, no colour => pure',
      'page.tare titrate [aspirin]: 0.5 g with base, titre 24.78 mL',
      'page.tare titrate base: against [aspirin], run 0.5 g',
      'page.tare neutralise [aspirin]: with base, to pH 7',
      'page.tare consider recrystallisation of [aspirin]: from ethanol, loss 5 %',
    ]);
    expect(places(text.replace('‸', '').replace('solution base', 'solution ba‸se')).length).toBe(4);
  });

  test('without its declaration', () => {
    expect(places(ESTER.replace('recovered acetic', 'recovered ‸acetic'), {}, false)[0]).toContain('also [AcOH]');
  });

  test('a page that declares the name itself means its own', () => {
    const others = {
      'register.tare': 'substance salt: NaCl\n',
      'b.tare': 'experiment B: b\nsubstance salt: KCl\ncharge salt: 1 g\n',
      'c.tare': 'experiment C: c\ncharge salt: 2 g\n',
    };
    expect(places('experiment A: a\ncharge sa‸lt: 5 g\n', others)).toEqual([
      'page.tare charge [salt]: 5 g',
      'register.tare substance [salt]: NaCl',
      'c.tare charge [salt]: 2 g',
    ]);
  });

  test('of a vessel: on every page, since it is one vessel', () => {
    const others = { 'b.tare': 'experiment B: b\nvessel F-12: tare 41.207 g\nproduct x: gross 42 g, in f‑12\n' };
    expect(places('experiment A: a\nproduct x: gross 54.881 g, in F-1‸2\n', others)).toEqual([
      'page.tare product x: gross 54.881 g, in [F-12]',
      'b.tare vessel [F-12]: tare 41.207 g',
      'b.tare product x: gross 42 g, in [f‑12]',
    ]);
  });

  test('of a page: batches and plain text', () => {
    const others = { 'b.tare': 'experiment B: b\naim: more of TA-7\nAs on TA-7.\ncharge ester: 1 g, from TA-7\n' };
    expect(places('experiment TA‸-7: a\nproduct ester: 5 g\n', others)).toEqual([
      'page.tare experiment [TA-7]: a',
      'b.tare aim: more of [TA-7]',
      'b.tare As on [TA-7].',
      'b.tare charge ester: 1 g, from [TA-7]',
    ]);
  });

  test('prose has none', () => {
    expect(places('experiment A: a\nacetic ac‸id was added\n')).toEqual([]);
  });
});

test('highlights: declared is written, used is read', () => {
  const { workspace, at } = marked(ESTER.replace('charge AcOH', 'charge Ac‸OH'));
  expect(
    highlights(workspace.snapshot(PAGE), at).map(({ range, write }) => [textAt(workspace, PAGE, range), write]),
  ).toEqual([
    ['acetic acid', true],
    ['AcOH', false],
    ['acetic acid', false],
    ['AcOH', false],
    ['acetic acid', false],
  ]);
});

describe('rename', () => {
  function renamed(
    text: string,
    to: string,
    others: Readonly<Record<string, string>> = {},
  ): Readonly<Record<string, string>> | string {
    const { workspace, at } = marked(text, others);
    const edits = rename(workspace, PAGE, at, to);
    if ('refused' in edits) return edits.refused;
    return Object.fromEntries([...edits].map(([uri, list]) => [uri, edited(workspace, uri, list)]));
  }

  test('a substance: where it is written so; other names and formulas stay', () => {
    const page =
      'experiment A: a\nsubstance acid: C2H4O2, also AcOH\ncharge ac‸id: 5 g\ncharge AcOH: 5 g\ncharge C2H4O2: 1 g\n';
    expect(renamed(page, 'vinegar essence')).toEqual({
      [PAGE]:
        'experiment A: a\nsubstance vinegar essence: C2H4O2, also AcOH\ncharge vinegar essence: 5 g\ncharge AcOH: 5 g\ncharge C2H4O2: 1 g\n',
    });
  });

  test('another name of a substance', () => {
    const page = 'experiment A: a\nsubstance acid: C2H4O2, also my acid\ncharge my ac‸id: 5 g\ncharge acid: 5 g\n';
    expect(renamed(page, 'our acid')).toEqual({
      [PAGE]: 'experiment A: a\nsubstance acid: C2H4O2, also our acid\ncharge our acid: 5 g\ncharge acid: 5 g\n',
    });
  });

  test('a vessel and a page, in every file', () => {
    expect(
      renamed('experiment A: a\nvessel F-1‸2: tare 41.2 g\n', 'F-13', {
        'b.tare': 'experiment B: b\nproduct x: gross 42.5 g, in F-12\n',
      }),
    ).toEqual({
      [PAGE]: 'experiment A: a\nvessel F-13: tare 41.2 g\n',
      'b.tare': 'experiment B: b\nproduct x: gross 42.5 g, in F-13\n',
    });
    expect(
      renamed('experiment TB‸-7: a\nproduct x: 5 g\n', 'TB-8', {
        'b.tare': 'experiment B: b\nSee TB-7 for it.\ncharge x: 1 g, from TB-7\n',
      }),
    ).toEqual({
      [PAGE]: 'experiment TB-8: a\nproduct x: 5 g\n',
      'b.tare': 'experiment B: b\nSee TB-8 for it.\ncharge x: 1 g, from TB-8\n',
    });
  });

  test('the page of a labelled batch; the label stays', () => {
    const others = { 'b.tare': 'experiment TB-7: b\nproduct x: 5 g, label V-3\n' };
    expect(renamed('experiment A: a\ncharge x: 1 g, from TB‸-7/V-3\n', 'TB-8', others)).toEqual({
      [PAGE]: 'experiment A: a\ncharge x: 1 g, from TB-8/V-3\n',
      'b.tare': 'experiment TB-8: b\nproduct x: 5 g, label V-3\n',
    });
  });

  test('a substance of a register, on every page that means it', () => {
    const others = {
      'register.tare': 'substance house salt: NaCl, also HS\n',
      'b.tare': 'experiment B: b\nsubstance house salt: KCl\ncharge house salt: 1 g\n',
    };
    expect(renamed('experiment A: a\ncharge house sa‸lt: 1 g\ncharge HS: 1 g\n', 'table salt', others)).toEqual({
      [PAGE]: 'experiment A: a\ncharge table salt: 1 g\ncharge HS: 1 g\n',
      'register.tare': 'substance table salt: NaCl, also HS\n',
    });
    expect(renamed('experiment A: a\ncharge house salt: 1 g\ncharge H‸S: 1 g\n', 'TS', others)).toEqual({
      [PAGE]: 'experiment A: a\ncharge house salt: 1 g\ncharge TS: 1 g\n',
      'register.tare': 'substance house salt: NaCl, also TS\n',
    });
  });

  test.each([
    ['a formula', 'experiment A: a\nsubstance acid: C2H4O2\ncharge C2H‸4O2: 5 g\n', 'x', 'C2H4O2 is a formula'],
    ['a name of the handbook', 'experiment A: a\ncharge tolu‸ene: 5 g\n', 'x', 'toluene is a name of the handbook'],
    ['prose', 'experiment A: a\nPlain pro‸se\n', 'x', 'There is no name here'],
    ['an empty name', 'experiment A: a\nvessel F‸-1: tare 4.1 g\n', '  ', 'cannot be empty'],
    ['a name with a colon', 'experiment A: a\nvessel F‸-1: tare 4.1 g\n', 'F: 2', 'holds no colon'],
    ['an ID with a blank', 'experiment A‸-1: a\n', 'A 2', 'holds no blanks'],
    [
      'a name that is taken',
      'experiment A: a\nvessel F‸-1: tare 4.1 g\nvessel F-2: tare 4.2 g\n',
      'F-2',
      'already a vessel',
    ],
    [
      'a signed page',
      'experiment A: a\nvessel F‸-1: tare 4.1 g\nsigned: MK, 2026-03-04 17:20\n',
      'F-2',
      'Page A is signed',
    ],
    [
      'a name that ends the statement',
      'experiment A: a\nsubstance acid: C2H4O2\ncharge ac‸id: 5 g\n',
      'acid was here',
      'would not be read',
    ],
  ])('refuses %s', (_, text, to, says) => {
    expect(renamed(text, to)).toContain(says);
  });

  test('prepares with the text under the cursor', () => {
    const { workspace, at } = marked('experiment A: a\nsubstance acetic acid: C2H4O2\ncharge acetic ac‸id: 5 g\n');
    const prepared = prepareRename(workspace, PAGE, at);
    expect(prepared).toMatchObject({ placeholder: 'acetic acid' });
    expect('range' in prepared && textAt(workspace, PAGE, prepared.range)).toBe('acetic acid');
  });
});
