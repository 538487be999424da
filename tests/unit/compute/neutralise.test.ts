/**
 * Neutralising, its gas and its heat, against worked problems that others printed. Their numbers are rounded as they
 * rounded them; half a unit of their last place is allowed, more where their molar masses are coarser than ours.
 */
import { describe, expect, test } from 'vitest';
import { gasFromCharges } from '../../../server/compute/neutralise';
import type { Values } from '../../../server/compute/values';
import { isHeld, type Result } from '../../../server/quantity/held';
import { notebook, uriOf } from '../../kit/notebook';

function valuesOf(...lines: readonly string[]): Values {
  const text = `experiment A-1: a page\n${lines.join('\n')}\n`;
  return notebook({ 'a.tare': text }).snapshot(uriOf('a.tare')).page(1).values;
}
const num = (result: Result | undefined): number => {
  if (!isHeld(result)) throw new Error(`not computable: ${JSON.stringify(result)}`);
  return result.value.toNumber();
};
const neutralised = (...lines: readonly string[]) => valuesOf(...lines).neutralisations[0]!;

const H2SO4 = (strength: string) => `solution battery acid: ${strength} sulfuric acid in water`;

describe('how much is needed', () => {
  // Brown, LeMay, Chemistry: The Central Science, problem on a spill of sulfuric acid, answer 27 g, as worked on
  // assignmentexpert.com (general chemistry, question 96121).
  test('27 mL of 6.0 mol/L sulfuric acid: 27 g of sodium hydrogencarbonate', () => {
    const { neededMass, gas } = neutralised(
      H2SO4('6.0 mol/L'),
      'charge battery acid: 27 mL',
      'neutralise battery acid: with sodium hydrogencarbonate',
    );
    expect(num(neededMass)).toBeCloseTo(27.2, 1);
    expect(gas?.gas).toBe('carbon dioxide');
    expect(num(gas?.amount)).toBeCloseTo(0.324, 6);
  });

  // enotes.com, homework help 448994: 25 mL of 6.0 mol/L needs 0.3 mol.
  test('25 mL of 6.0 mol/L sulfuric acid: 0.3 mol', () => {
    const { needed } = neutralised(
      H2SO4('6.0 mol/L'),
      'charge battery acid: 25 mL',
      'neutralise battery acid: with NaHCO3, to pH 7',
    );
    expect(num(needed)).toBeCloseTo(0.3, 9);
  });

  // writinghelpe.com, "you just spilled 85.00": needs 21.42 g, 15.00 g are there, 6.42 g more.
  test('85.00 mL of 1.500 mol/L and a jar of 15.00 g: 6.42 g short', () => {
    const { neededMass, short, gas } = neutralised(
      H2SO4('1.500 mol/L'),
      'charge battery acid: 85.00 mL',
      'neutralise battery acid: with 15.00 g sodium bicarbonate, to pH 7',
    );
    expect(num(neededMass)).toBeCloseTo(21.42, 2);
    expect(num(short) * 84.01).toBeCloseTo(6.42, 2);
    // The gas is that of what was added: 15.00 g ÷ 84.01 g/mol.
    expect(num(gas?.amount)).toBeCloseTo(0.17855, 4);
  });

  // questions.llc, question 1872917: 10.5 mL of 18.0 mol/L needs 31.75 g; 165.9 g − 145.5 g = 20.4 g were used.
  test('10.5 mL of 18.0 mol/L: 31.75 g needed, 20.4 g used', () => {
    const { neededMass, short } = neutralised(
      H2SO4('18.0 mol/L'),
      'charge battery acid: 10.5 mL',
      'neutralise battery acid: with sodium hydrogencarbonate, 20.4 g',
    );
    expect(num(neededMass)).toBeCloseTo(31.75, 1);
    expect(num(short)).toBeGreaterThan(0.13);
  });

  // justaaa.com, chemistry 389787: 4.03e3 kg of 95.0 % sulfuric acid need 4.14e3 kg of sodium carbonate.
  test('a tanker of 95.0 % sulfuric acid: 4.14 t of soda', () => {
    const { neededMass } = neutralised(
      'solution load: 95.0 % w/w sulfuric acid in water, density 1.84 g/mL',
      'charge load: 4030 kg',
      'neutralise load: with sodium carbonate',
    );
    expect(num(neededMass) / 1e6).toBeCloseTo(4.14, 2);
  });

  // petfoodhonesty.com/responto/11585833 (a textbook problem on a spill): 2.5 kg of nitric acid is 39.67 mol; 2.000 kg
  // of sodium carbonate is 18.87 mol, which takes up 37.74 mol. The answer printed there, "enough", rounds that away.
  test('2.5 kg of nitric acid and two kilograms of soda: 1.9 mol short', () => {
    const { there, added, short } = neutralised(
      'charge nitric acid: 2.500 kg',
      'neutralise nitric acid: with 2.000 kg sodium carbonate',
    );
    expect(num(there)).toBeCloseTo(39.67, 2);
    expect(num(added)).toBeCloseTo(18.87, 2);
    expect(num(short)).toBeCloseTo(39.67 - 2 * 18.87, 1);
  });

  // alumniagri.in, task 17220295: 25.0 g of sulfuric acid and sodium hydroxide 1 : 2 (98.08 and 40.0 g/mol).
  test('25.0 g of sulfuric acid: 20.4 g of sodium hydroxide', () => {
    const { neededMass } = neutralised('charge H2SO4: 25.0 g', 'neutralise H2SO4: with sodium hydroxide');
    expect(num(neededMass)).toBeCloseTo(20.4, 1);
  });

  // flasheducation.online: 80 g of sodium hydroxide need 73 g of hydrogen chloride.
  test('80 g of sodium hydroxide: 73 g of hydrogen chloride', () => {
    const { neededMass, reagent } = neutralised(
      'charge sodium hydroxide: 80 g',
      'neutralise sodium hydroxide: with hydrogen chloride',
    );
    expect(reagent?.kind).toBe('acid');
    expect(num(neededMass)).toBeCloseTo(73, 0);
  });

  // assignmentexpert.com, question 334276: 0.5 g of sodium bicarbonate and 0.38 g of citric acid, three protons.
  test('0.5 g of hydrogencarbonate: 0.38 g of citric acid', () => {
    const { neededMass } = neutralised(
      'charge sodium hydrogencarbonate: 0.5 g',
      'neutralise sodium hydrogencarbonate: with citric acid',
    );
    expect(num(neededMass)).toBeCloseTo(0.38, 2);
  });

  test('protons by pKa: phosphoric acid gives one up to pH 5, two up to pH 9 (pKa 2.16, 7.21, 12.32)', () => {
    const to = (pH: number) =>
      num(
        neutralised('charge phosphoric acid: 9.80 g', `neutralise phosphoric acid: with sodium hydroxide, to pH ${pH}`)
          .there,
      );
    expect(to(5)).toBeCloseTo(0.1, 3);
    expect(to(9)).toBeCloseTo(0.2, 3);
  });

  test('what the reaction uses up is not there any more', () => {
    const { there } = neutralised(
      'reaction R1: acetic acid + ethanol -> ethyl acetate + water',
      'charge acetic acid: 12.01 g',
      'charge ethanol: 4.607 g, limiting',
      'neutralise acetic acid: with sodium carbonate, to pH 8',
    );
    expect(num(there)).toBeCloseTo(0.1, 3);
  });

  test('washes without a name: at most what the page charged, and never short', () => {
    const { certain, there, short } = neutralised(
      'charge conc. sulfuric acid: 2.0 mL',
      'neutralise wash water: with 1.0 g sodium carbonate, to pH 7',
    );
    expect(certain).toBe(false);
    expect(num(there)).toBeGreaterThan(0.07);
    expect(short).toBeUndefined();
  });
});

