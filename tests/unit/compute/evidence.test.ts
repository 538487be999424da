import { describe, expect, it, test } from 'vitest';
import { judgeConclusion } from '../../../server/chem/conclusion';
import { knownTests } from '../../../server/chem/tests';
import { usedInEvidence } from '../../../server/compute/evidence';
import { confirming } from '../../../server/compute/tests';
import type { Values } from '../../../server/compute/values';
import { isHeld, uncertainty } from '../../../server/quantity/held';
import { show } from '../../../server/quantity/show';
import { notebook, uriOf } from '../../kit/notebook';

const values = (lines: string): Values =>
  notebook({ 'page.tare': `experiment TB-1: Evidence\n${lines}\n` })
    .snapshot(uriOf('page.tare'))
    .page(1).values;
const one = (lines: string) => values(lines).measured[0]!;
const testOf = (lines: string) => values(lines).tests[0]!;

// Standard qualitative organic analysis (textbooks from memory).
describe('a test on a page', () => {
  const ESTER = 'reaction R1: salicylic acid + methanol -> methyl salicylate + water\n';

  test('is asked of the product where it names nothing', () => {
    expect(testOf(`${ESTER}test ferric chloride: violet`).tested?.substance.name).toBe('methyl salicylate');
    expect(testOf('test ferric chloride: violet').tested).toBeUndefined();
  });

  test('knows its companions and whether it tells them apart', () => {
    const ferric = testOf(`${ESTER}test ferric chloride: of methyl salicylate, violet`);
    expect(ferric.others.map(({ substance, role }) => [substance.name, role])).toEqual([
      ['salicylic acid', 'starting material'],
      ['methanol', 'starting material'],
      ['water', 'by-product'],
    ]);
    expect(ferric.discriminates).toBe(false);
    expect(confirming(ferric).map(({ id }) => id)).toEqual(['hydrogencarbonate']);
    expect(testOf(`${ESTER}test NaHCO3: of methyl salicylate, no gas`).discriminates).toBe(true);
    expect(testOf('test ferric chloride: of phenol, violet').discriminates).toBeUndefined();
  });

  test('takes a structure from the page, else from the handbook if the formula is the same', () => {
    const structure = (line: string) => testOf(`${line}test 2,4-DNP: of acetone, orange solid`).tested?.structure?.from;
    expect(structure('substance acetone: C3H6O, SMILES CC(C)=O\n')).toBe('page');
    expect(structure('substance acetone: C3H6O\n')).toBe('handbook');
    expect(structure('')).toBe('handbook');
    expect(structure('substance acetone: C3H8O\n')).toBeUndefined();
    expect(structure('substance acetone: state mixture\n')).toBeUndefined();
  });

  test('a name that two tests share is told by the structure', () => {
    expect(testOf('test silver nitrate: of sodium chloride, white precipitate').known?.id).toBe('ion-chloride');
    expect(testOf('test silver nitrate: of benzyl chloride, white precipitate').known?.id).toBe('silver-nitrate');
    expect(testOf('test silver nitrate: of toluene, none').known).toBeUndefined();
  });

  it.each([
    ['test Tollens: of benzaldehyde, silver mirror => aldehyde', 'supports'],
    ['test Tollens: of benzaldehyde, no mirror => no aldehyde', 'contradicts'],
    ['test Tollens: of acetone, no mirror => ketone', 'supports'],
    ['test Tollens: of acetone, silver mirror', 'contradicts'],
    ['test Tollens: of benzaldehyde, perhaps a mirror => aldehyde', 'unclear'],
    ['test Tollens: of benzaldehyde', 'unclear'],
    ['test Lucas: of 2-butanol, at once cloudy => tertiary alcohol', 'supports'],
    ['test silver nitrate in ethanol: of 1-bromobutane, no precipitate', 'unclear'],
    ['test hydroxamate: of methyl salicylate, magenta => ester', 'unclear'],
    ['test 2,4-DNP: of sample 12, red precipitate => no aldehyde or ketone', 'contradicts'],
    ['test 2,4-DNP: of sample 12, red precipitate => alcohol', 'contradicts'],
    ['test nonsense: of acetone, red', 'unclear'],
  ])('%s: %s', (line, verdict) => expect(testOf(line).legs.at(-1)?.verdict).toBe(verdict));

  test('legs of one substance go together, in order', () => {
    const legs = testOf(
      'test silver nitrate in ethanol: of benzyl chloride, no precipitate; on warming, white precipitate',
    ).legs;
    expect(legs.map(({ verdict }) => verdict)).toEqual(['unclear', 'supports']);
    expect(legs[1]?.outcome).toBe('slow');
    const two = testOf('test Tollens: of benzaldehyde, mirror; of acetone, mirror').legs;
    expect(two.map(({ verdict }) => verdict)).toEqual(['supports', 'contradicts']);
  });

  test('conditions are held against the usual ones', () => {
    const what = (line: string) => testOf(line).unusual.map((u) => u.what);
    expect(what('test Lucas: of 2-butanol, at 5 °C, clear')).toEqual(['cold']);
    expect(what('test Tollens: of acetone, at 90 °C, no mirror')).toEqual(['hot']);
    expect(what('test Tollens: of acetone, at 323 K, for 1 min, no mirror')).toEqual(['short']);
    expect(what('test Tollens: of benzaldehyde, for 1 h, mirror')).toEqual(['long']);
    expect(what('test Tollens: of benzaldehyde, for 1 h, mirror at once')).toEqual([]);
    expect(what('test Tollens: of acetone, at 20–60 °C, for 1 h, no mirror')).toEqual([]);
  });
});

