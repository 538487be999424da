import { describe, expect, test } from 'vitest';
import { type CodeAction, codeActions } from '../../../server/features/code-actions';
import { applyEdits, prove, withoutStops } from '../../../server/prove';
import type { Fix } from '../../../server/rules/rule';
import { DEFAULTS } from '../../../server/settings';
import { createWorkspace, type Workspace } from '../../../server/workspace';
import { edited, marked, notebook, PAGE } from './notebook';

function actions(
  text: string,
  others: Readonly<Record<string, string>> = {},
  only?: readonly string[],
): { workspace: Workspace; found: readonly CodeAction[] } {
  const { workspace, at } = marked(text, others);
  return { workspace, found: codeActions(workspace, PAGE, { start: at, end: at }, only) };
}

/** The file after the action with this title. */
function applied(text: string, title: string, only?: readonly string[]): string {
  const { workspace, found } = actions(text, {}, only);
  const action = found.find((a) => a.title.startsWith(title));
  if (!action) throw new Error(`no “${title}” among ${found.map((a) => a.title).join(' · ')}`);
  return edited(workspace, PAGE, action.edits);
}

const HEAD = 'experiment TB-1: a\ndate: 2026-03-04\nauthor: MK\n';

describe('quick fixes', () => {
  test('come in the order of the rule, then accept, each with its finding', () => {
    const { found } = actions(`${HEAD}product ester‸: gross 57.43 g, in beaker 4\n`);
    const titles = found.filter(({ rule }) => rule === 'tare-missing').map(({ title }) => title);
    expect(titles).toEqual([
      'Add the tare of beaker 4',
      'The reading is net (balance zeroed on the vessel)',
      'Not weighed empty',
    ]);
    expect(found.every(({ kind, finding }) => kind === 'quickfix' && finding !== undefined)).toBe(true);
  });

  test('a recorded tare is cited, not typed', () => {
    const others = { 'b.tare': 'experiment HO-305: b\ndate: 2026-11-02\nvessel beaker 4: tare 27.236 g\n' };
    const { found } = actions(`${HEAD}product ester‸: gross 57.43 g, in beaker 4\n`, others);
    expect(found[0]).toMatchObject({
      title: 'Use the tare of beaker 4 written on HO-305, 2026-11-02 (27.236 g)',
      snippet: false,
    });
  });

  test('accept goes right below the statement', () => {
    const text = `${HEAD}charge water: 5 ‸ml,\n  from the tap\nThen it stood.\n`;
    const { found } = actions(text);
    expect(found.find(({ title }) => title.startsWith('Accept'))).toMatchObject({
      snippet: true,
      rule: 'unit-spelling',
    });
    expect(applied(text, 'Accept unit-spelling')).toBe(
      `${HEAD}charge water: 5 ml,\n  from the tap\naccept unit-spelling: \${1:reason}\nThen it stood.\n`,
    );
  });

  test('a signed page is offered nothing but an amendment below the signature', () => {
    const text = `${HEAD}charge water: 5 ‸ml\nsigned: MK, 2026-03-04 17:20\n`;
    for (const only of [['quickfix'], ['source'], ['refactor.rewrite.tarebook.fillClaims']])
      expect(actions(text, {}, only).found).toEqual([]);
    expect(actions(text).found.map(({ title }) => title)).toEqual(['Amend 5 ml below the signature']);
  });

  test('only of findings that the range touches', () => {
    expect(
      actions(`${HEAD}charge water: 5 ml\ncharge ethanol‸: 5 mL\n`).found.filter(({ kind }) => kind === 'quickfix'),
    ).toEqual([]);
  });
});

