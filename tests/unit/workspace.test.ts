/**
 * A workspace judges a page again exactly when its text or an answer it got from outside changed. Pages are told apart
 * by the identity of their findings, work is counted by how often a page is computed.
 */
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { edit, parse, positionAt, textOf } from '../../grammar/parse';
import { compute } from '../../server/compute/compute';
import type { Origin } from '../../server/quantity/held';
import { DEFAULTS } from '../../server/settings';
import type { Workspace } from '../../server/workspace';
import { notebook, uriOf } from '../kit/notebook';

vi.mock('../../server/compute/compute', async (original) => {
  const module = await original<typeof import('../../server/compute/compute')>();
  return { ...module, compute: vi.fn(module.compute) };
});
const computed = vi.mocked(compute);
beforeEach(() => {
  computed.mockClear();
});

/** Findings of every page but the head, by its ID; asking for them is what makes the workspace work. */
function judge(workspace: Workspace): ReadonlyMap<string, readonly unknown[]> {
  const out = new Map<string, readonly unknown[]>();
  for (const uri of workspace.files.keys()) {
    const snapshot = workspace.snapshot(uri);
    for (let i = 1; i < snapshot.pageCount; i++) {
      const id = /^experiment (\S+):/m.exec(snapshot.source.pages[i]!.page.text)?.[1] ?? '';
      out.set(out.has(id) ? `${id} again` : id, snapshot.findings(i));
    }
  }
  return out;
}

/** What the pages computed since, by their IDs. */
const worked = (): string[] => computed.mock.calls.map(([page]) => page.id?.text ?? 'head').sort();

/** An edit as a client sends it: `from` stands once in the file. */
function change(workspace: Workspace, name: string, from: string, to: string): Workspace {
  const source = workspace.files.get(uriOf(name))!;
  const at = textOf(source).indexOf(from);
  if (at < 0 || textOf(source).indexOf(from, at + 1) >= 0) throw new Error(`Not once in ${name}: ${from}`);
  const range = { start: positionAt(source, at), end: positionAt(source, at + from.length) };
  return workspace.with(new Map([[uriOf(name), edit(source, range, to)]]));
}

/** Pages that are judged otherwise, and whether anything was computed for the others. */
function judgedAnew(before: Workspace, after: Workspace): string[] {
  const old = judge(before);
  computed.mockClear();
  return [...judge(after)].flatMap(([id, findings]) => (old.get(id) === findings ? [] : [id])).sort();
}

const page = (id: string, ...lines: string[]): string =>
  [`experiment ${id}: Title`, 'date: 2026-03-02', 'author: MK', ...lines, ''].join('\n');

describe('an edit of a register', () => {
  const files = {
    'stock.tare':
      'substance alpha: C6H12O5, density 1.100 g/mL\nsubstance beta: C7H14O5\nvessel F-1: flask, tare 41.207 g\nbalance B-2: readability 0.001 g\n',
    'a.tare': page('A', 'charge alpha: 10.0 mL (11.0 g)'),
    'b.tare': page('B', 'charge beta: 10.0 g'),
    'c.tare': page('C', 'Nothing but prose.'),
    'd.tare': page('D', 'charge C7H14O5: 1.00 g'),
    'e.tare': page('E', 'product it: gross 54.881 g, in F-1'),
  };
  let workspace: Workspace;
  beforeEach(() => {
    workspace = notebook(files);
  });
  it.each([
    ['a density', '1.100', '1.200', ['A']],
    ['a name that two pages asked about', 'beta: C7H14O5', 'beta: C7H14O6', ['B', 'D']],
    ['a tare', '41.207', '41.307', ['E']],
    ['a comment', 'substance beta', '\nSome prose.\n\nsubstance beta', []],
    ['another substance', 'vessel F-1', 'substance gamma: C9H9O9\nvessel F-1', []],
  ])('%s', (_, from, to, ids) => {
    const after = change(workspace, 'stock.tare', from, to);
    expect(judgedAnew(workspace, after)).toEqual(ids);
    expect(worked()).toEqual(ids);
  });

  it('a name that nobody knew becomes known', () => {
    const before = notebook({ ...files, 'f.tare': page('F', 'charge gamma: 1.00 g') });
    const after = change(before, 'stock.tare', 'vessel F-1', 'substance gamma: C9H9O9\nvessel F-1');
    expect(judgedAnew(before, after)).toEqual(['F']);
  });

  it('gives what a fresh workspace gives', () => {
    const after = change(workspace, 'stock.tare', '1.100', '1.200');
    const fresh = notebook({ ...files, 'stock.tare': textOf(after.files.get(uriOf('stock.tare'))!) });
    expect(JSON.stringify([...judge(after)])).toBe(JSON.stringify([...judge(fresh)]));
    expect(judge(after).get('A')).toMatchObject([{ code: 'claim-mismatch' }]);
  });
});

