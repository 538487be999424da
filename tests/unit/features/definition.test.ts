import { describe, expect, test } from 'vitest';
import { definition } from '../../../server/features/definition';
import { marked, PAGE, seen } from './notebook';

function targets(text: string, others: Readonly<Record<string, string>> = {}): readonly string[] {
  const { workspace, at } = marked(text, others);
  return definition(workspace, PAGE, at).map(({ uri, range }) => `${uri} ${seen(workspace, uri, range)}`);
}

describe('a name leads to its statement', () => {
  test('on the page, by its name, by another name, by its formula', () => {
    const page = (used: string) => `experiment A: a\nsubstance acetic acid: C2H4O2, also AcOH\ncharge ${used}: 5 mL\n`;
    for (const used of ['acetic ac‸id', '‸AcOH', 'C2H4O2‸'])
      expect(targets(page(used)), used).toEqual(['page.tare substance [acetic acid]: C2H4O2, also AcOH']);
  });

  test('in the equation', () => {
    expect(
      targets('experiment A: a\nsubstance ester: C7H14O2\nreaction R1: water + ester -> es‸ter + water\n'),
    ).toEqual(['page.tare substance [ester]: C7H14O2']);
  });

  test('in the head of the file, in a register, nearest first', () => {
    const register = { 'register.tare': 'substance ester: C7H14O2\n' };
    expect(targets('substance ester: C7H14O2, lot 1\nexperiment A: a\ncharge es‸ter: 5 g\n', register)).toEqual([
      'page.tare substance [ester]: C7H14O2, lot 1',
    ]);
    expect(targets('experiment A: a\ncharge es‸ter: 5 g\n', register)).toEqual([
      'register.tare substance [ester]: C7H14O2',
    ]);
  });

  test('nowhere, when only the handbook knows it or nobody does', () => {
    expect(targets('experiment A: a\ncharge tolu‸ene: 5 mL\n')).toEqual([]);
    expect(targets('experiment A: a\ncharge unobt‸ainium: 5 mL\n')).toEqual([]);
  });
});

describe('vessels and balances', () => {
  test('on the page', () => {
    const page =
      'experiment A: a\nbalance B-2: readability 0.001 g\nvessel F-12: tare 41.207 g\nproduct x: gross 54.881 g, in F-12, on B-2\n';
    expect(targets(page.replace('in F-12', 'in F-‸12'))).toEqual(['page.tare vessel [F-12]: tare 41.207 g']);
    expect(targets(page.replace('on B-2', 'on B‸-2'))).toEqual(['page.tare balance [B-2]: readability 0.001 g']);
  });

  test('in a register', () => {
    expect(
      targets('experiment A: a\nproduct x: gross 5 g, in F-‸12\n', { 'r.tare': 'vessel F-12: tare 4.1 g\n' }),
    ).toEqual(['r.tare vessel [F-12]: tare 4.1 g']);
  });
});

test('a tare on another page', () => {
  const others = { 'b.tare': 'experiment B: b\ndate: 2026-03-01\nvessel F-12: tare 4.1 g\n' };
  expect(targets('experiment A: a\nproduct x: gross 5 g, in F-‸12\n', others)).toEqual([
    'b.tare vessel F-12: tare [4.1 g]',
  ]);
});

describe('pages', () => {
  const others = {
    'eleven.tare': 'experiment TB-011: Eleven\nproduct ester: 5.0 g\nproduct ester: 0.2 g, label V-3\n',
  };

  test('from another page, and by its ID in plain text', () => {
    expect(targets('experiment A: a\ncharge ester: 1.0 g, from TB-‸011\n', others)).toEqual([
      'eleven.tare experiment [TB-011]: Eleven',
    ]);
    expect(targets('experiment A: a\nAs before, see TB-‸011.\n', others)).toEqual([
      'eleven.tare experiment [TB-011]: Eleven',
    ]);
    expect(targets('experiment A: a\nreference: see also TB-01‸1\n', others)).toEqual([
      'eleven.tare experiment [TB-011]: Eleven',
    ]);
    expect(targets('experiment A: a\n09:00 As in TB-‸011.\n', others)).toEqual([
      'eleven.tare experiment [TB-011]: Eleven',
    ]);
  });

  test('a labelled batch leads to the line that made it', () => {
    expect(targets('experiment A: a\ncharge ester: 0.1 g, from TB-‸011/V-3\n', others)).toEqual([
      'eleven.tare product [ester]: 0.2 g, label V-3',
    ]);
  });

  test('a word that is no page leads nowhere', () => {
    expect(targets('experiment A: a\nSee TB-‸099.\n', others)).toEqual([]);
    expect(targets('experiment A: a\nPlain pro‸se.\n', others)).toEqual([]);
  });
});

test('says which text it understood', () => {
  const { workspace, at } = marked('experiment A: a\nsubstance ester: C7H14O2\ncharge es‸ter: 5 g\n');
  expect(definition(workspace, PAGE, at).map(({ origin }) => seen(workspace, PAGE, origin!))).toEqual([
    'charge [ester]: 5 g',
  ]);
});

test('a file that is not there has no definitions', () => {
  const { workspace, at } = marked('');
  expect(definition(workspace, 'other.tare', at)).toEqual([]);
});