describe('heat', () => {
  // byjus.com: 0.5 mol of sulfuric acid and 0.75 mol of sodium hydroxide at 57 kJ/mol: 57 · 3/4 kJ.
  test('0.5 mol of sulfuric acid with 0.75 mol of sodium hydroxide: 42.75 kJ', () => {
    const { heat } = neutralised('charge H2SO4: 0.50 mol', 'neutralise H2SO4: with sodium hydroxide, 0.75 mol');
    expect(num(heat)).toBeCloseTo(42.75, 9);
  });

  // safalta.com: 0.25 mol at 57.1 kJ/mol is 14.27 kJ.
  test('0.35 mol of hydrogen chloride with 0.25 mol of sodium hydroxide: 14.27 kJ', () => {
    const { heat } = neutralised(
      'charge hydrogen chloride: 0.35 mol',
      'neutralise hydrogen chloride: with sodium hydroxide, 0.25 mol',
    );
    // Our 57 kJ/mol is 0.2 % less.
    expect(num(heat) / 14.27).toBeCloseTo(1, 2);
  });

  test('no number for a weak acid or a carbonate', () => {
    expect(
      neutralised('charge acetic acid: 1 mol', 'neutralise acetic acid: with sodium hydroxide').heat,
    ).toBeUndefined();
    expect(neutralised('charge HCl: 1 mol', 'neutralise HCl: with sodium carbonate').heat).toBeUndefined();
  });
});

