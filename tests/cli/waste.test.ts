/** `tarebook waste`, and the ledger, routes and batches in the document of `tarebook compute`. */
import { Ajv2020 } from 'ajv/dist/2020';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import schema from '../../server/cli/compute.schema.json';
import { Tarebook } from './build';

const tarebook = new Tarebook();
beforeAll(() => tarebook.build(), 120_000);
afterAll(() => tarebook.dispose());

const FILES = {
  'a.tare': `experiment X-1: first
date: 2026-05-02
substance bromide 2: C7H7Br
reaction R1: toluene + Br2 -> bromide 2 + HBr
charge toluene: 9.214 g, limiting
charge Br2: 16.0 g
product bromide 2: 13.68 g, distilled
sample S-1: 80 mg of bromide 2, for NMR
waste red can: 40.0 mL toluene
waste halogenated organic: 12.0 g forerun
`,
  'b.tare': `experiment X-2: second
date: 2026-05-05
substance bromide 2: C7H7Br, from X-1
substance alcohol 3: C7H8O
reaction R1: bromide 2 + NaOH -> alcohol 3 + NaBr
charge bromide 2: 8.552 g, limiting
charge NaOH: 4.00 g
neutralise NaOH: with 2.00 mol/L hydrochloric acid, to pH 7
product alcohol 3: 4.326 g, crude
date: 2026-05-06
waste red can: 150 mL ether
waste aqueous base: washes
`,
  'streams.tare': 'waste red can: takes organic solvents, not metals\n',
};

describe('a sheet per stream', () => {
  test('as text: dates, pages, amounts and sums', () => {
    const { status, stdout, stderr } = tarebook.run(['waste'], { cwd: tarebook.notebook(FILES) });
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toContain('red can  (takes organic solvents; not metals)');
    expect(stdout).toMatch(
      /2026-05-02 {2}X-1 {2}40\.0 mL {2}40\.0 mL toluene\n {2}2026-05-06 {2}X-2 {2} ?150 mL {2}150 mL ether\n {2}190 mL in 2 lines/,
    );
    expect(stdout).toContain('1 line, 1 without an amount');
  });

  test('as JSON, one stream, from a day on', () => {
    const cwd = tarebook.notebook(FILES);
    const { stdout } = tarebook.run(['waste', '--format', 'json', '--stream', 'Red Can', '--since', '2026-05-03'], {
      cwd,
    });
    const { version, streams } = JSON.parse(stdout);
    expect(version).toBe(1);
    expect(streams).toHaveLength(1);
    expect(streams[0]).toMatchObject({
      name: 'red can',
      declared: 'register',
      not: ['heavy metals'],
      volume_mL: 150,
      lines: [{ date: '2026-05-06', page: 'X-2', line: 11, contents: ['ether'] }],
    });
  });

  test('what must not meet is said, and who decides', () => {
    const azide = FILES['b.tare'].replace('150 mL ether', '20 mL sodium azide washes');
    const cwd = tarebook.notebook({
      ...FILES,
      'a.tare': FILES['a.tare'].replace('40.0 mL toluene', '40.0 mL DCM'),
      'b.tare': azide,
    });
    const { stdout } = tarebook.run(['waste'], { cwd });
    expect(stdout).toContain('keep apart: DCM (X-1) and sodium azide (X-2): explosion.');
    expect(stdout).toContain('site rules decide');
    expect(stdout).not.toMatch(/\bsafe\b/i);
  });

  test('nothing there, a wrong date, a missing path', () => {
    expect(tarebook.run(['waste'], { cwd: tarebook.notebook({}) })).toMatchObject({
      status: 0,
      stdout: 'No waste lines.\n',
    });
    expect(tarebook.run(['waste', '--since', 'May'], { cwd: tarebook.notebook({}) }).status).toBe(2);
    expect(tarebook.run(['waste', 'nowhere'], { cwd: tarebook.notebook(FILES) }).status).toBe(2);
  });
});

describe('in the document', () => {
  const document = () => {
    const { stdout } = tarebook.run(['compute'], { cwd: tarebook.notebook(FILES) });
    const read = JSON.parse(stdout);
    const validate = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(schema);
    expect(validate(read) ? [] : validate.errors).toEqual([]);
    return read;
  };

  // In 9.214 + 16.0 = 25.214 g. Out 13.68 + 40.0 mL toluene × 0.867 g/mL + 12.0 g, and the hydrogen bromide of the equation:
  // 0.1000 mol × 80.91 g/mol = 8.091 g. More out than in: the toluene was never charged.
  test('the ledger, with the gas of the equation', () => {
    const [first] = document().files[0].experiments;
    expect(first.ledger.in_g).toBeCloseTo(25.214, 9);
    expect(first.ledger.gas[0].mass_g).toBeCloseTo(8.091, 2);
    expect(first.ledger.unaccounted_g).toBeCloseTo(25.214 - 13.68 - 34.68 - 12 - 8.091, 1);
    expect(first.ledger.u_unaccounted_g).toBeGreaterThan(0);
    expect(first.ledger.streams).toMatchObject([
      { name: 'red can', volume_mL: 40, contents: ['toluene'] },
      { name: 'halogenated organic', mass_g: 12, volume_mL: null },
    ]);
  });

  test('an open balance says which lines have no mass', () => {
    const [second] = document().files[1].experiments;
    expect(second.ledger).toMatchObject({ out_g: null, unaccounted_g: null, u_unaccounted_g: null });
    expect(second.ledger.open.map(({ line }: { line: number }) => line)).toContain(12);
  });

  // 4.00 g ÷ 39.997 g/mol − 8.552 g ÷ 171.04 g/mol = 100.0 − 50.0 mmol; ÷ 2.00 mol/L = 25.0 mL.
  test('what neutralising takes, after what the reaction used', () => {
    const [second] = document().files[1].experiments;
    const [neutralisation] = second.neutralisations;
    expect(neutralisation).toMatchObject({ subject: 'NaOH', protons_at_most: false, short_mol: null, gas: null });
    expect(neutralisation.protons_mol).toBeCloseTo(0.05, 3);
    expect(neutralisation.needed_mL).toBeCloseTo(25.0, 1);
    // 57 kJ/mol × 0.0500 mol
    expect(neutralisation.heat_kJ).toBeCloseTo(2.85, 1);
  });

  // 13.68 − 8.552 − 0.080 = 5.048 g; 80.0 % × 80.0 % = 64.0 %.
  test('what is left of a batch, and the way over both pages', () => {
    const read = document();
    expect(read.files[0].experiments[0].batches).toEqual([{ id: 'X-1', mass_g: 13.68, left_g: 5.048 }]);
    expect(read.routes).toHaveLength(1);
    expect(read.routes[0]).toMatchObject({ product: 'alcohol 3', pages: ['X-1', 'X-2'], steps: 2, longest: true });
    expect(read.routes[0].overall_yield_percent).toBeCloseTo(64.0, 1);
  });
});
