/**
 * Every computed value carries its working: down to readings that stand where they say, to entries of other pages that
 * can be found, or to a table or handbook with its source. And the working is the value: worked out again from its
 * inputs, it comes to the same.
 */
import { describe, expect, test } from 'vitest';
import { Decimal } from '../../server/quantity/decimal';
import { type Held, type Origin, subtract, uncertainty } from '../../server/quantity/held';
import type { Snapshot } from '../../server/snapshot';
import type { Workspace } from '../../server/workspace';
import { uriOf } from '../kit/notebook';
import { NOTEBOOKS, notebookOf } from './pages';

/** Every held value that can be reached from an object, with the road to it. */
function* heldIn(root: object, path: string, seen = new Set<object>()): Generator<{ path: string; held: Held }> {
  if (seen.has(root)) return;
  seen.add(root);
  if ('working' in root && 'parts' in root) yield { path, held: root as Held };
  for (const [key, value] of root instanceof Map ? root : Object.entries(root))
    if (typeof value === 'object' && value !== null && !(value instanceof Decimal) && key !== 'page')
      yield* heldIn(value, `${path}.${typeof key === 'string' ? key : '…'}`, seen);
}

interface Found {
  readonly path: string;
  readonly held: Held;
  readonly snapshot: Snapshot;
  readonly page: number;
  readonly workspace: Workspace;
}

const everything: readonly Found[] = [...NOTEBOOKS].flatMap(([notebook, files]) => {
  const workspace = notebookOf(files);
  return [...files.keys()].flatMap((name) => {
    const snapshot = workspace.snapshot(uriOf(name));
    return Array.from({ length: snapshot.pageCount }, (_, page) => page).flatMap((page) =>
      [...heldIn(snapshot.page(page).values, `${notebook} ${name} page ${page}`)].map((one) => ({
        ...one,
        snapshot,
        page,
        workspace,
      })),
    );
  });
});

const numbersIn = (text: string): readonly string[] => text.replace(/[a-z]+[\d³]/gi, '').match(/\d[\d.]*/g) ?? [];

/** What is wrong with where a value says it comes from. */
function wrongOrigin(origin: Origin, held: Held, { snapshot, page, workspace }: Found): string | undefined {
  switch (origin.from) {
    case 'here': {
      const text = snapshot.source.pages[page]!.page.text.slice(origin.start, origin.end);
      if (text === '') return 'an empty place';
      // Units may be spelt anew, numbers may not; a course of two readings is one place.
      const { written = '' } = held.working;
      const there = numbersIn(text);
      if (!numbersIn(written).every((number) => there.includes(number)))
        return `"${written}" is not what stands there: "${text}"`;
      return undefined;
    }
    case 'there': {
      const place = workspace.locate(origin);
      return place ? undefined : `no such place: ${JSON.stringify(origin)}`;
    }
    case 'handbook':
      return origin.entry !== '' && origin.source !== '' ? undefined : 'a handbook entry without its source';
    case 'table':
      return origin.source === '' ? 'a table without its source' : undefined;
    case 'rule':
      return origin.says === '' ? 'a rule that says nothing' : undefined;
  }
}

test('there is much to look at', () => expect(everything.length).toBeGreaterThan(2000));

test('every working ends in a place, a table or an exact number', () => {
  const wrong = everything.flatMap((found) => {
    const { held, path } = found;
    const { origin, inputs } = held.working;
    if (origin) {
      const problem = wrongOrigin(origin, held, found);
      return problem ? [`${path}: ${problem}`] : [];
    }
    if (inputs.length > 0) return [];
    // A coefficient or a count is nobody's reading.
    return held.parts.size === 0 && held.figures === Number.POSITIVE_INFINITY
      ? []
      : [`${path}: ${held.value} from nowhere`];
  });
  expect([...new Set(wrong)]).toEqual([]);
});

test('every value with inputs has a formula that names them all', () => {
  const wrong = everything.flatMap(({ held, path }) => {
    const { formula, inputs } = held.working;
    if (inputs.length === 0) return [];
    const missing = inputs.filter(({ symbol }) => !formula?.includes(symbol));
    return missing.length > 0 ? [`${path}: ${formula} without ${missing.map(({ symbol }) => symbol)}`] : [];
  });
  expect([...new Set(wrong)]).toEqual([]);
});

