/** Tests and measured properties for the machine. */
import type { MeasuredValue } from '../compute/measured';
import type { Asked, TestValue } from '../compute/tests';
import type { Entry } from '../model/page';
import { isHeld, type Result } from '../quantity/held';
import { machine } from '../quantity/show';

type LineOf = (entry: Entry) => number;

/**
 * Temperatures in °C, differences in K, rotations in degrees. `calculated`: the boiling point estimated at the pressure,
 * the index brought to the literature's temperature, Rf of the distances, specific rotation, hydrogens of the formula.
 */
export function measuredJson(value: MeasuredValue, line: LineOf): object {
  const { measured, found, calculated, literature, deviation, width, opticalPurity, hydrogens } = value;
  const celsius = measured.kind === 'mp' || measured.kind === 'bp';
  const shown = (result: Result | undefined): number | null =>
    isHeld(result) ? (celsius ? machine(result, '°C') : machine({ ...result, kind: 'number' }, '')) : null;
  const plain = (result: Result | undefined): number | null => (isHeld(result) ? result.value.toNumber() : null);
  return {
    subject: measured.name.text,
    line: line(measured.entry),
    kind: measured.kind,
    calculated: shown(calculated),
    found: shown(found),
    ...(literature && { literature: shown(literature) }),
    deviation: plain(deviation),
    ...(width && { width_K: plain(width) }),
    ...(opticalPurity && { optical_purity_percent: machine(opticalPurity, '%') }),
    ...(hydrogens && { hydrogens_least: hydrogens.least }),
  };
}

export function testJson({ test, known, tested, others, discriminates, legs }: TestValue, line: LineOf): object {
  return {
    name: test.name.text,
    line: line(test.entry),
    test: known?.id ?? null,
    substance: tested?.substance.name ?? null,
    structure: tested?.structure?.from ?? null,
    expected: tested?.expected?.result ?? null,
    discriminates: discriminates ?? null,
    others: others.map(otherJson),
    legs: legs.map(({ leg, observed, expected, verdict }) => ({
      observation: leg.observation?.text ?? null,
      conclusion: leg.conclusion?.text ?? null,
      expected: expected?.result ?? null,
      observed: observed?.outcome ?? null,
      verdict,
    })),
  };
}

const otherJson = ({ substance, role, expected }: Asked): object => ({
  substance: substance.name,
  role,
  expected: expected?.result ?? null,
});
