/**
 * Every slip is named when it alone gives the written number, and none is when it does not. Numbers worked out by hand
 * from the CIAAW standard atomic weights.
 */
import { describe, expect, test } from 'vitest';
import type { Slip } from '../../../server/compute/values';
import { findingsOf, notebook } from '../../kit/notebook';

const PAGE = 'page.tare';

const SUBSTANCES = `experiment TB-900: Slips
date: 2026-03-11
author: MK
substance benzyl alcohol: C7H8O, density 1.250 g/mL
substance assayed acid: C7H6O2, purity 80 %
substance blue vitriol: CuSO4·5H2O
reaction R1: 2 benzyl alcohol + oxalyl chloride -> C16H14O4 + 2 HCl
`;

/** Benzyl alcohol 108.140 g/mol, oxalyl chloride 126.92 g/mol, C16H14O4 270.28 g/mol. */
const CHARGES = `charge benzyl alcohol: 12.50 g (115.6 mmol), limiting
charge oxalyl chloride: 10.15 g (80.0 mmol)
`;

const found = (lines: string) =>
  findingsOf(notebook({ [PAGE]: `${SUBSTANCES}${lines}` }), PAGE)
    .map(({ finding }) => finding)
    .filter(({ severity }) => severity === 'error')
    .map(({ code, slip, fixes }) => ({ code, slip, fix: fixes?.[0]?.title }));

const CASES: readonly (readonly [Slip, string, string])[] = [
  ['factor-1000', 'charge benzyl alcohol: 10.0 mL (12.5 mg)', 'Replace 12.5 mg with 12.5 g'],
  ['factor-1000', 'charge benzyl alcohol: 10.0 mL (12.5 g, 116 mol)', 'Replace 116 mol with 116 mmol'],
  ['digits-swapped', 'charge benzyl alcohol: 10.0 mL (15.2 g)', 'Replace 15.2 g with 12.5 g'],
  ['digit-dropped', 'charge benzyl alcohol: 10.0 mL (12.5 g, 16 mmol)', 'Replace 16 mmol with 116 mmol'],
  ['digit-doubled', 'charge benzyl alcohol: 10.0 mL (12.5 g, 1166 mmol)', 'Replace 1166 mmol with 116 mmol'],
  ['density-inverted', 'charge benzyl alcohol: 10.0 mL (8.0 g)', 'Replace 8.0 g with 12.5 g'],
  ['density-missing-used-as-mass', 'charge benzyl alcohol: 10.0 mL (10.0 g)', 'Replace 10.0 g with 12.5 g'],
  ['purity-ignored', 'charge assayed acid: 12.21 g (100 mmol)', 'Replace 100 mmol with 80 mmol'],
  ['hydrate-ignored', 'charge blue vitriol: 15.96 g (100.0 mmol)', 'Replace 100.0 mmol with 63.9 mmol'],
  ['other-molar-mass', 'charge blue vitriol: 12.50 g (115.6 mmol)', 'Replace 115.6 mmol with 50.1 mmol'],
  // Theory is half of 115.6 mmol, 15.62 g.
  ['coefficient-ignored', `${CHARGES}product C16H14O4: 12.50 g (40.0 %)`, 'Replace 40.0 % with 80.0 %'],
  ['other-limiting', `${CHARGES}product C16H14O4: 12.50 g (57.8 %)`, 'Replace 57.8 % with 80.0 %'],
  ['yield-by-mass', `${CHARGES}product C16H14O4: 9.00 g (72.0 %)`, 'Replace 72.0 % with 57.6 %'],
];

test.each(CASES)('%s: %s', (slip, line, fix) => {
  expect(found(`${line}\n`)).toEqual([{ code: 'claim-mismatch', slip, fix }]);
});

describe('no slip is named', () => {
  test('when none gives the number', () => {
    expect(found('charge benzyl alcohol: 10.0 mL (11.9 g)\n')).toEqual([
      { code: 'claim-mismatch', slip: undefined, fix: 'Replace 11.9 g with 12.5 g' },
    ]);
  });

  test('when the number is right, also by the other numbers of its group', () => {
    expect(found(`${CHARGES}charge benzyl alcohol: 10.0 mL (12.5 g, 116 mmol)\n`)).toEqual([]);
  });
});

test('two wrong numbers of a group do not hold each other up, and are put right together', () => {
  expect(found('charge benzyl alcohol: 10.0 mL (13.5 g, 125 mmol)\n')).toEqual([
    {
      code: 'claim-mismatch',
      slip: undefined,
      fix: 'Replace 13.5 g with 12.5 g, 125 mmol with 116 mmol',
    },
  ]);
});

test('one unit of a single figure is a mismatch, of two figures a matter of rounding', () => {
  expect(found('charge blue vitriol: 24.97 g (0.2 mol)\n')).toHaveLength(1);
  expect(found('charge blue vitriol: 24.97 g (0.11 mol)\n')).toEqual([]);
});
