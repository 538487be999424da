import { describe, expect, it } from 'vitest';
import { parse } from '../../../grammar/parse';
import { unitAt } from '../../../grammar/tokens';
import { FACTS, KEYWORDS, UNITS, type UnitRow, type UnitSymbol } from '../../../grammar/vocabulary';

/** The unit read after `5 `, with `!` for a wrong spelling; undefined when the text is none. */
const read = (written: string): string | undefined => {
  const found = unitAt(written, 0);
  if (found === undefined || found.end !== written.length) return undefined;
  return `${found.value.symbol}${found.value.wrong ? '!' : ''}`;
};

const rows = Object.entries(UNITS) as [UnitSymbol, UnitRow][];

describe('every spelling of the table', () => {
  it.each(rows)('%s', (symbol, { also = [], wrong = [], unread }) => {
    if (!unread) expect(read(symbol)).toBe(symbol);
    for (const spelling of also) expect([spelling, read(spelling)]).toEqual([spelling, symbol]);
    for (const spelling of wrong) expect([spelling, read(spelling)]).toEqual([spelling, `${symbol}!`]);
  });

  it('belongs to one unit', () => {
    const owner = new Map<string, string>();
    for (const [symbol, { also = [], wrong = [], unread }] of rows) {
      for (const spelling of [...(unread ? [] : [symbol]), ...also, ...wrong]) {
        expect([spelling, owner.get(spelling) ?? symbol]).toEqual([spelling, symbol]);
        owner.set(spelling, symbol);
      }
    }
  });
});

// Symbols, case and the exponents: SI Brochure (9th ed.) sections 2 and 5, NIST SP 811 (2008) chapters 5 and 6.
// Wrong spellings and the trade's own units: common practice, no source.
describe('look-alikes and forms', () => {
  it.each([
    ['µL', 'µL'],
    ['μL', 'µL'],
    ['ml', 'mL!'],
    ['cc', 'cm³!'],
    ['cm^3', 'cm³'],
    ['cm3', 'cm³'],
    ['g mL-1', 'g/mL'],
    ['g mL⁻¹', 'g/mL'],
    ['g·mL⁻¹', 'g/mL'],
    ['g⋅mL^-1', 'g/mL'],
    ['g\u00a0mL−1', 'g/mL'],
    ['g/ml', 'g/mL!'],
    ['mol L–1', 'mol/L'],
    ['°C', '°C'],
    ['º C', '°C!'],
    ['ºC', '°C!'],
    ['℃', '°C'],
    ['degC', '°C!'],
    ['C', '°C!'],
    ['mmHg', 'mmHg'],
    ['mm Hg', 'mmHg'],
    ['mm   Hg', 'mmHg'],
    ['% w/w', '% w/w'],
    ['%w/w', '% w/w'],
    ['wt%', '% w/w'],
    ['wt %', '% w/w'],
    ['% v/v', '% v/v'],
    ['% w/v', '% w/v'],
    ['mol%', 'mol%'],
    ['mol %', 'mol%'],
    ['g/100 mL', 'g/100 mL'],
    ['cm⁻¹', 'cm⁻¹'],
    ['cm-1', 'cm⁻¹'],
    ['J/(g K)', 'J/(g·K)'],
    ['eq', 'equiv!'],
    ['gm', 'g!'],
    ['cmH₂O', 'cmH2O'],
    ['Å', 'Å'],
  ])('%j', (written, symbol) => {
    expect(read(written)).toBe(symbol);
  });
});

describe('case and ambiguity', () => {
  it.each([
    ['M', 'M'],
    ['mM', 'mM'],
    ['MM', undefined],
    ['mm', 'mm'],
    ['m', 'm'],
    ['gr', 'gr'],
    ['T', 'T'],
    ['D', 'D'],
    ['A', 'A'],
    ['N', 'N'],
    ['n', undefined],
    ['w', undefined],
    ['H', undefined],
    ['in', undefined],
    ['at', undefined],
    ['#', undefined],
    ["'", undefined],
    ['foo', undefined],
    ['gx', undefined],
    ['g/x', undefined],
    ['g²', undefined],
    ['µ', undefined],
  ])('%j', (written, symbol) => {
    expect(read(written)).toBe(symbol);
  });

  it.each([
    ['13C', '13C'],
    ['19F', '19F'],
    ['2D', '2D'],
    ['13 C', '13 °C'],
    ['2M', '2 M'],
    ['30s', '30 s'],
    ['3 in F-2', '3'],
    ['5 g-scale', '5'],
    ['5 mL-flask', '5'],
    ['5 µg', '5 µg'],
  ])('%j reads as %j', (written, shown) => {
    const { body } = parse(`charge x: ${written}`).pages[0]!.page.blocks[0]!.block.statement!;
    if (body.kind !== 'facts') throw new Error('text');
    const part = body.legs[0]!.facts[0]!.parts[0]!;
    expect(
      part.kind === 'quantity'
        ? `${part.number.text}${part.unit === undefined ? '' : ` ${part.unit.symbol}`}`
        : part.text,
    ).toBe(shown);
  });
});

describe('the vocabulary', () => {
  it('has a line of help for every word', () => {
    const help = [...Object.values(KEYWORDS), ...Object.values(FACTS)].map((row) => row.help);
    for (const line of help) expect(line).toMatch(/^\S.{3,}/);
  });

  it('gives facts to every statement that has facts, and to no other', () => {
    for (const { body, facts } of Object.values(KEYWORDS)) expect(facts.length > 0).toBe(body === 'facts');
  });

  it('uses every fact in some statement or claim', () => {
    const used = new Set(Object.values(KEYWORDS).flatMap((row) => row.facts));
    const claimOnly = [
      'lit.',
      'calcd',
      'yield',
      'theoretical',
      'brsm',
      'conversion',
      'recovery',
      'overall',
      'selectivity',
    ];
    expect(
      Object.keys(FACTS)
        .filter((key) => !used.has(key as keyof typeof FACTS))
        .sort(),
    ).toEqual(claimOnly.sort());
  });
});
