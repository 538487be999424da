/**
 * No fix changes a recorded measurement, and no fix is offered that is not proven: over the samples, the examples of
 * all rules, and random slips in correct pages.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parse, textOf } from '../grammar/parse';
import { fillings } from '../server/features/fill';
import { inlayHints } from '../server/features/inlay-hints';
import type { Datum, Page } from '../server/model/page';
import { applyEdits, editedFile, fixAll, measurements, prove } from '../server/prove';
import { RULES } from '../server/rules';
import type { Fix } from '../server/rules/rule';
import { createWorkspace, type Workspace } from '../server/workspace';
import { readMarked } from './kit/fixture';

const PAGE = 'page.tare';

interface Notebook {
  readonly name: string;
  readonly files: Readonly<Record<string, string>>;
}

const open = (files: Readonly<Record<string, string>>): Workspace =>
  createWorkspace(undefined, (code, error) => {
    throw new Error(`${code} throws`, { cause: error });
  }).with(new Map(Object.entries(files).map(([uri, text]) => [uri, parse(text)])));

const examples: readonly Notebook[] = RULES.flatMap((rule) =>
  rule.examples.flatMap(({ name, wrong, right, files = {} }) =>
    [wrong && readMarked(wrong).text, right].flatMap((text, i) =>
      text
        ? [{ name: `${rule.code}, ${name}, ${i === 0 ? 'wrong' : 'right'}`, files: { [PAGE]: text, ...files } }]
        : [],
    ),
  ),
);

const SAMPLES = join(import.meta.dirname, '../samples');
const shipped = Object.fromEntries(
  (existsSync(SAMPLES) ? readdirSync(SAMPLES, { recursive: true, encoding: 'utf8' }) : [])
    .filter((file) => file.endsWith('.tare'))
    .sort()
    .map((file) => [file, readFileSync(join(SAMPLES, file), 'utf8')]),
);
/** Each page of the samples, the others round it. */
const samples: readonly Notebook[] = Object.entries(shipped).map(([name, text]) => {
  const { [name]: _, ...others } = shipped;
  return { name, files: { [PAGE]: text, ...others } };
});

const ESTER = `experiment TB-014: Isopentyl acetate by Fischer esterification
date: 2026-03-04
author: MK

substance isopentyl alcohol: C5H12O, density 0.810 g/mL
substance acetic acid: C2H4O2, density 1.049 g/mL, purity 99.7 %
substance isopentyl acetate: C7H14O2, bp 142 °C
balance B-2: readability 0.001 g
vessel F-12: 50 mL round-bottom flask, tare 41.207 g

reaction R1: isopentyl alcohol + acetic acid -> isopentyl acetate + water

charge isopentyl alcohol: 15.0 mL (12.2 g, 138 mmol, 1.00 equiv), limiting
charge acetic acid: 20.0 mL (20.98 g, 348 mmol, 2.53 equiv)

09:40 Boiling chips in, 15.0 mL of the alcohol first.

product isopentyl acetate:
  gross 54.881 g (net 13.674 g, 105.0 mmol, 76.2 %), in F-12, on B-2
  distilled, bp 139–141 °C
`;

// ── what the reader takes as measured: another way to the list than the proof's own ──────────────────────────────

const one = ({ quantity: { number, to, plusMinus, count, unit } }: Datum): string =>
  [count, number, to, plusMinus].map((n) => n?.value.toString() ?? '').join(' ') + (unit?.symbol ?? '');

/** Readings, amounts and strengths of a page, without cited tares. */
function recorded(page: Page): readonly string[] {
  return [...page.charges, ...page.products, ...page.recovered, ...page.weighs]
    .sort((a, b) => a.entry.span.start - b.entry.span.start)
    .flatMap(({ amount }) => [
      ...amount.quantities.map(one),
      ...amount.weighing.readings.filter(({ from }) => !from).map(({ datum }) => one(datum)),
      ...(amount.strength ? [one(amount.strength.datum)] : []),
    ])
    .concat(page.vessels.flatMap(({ tares }) => tares.filter(({ from }) => !from).map(({ datum }) => one(datum))))
    .concat(page.samples.flatMap(({ quantity }) => (quantity ? [one(quantity)] : [])));
}