describe('fix all', () => {
  const text = `${HEAD}‸charge water: 5 ml (5 gms)\nIn prose 5 ml stay.\ncharge ethanol: .5 ml\n`;

  test('is worked out only when asked for', () => {
    expect(actions(text).found.some(({ kind }) => kind.startsWith('source'))).toBe(false);
    for (const only of ['source', 'source.fixAll', 'source.fixAll.tarebook'])
      expect(
        actions(text, {}, [only]).found.map(({ kind }) => kind),
        only,
      ).toContain('source.fixAll.tarebook');
    expect(actions(text, {}, ['source.fixAll']).found.map(({ kind }) => kind)).toEqual(['source.fixAll.tarebook']);
    expect(actions(text, {}, ['source.organizeImports']).found).toEqual([]);
  });

  test('respells and leaves prose alone; done twice it does nothing more', () => {
    const once = applied(text, 'Apply all', ['source.fixAll']);
    expect(once).toBe(`${HEAD}charge water: 5 mL (5 g)\nIn prose 5 ml stay.\ncharge ethanol: 0.5 mL\n`);
    expect(actions(once, {}, ['source.fixAll']).found).toEqual([]);
  });

  test('never takes one of two readings', () => {
    expect(actions(`${HEAD}charge water: 1,234 g\n`, {}, ['source.fixAll']).found).toEqual([]);
  });
});

