/**
 * An amended page computes what the page would with the new reading written in its place, and everything it says points
 * at text that exists.
 */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { parse } from '../../grammar/parse';
import { measurements } from '../../server/prove';
import { isHeld, type Result } from '../../server/quantity/held';
import type { PageResult } from '../../server/snapshot';
import { uriOf } from '../kit/notebook';
import { SAMPLES, strictWorkspace } from './pages';

/** Every sample page that is not signed, as a notebook of its own. */
const PAGES = [...SAMPLES].flatMap(([name, text]) =>
  parse(text)
    .pages.slice(1)
    .filter(({ page }) => !/^signed:/m.test(page.text))
    .map(({ page }) => ({ name, text: page.text.endsWith('\n') ? page.text : `${page.text}\n` })),
);
const FILE = 'amended.tare';

function resultOf(text: string): PageResult {
  const registers = [...SAMPLES].filter(([, other]) => parse(other).pages.length === 1);
  const files = new Map([...registers, [FILE, text] as const].map(([name, own]) => [uriOf(name), parse(own)]));
  return strictWorkspace().with(files).snapshot(uriOf(FILE)).page(1);
}

const numbers = ({ values }: PageResult): unknown => {
  const of = (result: Result) => (isHeld(result) ? result.value.toString() : result.missing);
  return {
    charges: values.charges.map(({ mass, volume, amount, equiv }) => [mass, volume, amount, equiv].map(of)),
    products: values.products.map(({ mass, amount, yield: share }) => [mass, amount, share].map(of)),
    weighings: values.weighings.map(({ net }) => of(net)),
    solutions: values.solutions.map(({ concentration }) => of(concentration)),
    claims: values.claims.map(({ property, value }) => [property, of(value)]),
  };
};

/** Every place that a result names. */
function* spansOf({ page, findings }: PageResult): Generator<{ start: number; end: number }> {
  for (const finding of findings) yield finding.span;
  for (const { span } of page.claims) yield span;
  for (const { span } of page.mentions) yield span;
  for (const { amount, entry } of [...page.charges, ...page.products, ...page.weighs]) {
    yield entry.span;
    yield entry.mark;
    for (const { span } of amount.quantities) yield span;
    for (const { datum } of amount.weighing.readings) yield datum.span;
  }
}

test('amending is writing anew', () => {
  let tried = 0;
  fc.assert(
    fc.property(fc.constantFrom(...PAGES), fc.nat(), fc.integer({ min: 1, max: 9 }), ({ name, text }, which, digit) => {
      const source = parse(text).pages[1]!.page;
      const found = measurements(source).filter(({ node }) => node.unit && node.number.digits);
      const reading = found[which % Math.max(1, found.length)];
      if (!reading) return;
      const old = text.slice(reading.span.start, reading.span.end);
      const now = old.replace(/\d/, String(digit));
      const block = source.blocks.findLast(({ at }) => at <= reading.span.start)!;
      const { keyword, subject } = block.block.statement!;
      if (now === old || /,\s|"/.test(old) || block.block.text.split(old).length !== 2) return;
      const amendment = `amend ${[keyword, subject?.text].filter(Boolean).join(' ')}: ${old} -> ${now}, slip, MK, 2026-12-31\n`;
      const amended = resultOf(`${text}signed: MK, 2026-12-30\n${amendment}`);
      if (amended.page.amendments[0]!.problem) return;
      tried++;
      const anew = resultOf(
        `${text.slice(0, reading.span.start)}${now}${text.slice(reading.span.end)}signed: MK, 2026-12-30\n`,
      );
      expect(numbers(amended), `${name}: ${amendment}`).toEqual(numbers(anew));
      const { length } = amended.source.text;
      for (const { start, end } of spansOf(amended)) {
        expect(start).toBeLessThanOrEqual(end);
        expect(end).toBeLessThanOrEqual(length);
      }
    }),
    { numRuns: 150, seed: 20260305 },
  );
  expect(tried).toBeGreaterThan(60);
});
