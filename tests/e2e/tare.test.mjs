// A person opens a page on which the flask was never weighed empty, and mends it.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { packaged } from './vsix.mjs';
import { startWorkbench } from './workbench.mjs';

const pages = join(import.meta.dirname, 'pages');
const shots = join(import.meta.dirname, 'shots');
let wb;

beforeAll(async () => {
  wb = await startWorkbench({ vsix: packaged(), folder: pages });
});
afterAll(() => wb?.stop());

/** The 1-based line that begins with `start`, and the column right behind it. */
function place(text, start) {
  const line = text.split('\n').findIndex((one) => one.startsWith(start));
  if (line < 0) throw new Error(`No line begins with "${start}"`);
  return { line: line + 1, col: start.length };
}
const here = (file) => (list) => list.filter((found) => found.file === file && found.code === 'tare-missing');

describe('a missing tare that nobody wrote down', () => {
  const file = 'no-tare.tare';
  const product = place(readFileSync(join(pages, file), 'utf8'), 'product isopentyl acetate');
  const found = here(file);

  test('is found once, as a warning on the product', async () => {
    await wb.open(file);
    const list = found(await wb.problems({ wanted: (all) => found(all).length > 0 }));
    await wb.screenshot(join(shots, 'tare-missing.png'));
    expect(list).toMatchObject([{ severity: 'warning', source: 'tarebook', line: product.line }]);
    expect(list[0].message).toContain('54.881 g');
    expect(await wb.notifications()).toEqual([]);
  });

  test('gets an empty slot for the reading, with the cursor in it', async () => {
    const [finding] = found(await wb.problems({ wanted: (all) => found(all).length > 0 }));
    await wb.applyQuickFix(finding.line, 'Add the tare of F-12', { col: finding.col });
    await wb.screenshot(join(shots, 'tare-slot.png'));
    await wb.page.keyboard.type('41.207');
    await wb.problems({ wanted: (all) => found(all).length === 0 });
    const text = await wb.savedText(file);
    expect(text.match(/tare 41\.207 g/g)).toHaveLength(1);
    expect(text.replace(/^vessel F-12: tare 41\.207 g\n|, tare 41\.207 g/m, '')).toBe(
      readFileSync(join(pages, file), 'utf8'),
    );
  });

  // 54.881 g - 41.207 g = 13.674 g; 13.674 g / 130.187 g/mol (C7H14O2, CIAAW abridged weights) = 105.03 mmol;
  // 105.03 mmol of 137.83 mmol (15.0 mL x 0.810 g/mL / 88.150 g/mol) = 76.2 %.
  test('then gives net mass, amount and yield in the hover', async () => {
    const mended = place(await wb.savedText(file), 'product isopentyl acetate');
    const { text } = await wb.hoverAt(mended.line, mended.col);
    await wb.screenshot(join(shots, 'product-hover.png'));
    expect(text).toMatch(/13\.674/);
    expect(text).toMatch(/105\.0\d?( ± \S+)? mmol/);
    expect(text).toMatch(/76\.2\d? ?%/);
  });
});

describe('a missing tare that another page recorded', () => {
  const file = 'tare-elsewhere.tare';
  const found = here(file);

  test('is cited from that page', async () => {
    await wb.open(file);
    const [finding] = found(await wb.problems({ wanted: (all) => found(all).length > 0 }));
    const titles = await wb.quickFixes(finding.line, { col: finding.col });
    await wb.screenshot(join(shots, 'tare-fixes.png'));
    expect(titles[0]).toBe('Use the tare of P-31 written on TB-030, 2026-03-16 (61.236 g)');
    await wb.applyQuickFix(finding.line, titles[0], { col: finding.col });
    await wb.problems({ wanted: (all) => found(all).length === 0 });
    expect(await wb.savedText(file)).toContain('tare 61.236 g from TB-030');
  });
});
