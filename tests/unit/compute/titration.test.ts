/**
 * Titrations. Potassium hydrogen phthalate 204.22 g/mol and the other weights: CIAAW 2021. Type A evaluation: JCGM
 * 100:2008 4.2. Other numbers invented; worked examples with their sources stand in tests/cases/titrations.md.
 */
import { describe, expect, it } from 'vitest';
import { budget } from '../../../server/quantity/budget';
import { isHeld } from '../../../server/quantity/held';
import { chargeOf, uOf, valuesOf, worth } from './page';

const only = (text: string) => {
  const [value] = valuesOf(text).titrations;
  if (!value) throw new Error('No titration');
  return value;
};
const mean = (text: string): number => worth(only(text).mean) as number;

describe('the ratio', () => {
  const assay = (reaction: string, line: string) => only(`${reaction}\n${line}`).ratio.text;

  it('is that of the equation that names both, by name, composition or ion', () => {
    expect(
      assay(
        'reaction T: Na2CO3 + 2 HCl -> 2 NaCl + H2O + CO2',
        'titrate sodium carbonate: 0.2 g with 0.1 M HCl, titre 20 mL',
      ),
    ).toBe('1 : 2');
    expect(
      assay(
        'reaction T: H2C2O4 + 2 NaOH -> Na2C2O4 + 2 H2O',
        'substance acid: C2H2O4·2H2O\ntitrate acid: 0.2 g with 0.1 M NaOH, titre 20 mL',
      ),
    ).toBe('1 : 2');
    expect(
      assay(
        'reaction T: MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O',
        'titrate ore: 0.2 g with 0.02 M KMnO4, of Fe2O3, titre 20 mL',
      ),
    ).toBe('2.5 : 1');
    expect(assay('reaction T: H^+ + OH^- -> H2O', 'titrate acid: 20 mL with 0.1 M NaOH, of H2SO4, titre 20 mL')).toBe(
      '0.5 : 1',
    );
  });

  it('is one to one without such an equation, and the working says so', () => {
    const value = only(
      'reaction R1: ethanol -> acetaldehyde + H2\ntitrate acetic acid: 20 mL with 0.1 M NaOH, titre 20 mL',
    );
    expect(value.ratio).toMatchObject({ text: '1 : 1' });
    expect(value.ratio.reaction).toBeUndefined();
    expect(isHeld(value.mean) && value.mean.working.note).toContain('1 : 1');
  });

  it('takes the last equation above, where several name both', () => {
    const page = (second: string) => `reaction T1: H2SO4 + 2 NaOH -> Na2SO4 + 2 H2O
${second}
titrate acid: 20.00 mL with 0.1000 M NaOH, of H2SO4, titre 20.00 mL`;
    expect(mean(page(''))).toBeCloseTo(0.05, 12);
    expect(mean(page('reaction T2: H2SO4 + NaOH -> NaHSO4 + H2O'))).toBeCloseTo(0.1, 12);
  });
});

describe('a run', () => {
  const KHP = 'titrate caustic: against potassium hydrogen phthalate; ';

  it('has a titre or two readings, less the blank', () => {
    const amount = 0.4084 / 204.222;
    expect(mean(`${KHP}run 0.4084 g, titre 20.00 mL`) / (amount / 0.02)).toBeCloseTo(1, 5);
    expect(mean(`${KHP}run 0.4084 g, burette 1.02 to 21.07 mL, blank 0.05 mL`) / (amount / 0.02)).toBeCloseTo(1, 5);
  });

  it('may be weighed by difference, or measured from a standard solution', () => {
    const value = only(`${KHP}before 14.4084 g, after 14.0000 g, titre 20.00 mL`);
    expect(worth(value.runs[0]!.portion)).toBeCloseTo(0.4084, 12);
    expect(
      mean('solution acid: 0.1000 M HCl in water\ntitrate caustic: against acid; run 25.00 mL, titre 24.50 mL'),
    ).toBeCloseTo((0.1 * 25) / 24.5, 9);
  });

  it('without a titre is no number, and the others stand', () => {
    const value = only(`${KHP}run 0.4084 g, titre 20.00 mL; run 0.4084 g`);
    expect(worth(value.runs[1]!.value)).toBe('amount-missing');
    expect(worth(value.mean)).toBeCloseTo(0.09999, 4);
  });
});