describe('an edit of a page', () => {
  const files = {
    'a.tare': page('A1', 'charge NaCl: 1.00 g (17.1 mmol)', '') + page('A2', 'charge NaCl: 2.00 g'),
    'b.tare': page('B', 'product salt: gross 54.881 g, in F-1'),
    'c.tare': page('C', 'charge NaCl: 1.0 g, from A1'),
  };
  let workspace: Workspace;
  beforeEach(() => {
    workspace = notebook(files);
  });
  it('does not compute another page of the file, nor of another file', () => {
    const after = change(workspace, 'a.tare', '17.1', '17.2');
    expect(judgedAnew(workspace, after)).toEqual(['A1']);
    expect(worked()).toEqual(['A1']);
  });
  it('a tare for a vessel reaches the pages that asked for it', () => {
    const after = change(workspace, 'a.tare', 'charge NaCl: 2.00 g', 'vessel F-1: flask, tare 41.207 g');
    expect(judgedAnew(workspace, after)).toEqual(['A2', 'B']);
  });
  it('a batch that is made reaches the page that takes it', () => {
    const after = change(workspace, 'a.tare', 'charge NaCl: 1.00 g (17.1 mmol)', 'product NaCl: 0.50 g');
    expect(judgedAnew(workspace, after)).toEqual(['A1', 'C']);
    expect(judge(after).get('C')).toMatchObject([{ code: 'batch-overdrawn' }]);
  });
  it('the head of its file reaches its own pages only', () => {
    const before = notebook({
      'a.tare': `substance salt: NaCl\n\n${page('A', 'charge salt: 1.0 g')}`,
      'b.tare': page('B', 'charge salt: 1.0 g'),
    });
    expect(judgedAnew(before, change(before, 'a.tare', 'salt: NaCl', 'salt: KCl'))).toEqual(['A']);
  });
  it('undone, nothing has changed', () => {
    const there = change(workspace, 'a.tare', '17.1', '17.2');
    const back = change(there, 'a.tare', '17.2', '17.1');
    expect(judge(back).get('B')).toBe(judge(workspace).get('B'));
    expect(JSON.stringify(judge(back).get('A1'))).toBe(JSON.stringify(judge(workspace).get('A1')));
  });
});

describe('files that come and go', () => {
  const files = { 'a.tare': page('A', 'charge NaCl: 1.0 g, from B1'), 'c.tare': page('C', 'charge NaCl: 1.0 g') };
  let workspace: Workspace;
  let added: Workspace;
  beforeEach(() => {
    workspace = notebook(files);
    added = workspace.with(new Map([[uriOf('b.tare'), parse(page('B1', 'product NaCl: 5.0 g'))]]));
  });
  it('a page that was missing', () => {
    expect(judge(workspace).get('A')).toContainEqual(expect.objectContaining({ code: 'reference-unresolved' }));
    expect(judgedAnew(workspace, added)).toEqual(['A', 'B1']);
    expect(judge(added).get('A')).not.toContainEqual(expect.objectContaining({ code: 'reference-unresolved' }));
  });
  it('a page that goes', () => {
    const gone = added.with(new Map([[uriOf('b.tare'), undefined]]));
    expect(judgedAnew(added, gone)).toEqual(['A']);
    expect(gone.files.has(uriOf('b.tare'))).toBe(false);
    expect(() => gone.snapshot(uriOf('b.tare'))).toThrow(RangeError);
    expect(JSON.stringify([...judge(gone)])).toBe(JSON.stringify([...judge(workspace)]));
  });
  it('the workspace before stays as it was', () => {
    expect(workspace.files.has(uriOf('b.tare'))).toBe(false);
    expect(judge(workspace).get('A')).toContainEqual(expect.objectContaining({ code: 'reference-unresolved' }));
  });
  it('a register that becomes a page declares no more', () => {
    const before = notebook({ 'stock.tare': 'substance salt: NaCl\n', 'a.tare': page('A', 'charge salt: 1.0 g') });
    const after = change(before, 'stock.tare', 'substance salt', `${page('S')}substance salt`);
    expect(judgedAnew(before, after)).toEqual(['A', 'S']);
    expect(judge(after).get('A')).toContainEqual(expect.objectContaining({ code: 'substance-unknown' }));
  });
  it('nothing changed is nothing to do', () => {
    expect(judgedAnew(workspace, workspace.with(new Map()))).toEqual([]);
    expect(worked()).toEqual([]);
  });
  it('settings are everybody’s', () => {
    expect(judgedAnew(workspace, workspace.with(new Map(), { ...DEFAULTS }))).toEqual(['A', 'C']);
  });
});