describe('gas from charges that meet', () => {
  const gases = (...lines: readonly string[]) => gasFromCharges(valuesOf(...lines).charges);

  // clutchprep.com 69262: 8.67 g of sodium bicarbonate and 5.65 g of hydrogen chloride; the bicarbonate limits: 0.1032 mol.
  test('8.67 g of hydrogencarbonate and 5.65 g of hydrogen chloride', () => {
    const [gas] = gases('charge sodium hydrogencarbonate: 8.67 g', 'charge hydrogen chloride: 5.65 g');
    expect(gas?.gas).toBe('carbon dioxide');
    expect(num(gas?.amount)).toBeCloseTo(0.1032, 4);
  });

  // Brown, LeMay, The Central Science, chapter 13: 1.750 g of zinc and 50.0 mL of 1.00 mol/L hydrochloric acid; the acid
  // limits: 0.0250 mol of hydrogen.
  test('1.750 g of zinc in 50.0 mL of 1.00 mol/L hydrochloric acid', () => {
    const [gas] = gases(
      'solution acid: 1.00 mol/L hydrogen chloride in water',
      'charge zinc: 1.750 g',
      'charge acid: 50.0 mL',
    );
    expect(gas?.gas).toBe('hydrogen');
    expect(num(gas?.amount)).toBeCloseTo(0.025, 6);
  });

  // univerkov.com: 8 g of calcium (40 g/mol) in 40 g of water: 0.2 mol of hydrogen.
  test('8 g of calcium in 40 g of water', () => {
    const [gas] = gases('charge calcium: 8.0 g', 'charge water: 40 g');
    expect(num(gas?.amount)).toBeCloseTo(0.2, 2);
  });

  // hocdot.com: 0.336 g of sodium hydrogencarbonate with enough acid: 4.00 mmol.
  test('0.336 g of hydrogencarbonate', () => {
    const [gas] = gases('charge sodium hydrogencarbonate: 0.336 g', 'charge conc. hydrochloric acid: 5 mL');
    expect(num(gas?.amount)).toBeCloseTo(0.004, 5);
  });

  // Catalysts 2022, 12, 356: NaBH4 + 2 H2O -> NaBO2 + 4 H2. One gram (37.83 g/mol): 105.7 mmol.
  test('1.00 g of sodium borohydride in water', () => {
    const [gas] = gases('charge NaBH4: 1.00 g', 'charge water: 50 mL');
    expect(num(gas?.amount)).toBeCloseTo(0.1057, 4);
    // 24.055 L/mol at 293.15 K and 101.325 kPa with R of CODATA 2022; textbooks say 24 dm³/mol.
    expect(num(gas?.volume)).toBeCloseTo(0.1057 * 24055, -1);
  });

  test('a drying agent stays apart, an organic azide keeps its nitrogen, sulfite gives sulfur dioxide', () => {
    expect(gases('charge sodium carbonate: 5 g, drying agent', 'charge acetic acid: 5 g')).toEqual([]);
    expect(gases('charge benzyl azide: 1 g', 'charge acetic acid: 5 g')).toEqual([]);
    expect(gases('charge sodium sulfite: 1.26 g', 'charge conc. hydrochloric acid: 5 mL')[0]).toMatchObject({
      gas: 'sulfur dioxide',
      toxic: true,
    });
    expect(gases('charge sodium azide: 0.65 g', 'charge conc. sulfuric acid: 5 mL')[0]?.gas).toBe('hydrogen azide');
  });
});
