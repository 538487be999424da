/**
 * Reuse never changes an answer: after any run of edits, on pages, in registers, of files that come and go, the
 * workspace that went through them finds and computes what a fresh one does.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { edit, parse, positionAt, textOf } from '../../grammar/parse';
import type { SourceFile } from '../../grammar/tree';
import { isHeld } from '../../server/quantity/held';
import { machine } from '../../server/quantity/show';
import { DEFAULTS, type Settings } from '../../server/settings';
import type { Workspace } from '../../server/workspace';
import { uriOf } from '../kit/notebook';
import { findingsIn, SAMPLES, strictWorkspace, valuesIn } from './pages';

const NAMES = [...SAMPLES.keys()];

/** Pieces whose coming and going other pages notice. */
const PIECES = [
  'experiment TB-030: again\n',
  'experiment TB-023: again\nproduct cinnamic acid: 1.00 g\n',
  'vessel P-31: flask, tare 60.000 g\n',
  'weigh P-31: tare 61.300 g\n',
  'substance acetophenone: C8H8O, density 1.100 g/mL\n',
  'substance cinnamaldehyde: C9H8O, purity 50 %\n',
  'balance B-2: readability 0.01 g\n',
  'solution 2 M hydrochloric acid: 1.00 mol/L hydrogen chloride in water\n',
  'charge cinnamic acid: 1.00 g, from TB-023\n',
  'product methyl salicylate: 7.00 g, dried\n',
  'accept tare-missing: seen\n',
  'signed: MK, 2026-04-01 17:20, digest 3f2a91bc07de55a0\n',
  'amend vessel F-12: 41.207 g -> 41.307 g, misread, MK, 2026-04-02\n',
  'amend charge cinnamic acid: 1.00 g -> 1.50 g, misread, MK, 2026-04-02\n',
  'date: 2026-04-01\n',
  '\n',
  '  ',
  '```\n',
  '1',
  '0',
  '.',
  ' mg',
  ' mL',
  '(',
  ')',
  ',',
  ': ',
];

type Step =
  | { readonly kind: 'insert'; readonly file: string; readonly at: number; readonly text: string }
  | { readonly kind: 'delete'; readonly file: string; readonly at: number; readonly length: number }
  | { readonly kind: 'digit'; readonly file: string; readonly at: number; readonly digit: number }
  | { readonly kind: 'line'; readonly file: string; readonly at: number; readonly to: number }
  | { readonly kind: 'gone'; readonly file: string }
  | { readonly kind: 'back'; readonly file: string }
  | { readonly kind: 'fresh'; readonly file: string }
  | { readonly kind: 'settings'; readonly severity: Settings['severity'] };

const file = fc.constantFrom(...NAMES);
const step: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.record({
      kind: fc.constant('insert' as const),
      file,
      at: fc.nat(),
      text: fc.oneof(fc.constantFrom(...PIECES), fc.string({ maxLength: 3 })),
    }),
  },
  {
    weight: 4,
    arbitrary: fc.record({ kind: fc.constant('delete' as const), file, at: fc.nat(), length: fc.nat(40) }),
  },
  {
    weight: 4,
    arbitrary: fc.record({ kind: fc.constant('digit' as const), file, at: fc.nat(), digit: fc.nat(9) }),
  },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('line' as const), file, at: fc.nat(), to: fc.nat() }) },
  {
    weight: 3,
    arbitrary: fc.record({ kind: fc.constantFrom('gone' as const, 'back' as const, 'fresh' as const), file }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constant('settings' as const),
      severity: fc.constantFrom<Settings['severity']>({}, { 'tare-missing': 'error' }, { 'net-mismatch': 'off' }),
    }),
  },
);

interface State {
  readonly workspace: Workspace;
  readonly settings: Settings;
}

function change({ workspace, settings }: State, one: Step): State {
  if (one.kind === 'settings') {
    const next = { ...DEFAULTS, severity: one.severity };
    return { workspace: workspace.with(new Map(), next), settings: next };
  }
  const uri = uriOf(one.file);
  const put = (source: SourceFile | undefined): State => ({
    workspace: workspace.with(new Map([[uri, source]])),
    settings,
  });
  const source = workspace.files.get(uri);
  if (one.kind === 'gone') return put(undefined);
  if (one.kind === 'back' || !source) return put(parse(SAMPLES.get(one.file)!));
  // The same text in a tree that shares nothing with the one before.
  if (one.kind === 'fresh') return put(parse(textOf(source)));
  const text = textOf(source);
  const replace = (start: number, end: number, insert: string): State =>
    put(edit(source, { start: positionAt(source, start), end: positionAt(source, end) }, insert));
  const at = one.at % (text.length + 1);
  switch (one.kind) {
    case 'insert':
      return replace(at, at, one.text);
    case 'delete':
      return replace(at, Math.min(text.length, at + one.length), '');
    case 'digit': {
      const place = text.slice(at).search(/\d/);
      return place < 0 ? { workspace, settings } : replace(at + place, at + place + 1, String(one.digit));
    }
    case 'line': {
      const lines = text.split('\n');
      const [moved = ''] = lines.splice(one.at % lines.length, 1);
      lines.splice(one.to % (lines.length + 1), 0, moved);
      return put(parse(lines.join('\n')));
    }
  }
}