describe('a conclusion', () => {
  const dnp = knownTests().find(({ id }) => id === 'dnp')!;
  it.each([
    ['ketone', 'positive', 'supports'],
    ['ketone', 'negative', 'contradicts'],
    ['no aldehyde or ketone', 'negative', 'supports'],
    ['no ketone left', 'positive', 'unclear'],
    ['ester', 'positive', 'contradicts'],
    ['no ketone, so alcohol', 'negative', 'supports'],
    ['probably a ketone', 'negative', 'unclear'],
    ['fine', 'positive', 'unclear'],
    ['phenol', 'negative', 'unclear'],
  ] as const)('“%s” on a %s: %s', (text, observed, verdict) =>
    expect(judgeConclusion(dnp, text, observed, [])).toBe(verdict),
  );
});

describe('measured properties', () => {
  test('a specific rotation carries the uncertainty of its readings', () => {
    const value = one(
      'measure x: optical rotation +2.35 ± 0.01°, length 1 dm, concentration 1.050 g/100 mL',
    ).calculated;
    if (!isHeld(value)) throw new Error(value.what);
    expect(value.value.toNumber()).toBeCloseTo(223.81, 2);
    // length to half a digit, 0.29 dm, is most of it: the digits say so
    expect(uncertainty(value)).toBeCloseTo(
      223.81 * Math.hypot(0.01 / 2.35, 1 / Math.sqrt(12), 0.001 / Math.sqrt(12) / 1.05),
      3,
    );
  });

  it.each([
    ['length 1 dm, concentration 1.05', 223.8],
    ['length 100 mm, concentration 10.5 mg/mL', 223.8],
    ['length 10.0 cm, concentration 10.5 g/L', 223.8],
  ])('%s', (rest, expected) => {
    const { calculated } = one(`measure x: optical rotation +2.35°, ${rest}`);
    expect(isHeld(calculated) && calculated.value.toNumber()).toBeCloseTo(expected, 1);
  });

  it.each([
    ['measure x: optical rotation +2.35°, length 1 dm', 'concentration'],
    ['measure x: optical rotation +2.35°, concentration 1.05 g/100 mL', 'length'],
    ['measure x: optical rotation +2.35°, length 0 dm, concentration 1.05 g/100 mL', 'above zero'],
    ['measure x: optical rotation +2.35°, length 1 dm, concentration 1.05 mol/L', 'concentration'],
    ['measure benzoic acid: bp 130 °C at 10 mmHg', 'pairs in the vapour'],
    ['measure toluene: bp 20 °C at 0.1 mmHg', '1 mmHg'],
    ['measure unknown 7: bp 20 °C at 10 mmHg', 'boiling point of'],
    ['measure x: Rf 0.4 in hexane', 'distances'],
  ])('%s: cannot be had, with a reason', (line, reason) => {
    const { calculated } = one(line);
    expect(isHeld(calculated) ? '' : calculated.what).toContain(reason);
  });

  test('a boiling point of the substance under reduced pressure serves as it stands', () => {
    const value = one('substance oil: C10H12O, bp 120 °C at 12 mmHg\nmeasure oil: bp 118–120 °C at 12 mmHg');
    expect(isHeld(value.calculated) && show(value.calculated, { unit: '°C' })).toBe('120 °C');
    expect(value.literature && show(value.literature, { unit: '°C' })).toMatch(/^120/);
  });

  test('hydrogens: only protium counts, water of crystallisation too', () => {
    expect(one('substance chloroform-d: CDCl3\nmeasure chloroform-d: 1H NMR δ 7.26 (s, 1H)').hydrogens).toMatchObject({
      all: 0,
    });
    // C2H2O4·2H2O: six hydrogens, all on oxygen
    expect(
      one(
        'substance oxalic acid dihydrate: C2H2O4·2H2O, SMILES O.O.OC(=O)C(=O)O\nmeasure oxalic acid dihydrate: 1H NMR δ 9 (br s, 6H)',
      ).hydrogens,
    ).toMatchObject({ all: 6, least: 0 });
  });

  test('a range gives its middle and its width', () => {
    const value = one('measure benzoic acid: mp 121–123 °C (lit. 122.4 °C)');
    expect(value.width?.value.toNumber()).toBe(2);
    expect(value.deviation?.value.toNumber()).toBeCloseTo(-0.4, 10);
  });

  test('what stands in a product line is measured too', () => {
    expect(one('product benzoic acid: 2.1 g, recrystallised, mp 121–122 °C').measured).toMatchObject({
      kind: 'mp',
      stage: 'recrystallised',
    });
  });
});

describe('what evidence cost', () => {
  const used = (lines: string) =>
    usedInEvidence(values(lines)).map(({ name, mass }) => [name.text, mass.value.toNumber()]);

  test('masses of the substance, not of the reagent', () => {
    expect(
      used(`test ferric chloride: of phenol, 20 mg in ethanol, 2 drops of reagent, violet
test Tollens: of benzaldehyde, 3 drops, mirror
test 2,4-DNP: of 50 mg of acetone, orange solid; of benzaldehyde, 0.1 mL of benzaldehyde, orange solid
measure phenol: combustion C 76.5, H 6.4, 2.1 mg`),
    ).toEqual([
      ['phenol', 0.02],
      ['acetone', 0.05],
      ['benzaldehyde', expect.closeTo(0.1044, 3)],
      ['phenol', 0.0021],
    ]);
  });
});
