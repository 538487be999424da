/** Findings over the wire: with their version, at once, in one channel only, and gone when their reason is. */
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Bench, type Client, PULL, PUSH, positionOf, span, uriOf } from './client';

const bench = new Bench();
beforeAll(() => bench.build(), 60_000);
afterAll(() => bench.dispose());

const running: Client[] = [];
afterAll(() => Promise.all(running.map((client) => client.stop())));

async function connect(folder?: string, capabilities: unknown = PUSH, settings: unknown = null): Promise<Client> {
  const client = bench.start();
  running.push(client);
  client.settings = settings;
  await client.initialize(folder, capabilities);
  return client;
}

/** 54.881 g − 41.207 g = 13.674 g. */
const PAGE = `experiment TB-001: A page
date: 2026-03-04
author: MK

vessel F-12: 50 mL flask, tare 41.207 g
product isopentyl acetate: gross 54.881 g, in F-12 (net 13.674 g)
`;
const NET = positionOf(PAGE, '13.674');
const URI = 'untitled:page.tare';

interface Found {
  readonly code?: string;
  readonly message: string;
}
const codes = (found: readonly Found[]): (string | undefined)[] => found.map(({ code }) => code);
const has = (code: string) => (found: readonly Found[]) => codes(found).includes(code);
const lacks = (code: string) => (found: readonly Found[]) => !codes(found).includes(code);

describe('pushed', () => {
  test('a wrong number is reported with the version that has it, and taken back with the one that has not', async () => {
    const client = await connect();
    const opened = client.published(URI);
    client.open(URI, PAGE, 7);
    expect(await opened).toMatchObject({ uri: URI, version: 7 });
    const { line, character } = NET;
    const broken = client.published(URI, has('net-mismatch'));
    client.change(URI, 8, { range: span(line, character + 5, character + 6), text: '9' });
    const { version, diagnostics } = await broken;
    expect(version).toBe(8);
    const [net] = diagnostics.filter((d: Found) => d.code === 'net-mismatch');
    expect(net).toMatchObject({
      source: 'tarebook',
      severity: 1,
      range: span(line, character, character + '13.679 g'.length),
    });
    expect(net.message).toContain('13.674 g');
    const mended = client.published(URI, lacks('net-mismatch'));
    client.change(URI, 9, { range: span(line, character + 5, character + 6), text: '4' });
    expect((await mended).version).toBe(9);
  });

  test('several changes in one message count one after the other', async () => {
    const client = await connect();
    client.open(URI, PAGE);
    const { line, character } = NET;
    const found = client.published(URI, (_, version) => version === 2);
    client.change(
      URI,
      2,
      { range: span(0, 0, 0), text: '\n' },
      { range: span(line + 1, character, character + 6), text: '31.674' },
    );
    const { diagnostics } = await found;
    expect(diagnostics.find((d: Found) => d.code === 'net-mismatch').range.start.line).toBe(line + 1);
  });

  test('every version is answered in order, none twice', async () => {
    const client = await connect();
    client.open(URI, PAGE);
    const last = client.published(URI, (_, version) => version === 20);
    for (let version = 2; version <= 20; version++) client.change(URI, version, { range: span(3, 0), text: 'a' });
    await last;
    const versions = client.received.flatMap(({ method, params }) =>
      method === 'textDocument/publishDiagnostics' ? [params.version] : [],
    );
    expect(versions).toEqual([...new Set(versions)].sort((a, b) => a - b));
    expect(versions.at(-1)).toBe(20);
  });

  test('closing clears', async () => {
    const client = await connect();
    const opened = client.published(URI, has('net-mismatch'));
    client.open(URI, PAGE.replace('13.674', '13.764'));
    await opened;
    const cleared = client.published(URI);
    client.notify('textDocument/didClose', { textDocument: { uri: URI } });
    expect((await cleared).diagnostics).toEqual([]);
  });

  test('never also offered for pulling, and not asked to', async () => {
    const client = await connect();
    client.open(URI, PAGE);
    await client.published(URI);
    expect(client.received.some(({ method }) => method === 'workspace/diagnostic/refresh')).toBe(false);
  });
});