/** The value of a formula of `+ − · ÷`, brackets, numbers and symbols; undefined where it is written in other signs. */
function worth(formula: string, symbols: ReadonlyMap<string, Decimal>): Decimal | undefined {
  const names = [...symbols.keys()].sort((a, b) => b.length - a.length);
  let at = 0;
  const skip = (): void => {
    while (formula[at] === ' ') at++;
  };
  const factor = (): Decimal | undefined => {
    skip();
    const name = names.find((one) => formula.startsWith(one, at));
    if (name !== undefined) {
      at += name.length;
      return symbols.get(name);
    }
    if (formula[at] === '(') {
      at++;
      const inside = sum();
      skip();
      return formula[at++] === ')' ? inside : undefined;
    }
    const number = /^\d+(\.\d+)?/.exec(formula.slice(at))?.[0];
    at += number?.length ?? 0;
    return number === undefined ? undefined : new Decimal(number);
  };
  const chain = (next: () => Decimal | undefined, signs: string): Decimal | undefined => {
    let value = next();
    for (skip(); value && at < formula.length && signs.includes(formula[at]!); skip()) {
      const sign = formula[at++];
      const right = next();
      if (!right) return undefined;
      value =
        sign === '+'
          ? value.plus(right)
          : sign === '−'
            ? value.minus(right)
            : sign === '·'
              ? value.times(right)
              : value.div(right);
    }
    return value;
  };
  const product = (): Decimal | undefined => chain(factor, '·÷');
  const sum = (): Decimal | undefined => chain(product, '+−');
  const value = sum();
  skip();
  return at === formula.length ? value : undefined;
}

/** Volumes are held in mL, strengths in mol/L: a formula in base units may be off by a thousand, and by nothing else. */
const FACTORS = [1, 1e-3, 1e3];

test('worked out again from its inputs, a value comes to the same', () => {
  let checked = 0;
  const wrong = everything.flatMap(({ held, path }) => {
    const { formula, inputs } = held.working;
    const again = formula && worth(formula, new Map(inputs.map((i) => [i.symbol, i.held.value])));
    if (!again) return [];
    checked++;
    const same = FACTORS.some((f) => again.times(f).minus(held.value).abs().lte(held.value.abs().times(1e-15)));
    return same ? [] : [`${path}: ${formula} gives ${again}, held is ${held.value}`];
  });
  expect([...new Set(wrong)]).toEqual([]);
  expect(checked).toBeGreaterThan(1000);
});

test('a value minus itself is exactly nothing', () => {
  for (const { held, path } of everything) {
    const nothing = subtract(held, held, { inputs: [] });
    expect(nothing.value.isZero(), path).toBe(true);
    expect(uncertainty(nothing), path).toBe(0);
  }
});

test('uncertainties are finite, and a reading has one or says that it is exact', () => {
  const wrong = everything.filter(({ held }) => !Number.isFinite(uncertainty(held)) || !held.value.isFinite());
  expect(wrong.map(({ path }) => path)).toEqual([]);
});

describe('what is computed rests on what was written', () => {
  // The mass of a charge by volume needs the volume and the density, whoever wrote them.
  test('each leaf of an uncertainty is a reading of the working', () => {
    const wrong = everything.flatMap(({ held, path }) => {
      const origins = new Set<string>();
      const walk = (h: Held): void => {
        if (h.working.origin) origins.add(JSON.stringify(h.working.origin));
        for (const input of h.working.inputs) walk(input.held);
      };
      walk(held);
      // What a table or a rule adds (a flask's tolerance, the scatter of runs) names itself and is nobody's reading.
      const lost = [...held.parts].filter(
        ([{ origin }, share]) =>
          share !== 0 && (origin.from === 'here' || origin.from === 'there') && !origins.has(JSON.stringify(origin)),
      );
      return lost.length > 0 && origins.size > 0 ? [`${path}: ${lost.map(([leaf]) => leaf.name)}`] : [];
    });
    expect([...new Set(wrong)]).toEqual([]);
  });
});