describe('fill in claims', () => {
  const ESTER = `${HEAD}substance isopentyl alcohol: C5H12O, density 0.810 g/mL
substance acetic acid: C2H4O2, density 1.049 g/mL
substance isopentyl acetate: C7H14O2
vessel F-12: tare 41.207 g
reaction R1: isopentyl alcohol + acetic acid -> isopentyl acetate + water
charge isopentyl alcohol: 15.0 mL, limiting
charge acetic acid: 20.0 mL
product isopentyl acetate: gross 54.881 g, in F-12
`;

  test('behind what was measured, with the digits of the measurement', () => {
    const at = (line: string) => ESTER.replace(line, `${line}‸`);
    expect(applied(at('charge isopentyl alcohol'), 'Fill in', ['refactor'])).toContain(
      '15.0 mL (12.2 g, 138 mmol, 1.00 equiv), limiting',
    );
    expect(applied(at('product isopentyl acetate'), 'Fill in', ['refactor.rewrite'])).toContain(
      'gross 54.881 g (net 13.674 g, 105.',
    );
  });

  test('a line that has claims is left alone', () => {
    expect(
      actions(ESTER.replace('charge acetic acid: 20.0 mL', 'charge ‸acetic acid: 20.0 mL (21.0 g)'), {}, [
        'refactor.rewrite.tarebook.fillClaims',
      ]).found,
    ).toEqual([]);
  });

  test('every line at once, only when asked for, and what is written raises no finding', () => {
    const filled = applied(`‸${ESTER}`, 'Fill in', ['source.fillClaims']);
    expect(filled.match(/\(/g)).toHaveLength(3);
    const findings = notebook({ [PAGE]: filled })
      .snapshot(PAGE)
      .page(1).findings;
    expect(findings.filter(({ severity }) => severity === 'error' || severity === 'warning')).toEqual([]);
    expect(actions(`‸${ESTER}`, {}, ['source.fixAll']).found).toEqual([]);
  });
});

describe('a proof refuses', () => {
  const page = `${HEAD}substance water: H2O, density 0.998 g/mL\ncharge water: 5.00 mL (4.99 g)\nSome prose.\n`;
  const workspace = notebook({ [PAGE]: page });
  const source = workspace.files.get(PAGE)!.pages[1]!.page.text;
  const change = (from: string, to: string, more: Partial<Fix> = {}): Fix => {
    const start = source.indexOf(from);
    return { title: 'x', edits: [{ span: { start, end: start + from.length }, text: to }], ...more };
  };
  const verdict = (fix: Fix) => {
    const proof = prove(workspace, PAGE, 1, undefined, fix);
    return proof.ok ? 'proven' : proof.why;
  };

  test.each([
    ['another value', change('5.00 mL', '5.01 mL'), 'it changes a measurement'],
    ['another unit', change('5.00 mL', '5.00 µL'), /it (?:brings|changes)/],
    ['fewer digits', change('5.00 mL (4.99 g)', '5.0 mL (5.0 g)'), 'it changes a measurement'],
    ['a new measurement', change('5.00 mL', '5.00 mL, 5.0 g'), 'it changes a measurement'],
    ['a measurement less', change('charge water: 5.00 mL (4.99 g)\n', ''), 'it takes a measurement away'],
    ['a claim made a measurement', change('(4.99 g)', ', 4.99 g'), 'it changes a measurement'],
    ['a wrong claim', change('4.99 g', '4.97 g'), /it (?:brings claim-mismatch|writes a number)/],
    ['prose made a statement', change('Some prose.', 'note: some prose.'), 'it changes what is prose'],
    ['a statement made prose', change('charge water', 'Charge water'), /it takes|it changes/],
    ['nothing', change('Some', 'Some'), 'it changes nothing'],
    ['another page', change('Some prose.', 'experiment TB-2: b'), 'it changes the number of pages'],
    [
      'another number where a line becomes one',
      change('Some prose.', 'charge ethanol: 5 mL', { reclassifies: true }),
      'it changes a number',
    ],
  ])('%s', (_, fix, why) => {
    expect(verdict(fix)).toMatch(why);
  });

  test.each([
    ['a right claim', change('4.99 g', '4.990 g')],
    ['a claim filled in', change('(4.99 g)', '(4.99 g, 277 mmol)')],
    ['a line added', change('charge water', 'vessel F-1: tare  g\ncharge water')],
    ['a stop', change('Some prose.', 'Some prose.\naccept no-limiting: $'.concat('{1:reason}'), { snippet: true })],
  ])('but not %s', (_, fix) => {
    expect(verdict(fix)).toBe('proven');
  });

  test('a wrong claim, even where nobody wants to hear of it', () => {
    const quiet = createWorkspace({ ...DEFAULTS, severity: { 'claim-mismatch': 'off', 'claim-rounding': 'off' } }).with(
      workspace.files,
    );
    expect(prove(quiet, PAGE, 1, undefined, change('4.99 g', '4.97 g'))).toEqual({
      ok: false,
      why: 'it writes a number that does not agree',
    });
    expect(prove(quiet, PAGE, 1, undefined, change('4.99 g', '4.990 g'))).toEqual({ ok: true });
  });

  test('what brings another error', () => {
    const twice = notebook({ [PAGE]: page, 'b.tare': 'experiment TB-2: b\n' });
    expect(prove(twice, PAGE, 1, undefined, change('TB-1', 'TB-2'))).toEqual({
      ok: false,
      why: 'it brings id-duplicate',
    });
    expect(prove(twice, PAGE, 1, undefined, change('TB-1', 'TB-3'))).toEqual({ ok: true });
  });

  test('a fix after which its finding stays', () => {
    const other = notebook({ [PAGE]: `${HEAD}charge water: 5 ml\n` });
    const finding = other
      .snapshot(PAGE)
      .page(1)
      .findings.find(({ code }) => code === 'unit-spelling')!;
    const start = finding.span.start - 1;
    expect(prove(other, PAGE, 1, finding, { title: 'x', edits: [{ span: { start, end: start }, text: ' ' }] })).toEqual(
      { ok: false, why: 'its finding stays' },
    );
  });
});

test('stops become plain text: placeholder, first choice, empty slot', () => {
  const stops = ['tare $', '{1} g, in $', '{2|beaker 3,beaker 4|}: $', '{3:reason}$0 \\$5'].join('');
  expect(withoutStops(stops)).toBe('tare  g, in beaker 3: reason $5');
});

test('edits are applied by their place, not by their order', () => {
  const edits = [
    { span: { start: 4, end: 5 }, text: 'E' },
    { span: { start: 0, end: 1 }, text: 'AA' },
    { span: { start: 2, end: 2 }, text: '-' },
  ];
  expect(applyEdits('abcde', edits)).toBe('AAb-cdE');
});