describe('pulled', () => {
  const pull = (client: Client, uri: string, previousResultId?: string) =>
    client.request('textDocument/diagnostic', { textDocument: { uri }, ...(previousResultId && { previousResultId }) });

  test('a report, the same report by its id, and a new one after an edit', async () => {
    const client = await connect(undefined, PULL);
    client.open(URI, PAGE);
    const first = await pull(client, URI);
    expect(first).toMatchObject({ kind: 'full' });
    expect(codes(first.items)).not.toContain('net-mismatch');
    expect(await pull(client, URI, first.resultId)).toEqual({ kind: 'unchanged', resultId: first.resultId });
    client.change(URI, 2, { range: span(NET.line, NET.character, NET.character + 6), text: '13.764' });
    const second = await pull(client, URI, first.resultId);
    expect(codes(second.items)).toContain('net-mismatch');
    expect(second.resultId).not.toBe(first.resultId);
  });

  test('nothing is ever pushed', async () => {
    const client = await connect(undefined, PULL);
    client.open(URI, PAGE.replace('13.674', '13.764'));
    await pull(client, URI);
    client.change(URI, 2, { range: span(0, 0), text: ' ' });
    await pull(client, URI);
    client.notify('textDocument/didClose', { textDocument: { uri: URI } });
    expect((await pull(client, URI)).items).toEqual([]);
    expect(client.received.some(({ method }) => method === 'textDocument/publishDiagnostics')).toBe(false);
  });
});

describe('what a diagnostic carries', () => {
  const BROKEN = PAGE.replace('13.674', '13.764');
  const findingFor = async (capabilities: unknown) => {
    const client = await connect(undefined, capabilities);
    const found = client.published(URI, has('net-mismatch'));
    client.open(URI, BROKEN);
    return (await found).diagnostics.find((d: Found) => d.code === 'net-mismatch');
  };

  test('all of it for a client that understands it', async () => {
    const page = join(bench.home, 'server/rules/weighing');
    mkdirSync(page, { recursive: true });
    writeFileSync(join(page, 'net-mismatch.md'), '# net-mismatch');
    const found = await findingFor(PUSH);
    expect(found.codeDescription.href).toMatch(/^file:.*\/server\/rules\/weighing\/net-mismatch\.md$/);
    expect(found.data).toEqual({ v: 1, rule: 'net-mismatch', slip: 'digits-swapped' });
    for (const { location, message } of found.relatedInformation ?? []) {
      expect(location.uri).toBe(URI);
      expect(message).not.toBe('');
    }
    expect((found.relatedInformation ?? []).length).toBeLessThanOrEqual(6);
  });

  test('inputs on other pages where they stand now', async () => {
    const folder = bench.folder({ 'other.tare': `\n\n${PAGE.replace('TB-001', 'TB-002')}` });
    const client = await connect(folder);
    const uri = uriOf(folder, 'page.tare');
    const found = client.published(uri, has('tare-missing'));
    client.open(uri, PAGE.replace(/vessel.*\n/, ''));
    const missing = (await found).diagnostics.find((d: Found) => d.code === 'tare-missing');
    expect(missing.relatedInformation).toEqual([
      {
        location: {
          uri: uriOf(folder, 'other.tare'),
          range: { start: { line: 6, character: expect.any(Number) }, end: expect.anything() },
        },
        message: expect.stringContaining('41.207 g'),
      },
    ]);
  });

  test('the bare finding for one that does not', async () => {
    const found = await findingFor({});
    expect(Object.keys(found).sort()).toEqual(['code', 'message', 'range', 'severity', 'source']);
  });
});

describe('a long list', () => {
  test('stops at 200 with the worst first, and says how many more there are', async () => {
    const hints = Array.from({ length: 250 }, (_, i) => `charge water: ${i + 1} ml\n`).join('');
    const client = await connect();
    const found = client.published(URI, has('net-mismatch'));
    client.open(URI, `${PAGE.replace('13.674', '13.764')}${hints}`);
    const { diagnostics } = await found;
    expect(diagnostics).toHaveLength(201);
    const more = diagnostics.find((d: Found) => d.code === undefined);
    expect(more).toMatchObject({ severity: 3, message: expect.stringMatching(/^\d+ more findings are not shown/) });
  });

  test('of too many errors those of the page last written on are shown, before and after the pause', async () => {
    const pages = Array.from({ length: 260 }, (_, i) =>
      PAGE.replace('TB-001', `TB-${1000 + i}`).replace('13.674', '13.764'),
    );
    pages[130] = PAGE.replace('TB-001', 'TB-2000');
    const text = pages.join('\n');
    const first = text.slice(0, text.indexOf('TB-2000')).split('\n').length - 1;
    const here = (found: readonly { range: { start: { line: number } } }[]) =>
      found.some(({ range }) => range.start.line === first + NET.line);
    const client = await connect();
    client.open(URI, text);
    expect(here((await client.published(URI)).diagnostics)).toBe(false);
    const broken = client.published(URI, (_, version) => version === 2);
    client.change(URI, 2, { range: span(first + NET.line, NET.character + 3, NET.character + 5), text: '76' });
    expect(here((await broken).diagnostics)).toBe(true);
    const later = client.published(URI, (_, version) => version === 3);
    await new Promise((resolve) => setTimeout(resolve, 1600));
    client.change(URI, 3, { range: span(first + NET.line + 1, 0), text: '\n' });
    expect(here((await later).diagnostics)).toBe(true);
  });
});

