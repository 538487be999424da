/**
 * The samples are what a newcomer opens first: correct pages agree with the tool in every number, the two pages with
 * mistakes get exactly the findings that their readme promises, and together they use the whole language.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { parse } from '../grammar/parse';
import { KEYWORDS } from '../grammar/vocabulary';
import { isHeld } from '../server/quantity/held';
import { createWorkspace } from '../server/workspace';
import { type FoundInFile, findingsOf, uriOf } from './kit/notebook';

const folder = join(import.meta.dirname, '../samples');
const names = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  .map((name) => name.replaceAll('\\', '/'))
  .filter((name) => name.endsWith('.tare'))
  .sort();
const texts = new Map(names.map((name) => [name, readFileSync(join(folder, name), 'utf8')]));
const correct = names.filter((name) => name.startsWith('tb-'));

const notebook = (changed: ReadonlyMap<string, string> = new Map()) =>
  createWorkspace(undefined, (code, error) => {
    throw new Error(`The rule ${code} failed`, { cause: error });
  }).with(new Map(names.map((name) => [uriOf(name), parse(changed.get(name) ?? texts.get(name)!)])));

const workspace = notebook();
const resultsOf = (name: string, from = workspace) => {
  const snapshot = from.snapshot(uriOf(name));
  return Array.from({ length: snapshot.pageCount }, (_, page) => snapshot.page(page));
};
const isLoud = ({ finding: { severity } }: FoundInFile): boolean => severity === 'error' || severity === 'warning';
/** Errors and warnings. */
const found = (name: string, from = workspace) =>
  findingsOf(from, name)
    .filter(isLoud)
    .map(({ finding: { code, severity, slip } }) =>
      [severity, code, slip].filter((part) => part !== undefined).join(' '),
    );

test('there are enough of them, in one notebook', () => {
  expect(correct.length).toBeGreaterThanOrEqual(10);
  const ids = names.flatMap((name) => resultsOf(name).flatMap(({ page }) => page.id?.text ?? []));
  expect(new Set(ids).size).toBe(ids.length);
});

test('they use every statement of the language', () => {
  const used = new Set(
    [...texts.values()].flatMap((text) =>
      parse(text).pages.flatMap(({ page }) => page.blocks.map(({ block }) => block.statement?.keyword)),
    ),
  );
  expect(Object.keys(KEYWORDS).filter((keyword) => !used.has(keyword as keyof typeof KEYWORDS))).toEqual([]);
});

describe.each(correct)('%s', (name) => {
  test('has no finding above information', () => {
    expect(found(name)).toEqual([]);
  });

  // A claim with no value to compare it with would pass unread: only literature may have none.
  test('agrees with the tool in every claim', () => {
    const claims = resultsOf(name).flatMap(({ values }) => values.claims);
    const off = claims.filter(
      ({ claim, verdict }) => claim.label !== 'lit.' && verdict !== 'exact' && verdict !== 'rounded',
    );
    expect(off.map(({ subject, claim, verdict }) => [subject, claim.quantity.number.text, verdict])).toEqual([]);
  });

  // A bracket in the wrong place is text, and nobody would check it.
  test('has every bracket of numbers read as claims', () => {
    const keywords = new Set(['charge', 'product', 'recovered', 'weigh', 'solution']);
    for (const { page, source } of resultsOf(name)) {
      const written = source.blocks
        .filter(({ block }) => keywords.has(block.statement?.keyword ?? ''))
        .flatMap(({ block }) => block.text.match(/ \([^()]*\d (g|mg|mmol|mol\/L|equiv|%)\)/g) ?? []);
      const groups = new Set(page.claims.map(({ groupSpan }) => groupSpan.start));
      expect(groups.size).toBeGreaterThanOrEqual(written.length);
    }
  });

  test('is signed', () => {
    expect(resultsOf(name).filter(({ page }) => page.id && !page.signed)).toEqual([]);
  });
});

// 0.7396 × 0.8750 = 64.7 %, as the page's note has it; 4.931 g were made and 4.003 g taken.
test('a route over two pages', () => {
  const [raspberry] = workspace.outcomes('TB-032');
  const [enone] = workspace.outcomes('TB-031');
  expect(raspberry!.taken).toMatchObject([{ id: 'TB-031', mass: 4.003 }]);
  expect(raspberry!.made[0]!.from?.id).toBe('TB-031');
  expect(raspberry!.made[0]!.yield! * enone!.made[0]!.yield!).toBeCloseTo(0.647, 3);
});

describe('with mistakes', () => {
  const noTare = 'with-mistakes/tb-034-no-tare.tare';
  const slips = 'with-mistakes/tb-035-slips.tare';

  test('nobody weighed the flask: one warning, and no number is made up', () => {
    expect(found(noTare)).toEqual(['warning tare-missing']);
    const product = resultsOf(noTare)[1]!.values.products[0]!;
    expect([product.mass, product.amount, product.yield].filter(isHeld)).toEqual([]);
  });

  // 68.402 g − 61.236 g = 7.166 g; ÷ 176.215 g/mol = 40.67 mmol; ÷ 49.55 mmol (6.30 mL × 1.050 g/mL × 99.0 % ÷
  // 132.162 g/mol) = 82.1 %. Molar masses from the CIAAW abridged weights.
  test('the first fix cites the tare that another page wrote', () => {
    const fix = findingsOf(workspace, noTare).find(isLoud)!.fixes[0]!;
    expect(fix.fix.title).toBe('Use the tare of P-31 written on TB-030, 2026-03-16 (61.236 g)');
    const text = texts.get(noTare)!;
    const mended = fix.edits.reduceRight(
      (t, { span, text: insert }) => t.slice(0, span.start) + insert + t.slice(span.end),
      text,
    );
    const after = notebook(new Map([[noTare, mended]]));
    expect(found(noTare, after)).toEqual([]);
    const product = resultsOf(noTare, after)[1]!.values.products[0]!;
    expect(isHeld(product.mass) && product.mass.value.toNumber()).toBe(7.166);
    expect(isHeld(product.amount) && product.amount.value.toNumber()).toBeCloseTo(0.04067, 5);
    expect(isHeld(product.yield) && product.yield.value.toNumber()).toBeCloseTo(0.8207, 3);
  });

  test('each wrong sum gets its reason, and nothing else is said', () => {
    expect(found(slips)).toEqual([
      'error claim-mismatch factor-1000',
      'error claim-mismatch density-missing-used-as-mass',
      'error claim-mismatch purity-ignored',
      'error claim-mismatch digits-swapped',
      'error net-mismatch gross-as-net',
      'error claim-mismatch coefficient-ignored',
    ]);
  });
});
