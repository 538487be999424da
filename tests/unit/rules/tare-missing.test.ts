import { describe, expect, test } from 'vitest';
import { applyEdits, prove } from '../../../server/prove';
import { findingsOf, notebook, uriOf } from '../../kit/notebook';

const PAGE = 'page.tare';

const BEAKERS = `experiment HO-290: Beakers
date: 2026-10-01
author: HO
vessel beaker 4: tare 27.241 g
vessel beaker 5: tare 26.118 g

experiment HO-305: Beakers again
date: 2026-11-02
author: HO
vessel beaker 4: tare 27.236 g
`;

const page = (lines: string, date = '2026-11-09'): string => `experiment HO-311: Acetanilide
date: ${date}
author: HO
vessel beaker 3: tare 25.019 g
vessel P|1, new: tare 12.114 g
${lines}`;

function missing(files: Record<string, string>) {
  const workspace = notebook(files);
  const found = findingsOf(workspace, PAGE).filter((f) => f.finding.code === 'tare-missing');
  expect(found).toHaveLength(1);
  return { workspace, ...found[0]! };
}

describe('the fixes of a missing tare', () => {
  const text = page('product acetanilide: gross 57.43 g, in beaker 4\n');
  const { workspace, finding, fixes, page: index } = missing({ [PAGE]: text, 'beakers.tare': BEAKERS });
  const written = (title: string): string => {
    const { edits } = fixes.find(({ fix }) => fix.title === title)!;
    return applyEdits(text, edits).slice(page('').length);
  };

  test('stand in order, newest tare first, no other vessel of another page', () => {
    expect(fixes.map(({ fix }) => fix.title)).toEqual([
      'Use the tare of beaker 4 written on HO-305, 2026-11-02 (27.236 g)',
      'Use the tare of beaker 4 written on HO-290, 2026-10-01 (27.241 g)',
      'Add the tare of beaker 4',
      'The reading is net (balance zeroed on the vessel)',
      'Another vessel',
      'Not weighed empty',
    ]);
  });

  test('write what they say, with empty stops for what only a person can read', () => {
    expect(written('Use the tare of beaker 4 written on HO-290, 2026-10-01 (27.241 g)')).toBe(
      'product acetanilide: tare 27.241 g from HO-290, gross 57.43 g, in beaker 4\n',
    );
    expect(written('Add the tare of beaker 4')).toBe(
      `vessel beaker 4: tare \${1} g\nproduct acetanilide: gross 57.43 g, in beaker 4\n`,
    );
    expect(written('The reading is net (balance zeroed on the vessel)')).toBe(
      'product acetanilide: net 57.43 g, in beaker 4\n',
    );
    expect(written('Another vessel')).toBe(`product acetanilide: gross 57.43 g, in \${1|beaker 3,P\\|1\\, new|}\n`);
    expect(written('Not weighed empty')).toBe(
      `product acetanilide: gross 57.43 g, in beaker 4\naccept tare-missing: \${1:reason}\n`,
    );
  });

  test('stand their proof; none joins fix-all, none is preferred where two tares are known', () => {
    for (const { fix } of fixes) {
      expect({ fix: fix.title, ...prove(workspace, uriOf(PAGE), index, finding, fix) }).toEqual({
        fix: fix.title,
        ok: true,
      });
      expect(fix.bulk ?? false).toBe(false);
      expect(fix.preferred ?? false).toBe(false);
    }
  });

  test('name the recorded tares as places', () => {
    expect(finding.related?.map(({ message }) => message)).toEqual([
      'tare 27.236 g of beaker 4, 2026-11-02',
      'tare 27.241 g of beaker 4, 2026-10-01',
    ]);
  });
});

test('a recorded tare is offered even if it shows that the claimed net is wrong', () => {
  const {
    workspace,
    finding,
    fixes,
    page: index,
  } = missing({
    [PAGE]: page('product acetanilide: gross 57.43 g (net 4.96 g), in beaker 4\n'),
    'beakers.tare': BEAKERS,
  });
  const { fix } = fixes[0]!;
  expect(fix.title).toBe('Use the tare of beaker 4 written on HO-305, 2026-11-02 (27.236 g)');
  expect(prove(workspace, uriOf(PAGE), index, finding, fix)).toEqual({ ok: true });
});

test('the one tare of the same day is preferred', () => {
  const { fixes } = missing({
    [PAGE]: page('product acetanilide: gross 57.43 g, in beaker 4\n', '2026-11-02'),
    'beakers.tare': BEAKERS.slice(BEAKERS.indexOf('experiment HO-305')),
  });
  expect(fixes[0]!.fix.preferred).toBe(true);
});

test('no fix and no message works a tare out into the page', () => {
  const { finding, fixes } = missing({
    [PAGE]: page('product acetanilide: gross 57.43 g (net 4.96 g), in beaker 4\n'),
  });
  expect(finding.message).toContain('A net of 4.96 g would need a tare of 52.47 g.');
  for (const { edits } of fixes) for (const { text } of edits) expect(text).not.toMatch(/52\.47/);
});

test('a line of its own ends as the lines of the page do', () => {
  const { fixes } = missing({
    [PAGE]: page('product acetanilide: gross 57.43 g, in beaker 4\n').replaceAll('\n', '\r\n'),
  });
  for (const { edits } of fixes) for (const { text } of edits) expect(text).not.toMatch(/(?<!\r)\n/);
});