interface Offered {
  readonly page: number;
  readonly code: string;
  readonly fix: Fix;
  readonly proof: ReturnType<typeof prove>;
}

const offered = (workspace: Workspace): readonly Offered[] =>
  workspace.files.get(PAGE)!.pages.flatMap((_, page) => {
    const result = workspace.snapshot(PAGE).page(page);
    if (result.page.signed) return [];
    return result.findings.flatMap((finding) =>
      (finding.fixes ?? []).map((fix) => ({
        page,
        code: finding.code,
        fix,
        proof: prove(workspace, PAGE, page, finding, fix),
      })),
    );
  });

describe('every fix offered is proven', () => {
  test('there is something to prove', () => {
    expect(examples.flatMap(({ files }) => offered(open(files))).length).toBeGreaterThan(10);
  });

  test.each([...examples, ...samples])('$name', ({ files }) => {
    const unproven = offered(open(files)).filter(({ proof }) => !proof.ok);
    expect(unproven.map(({ code, fix, proof }) => `${code}: ${fix.title}: ${proof.ok || proof.why}`)).toEqual([]);
  });
});

/** Where the editor knows no stops, slots stay empty: `tare ${1} g` becomes `tare  g`. */
const emptied = (fix: Fix): Fix => ({
  ...fix,
  edits: fix.edits.map(({ span, text }) => ({
    span,
    text: text.replace(/\$\{\d+(?:[:|](?:[^}\\]|\\.)*)?\}|\$\d+/g, '').replace(/\\([$}\\])/g, '$1'),
  })),
});

test('an empty slot brings no error either', () => {
  const brought = [...examples, ...samples].flatMap(({ name, files }) => {
    const workspace = open(files);
    return workspace.files.get(PAGE)!.pages.flatMap((_, page) =>
      workspace
        .snapshot(PAGE)
        .page(page)
        .findings.flatMap((finding) =>
          (finding.fixes ?? [])
            .filter(({ snippet }) => snippet && !workspace.snapshot(PAGE).page(page).page.signed)
            .map((fix) => ({ fix, proof: prove(workspace, PAGE, page, finding, emptied(fix)) }))
            .flatMap(({ fix, proof }) => (proof.ok ? [] : [`${name}: ${fix.title}: ${proof.why}`])),
        ),
    );
  });
  expect(brought).toEqual([]);
});

describe('fix-all ends, and does nothing more when done twice', () => {
  test.each([...examples, ...samples])('$name', ({ files }) => {
    const workspace = open(files);
    const before = workspace.snapshot(PAGE);
    const fixed = fixAll(workspace, PAGE).reduce(
      (file, { page, edits }) => editedFile(file, page, edits),
      workspace.files.get(PAGE)!,
    );
    const after = workspace.with(new Map([[PAGE, fixed]]));
    expect(fixAll(after, PAGE)).toEqual([]);
    for (let page = 0; page < before.pageCount; page++)
      if (before.page(page).page.signed)
        expect(fixed.pages[page]!.page.text).toBe(workspace.files.get(PAGE)!.pages[page]!.page.text);
  });
});

describe('what is filled in', () => {
  /** A page without its signature and without the claims of what went in and came out. */
  const stripped = (text: string): string =>
    parse(text)
      .pages.map(({ page }) =>
        applyEdits(
          page.text,
          page.blocks.flatMap(({ block: { statement, text: line }, at }) => {
            if (statement?.keyword === 'signed') return [{ span: { start: at, end: at + line.length }, text: '' }];
            if (statement?.body.kind !== 'facts' || statement.keyword === 'measure') return [];
            const groups = statement.body.legs.flatMap(({ facts }) => facts.flatMap(({ claims }) => claims));
            return groups.map(({ span }) => ({ span: { start: at + span.start, end: at + span.end }, text: '' }));
          }),
        ),
      )
      .join('');

  test.each(samples)('$name: every number offered agrees with what is computed', ({ files }) => {
    const workspace = open({ ...files, [PAGE]: stripped(files[PAGE]!) });
    const snapshot = workspace.snapshot(PAGE);
    for (let page = 0; page < snapshot.pageCount; page++) {
      const { text } = snapshot.source.pages[page]!.page;
      const hints = inlayHints(snapshot, snapshot.range(page, { start: 0, end: text.length }), {
        charges: true,
        products: true,
      });
      const filled = fillings(workspace, PAGE, page);
      expect(filled.map(({ claims }) => claims)).toEqual(hints.flatMap(({ edit }) => edit?.text.trim() ?? []));
      const file = editedFile(
        workspace.files.get(PAGE)!,
        page,
        filled.map(({ edit }) => edit),
      );
      const after = workspace
        .with(new Map([[PAGE, file]]))
        .snapshot(PAGE)
        .page(page);
      expect(recorded(after.page)).toEqual(recorded(snapshot.page(page).page));
    }
  });
});

