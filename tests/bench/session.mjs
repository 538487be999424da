// One server, one document: open it, break and mend it at twenty places, type a burst, ask for a hover and the like.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Client, sleep } from './client.mjs';
import { DOCUMENTS } from './documents.mjs';
import { cpu, peak, tree } from './processes.mjs';

const CAPABILITIES = {
  workspace: { configuration: true, workspaceFolders: true, workspaceEdit: { documentChanges: true } },
  textDocument: {
    synchronization: { didSave: true },
    diagnostic: { dynamicRegistration: true },
    hover: { contentFormat: ['markdown', 'plaintext'] },
    completion: { completionItem: { snippetSupport: true, documentationFormat: ['markdown'] } },
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
    formatting: {},
    inlayHint: {},
  },
};
const PLACES = 10;
const BURST = 30;

/**
 * Times in milliseconds, CPU too; lists are samples. `failed` says what went wrong, by step.
 * Every sample is checked against the finding that the edit makes or mends, so a stale answer does not count.
 */
export async function session(server, lines, seed) {
  const folder = mkdtempSync(join(tmpdir(), 'tarebook-bench-'));
  const uri = pathToFileURL(join(folder, `doc.${server.ending}`)).href;
  const root = pathToFileURL(folder).href;
  const { text, sites } = DOCUMENTS[server.document](lines, seed);
  const content = text.split('\n');
  const settings = server.settings ?? {};
  const result = { edit: [], failed: {} };
  const started = performance.now();
  const client = new Client(server.command, folder, (method, params) => {
    if (method === 'workspace/configuration') return params.items.map(({ section }) => settings[section] ?? null);
    if (method === 'workspace/workspaceFolders') return [{ uri: root, name: 'bench' }];
  });
  const pids = () => tree(client.process.pid);
  const place = (k, of) => sites[Math.min(sites.length - 1, Math.floor(((k + 0.5) / of) * sites.length))];
  let version = 1;
  let incremental = true;

  /** Sends one change; gives the time at which it was sent. The text is kept by line, so that this costs no time. */
  function change(line, character, remove, insert) {
    const old = content[line];
    content[line] = old.slice(0, character) + insert + old.slice(character + remove);
    const range = { start: { line, character }, end: { line, character: character + remove } };
    const edit = incremental ? { range, text: insert } : { text: content.join('\n') };
    const at = performance.now();
    client.notify('textDocument/didChange', { textDocument: { uri, version: ++version }, contentChanges: [edit] });
    return at;
  }
  const insert = (site) => change(site.line, site.character, 0, site.insert);
  const mend = (site, length = 1) => change(site.line, site.character, length, '');

  /** The time until a pulled answer has (or no longer has) a finding at the line, from `sent` on. */
  async function until(sent, line, wanted) {
    for (;;) {
      const { result: report, at } = await client.request('textDocument/diagnostic', { textDocument: { uri } }, 30_000);
      const near = ({ range, severity }) =>
        severity !== 4 && range.start.line - server.around <= line && range.end.line + server.around >= line;
      if (report.items.some(near) === wanted) return at - sent;
      if (performance.now() - sent > 15_000) throw new Error(`the finding never ${wanted ? 'came' : 'went'}`);
      await sleep(1);
    }
  }
  async function step(name, run) {
    try {
      await run();
    } catch (error) {
      result.failed[name] = String(error.message).slice(0, 120);
    }
  }

  await step('session', async () => {
    const initialized = await client.request('initialize', {
      processId: process.pid,
      rootUri: root,
      workspaceFolders: [{ uri: root, name: 'bench' }],
      capabilities: CAPABILITIES,
      initializationOptions: server.options,
    });
    result.init = initialized.at - started;
    const { capabilities } = initialized.result;
    const sync = capabilities.textDocumentSync;
    incremental = (sync.change ?? sync) === 2;
    client.notify('initialized', {});
    client.notify('workspace/didChangeConfiguration', { settings });
    await sleep(150);

    const last = sites[Math.max(0, sites.length - 2)];
    const cpuBefore = cpu(pids());
    content[last.line] =
      content[last.line].slice(0, last.character) + last.insert + content[last.line].slice(last.character);
    const document = { uri, languageId: server.language, version, text: content.join('\n') };
    const opened = performance.now();
    client.notify('textDocument/didOpen', { textDocument: document });
    result.open = await until(opened, last.line, true);
    result.openCpu = cpu(pids()) - cpuBefore;
    await until(mend(last), last.line, false);

    const cpuEdits = cpu(pids());
    for (let k = 0; k < PLACES; k++) {
      const site = place((k * 7) % PLACES, PLACES);
      result.edit.push(await until(insert(site), site.line, true), await until(mend(site), site.line, false));
    }
    result.editCpu = (cpu(pids()) - cpuEdits) / result.edit.length;

    await step('burst', async () => {
      const site = place(1, 3);
      const begin = performance.now();
      let pending;
      for (let k = 0; k < BURST - 1; k++) {
        await sleep(Math.max(0, begin + k * 25 - performance.now()));
        change(site.line, site.character + k, 0, server.typed);
        if (pending) client.cancel(pending.id);
        pending = client.request('textDocument/diagnostic', { textDocument: { uri } }, 30_000);
        pending.catch(() => {});
      }
      await sleep(25);
      client.cancel(pending.id);
      const end = { ...site, character: site.character + BURST - 1 };
      result.burst = await until(insert(end), site.line, true);
      await until(mend(site, BURST), site.line, false);
    });

    /** Requests in the same breath as an edit, so that they include whatever work the edit forces. */
    const ask = async (name, offered, make, count = 5) => {
      if (!offered) return;
      result[name] = [];
      await step(name, async () => {
        for (let k = 0; k < count; k++) {
          const site = place(k, count);
          change(site.line, site.character, 0, server.typed);
          const [method, params] = make(site);
          const from = performance.now();
          const { at } = await client.request(method, { textDocument: { uri }, ...params });
          result[name].push(at - from);
          mend(site);
          await sleep(5);
        }
      });
    };
    const position = (line, character) => ({ position: { line, character } });
    const { hoverProvider, completionProvider, documentSymbolProvider, inlayHintProvider, documentFormattingProvider } =
      capabilities;
    await ask('hover', hoverProvider, ({ line, hover }) => ['textDocument/hover', position(line, hover)]);
    await ask('complete', completionProvider, ({ line, character }) => [
      'textDocument/completion',
      position(line, character + 1),
    ]);
    await ask('symbols', documentSymbolProvider, () => ['textDocument/documentSymbol'], 3);
    await ask('hints', inlayHintProvider, ({ line }) => [
      'textDocument/inlayHint',
      { range: { start: { line: Math.max(0, line - 30), character: 0 }, end: { line: line + 30, character: 0 } } },
    ]);
    const options = { tabSize: 2, insertSpaces: true };
    await ask('format', documentFormattingProvider, () => ['textDocument/formatting', { options }], 2);
  });

  const processes = pids();
  result.peak = peak(processes);
  if (Object.keys(result.failed).length && client.errors) result.failed.stderr = client.errors.slice(0, 300);
  await client.request('shutdown', undefined, 1500).catch(() => {});
  client.notify('exit');
  await sleep(100);
  for (const pid of processes) {
    try {
      process.kill(pid, 'SIGKILL');
    } catch {
      // gone, as it should be
    }
  }
  rmSync(folder, { recursive: true, force: true });
  return result;
}
