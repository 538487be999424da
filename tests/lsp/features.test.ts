/** What the features say, as the protocol has it and as far as the client understands it. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Bench, type Client, PULL, PUSH, positionOf, span, uriOf } from './client';

const bench = new Bench();
beforeAll(() => bench.build(), 60_000);
afterAll(() => bench.dispose());

const running: Client[] = [];
afterAll(() => Promise.all(running.map((client) => client.stop())));

async function connect(capabilities: unknown = PUSH, folder?: string, settings: unknown = null): Promise<Client> {
  const client = bench.start();
  running.push(client);
  client.settings = settings;
  await client.initialize(folder, capabilities);
  return client;
}

/** 15.0 mL × 0.810 g/mL = 12.15 g; 54.881 g − 41.207 g = 13.674 g. */
const PAGE = `experiment TB-001: A page
date: 2026-03-04
author: MK

substance isopentyl alcohol: C5H12O, density 0.810 g/mL
vessel F-12: 50 mL flask, tare 41.207 g
charge isopentyl alcohol: 15.0 mL
product isopentyl acetate: gross 54.881 g, in F-12 (net 13.764 g)

# Work-up
09:40 Washed.
`;
const URI = 'untitled:page.tare';
const textDocument = { uri: URI };
const LINE = { alcohol: 6, product: 7 };
const everywhere = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };

describe('hover', () => {
  const position = positionOf(PAGE, '15.0 mL', 1);

  test('Markdown', async () => {
    const client = await connect();
    client.open(URI, PAGE);
    const { contents, range } = await client.request('textDocument/hover', { textDocument, position });
    expect(contents.kind).toBe('markdown');
    expect(contents.value).toContain('| mass | 12.15 g | 15.0 mL × 0.810 g/mL (line 5) |');
    expect(range).toEqual(span(LINE.alcohol, 26, 33));
  });

  test('plain text for a client that wants it', async () => {
    const client = await connect({ textDocument: { hover: { contentFormat: ['plaintext'] } } });
    client.open(URI, PAGE);
    const { contents } = await client.request('textDocument/hover', { textDocument, position });
    expect(contents.kind).toBe('plaintext');
    expect(contents.value).toContain('mass  12.15 g  15.0 mL × 0.810 g/mL (line 5)');
    expect(contents.value).not.toMatch(/[*|]/);
  });

  test('of the text as it stands, however soon after an edit', async () => {
    const client = await connect();
    client.open(URI, PAGE);
    client.change(URI, 2, { range: span(LINE.alcohol, 26, 30), text: '20.0' });
    const { contents } = await client.request('textDocument/hover', { textDocument, position });
    expect(contents.value).toContain('| mass | 16.20 g |');
  });
});

describe('completion', () => {
  const at = (client: Client, text: string) => {
    client.open(URI, `${PAGE}${text}`);
    return client.request('textDocument/completion', { textDocument, position: { line: 11, character: text.length } });
  };

  test('replaces what was typed, with stops', async () => {
    const { items, isIncomplete } = await at(await connect(), 'prod');
    expect(isIncomplete).toBe(false);
    expect(items.find((item: { label: string }) => item.label === 'product')).toMatchObject({
      kind: 14,
      insertTextFormat: 2,
      textEdit: { range: span(11, 0, 4), newText: 'product $1: gross $2 g, in $3' },
    });
  });

  test('without stops for a client that has none', async () => {
    const { items } = await at(await connect({}), 'prod');
    expect(items.find((item: { label: string }) => item.label === 'product')).toMatchObject({
      insertTextFormat: 1,
      textEdit: { range: span(11, 0, 4), newText: 'product' },
    });
  });

  test('a name with its formula, and the line that declares it', async () => {
    const { items } = await at(await connect(), 'charge tolu');
    expect(items.find((item: { label: string }) => item.label === 'toluene')).toMatchObject({
      labelDetails: { detail: expect.stringContaining('C'), description: 'handbook' },
      textEdit: { range: span(11, 7, 11), newText: 'toluene: ' },
      additionalTextEdits: [{ range: span(5, 0), newText: expect.stringMatching(/^substance toluene: .*\n$/) }],
    });
  });

  test('nothing in prose', async () => {
    expect((await at(await connect(), 'Then, ')).items).toEqual([]);
  });
});

describe('inlay hints', () => {
  const ask = (client: Client) => client.request('textDocument/inlayHint', { textDocument, range: everywhere });

  test('can be accepted', async () => {
    const client = await connect();
    client.open(URI, PAGE);
    expect(await ask(client)).toEqual([
      {
        position: { line: LINE.alcohol, character: 33 },
        label: '12.15 g · 137.8 mmol',
        tooltip: expect.stringMatching(/^Computed, not in the file\./),
        paddingLeft: true,
        textEdits: [{ range: span(LINE.alcohol, 33), newText: ' (12.2 g, 138 mmol)' }],
      },
    ]);
  });

  test('can be switched off', async () => {
    const client = await connect(PUSH, undefined, { hints: { enabled: false } });
    client.open(URI, PAGE);
    await client.published(URI);
    expect(await ask(client)).toEqual([]);
  });

  test('keep out of the line that is being written, and come back after the pause', async () => {
    const client = await connect();
    client.open(URI, PAGE);
    await client.published(URI);
    const typed = client.published(URI, (_, version) => version === 2);
    client.change(URI, 2, { range: span(LINE.alcohol, 29, 30), text: '5' });
    await typed;
    expect(await ask(client)).toEqual([]);
    await client.next(({ method }) => method === 'workspace/inlayHint/refresh', 'a refresh');
    expect(await ask(client)).toHaveLength(1);
  });
});