test('an edit of a recorded measurement is never proven', () => {
  const pages = samples.flatMap(({ files }) => {
    const workspace = open(files);
    return workspace.files.get(PAGE)!.pages.flatMap(({ page }, index) =>
      workspace.snapshot(PAGE).page(index).page.signed
        ? []
        : measurements(page).map(({ node, span }) => ({
            workspace,
            page: index,
            node,
            start: span.start - node.span.start,
          })),
    );
  });
  const digit = fc.tuple(fc.nat(), fc.nat(), fc.integer({ min: 1, max: 9 }));
  fc.assert(
    fc.property(digit, ([which, nth, by]) => {
      const { workspace, page, node, start } = pages[which % pages.length]!;
      const at = [...node.number.text.matchAll(/\d/g)];
      const { index, 0: old } = at[nth % at.length]!;
      const from = start + node.number.span.start + index;
      const text = String((Number(old) + by) % 10);
      const proof = prove(workspace, PAGE, page, undefined, {
        title: 'x',
        edits: [{ span: { start: from, end: from + 1 }, text }],
      });
      expect(proof.ok).toBe(false);
    }),
    { numRuns: 100, seed: 5 },
  );
  expect(pages.length).toBeGreaterThan(5);
});

/** The slips of a hurried hand: in units, numbers, brackets, names and keywords. */
const SLIPS: readonly (readonly [RegExp, string])[] = [
  [/ mL/, ' ml'],
  [/ g/, ' gms'],
  [/ g/, ' mg'],
  [/(\d)\.(\d)/, '$1,$2'],
  [/\b0\.(\d)/, '.$1'],
  [/(\d)(\d)/, '$2$1'],
  [/(\d)\d/, '$1'],
  [/ \((?=\d)/, ' '],
  [/\)/, ''],
  [/charge/, 'chrage'],
  [/: (?=\d)/, ' '],
  [/gross/, 'net'],
  [/, in F-12/, ', in F-13'],
  [/tare 41\.207 g/, ''],
  [/–/, ' to '],
  [/2026-03-04/, '4.3.2026'],
  [/mmol/, 'mol'],
];

test('no fix changes a measurement, whatever slip was made', () => {
  const slip = fc.tuple(fc.nat(SLIPS.length - 1), fc.nat(30));
  let tried = 0;
  fc.assert(
    fc.property(fc.array(slip, { minLength: 1, maxLength: 3 }), (slips) => {
      const text = slips.reduce((page, [which, nth]) => {
        const [pattern, written] = SLIPS[which]!;
        const found = [...page.matchAll(new RegExp(pattern, 'g'))];
        const at = found[nth % Math.max(1, found.length)];
        return at ? page.slice(0, at.index) + page.slice(at.index).replace(pattern, written) : page;
      }, ESTER);
      const workspace = open({ [PAGE]: text });
      for (const { page, fix, proof, code } of offered(workspace)) {
        if (!proof.ok || fix.snippet) continue;
        tried++;
        const before = recorded(workspace.snapshot(PAGE).page(page).page);
        const file = editedFile(workspace.files.get(PAGE)!, page, fix.edits);
        const after = recorded(
          workspace
            .with(new Map([[PAGE, file]]))
            .snapshot(PAGE)
            .page(page).page,
        );
        // What could not be read before may be read now; what was read is what it was, in its order.
        let next = 0;
        for (const value of after) if (value === before[next]) next++;
        expect(before.slice(next), `${code}: ${fix.title}\n${textOf(file)}`).toEqual([]);
      }
    }),
    { numRuns: 150, seed: 20260304 },
  );
  expect(tried).toBeGreaterThan(50);
});