describe('the statement being written', () => {
  test('is not told about its units until there is a pause', async () => {
    const client = await connect();
    client.open(URI, `${PAGE}\n`);
    await client.published(URI);
    const typed = client.published(URI, (_, version) => version === 2);
    client.change(URI, 2, { range: span(6, 0), text: 'charge water: 20.0 ml' });
    expect(codes((await typed).diagnostics)).not.toContain('unit-spelling');
    const paused = await client.published(URI, has('unit-spelling'));
    expect(paused.version).toBe(2);
  });

  test('is told as soon as another line is written', async () => {
    const client = await connect();
    client.open(URI, `${PAGE}\n`);
    await client.published(URI);
    const began = performance.now();
    const found = client.published(URI, has('unit-spelling'));
    client.change(URI, 2, { range: span(6, 0), text: 'charge water: 20.0 ml' });
    client.change(URI, 3, { range: span(3, 0), text: 'aim: to see' });
    expect((await found).version).toBe(3);
    expect(performance.now() - began).toBeLessThan(1400);
  });

  test('a pulling client is asked to pull again after the pause', async () => {
    const client = await connect(undefined, PULL);
    client.open(URI, `${PAGE}\n`);
    client.change(URI, 2, { range: span(6, 0), text: 'charge water: 20.0 ml' });
    const pull = () => client.request('textDocument/diagnostic', { textDocument: { uri: URI } });
    expect(codes((await pull()).items)).not.toContain('unit-spelling');
    await client.next(({ method }) => method === 'workspace/diagnostic/refresh', 'a refresh');
    expect(codes((await pull()).items)).toContain('unit-spelling');
  });
});

describe('what stands in other files', () => {
  const REGISTER = 'vessel F-12: 50 mL flask, tare 41.207 g\n';
  const WITHOUT = PAGE.replace(/vessel.*\n/, '').replace('13.674', '13.764');

  test('a register on disk is read before the first page is judged', async () => {
    const folder = bench.folder({
      'lab/vessels.tare': REGISTER,
      'node_modules/other.tare': 'vessel F-12: tare 1.000 g\n',
    });
    const uri = uriOf(folder, 'page.tare');
    const client = await connect(folder);
    const found = client.published(uri);
    client.open(uri, WITHOUT);
    expect(codes((await found).diagnostics)).toContain('net-mismatch');
  });

  test('what is open counts, not what is on disk; closing goes back to the disk', async () => {
    const folder = bench.folder({ 'vessels.tare': REGISTER });
    const [uri, register] = [uriOf(folder, 'page.tare'), uriOf(folder, 'vessels.tare')];
    const client = await connect(folder);
    client.open(uri, WITHOUT);
    await client.published(uri, has('net-mismatch'));
    const right = client.published(uri, lacks('net-mismatch'));
    client.open(register, REGISTER.replace('41.207', '41.117'));
    await right;
    const wrong = client.published(uri, has('net-mismatch'));
    client.change(register, 2, { text: REGISTER });
    await wrong;
    const again = client.published(uri, lacks('net-mismatch'));
    client.change(register, 3, { text: REGISTER.replace('41.207', '41.117') });
    await again;
    const saved = client.published(uri, has('net-mismatch'));
    client.notify('textDocument/didClose', { textDocument: { uri: register } });
    await saved;
  });

  test('a file that changes or goes on disk is noticed, and its findings go with it', async () => {
    const folder = bench.folder({ 'vessels.tare': REGISTER });
    const [uri, register] = [uriOf(folder, 'page.tare'), uriOf(folder, 'vessels.tare')];
    const client = await connect(folder);
    client.open(uri, WITHOUT);
    await client.published(uri, has('net-mismatch'));
    writeFileSync(join(folder, 'vessels.tare'), REGISTER.replace('41.207', '41.117'));
    const right = client.published(uri, lacks('net-mismatch'));
    client.notify('workspace/didChangeWatchedFiles', { changes: [{ uri: register, type: 2 }] });
    await right;
    rmSync(join(folder, 'vessels.tare'));
    const cleared = client.published(register);
    const missing = client.published(uri, has('tare-missing'));
    client.notify('workspace/didChangeWatchedFiles', { changes: [{ uri: register, type: 3 }] });
    expect((await cleared).diagnostics).toEqual([]);
    await missing;
  });

  test('a pulling client is asked to pull again when a register changes', async () => {
    const folder = bench.folder({ 'vessels.tare': REGISTER });
    const client = await connect(folder, PULL);
    client.open(uriOf(folder, 'page.tare'), WITHOUT);
    client.open(uriOf(folder, 'vessels.tare'), REGISTER);
    const refresh = client.next(({ method }) => method === 'workspace/diagnostic/refresh', 'a refresh');
    client.change(uriOf(folder, 'vessels.tare'), 2, { text: '' });
    await refresh;
  });

  test('folders do not see one another', async () => {
    const [lab, other] = [bench.folder({ 'vessels.tare': REGISTER }), bench.folder()];
    const client = await connect(lab);
    const added = client.next(({ method }) => method === 'workspace/configuration', 'the settings of the new folder');
    client.notify('workspace/didChangeWorkspaceFolders', {
      event: { added: [{ uri: uriOf(other, '.').replace(/\/\.?$/, ''), name: 'other' }], removed: [] },
    });
    await added;
    const found = client.published(uriOf(other, 'page.tare'));
    client.open(uriOf(other, 'page.tare'), WITHOUT);
    expect(codes((await found).diagnostics)).toContain('tare-missing');
  });
});