/** What a reader sees of a file: findings with their fixes, and the numbers. */
function answers(workspace: Workspace, name: string): unknown {
  return {
    findings: findingsIn(workspace, name),
    numbers: valuesIn(workspace, name).map((values) => ({
      charges: values.charges.map(({ mass, amount, equiv }) => [mass, amount, equiv].map(numberOf)),
      products: values.products.map(({ mass, amount, yield: share }) => [mass, amount, share].map(numberOf)),
      claims: values.claims.map(({ property, value, verdict, slip }) => [property, numberOf(value), verdict, slip]),
    })),
  };
}

const numberOf = (result: Parameters<typeof isHeld>[0]): unknown =>
  isHeld(result) ? result.value.toString() : result && 'missing' in result && result.missing;

function expectSame(workspace: Workspace, settings: Settings): void {
  const files = new Map([...workspace.files].map(([uri, source]) => [uri, parse(textOf(source))]));
  const fresh = strictWorkspace().with(files, settings);
  for (const name of NAMES)
    if (files.has(uriOf(name))) expect(answers(workspace, name), name).toEqual(answers(fresh, name));
}

const start = (): State => ({
  workspace: strictWorkspace().with(new Map([...SAMPLES].map(([name, text]) => [uriOf(name), parse(text)]))),
  settings: DEFAULTS,
});

describe('after any edits', () => {
  test('a workspace that looked at everything in between', () => {
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 6 }), (steps) => {
        let state = start();
        for (const one of steps) {
          for (const name of NAMES) if (state.workspace.files.has(uriOf(name))) findingsIn(state.workspace, name);
          state = change(state, one);
        }
        expectSame(state.workspace, state.settings);
      }),
      { numRuns: 40 },
    );
  }, 120_000);

  test('a workspace that looked at some of it', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(step, file), { minLength: 1, maxLength: 12 }), (steps) => {
        let state = start();
        for (const [one, looked] of steps) {
          if (state.workspace.files.has(uriOf(looked))) answers(state.workspace, looked);
          state = change(state, one);
        }
        expectSame(state.workspace, state.settings);
      }),
      { numRuns: 40 },
    );
  }, 120_000);

  test('and back again, everything is as it was', () => {
    const before = start();
    const wanted = NAMES.map((name) => answers(before.workspace, name));
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 4 }), (steps) => {
        let state = before;
        for (const one of steps) state = change(state, one);
        for (const name of NAMES) if (state.workspace.files.has(uriOf(name))) findingsIn(state.workspace, name);
        const back = state.workspace.with(
          new Map([...SAMPLES].map(([name, text]) => [uriOf(name), parse(text)])),
          DEFAULTS,
        );
        expect(NAMES.map((name) => answers(back, name))).toEqual(wanted);
      }),
      { numRuns: 40 },
    );
  }, 120_000);
});

describe('what other pages notice', () => {
  const whole = start().workspace;
  const changed = (name: string, from: string, to: string): Workspace => {
    const text = SAMPLES.get(name)!;
    expect(text).toContain(from);
    return whole.with(new Map([[uriOf(name), parse(text.replace(from, to))]]));
  };
  const fixes = (workspace: Workspace) =>
    findingsIn(workspace, 'with-mistakes/tb-034-no-tare.tare').flatMap((f) => f.fixes?.map(({ title }) => title) ?? []);
  const mass = (workspace: Workspace, name: string) => {
    const result = valuesIn(workspace, name)[1]!.charges[0]!.mass;
    return isHeld(result) ? machine(result, 'g') : undefined;
  };

  test('a tare written on another page', () => {
    findingsIn(whole, 'with-mistakes/tb-034-no-tare.tare');
    const other = changed('tb-030-cinnamyl-acetate.tare', 'tare 61.236 g', 'tare 61.999 g');
    expect(fixes(whole)[0]).toContain('61.236 g');
    expect(fixes(other)[0]).toContain('61.999 g');
  });

  test('a density in a register', () => {
    expect(mass(whole, 'tb-030-cinnamyl-acetate.tare')).toBe(6.615);
    const other = changed('registers/shelf.tare', 'C9H8O, density 1.050 g/mL', 'C9H8O, density 1.000 g/mL');
    expect(mass(other, 'tb-030-cinnamyl-acetate.tare')).toBe(6.3);
  });
});