describe('the mean', () => {
  const RUNS = 'titrate acid: 10.00 mL with 1.000 M NaOH; titre 20.30 mL; titre 19.65 mL; titre 21.05 mL';

  it('counts every run, with s and s/√n where the runs scatter more than their readings', () => {
    const value = only(RUNS);
    // By hand: 20.3333 mL, s = 0.7006 mL; ten millilitres of one molar alkali for each millilitre.
    expect(worth(value.mean)).toBeCloseTo(2.033333, 6);
    expect(worth(value.deviation)).toBeCloseTo(0.07006, 5);
    expect(uOf(value.mean)).toBeCloseTo(0.07006 / Math.sqrt(3), 3);
    expect(budget(value.mean as never)[0]!.name).toBe('scatter of 3 runs');
  });

  it('takes the readings’ part where the runs agree better than they can be read', () => {
    const value = only(
      'titrate acid: 10.00 mL with 1.000 ± 0 M NaOH; titre 20.0 mL; titre 20.0 mL; titre 20.0 mL; titre 20.0 mL',
    );
    const reading = 0.1 / Math.sqrt(12) / 10;
    const aliquot = (2 * 0.01) / Math.sqrt(12) / 10;
    expect(uOf(value.mean)).toBeCloseTo(Math.hypot(reading / 2, aliquot), 9);
  });

  it('keeps what all runs share: one burette errs the same way in each', () => {
    const page = (runs: number) =>
      `titrate acid: 10.00 ± 0 mL with 1.000 ± 0 M NaOH, with 50 mL burette class A${'; titre 20.00 mL'.repeat(runs)}`;
    const limit = 0.05 / Math.sqrt(3) / 10;
    expect(uOf(only(page(1)).mean)).toBeCloseTo(limit, 12);
    expect(uOf(only(page(4)).mean)).toBeCloseTo(limit, 12);
  });
});

describe('what stands below takes the mean', () => {
  const PAGE = `solution caustic: 0.1 M sodium hydroxide in water
charge caustic: 10.00 mL, wash
titrate caustic: against potassium hydrogen phthalate; run 0.4084 g, titre 19.00 mL
charge caustic: 10.00 mL, quench
solution weak caustic: 10.00 mL caustic in water, made up to 100.0 mL
titrate acid: 20.00 mL with caustic; titre 20.00 mL`;

  it('charges, dilutions and further titrations, and nothing above', () => {
    const values = valuesOf(PAGE);
    const strength = 0.4084 / 204.222 / 0.019;
    expect(worth(values.charges[0]!.amount)).toBeCloseTo(0.001, 12);
    expect(worth(values.charges[1]!.amount)).toBeCloseTo(strength / 100, 7);
    expect(worth(values.solutions.find((s) => s.solution.name === 'weak caustic')?.concentration)).toBeCloseTo(
      strength / 10,
      6,
    );
    expect(worth(values.titrations[1]!.mean)).toBeCloseTo(strength, 5);
    expect(worth(values.solutions[0]!.concentration)).toBe(0.1);
  });

  it('takes the last that came to a result', () => {
    const values = valuesOf(`solution caustic: 0.1 M NaOH in water
titrate caustic: 20.00 mL with 0.1000 M HCl; titre 19.00 mL
titrate caustic: 20.00 mL with 0.1000 M HCl; titre
titrate caustic: 20.00 mL with unheard; titre 18.00 mL
charge caustic: 10.00 mL`);
    expect(worth(chargeOf(values, 'caustic').amount)).toBeCloseTo(0.00095, 12);
  });

  it('ends where a solution would rest on itself', () => {
    const values = valuesOf(`solution a: 1 mL b in water, made up to 10 mL
solution b: 1 mL a in water, made up to 10 mL
titrate a: 10.00 mL with b; titre 10.00 mL
titrate b: 10.00 mL with a; titre 10.00 mL
charge a: 10 mL`);
    expect(values.titrations.map((t) => isHeld(t.mean))).toEqual([false, false]);
    expect(typeof worth(chargeOf(values, 'a').amount)).toBe('string');
  });
});

describe('claims', () => {
  const verdicts = (text: string) => valuesOf(text).claims.map(({ property, verdict }) => `${property} ${verdict}`);

  it('of a run, of its titre before and after the blank, and of all runs', () => {
    expect(
      verdicts(`titrate acid: 10.00 mL with 0.1000 M NaOH, blank 0.10 mL
  burette 0.00 to 20.10 mL (20.10 mL, 2.000 mmol, 0.2000 mol/L); burette 0.10 to 20.22 mL (20.02 mL)
  indicator phenolphthalein (mean 0.2001 mol/L, s 0.0001 mol/L)`),
    ).toEqual([
      'volume exact',
      'amount exact',
      'concentration exact',
      'volume exact',
      'concentration exact',
      'deviation rounded',
    ]);
  });

  it('in grams per litre, in per cent of mass, in normality', () => {
    expect(
      verdicts('titrate vinegar: 5.00 mL with 0.1000 M NaOH, of acetic acid, titre 41.65 mL (5.00 % w/v)'),
    ).toEqual(['density rounded']);
    expect(verdicts('titrate benzoic acid: 0.2442 g with 0.1000 M NaOH, titre 19.90 mL (99.5 %)')).toEqual([
      'mass fraction rounded',
    ]);
    expect(
      verdicts(`reaction T: H2SO4 + 2 NaOH -> Na2SO4 + 2 H2O
titrate acid: 20.00 mL with 0.1000 M NaOH, of H2SO4, titre 20.00 mL (0.1000 N)`),
    ).toEqual(['concentration exact']);
    expect(verdicts('titrate acid: 20.00 mL with 0.1000 M NaOH, titre 20.00 mL (0.2000 M)')).toEqual([
      'concentration no',
    ]);
  });
});