describe('two pages with one ID', () => {
  const workspace = notebook({
    'a.tare': page('A', 'product salt: 5.0 g'),
    'b.tare': page('A', 'product salt: 7.0 g'),
    'c.tare': page('C', 'charge salt: 6.0 g, from A'),
  });
  it('are both known, and both told', () => {
    expect(workspace.outcomes('A').map((o) => [o.uri, o.made[0]!.mass])).toEqual([
      [uriOf('a.tare'), 5],
      [uriOf('b.tare'), 7],
    ]);
    const found = judge(workspace);
    for (const id of ['A', 'A again'])
      expect(found.get(id)).toContainEqual(expect.objectContaining({ code: 'id-duplicate' }));
  });
  it('one of them renamed, the other is right again', () => {
    const after = change(workspace, 'b.tare', 'experiment A:', 'experiment B:');
    const found = judge(after);
    for (const id of ['A', 'B'])
      expect(found.get(id)).not.toContainEqual(expect.objectContaining({ code: 'id-duplicate' }));
  });
  it('in one file, too', () => {
    const both = notebook({ 'a.tare': page('A', 'product salt: 5.0 g') + page('A', 'product salt: 7.0 g') });
    expect(both.outcomes('A').map((o) => o.made[0]!.mass)).toEqual([5, 7]);
  });
});

describe('places elsewhere', () => {
  const workspace = notebook({
    'stock.tare': 'substance alpha: C6H12O5, density 1.100 g/mL\n',
    'a.tare': page('A', 'charge alpha: 10.0 mL'),
  });
  const origin = (): Extract<Origin, { from: 'there' }> => {
    const { density } = workspace.snapshot(uriOf('a.tare')).page(1).page.charges[0]!.name.target as never as {
      density: { origin: Extract<Origin, { from: 'there' }> };
    };
    return density.origin;
  };
  const textAt = (at: Workspace): string | undefined => {
    const found = at.locate(origin());
    if (!found) return undefined;
    const line = textOf(at.files.get(found.uri)!).split('\n')[found.range.start.line]!;
    return line.slice(found.range.start.character, found.range.end.character);
  };
  it('are found', () => expect(textAt(workspace)).toBe('1.100 g/mL'));
  it('are found after lines were put in front', () =>
    expect(
      textAt(
        change(workspace, 'stock.tare', 'substance alpha', 'substance beta: C7H14O5\n\nSome prose.\n\nsubstance alpha'),
      ),
    ).toBe('1.100 g/mL'));
  it('of a statement that went, the file', () => {
    const gone = change(workspace, 'stock.tare', 'substance alpha', 'Once there was alpha');
    expect(gone.locate(origin())).toMatchObject({
      uri: uriOf('stock.tare'),
      range: { start: { line: 0, character: 0 } },
    });
  });
  it('of a file that went, nothing', () =>
    expect(workspace.with(new Map([[uriOf('stock.tare'), undefined]])).locate(origin())).toBeUndefined());
});

describe('a notebook of 2000 pages', () => {
  const text = (file: number): string =>
    Array.from({ length: 20 }, (_, i) =>
      page(`P-${file}-${i}`, i === 7 ? 'charge alpha: 10.0 mL' : 'charge NaCl: 1.00 g', ''),
    ).join('');
  const files = Object.fromEntries(Array.from({ length: 100 }, (_, i) => [`f${i}.tare`, text(i)]));
  const workspace = notebook({
    ...files,
    'stock.tare': 'substance alpha: C6H12O5, density 1.100 g/mL\nsubstance beta: C7H14O5\n',
  });

  it('an edit computes one page, an edit of a register the pages that asked', () => {
    expect(judge(workspace).size).toBe(2000);
    expect(worked()).toHaveLength(2000);
    const typed = change(workspace, 'f50.tare', 'experiment P-50-3: Title', 'experiment P-50-3: Titles');
    computed.mockClear();
    judge(typed);
    expect(worked()).toEqual(['P-50-3']);

    const register = change(typed, 'stock.tare', '1.100', '1.200');
    computed.mockClear();
    judge(register);
    expect(worked()).toEqual(Array.from({ length: 100 }, (_, i) => `P-${i}-7`).sort());

    computed.mockClear();
    judge(change(register, 'stock.tare', 'beta: C7H14O5', 'beta: C7H14O6'));
    expect(worked()).toEqual([]);
  });
});
