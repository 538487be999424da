/** The life of the server: start, capabilities, bad messages, end. */
import { spawn } from 'node:child_process';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Bench, type Client, PULL, PUSH, uriOf } from './client';

const bench = new Bench();
beforeAll(() => bench.build(), 60_000);
afterAll(() => bench.dispose());

const running: Client[] = [];
const start = (...args: string[]): Client => {
  const client = bench.start(...args);
  running.push(client);
  return client;
};
afterAll(() => Promise.all(running.map((client) => client.stop())));

const PAGE = 'experiment TB-001: A page\ndate: 2026-03-04\nauthor: MK\ncharge acetic acid: 20.0 mL\n';

describe('initialize', () => {
  test('says what the server can do', async () => {
    const { capabilities, serverInfo } = await start().initialize();
    expect(serverInfo).toMatchObject({ name: 'tarebook', version: expect.stringMatching(/^\d+\.\d+\.\d+/) });
    expect(capabilities).toMatchObject({
      positionEncoding: 'utf-16',
      textDocumentSync: { openClose: true, change: 2 },
      hoverProvider: true,
      completionProvider: { triggerCharacters: [':', ',', '('] },
      codeActionProvider: { resolveProvider: true },
      inlayHintProvider: true,
      documentSymbolProvider: true,
      definitionProvider: true,
      referencesProvider: true,
      documentHighlightProvider: true,
      foldingRangeProvider: true,
    });
    expect(capabilities.semanticTokensProvider.legend.tokenTypes.length).toBeGreaterThan(3);
    expect(capabilities.codeActionProvider.codeActionKinds).toContain('quickfix');
  });

  test('findings are pulled by a client that can, else pushed', async () => {
    expect((await start().initialize(undefined, PUSH)).capabilities.diagnosticProvider).toBeUndefined();
    expect((await start().initialize(undefined, PULL)).capabilities.diagnosticProvider).toEqual({
      interFileDependencies: true,
      workspaceDiagnostics: false,
    });
  });

  test('a request before it is refused', async () => {
    const { error } = await start().ask('textDocument/hover', {
      textDocument: { uri: 'file:///a.tare' },
      position: { line: 0, character: 0 },
    });
    expect(error?.code).toBe(-32002);
  });

  test('needs nothing of the client', async () => {
    const client = start();
    await client.initialize(undefined, {});
    const found = client.published('untitled:a.tare');
    client.open('untitled:a.tare', PAGE);
    expect((await found).version).toBe(1);
  });
});

describe('bad messages', () => {
  test('an unknown request is refused, an unknown notification passed over, and the server lives on', async () => {
    const client = start();
    await client.initialize();
    expect((await client.ask('tarebook/noSuchThing', {})).error?.code).toBe(-32601);
    client.notify('tarebook/noSuchThing', {});
    client.notify('$/alsoUnknown', null);
    const found = client.published('untitled:a.tare');
    client.open('untitled:a.tare', PAGE);
    await found;
  });

  test('positions that are nowhere get an answer', async () => {
    const client = start();
    await client.initialize();
    client.open('untitled:a.tare', PAGE);
    for (const position of [
      { line: 9999, character: 0 },
      { line: 3, character: 9999 },
      { line: -1, character: -5 },
      { line: 0.5, character: 0.5 },
    ]) {
      const textDocument = { uri: 'untitled:a.tare' };
      for (const method of ['hover', 'definition', 'documentHighlight'])
        expect(await client.ask(`textDocument/${method}`, { textDocument, position })).not.toHaveProperty('error');
      expect(await client.ask('textDocument/completion', { textDocument, position })).not.toHaveProperty('error');
      const range = { start: position, end: position };
      expect(await client.ask('textDocument/inlayHint', { textDocument, range })).not.toHaveProperty('error');
      expect(
        await client.ask('textDocument/codeAction', { textDocument, range, context: { diagnostics: [] } }),
      ).not.toHaveProperty('error');
    }
  });

  test('a document nobody opened has nothing to say', async () => {
    const client = start();
    await client.initialize();
    const textDocument = { uri: 'file:///nowhere/a.tare' };
    expect(
      await client.request('textDocument/hover', { textDocument, position: { line: 0, character: 0 } }),
    ).toBeNull();
    expect(await client.request('textDocument/documentSymbol', { textDocument })).toEqual([]);
    client.change(textDocument.uri, 2, { text: 'charge' });
    client.notify('textDocument/didClose', { textDocument });
    expect(
      await client.request('textDocument/completion', { textDocument, position: { line: 0, character: 0 } }),
    ).toBeNull();
  });
});

describe('the end', () => {
  test('shutdown and exit: status 0, and no answers in between', async () => {
    const client = start();
    await client.initialize();
    client.open('untitled:a.tare', PAGE);
    expect((await client.ask('shutdown', null)).result).toBeNull();
    const late = await client.ask('textDocument/hover', {
      textDocument: { uri: 'untitled:a.tare' },
      position: { line: 0, character: 0 },
    });
    expect(late.error?.code).toBe(-32600);
    client.notify('exit', null);
    expect(await client.exited).toBe(0);
  });

  test('exit without shutdown: status 1', async () => {
    const client = start();
    await client.initialize();
    client.notify('exit', null);
    expect(await client.exited).toBe(1);
  });

  test('the editor is gone: so is the server', async () => {
    const editor = spawn(process.execPath, ['-e', 'setTimeout(() => {}, 60000)']);
    const client = start(`--clientProcessId=${editor.pid}`);
    await client.initialize();
    editor.kill();
    expect(await client.exited).toBe(1);
  });
});

test('the log names events, never what stands in a page', async () => {
  const folder = bench.folder({ 'a.tare': PAGE.replace('acetic acid', 'Xyzzium') });
  const client = start();
  client.settings = { rules: { severity: { 'page-head-missing': 'off' } } };
  await client.initialize(folder);
  const found = client.published(uriOf(folder, 'a.tare'));
  client.open(uriOf(folder, 'a.tare'), PAGE.replace('acetic acid', 'Xyzzium'));
  await found;
  const log = client.received
    .filter(({ method }) => method === 'window/logMessage')
    .map(({ params }) => params.message);
  expect(log[0]).toMatch(/^started version=/);
  expect(log.join('\n')).toMatch(/settings rules=1/);
  expect(log.join('\n')).not.toMatch(/Xyzzium|A page|MK/);
  expect(client.stderr).toBe('');
});