describe('code actions', () => {
  const range = span(LINE.product, 56, 64);
  const ask = (client: Client) =>
    client.request('textDocument/codeAction', { textDocument, range, context: { diagnostics: [] } });
  const TITLE = 'Replace 13.764 g with 13.674 g';
  const named = (actions: { title: string }[], title: string | RegExp) =>
    actions.find((action) => (typeof title === 'string' ? action.title === title : title.test(action.title))) as never;
  const LAZY = {
    ...PUSH,
    textDocument: {
      ...PUSH.textDocument,
      codeAction: { isPreferredSupport: true, resolveSupport: { properties: ['edit'] } },
    },
  };

  test('carry their edit and the version it is for', async () => {
    const client = await connect();
    client.open(URI, PAGE, 5);
    expect(named(await ask(client), TITLE)).toMatchObject({
      kind: 'quickfix',
      edit: { documentChanges: [{ textDocument: { uri: URI, version: 5 }, edits: [{ newText: '13.674 g' }] }] },
    });
  });

  test('as plain changes for a client that knows no versions', async () => {
    const client = await connect({});
    client.open(URI, PAGE);
    expect(named(await ask(client), TITLE)).toMatchObject({ edit: { changes: { [URI]: [{ newText: '13.674 g' }] } } });
  });

  test('are resolved while the text is the same, and refused once it is not', async () => {
    const client = await connect(LAZY);
    client.open(URI, PAGE);
    const action = named(await ask(client), TITLE);
    expect(action).not.toHaveProperty('edit');
    expect(await client.request('codeAction/resolve', action)).toHaveProperty('edit');
    client.change(URI, 2, { range: span(0, 0), text: '\n' });
    expect(await client.request('codeAction/resolve', action)).not.toHaveProperty('edit');
  });

  test('with a reason to fill in: a stop where the client has stops, an empty slot where not', async () => {
    const accept = /^Accept net-mismatch/;
    const plain = await connect();
    plain.open(URI, PAGE);
    expect(named(await ask(plain), accept)).toMatchObject({
      edit: { documentChanges: [{ edits: [{ newText: '\naccept net-mismatch: ' }] }] },
    });
    const modern = await connect({
      ...PUSH,
      workspace: { ...PUSH.workspace, workspaceEdit: { documentChanges: true, snippetEditSupport: true } },
    });
    modern.open(URI, PAGE);
    expect(named(await ask(modern), accept)).toMatchObject({
      edit: {
        documentChanges: [
          {
            edits: [
              { snippet: { kind: 'snippet', value: expect.stringMatching(/^\naccept net-mismatch: \$\{1:reason\}$/) } },
            ],
          },
        ],
      },
    });
  });

  test('belong to the diagnostic they are for', async () => {
    const client = await connect();
    const found = client.published(URI);
    client.open(URI, PAGE);
    const { diagnostics } = await found;
    const actions = await client.request('textDocument/codeAction', { textDocument, range, context: { diagnostics } });
    expect((named(actions, TITLE) as { diagnostics: { code: string }[] }).diagnostics.map(({ code }) => code)).toEqual([
      'net-mismatch',
    ]);
  });
});

describe('finding the way', () => {
  test('the outline as a tree, or as a list', async () => {
    const tree = await connect();
    tree.open(URI, PAGE);
    const [page] = await tree.request('textDocument/documentSymbol', { textDocument });
    expect(page).toMatchObject({ name: 'TB-001: A page', kind: 3 });
    expect(page.children.map((child: { name: string }) => child.name)).toContain('vessel F-12');
    const flat = await connect({});
    flat.open(URI, PAGE);
    const list = await flat.request('textDocument/documentSymbol', { textDocument });
    expect(list).toContainEqual(expect.objectContaining({ name: 'vessel F-12', containerName: 'TB-001: A page' }));
  });

  test('from a vessel to its tare, and to all its uses', async () => {
    const client = await connect(PULL, bench.folder());
    const uri = uriOf(bench.folder(), 'page.tare');
    client.open(uri, PAGE);
    const position = positionOf(PAGE, 'F-12 (net', 1);
    const [target] = [await client.request('textDocument/definition', { textDocument: { uri }, position })].flat();
    expect(target).toMatchObject({ uri, range: { start: { line: 5 } } });
    const uses = await client.request('textDocument/references', {
      textDocument: { uri },
      position,
      context: { includeDeclaration: true },
    });
    expect(uses).toHaveLength(2);
  });

  test('a new name everywhere, or a reason why not', async () => {
    const client = await connect();
    client.open(URI, PAGE, 3);
    const renamed = await client.request('textDocument/rename', {
      textDocument,
      position: positionOf(PAGE, 'F-12', 1),
      newName: 'F-13',
    });
    expect(renamed.documentChanges).toEqual([
      {
        textDocument: { uri: URI, version: 3 },
        edits: [expect.objectContaining({ newText: 'F-13' }), expect.objectContaining({ newText: 'F-13' })],
      },
    ]);
    const { error } = await client.ask('textDocument/prepareRename', {
      textDocument,
      position: positionOf(PAGE, 'Washed'),
    });
    expect(error?.message).toMatch(/no name/i);
  });

  test('folds, and colours of a part', async () => {
    const client = await connect();
    client.open(URI, PAGE);
    expect((await client.request('textDocument/foldingRange', { textDocument })).length).toBeGreaterThan(0);
    const whole = await client.request('textDocument/semanticTokens/full', { textDocument });
    const part = await client.request('textDocument/semanticTokens/range', {
      textDocument,
      range: { start: { line: 5, character: 0 }, end: { line: 5, character: 99 } },
    });
    expect(part.data.length).toBeGreaterThan(0);
    expect(part.data.length).toBeLessThan(whole.data.length);
    expect(part.data[0]).toBe(5);
  });
});
