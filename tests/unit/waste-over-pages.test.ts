/** Streams of one name over all pages, in a folder and in an open editor. */
import { expect, test } from 'vitest';
import { parse } from '../../grammar/parse';
import { hover } from '../../server/features/hover';
import { branchesOf } from '../../server/routes';
import { findingsOf, notebook, uriOf } from '../kit/notebook';

const page = (id: string, line: string, date = '2026-05-01') => `experiment ${id}: a page
date: ${date}
author: MK

${line}
`;
const codes = (files: Readonly<Record<string, string>>, name: string) =>
  findingsOf(notebook(files), name).map(({ finding }) => finding.code);

test('a page is judged again when another one pours something into the same stream', () => {
  const azide = page('W-1', 'waste red can: 20 mL washes with sodium azide');
  const files = { 'a.tare': azide, 'b.tare': page('W-2', 'waste red can: 30 mL toluene') };
  const before = notebook(files);
  expect(findingsOf(before, 'a.tare')).toEqual([]);
  const after = before.with(
    new Map([[uriOf('b.tare'), parse(page('W-2', 'waste red can: 30 mL dichloromethane', '2026-04-30'))]]),
  );
  const [found] = findingsOf(after, 'a.tare');
  expect(found?.finding.message).toContain('dichloromethane (W-2, 2026-04-30)');
  // Who was first had no reason to know.
  expect(findingsOf(after, 'b.tare')).toEqual([]);
  const sameDay = after.with(new Map([[uriOf('b.tare'), parse(page('W-2', 'waste red can: 30 mL dichloromethane'))]]));
  expect(findingsOf(sameDay, 'a.tare')).toHaveLength(1);
  expect(findingsOf(sameDay, 'b.tare')).toHaveLength(1);
  const [related] = found!.finding.related!;
  const place = related?.origin.from === 'there' ? after.locate(related.origin) : undefined;
  expect(place).toMatchObject({ uri: uriOf('b.tare'), range: { start: { line: 4 } } });
});

test('other names are other containers; accept says that it was changed', () => {
  expect(
    codes(
      {
        'a.tare': page('W-1', 'waste red can: 20 mL washes with sodium azide'),
        'b.tare': page('W-2', 'waste blue can: 30 mL dichloromethane'),
      },
      'a.tare',
    ),
  ).toEqual([]);
  expect(
    codes(
      {
        'a.tare': page(
          'W-1',
          'waste red can: 20 mL washes with sodium azide\naccept waste-incompatible: new can since Monday',
        ),
        'b.tare': page('W-2', 'waste red can: 30 mL dichloromethane'),
      },
      'a.tare',
    ),
  ).toEqual([]);
});

test('a substance that another page declared with its structure counts there', () => {
  const files = {
    'a.tare': `${page('W-1', 'substance tosyl azide 4: C7H7N3O2S, SMILES Cc1ccc(cc1)S(=O)(=O)N=[N+]=[N-]')}waste can: 5 mL tosyl azide 4\n`,
    'b.tare': page('W-2', 'waste can: 30 mL dichloromethane'),
  };
  expect(codes(files, 'b.tare')).toEqual(['waste-incompatible']);
});

test('a register says what a stream takes, and overrules the stock list', () => {
  const line = page('W-1', 'waste aqueous acid: 40 mL washes with copper(II) sulfate');
  expect(codes({ 'a.tare': line }, 'a.tare')).toEqual(['waste-stream-mismatch']);
  const register = 'waste aqueous acid: takes acids, metals, not cyanides, also acid bottle\n';
  expect(codes({ 'a.tare': line, 'streams.tare': register }, 'a.tare')).toEqual([]);
  const cyanide = page('W-1', 'waste acid bottle: 40 mL sodium cyanide solution');
  expect(codes({ 'a.tare': cyanide, 'streams.tare': register }, 'a.tare')).toContain('waste-stream-mismatch');
  expect(codes({ 'streams.tare': register }, 'streams.tare')).toEqual([]);
});

test('many pages of one stream stay cheap: each asks for a few of each group', () => {
  const files = Object.fromEntries(
    Array.from({ length: 300 }, (_, i) => [`p${i}.tare`, page(`W-${i}`, 'waste can: 30 mL toluene and methanol')]),
  );
  const workspace = notebook(files);
  const { world } = workspace.snapshot(uriOf('p0.tare')).page(1);
  expect(world.wastes('can').length).toBeLessThan(20);
  expect(new Set(world.wastes('can').map(({ id }) => id)).size).toBe(2);
});

test('the hover of a waste line: stream, mass, what else went there, the balance of the page', () => {
  const text = page('W-1', 'charge toluene: 10.0 g\nwaste red can: 12.0 mL toluene');
  const files = {
    'a.tare': text,
    'b.tare': page('W-2', 'waste red can: 30 mL acetone'),
    'r.tare': 'waste red can: takes organic solvents, not metals\n',
  };
  const at = (character: number, line: number) =>
    hover(notebook(files).snapshot(uriOf('a.tare')), { line, character })?.markdown ?? '';
  const whole = at(3, 5);
  expect(whole).toMatch(/^\*\*red can\*\* · waste · \*\*10\.\d+ ± /);
  expect(whole).toContain('takes organic solvents; not metals (register)');
  expect(whole).toContain('acetone (W-2)');
  expect(whole).toMatch(/10\.0 g in, 10\.4\d? g out/);
  expect(at(25, 5)).toContain('flammable organic liquid');
  expect(whole).not.toMatch(/\bsafe\b/i);
});

test('the hover of a neutralising: what it takes, gas and heat', () => {
  const text = page('W-1', 'charge HCl: 0.100 mol\nneutralise HCl: with sodium hydroxide, to pH 7');
  const found =
    hover(notebook({ 'a.tare': text }).snapshot(uriOf('a.tare')), { line: 5, character: 3 })?.markdown ?? '';
  expect(found).toMatch(/acid: \*\*(?:0\.100|100\.?\d*) m?mol\*\* of protons/);
  expect(found).toContain('heat about 5.7');
  expect(found).toContain('ask a qualified person');
});

test('the longest route and each branch, with the yield of each', () => {
  const made = (id: string, share: number, ...from: readonly string[]) => ({
    uri: id,
    id,
    made: [{ name: id, key: id, mass: 1, yield: share }],
    taken: from.map((one) => ({ id: one, mass: 1 })),
  });
  // A 80 % -> B 50 % -> D; C 90 % -> D 70 %
  const pages = [made('A', 0.8), made('B', 0.5, 'A'), made('C', 0.9), made('D', 0.7, 'B', 'C')];
  const branches = branchesOf(pages, (id) => pages.filter((p) => p.id === id));
  expect(branches).toEqual([
    { pages: ['A', 'B', 'D'], product: 'D', yield: 0.8 * 0.5 * 0.7, longest: true },
    { pages: ['C', 'D'], product: 'D', yield: 0.9 * 0.7, longest: false },
  ]);
  const round = [made('A', 0.8, 'B'), made('B', 0.5, 'A')];
  expect(branchesOf(round, (id) => round.filter((p) => p.id === id))).toEqual([]);
});
