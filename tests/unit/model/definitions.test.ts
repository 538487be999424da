/** What a page declares, as written. */
import { describe, expect, it } from 'vitest';
import { parse } from '../../../grammar/parse';
import { readDefinitions } from '../../../server/model/definitions';

const read = (text: string) =>
  readDefinitions(parse(text).pages[0]!.page, {
    where: { kind: 'register', uri: 'u' },
    elsewhere: { where: 'stock.tare', uri: 'u' },
  });
const substance = (facts: string) => read(`substance it: ${facts}`).substances[0]!;
const solution = (facts: string) => read(`solution it: ${facts}`).solutions[0]!;
const textOf = (
  datum:
    | { readonly quantity: { readonly number: { readonly text: string }; readonly unit?: { readonly symbol: string } } }
    | undefined,
) => datum && `${datum.quantity.number.text} ${datum.quantity.unit?.symbol}`;

describe('a substance', () => {
  const all = substance(
    'C5H12O, molar mass 88.15 g/mol, density 0.810 g/mL at 20 °C, purity 99 %, CAS 123-51-3, lot A-1, supplier Stores, mp −117 °C, ' +
      'bp 131 °C, hazard H226 H315 EUH066, also isoamyl alcohol, also 3-methylbutan-1-ol, from TB-011/V-3, state liquid',
  );
  it('with everything', () => {
    expect(all).toMatchObject({
      name: 'it',
      formula: { text: 'C5H12O' },
      cas: { text: '123-51-3' },
      lot: { text: 'A-1' },
      supplier: { text: 'Stores' },
      hazards: ['H226', 'H315', 'EUH066'],
      made: { id: 'TB-011', label: 'V-3' },
      state: 'liquid',
    });
    expect([all.molarMass, all.density, all.densityAt, all.purity, all.mp, all.bp].map(textOf)).toEqual([
      '88.15 g/mol',
      '0.810 g/mL',
      '20 °C',
      '99 %',
      '−117 °C',
      '131 °C',
    ]);
    expect(all.also.map((a) => a.text)).toEqual(['isoamyl alcohol', '3-methylbutan-1-ol']);
  });
  it('a density whose temperature is a fact of its own', () =>
    expect(textOf(substance('C5H12O, density 0.810 g/mL, at 20 °C').densityAt)).toBe('20 °C'));
  it.each([
    ['white powder', undefined],
    ['solid', undefined],
    ['C6H6', 'C6H6'],
    ['CuSO4·5H2O', 'CuSO4·5H2O'],
    ['12.5 g', undefined],
    ['state mixture', undefined],
    ['SMILES CCO', undefined],
    ['', undefined],
  ])('%j: formula %s', (facts, formula) => expect(substance(facts).formula?.text).toBe(formula));
  it('a formula that cannot be read says why and where', () =>
    expect(substance('C5H12Xq').formula).toMatchObject({
      text: 'C5H12Xq',
      problem: expect.any(String),
      at: expect.any(Number),
    }));
  it('x is put into the formula', () => {
    expect(substance('CuSO4·xH2O, x = 2.4').formula?.formula).toBeDefined();
    expect(substance('CuSO4·xH2O').formula?.formula).toBeUndefined();
  });
  it('supports, wet goods, polymers, racemates', () => {
    expect(textOf(substance('Pd, loading 10 % w/w, wet 50 %').loading)).toBe('10 % w/w');
    expect(textOf(substance('Pd, loading 10 % w/w, wet 50 %').wet)).toBe('50 %');
    expect(substance('repeat unit C8H8').repeatUnit?.text).toBe('C8H8');
    expect(substance('racemate of (S)-it').racemateOf?.text).toBe('(S)-it');
  });
  it('`from the still` is a remark, no page', () => expect(substance('C5H12O, from the still').made).toBeUndefined());
  it('a state that is none is no state', () => expect(substance('C5H12O, state oily').state).toBeUndefined());
  it('remembers where it stands, from its own statement', () => {
    const { substances } = read('vessel F-1: flask\n\nsubstance it: C5H12O, purity 99 %\n');
    expect(substances[0]!.purity?.origin).toEqual({
      from: 'there',
      where: 'stock.tare',
      uri: 'u',
      entry: 'substance it',
      start: 29,
      end: 33,
    });
    expect(substances[0]!.span).toEqual({ start: 29, end: 31 });
  });
});

describe('a solution', () => {
  it('the last ` in ` splits', () => {
    const draft = solution('2.0 M sodium in mercury in water, density 1.08 g/mL at 20 °C');
    expect([draft.solute?.text, draft.solvent?.text, textOf(draft.density), textOf(draft.densityAt)]).toEqual([
      'sodium in mercury',
      'water',
      '1.08 g/mL',
      '20 °C',
    ]);
  });
  it.each([
    ['2.0 M NaOH in water', 'written'],
    ['96 % w/w NaOH in water', 'written'],
    ['8.00 g NaOH in water, made up to 100 mL', 'made-up'],
    ['50 mmol NaOH in water, made up to 100 mL', 'made-up'],
    ['25.0 mL stock in water, made up to 500 mL', 'made-up'],
    ['saturated NaOH in water', 'saturated'],
  ])('%s: %s', (facts, kind) => expect(solution(facts).strength?.kind).toBe(kind));
  it('without a solvent, without anything', () => {
    expect(solution('2.0 M NaOH')).toMatchObject({ solute: { text: 'NaOH' } });
    expect(solution('').strength).toBeUndefined();
  });
  it('keeps its claims', () =>
    expect(
      solution('8.00 g NaOH in water, made up to 100 mL (2.00 mol/L)').claims.map((c) => c.quantity.number.text),
    ).toEqual(['2.00']));
});

describe('vessels and balances', () => {
  it('tares, a description, an empty slot', () => {
    const { vessels } = read(
      'vessel F-12: 50 mL round-bottom flask, tare 41.207 g at 09:00, tare 41.205 g at 10:00\nvessel F-13: tare g\nvessel F-14:\n',
    );
    expect(
      vessels.map((v) => [v.name, v.tares.map((t) => t.datum.quantity.number.text), v.emptyTare !== undefined]),
    ).toEqual([
      ['F-12', ['41.207', '41.205'], false],
      ['F-13', [], true],
      ['F-14', [], false],
    ]);
    expect(vessels[0]!.tares.map((t) => t.seconds)).toEqual([9 * 3600, 10 * 3600]);
  });
  it('a tare of another page is cited', () =>
    expect(read('vessel F-12: flask, tare 27.236 g from HO-305').vessels[0]!.tares[0]!.from).toMatchObject({
      id: 'HO-305',
    }));
  it('a balance', () =>
    expect(
      read('balance B-2: readability 0.001 g, repeatability 0.001 g, capacity 220 g, minimum 20 mg, checked 2026-01-12')
        .balances[0],
    ).toMatchObject({
      name: 'B-2',
      readability: { quantity: { number: { text: '0.001' } } },
      checked: { text: '2026-01-12' },
    }));
  it('a statement without a subject declares nothing', () =>
    expect(read('substance: C6H6\nvessel: flask\nbalance: readability 1 g\n')).toMatchObject({
      substances: [],
      solutions: [],
      vessels: [],
      balances: [],
    }));
  it('an empty vessel that was weighed, unless it is declared', () => {
    expect(read('weigh F-1: tare 41.207 g').vessels.map((v) => v.name)).toEqual(['F-1']);
    expect(read('vessel f-1: flask\nweigh F-1: tare 41.207 g').vessels).toHaveLength(1);
    expect(read('weigh salt: tare 41.207 g, gross 51.2 g').vessels).toEqual([]);
  });
});