describe('settings', () => {
  test('a rule is silenced, and heard again without a restart', async () => {
    const client = await connect(undefined, PUSH, { rules: { severity: { 'net-mismatch': 'off' } } });
    client.open(URI, PAGE.replace('13.674', '13.764'));
    expect(codes((await client.published(URI)).diagnostics)).not.toContain('net-mismatch');
    client.settings = {
      rules: { severity: { 'net-mismatch': 'hint', 'no-such-rule': 'error', 'tare-missing': 'loud' } },
    };
    const heard = client.published(URI, has('net-mismatch'));
    client.notify('workspace/didChangeConfiguration', { settings: null });
    expect((await heard).diagnostics.find((d: Found) => d.code === 'net-mismatch')).toMatchObject({ severity: 4 });
  });

  test('are taken as sent by a client that cannot be asked', async () => {
    const client = await connect(undefined, {});
    client.open(URI, PAGE.replace('13.674', '13.764'));
    await client.published(URI, has('net-mismatch'));
    const silent = client.published(URI, lacks('net-mismatch'));
    client.notify('workspace/didChangeConfiguration', {
      settings: { tarebook: { rules: { severity: { 'net-mismatch': 'off' } } } },
    });
    await silent;
  });

  test('of the project win over those of the editor, and are read again when they change', async () => {
    const folder = bench.folder({
      'tarebook.json': '{\n  // quieter\n  "rules": {"severity": {"net-mismatch": "warning",}},\n}',
    });
    const uri = uriOf(folder, 'page.tare');
    const client = await connect(folder, PUSH, { rules: { severity: { 'net-mismatch': 'off' } } });
    const severity = (found: readonly Found[]) =>
      found.flatMap((d) => (d.code === 'net-mismatch' ? [(d as unknown as { severity: number }).severity] : []));
    const first = client.published(uri);
    client.open(uri, PAGE.replace('13.674', '13.764'));
    expect(severity((await first).diagnostics)).toEqual([2]);
    writeFileSync(join(folder, 'tarebook.json'), '{"rules": {"severity": {"net-mismatch": "hint"}}}');
    const second = client.published(uri, (found) => severity(found)[0] === 4);
    client.notify('workspace/didChangeWatchedFiles', { changes: [{ uri: uriOf(folder, 'tarebook.json'), type: 2 }] });
    await second;
    rmSync(join(folder, 'tarebook.json'));
    const third = client.published(uri, lacks('net-mismatch'));
    client.notify('workspace/didChangeWatchedFiles', { changes: [{ uri: uriOf(folder, 'tarebook.json'), type: 3 }] });
    await third;
  });

  test('a folder with settings of its own is a notebook of its own', async () => {
    const folder = bench.folder({
      'vessels.tare': 'vessel F-12: 50 mL flask, tare 41.207 g\n',
      'other/tarebook.json': '{}',
      'other/more/register.tare': 'vessel F-13: 50 mL flask, tare 41.000 g\n',
    });
    const client = await connect(folder);
    const uri = uriOf(folder, 'other/page.tare');
    const found = client.published(uri);
    client.open(uri, PAGE.replace(/vessel.*\n/, ''));
    expect(codes((await found).diagnostics)).toContain('tare-missing');
    const known = client.published(uri, lacks('tare-missing'));
    client.change(uri, 2, {
      text: PAGE.replace(/vessel.*\n/, '')
        .replace('F-12', 'F-13')
        .replace('13.674', '13.881'),
    });
    await known;
  });
});
