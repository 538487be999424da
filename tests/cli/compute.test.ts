import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import schema from '../../server/cli/compute.schema.json';
import { ESTER, Tarebook, WRONG_NET } from './build';

const tarebook = new Tarebook();
beforeAll(() => tarebook.build(), 120_000);
afterAll(() => tarebook.dispose());

/** The schema that ships lets later versions add keys; here a key that it does not name is a mistake. */
function closed(node: unknown): unknown {
  if (Array.isArray(node)) return node.map(closed);
  if (typeof node !== 'object' || node === null) return node;
  const copy = Object.fromEntries(Object.entries(node).map(([key, value]) => [key, closed(value)]));
  return 'properties' in copy && copy.type === 'object' ? { additionalProperties: false, ...copy } : copy;
}

const validate = new Ajv2020({ strict: true, allowUnionTypes: true, allErrors: true }).compile(
  closed(schema) as object,
);

function compute(files: Readonly<Record<string, string | Buffer>>, args: readonly string[] = []) {
  const run = tarebook.run(['compute', ...args], { cwd: tarebook.notebook(files) });
  const document = JSON.parse(run.stdout);
  expect(validate(document) ? [] : validate.errors).toEqual([]);
  return { ...run, document };
}

/** `path.to[0].key` in the first experiment of a page. */
const experiment = (page: string) => compute({ 'a.tare': page }).document.files[0].experiments[0];

describe('the document of one page', () => {
  test('holds what follows from it (arithmetic beside the page, CIAAW abridged weights)', () => {
    const { status, document } = compute({ 'samples/ester.tare': ESTER });
    expect(status).toBe(0);
    expect(document).toMatchObject({ version: 1, files: [{ path: 'samples/ester.tare', diagnostics: [] }] });
    const [page] = document.files[0].experiments;
    expect(page).toMatchObject({ id: 'TB-014', title: 'Isopentyl acetate by Fischer esterification', line: 1 });
    expect(page.reactions[0]).toMatchObject({
      id: 'R1',
      balanced: true,
      equation: 'isopentyl alcohol + acetic acid -> isopentyl acetate + water',
      limiting: 'isopentyl alcohol',
      coefficients: { 'isopentyl alcohol': 1, 'acetic acid': 1, 'isopentyl acetate': 1, water: 1 },
    });
    expect(page.reactions[0].theoretical[0].substance).toBe('isopentyl acetate');
    expect(page.reactions[0].theoretical[0].mass_g).toBeCloseTo(17.94, 2);
    // 130.187 ÷ (88.150 + 60.052)
    expect(page.reactions[0].atom_economy_percent).toBeCloseTo(87.84, 2);
    expect(page.charges[0]).toMatchObject({
      substance: 'isopentyl alcohol',
      line: 14,
      volume_mL: 15,
      role: 'limiting',
    });
    expect(page.charges[0].mass_g).toBe(12.15);
    expect(page.charges[0].equiv).toBe(1);
    expect(page.charges[0].amount_mol).toBeCloseTo(0.13783, 5);
    expect(page.charges[0].u_amount_mol).toBeGreaterThan(0);
    expect(page.charges[1]).toMatchObject({ substance: 'acetic acid', role: null });
    expect(page.weighings).toHaveLength(1);
    expect(page.weighings[0]).toMatchObject({
      subject: 'isopentyl acetate',
      line: 17,
      tare_g: 41.207,
      gross_g: 54.881,
      net_g: 13.674,
    });
    // Each reading: readability as a rectangle, 0.001/√12 (GUM F.2.2.1), and the repeatability; twice, as tare and gross.
    expect(page.weighings[0].u_net_g).toBeCloseTo(0.001 * Math.sqrt(2 * (1 / 12 + 1)), 6);
    expect(page.products[0]).toMatchObject({ substance: 'isopentyl acetate', stage: 'distilled', mass_g: 13.674 });
    expect(page.products[0].yield_percent).toBeCloseTo(76.2, 1);
    expect(page.substances.find(({ name }: { name: string }) => name === 'acetic acid')).toMatchObject({
      formula: 'C2H4O2',
    });
  });
  test('a slip stands beside its finding, with the fix', () => {
    const { diagnostics } = compute({ 'a.tare': WRONG_NET }).document.files[0];
    expect(diagnostics).toHaveLength(1);
    expect(diagnostics[0]).toMatchObject({ code: 'net-mismatch', severity: 'error', slip: 'digits-swapped' });
    expect(diagnostics[0].fixes[0]).toContain('13.674 g');
    expect(diagnostics[0].range.start).toEqual({ line: 16, character: WRONG_NET.split('\n')[16]!.indexOf('13.764') });
  });
  test('the weighing stands on the line of its gross', () => {
    const page = ESTER.replace('isopentyl acetate: gross', 'isopentyl acetate:\n  gross');
    const { products, weighings } = experiment(page);
    expect([products[0].line, weighings[0].line]).toEqual([17, 18]);
  });
  test('what cannot be computed is null', () => {
    const unknown = ESTER.replaceAll('isopentyl alcohol', 'alcohol X').replace(', density 0.810 g/mL at 20 °C', '');
    const page = experiment(unknown.replace(/ \(12\.2.*?\)/, '').replace('acid: 20.0 mL', 'acid: excess'));
    expect(page.charges[0]).toMatchObject({ mass_g: null, amount_mol: null, u_amount_mol: null, volume_mL: 15 });
    expect(page.products[0].yield_percent).toBeNull();
  });
  test('an equation that is not balanced, with its coefficients', () => {
    const page = experiment('experiment X-1: water\nreaction R1: H2 + O2 -> H2O\n');
    expect(page.reactions[0]).toMatchObject({ balanced: false, coefficients: { H2: 2, O2: 1, H2O: 2 } });
  });
  test('solutions, recovered material, plans and measurements have their keys', () => {
    const page = experiment(`experiment X-2: further keys
substance sodium hydroxide: NaOH
substance benzoin: C14H12O2
substance benzaldehyde: C7H6O
solution base: 8.00 g sodium hydroxide in water, made up to 100 mL
reaction R1: 2 benzaldehyde -> benzoin
plan benzoin: 5.00 g at 80 %
charge benzaldehyde: 10.0 g, limiting
product benzoin: 7.00 g, dried
recovered benzaldehyde: 1.00 g
measure benzoin: HRMS [M+Na]+ 235.0731
`);
    // 8.00 g ÷ 39.997 g/mol ÷ 0.100 L
    expect(page.solutions[0].concentration_mol_L).toBeCloseTo(2.0, 2);
    expect(page.solutions[0].solute_g).toBe(8);
    expect(page.recovered[0]).toMatchObject({ substance: 'benzaldehyde', mass_g: 1, recovery_percent: 10 });
    expect(page.plans[0].substance).toBe('benzoin');
    expect(page.plans[0].amount_mol).toBeGreaterThan(0);
    // C14H12O2Na+: 14 × 12 + 12 × 1.00782503 + 2 × 15.99491462 + 22.98976928 − 0.00054858 (AME2020, CODATA)
    expect(page.measurements[0]).toMatchObject({ subject: 'benzoin', kind: 'HRMS', found: 235.0731 });
    expect(page.measurements[0].calculated).toBeCloseTo(235.073, 3);
    expect(Math.abs(page.measurements[0].error_ppm)).toBeLessThan(1);
  });
});

