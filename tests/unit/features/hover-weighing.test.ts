/** Hovers round a weighing: the tares of a vessel over pages, the steps of a series, how small a mass can be. */
import { describe, expect, test } from 'vitest';
import { hover } from '../../../server/features/hover';
import { marked, PAGE } from './notebook';

const HEAD = 'experiment TB-5: a\ndate: 2026-03-04\nauthor: MK\n';
const shown = (text: string, others: Readonly<Record<string, string>> = {}): string[] => {
  const { workspace, at } = marked(`${HEAD}${text}`, others);
  return hover(workspace.snapshot(PAGE), at)?.markdown.split(/\s*\n/) ?? [];
};

describe('a vessel', () => {
  const others = {
    'vessels.tare': 'vessel F-12: 50 mL flask, tare 41.201 g\n',
    'a.tare': 'experiment TB-1: a\ndate: 2026-01-10\nauthor: MK\nvessel F-12: 50 mL flask, tare 41.205 g\n',
    'b.tare': 'experiment TB-9: b\ndate: 2026-03-20\nauthor: MK\nweigh F-12: tare 41.209 g\n',
  };

  test('lists its tares with page and date, newest first, the register last, and how far they lie apart', () => {
    expect(shown('vessel F‸-12: 50 mL flask, tare 41.207 g\n', others)).toEqual([
      '**F-12** · 50 mL flask',
      'tare 41.209 g (TB-9, 2026-03-20)',
      'tare 41.207 g',
      'tare 41.205 g (TB-1, 2026-01-10)',
      'tare 41.201 g (vessels.tare)',
      '0.008 g apart at most between 2026-01-10 and 2026-03-20',
    ]);
  });

  test('with one tare says no more', () => {
    expect(shown('vessel F‸-12: 50 mL flask, tare 41.207 g\n')).toEqual(['**F-12** · 50 mL flask', 'tare 41.207 g']);
  });

  test('with many keeps to the newest', () => {
    const many = Object.fromEntries(
      Array.from({ length: 12 }, (_, i) => [
        `p${i}.tare`,
        `experiment P-${i}: p\ndate: 2025-${String(i + 1).padStart(2, '0')}-01\nauthor: MK\nvessel F-12: flask, tare 41.20${i % 10} g\n`,
      ]),
    );
    const lines = shown('vessel F‸-12: flask, tare 41.207 g\n', many);
    expect(lines.length).toBeLessThanOrEqual(12);
    expect(lines.at(-2)).toBe('and 6 older');
  });
});

describe('a weighing', () => {
  test('shows each step of a drying series with its rate', () => {
    const lines = shown(
      'weigh ash‸: tare 22.4101 g, gross 24.4101 g at 09:00, gross 24.2101 g at 11:00, gross 24.2096 g at 12:30\n',
    );
    expect(lines).toContain('3 gross readings');
    expect(lines).toContain('24.4101 → 24.2101 g: −0.2000 g in 2 h, 0.10 g/h lost');
    expect(lines).toContain('24.2101 → 24.2096 g: −0.0005 g in 1 h 30 min, 0.33 mg/h lost');
  });

  test('shows what its balance can do: 2 × 0.00041 g of 12 mg, 0.82 g for 0.10 %', () => {
    const lines = shown('balance B-2: readability 0.001 g\nweigh ash‸: tare 12.345 g, gross 12.357 g, on B-2\n');
    expect(lines.at(-1)).toBe('Balance B-2. · 2 s ÷ m = 6.8 %; 0.10 % needs 0.82 g on B-2 (USP 41)');
  });

  test('shows the correction for buoyancy with its working', () => {
    const lines = shown('substance oil: mixture, density 0.80 g/mL\nweigh oil‸: net 10.0000 g, correct for buoyancy\n');
    expect(lines).toContain(
      '10.0000 g × (1 − 0.0012 g/mL ÷ 8 g/mL) ÷ (1 − 0.0012 g/mL ÷ 0.80 g/mL (line 4)) = 10.0135 g',
    );
    expect(lines.join('\n')).toContain('as the page asks: air 1.2 kg/m³, weights 8000 kg/m³ (OIML D 28)');
    expect(shown('weigh tar‸: net 10.0000 g, correct for buoyancy\n')).toContain(
      'mass not computable: needs a density of tar',
    );
  });
});

test('a balance without a stated minimum says what 0.10 % needs', () => {
  expect(shown('balance A‸-1: readability 0.0001 g, repeatability 0.00015 g\n').join('\n')).toContain(
    'smallest net for 0.10 %: 0.3 g (USP 41)',
  );
});