describe('several files', () => {
  test('a file that cannot be read has an error, the others are there, 2', () => {
    const { status, stderr, document } = compute({ 'a.tare': Buffer.from([0xc3]), 'b.tare': ESTER }, [
      '.',
      'gone.tare',
    ]);
    expect(status).toBe(2);
    expect(document.files.map(({ path }: { path: string }) => path)).toEqual(['a.tare', 'b.tare', 'gone.tare']);
    expect(document.files[0]).toEqual({
      path: 'a.tare',
      error: { message: 'is not UTF-8 (line 1); save it as UTF-8' },
      diagnostics: [],
    });
    expect(document.files[1].experiments[0].id).toBe('TB-014');
    expect(stderr).toMatch(/^tarebook: a\.tare: .*\ntarebook: gone\.tare: no such file or folder\n$/);
  });
  test('a batch and what another page has left of it', () => {
    const next = `experiment TB-015: hydrolysis
substance isopentyl acetate: C7H14O2, from TB-014
reaction R1: isopentyl acetate + water -> ...
charge isopentyl acetate: 3.674 g, from TB-014, limiting
`;
    const { document } = compute({ 'a.tare': ESTER, 'b.tare': next });
    const [batch] = document.files[0].experiments[0].batches;
    expect(batch).toMatchObject({ id: 'TB-014', mass_g: 13.674 });
    expect(batch.left_g).toBeCloseTo(10, 9);
  });
  test('findings do not change the exit code, two runs give the same bytes', () => {
    const files = { 'a.tare': WRONG_NET, 'registers/r.tare': 'substance water: H2O\n' };
    const once = compute(files);
    expect(once.status).toBe(0);
    expect(compute(files).stdout).toBe(once.stdout);
  });
  test('check --format json prints the same diagnostics, valid against the same schema', () => {
    const cwd = tarebook.notebook({ 'a.tare': WRONG_NET });
    const checked = JSON.parse(tarebook.run(['check', '--format', 'json'], { cwd }).stdout);
    const computed = JSON.parse(tarebook.run(['compute'], { cwd }).stdout);
    expect(validate(checked)).toBe(true);
    expect(checked.files[0].diagnostics).toEqual(computed.files[0].diagnostics);
  });
});

test('--schema prints the schema that ships', () => {
  const file = join(import.meta.dirname, '../../server/cli/compute.schema.json');
  expect(JSON.parse(tarebook.run(['compute', '--schema']).stdout)).toEqual(JSON.parse(readFileSync(file, 'utf8')));
});
