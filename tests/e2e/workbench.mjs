// A real VS Code workbench (code-server in a headless Chromium) with the packaged extension. See README.md.
import { execFile, spawn } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { homedir, tmpdir } from 'node:os';
import { basename, dirname, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { driver } from './driver.mjs';

export { until } from './wait.mjs';

const run = promisify(execFile);
const CHROMIUM_ARGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** Settings that keep pop-ups, telemetry and slow animation out of a test; `settings` given by a test wins. */
const QUIET = {
  'telemetry.telemetryLevel': 'off',
  'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false,
  'workbench.reduceMotion': 'on',
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'workbench.editor.enablePreview': false,
  'chat.commandCenter.enabled': false,
  'extensions.ignoreRecommendations': true,
  'extensions.autoCheckUpdates': false,
  'security.workspace.trust.enabled': false,
  'git.openRepositoryInParentFolders': 'never',
  'git.autorefresh': false,
  'files.autoSave': 'off', // the browser build saves by itself; the desktop build does not
  'editor.accessibilitySupport': 'off',
  'editor.cursorBlinking': 'solid', // equal screenshots
  'editor.fontFamily': '"DejaVu Sans Mono", monospace',
  'editor.minimap.enabled': false,
  '[tarebook]': { 'editor.wordWrap': 'off' }, // of a wrapped line the driver sees the first part only
};

/** What install.sh put on this machine and where. */
export function installed() {
  const file = join(process.env.E2E_CACHE || join(homedir(), '.cache', 'tarebook-e2e'), 'workbench.json');
  if (!existsSync(file)) throw new Error(`${file} is missing: run tests/e2e/install.sh first.`);
  return JSON.parse(readFileSync(file, 'utf8'));
}

async function startServer({ node, entry, config }, args, cwd) {
  const child = spawn(node, [entry, '--config', config, ...args], {
    cwd,
    detached: true,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let log = '';
  const url = await new Promise((ok, no) => {
    const timer = setTimeout(() => no(new Error(`The workbench server did not listen within 30 s:\n${log}`)), 30000);
    const take = (data) => {
      log += data;
      const m = /HTTP server listening on (http:\/\/127\.0\.0\.1:\d+)/.exec(log);
      if (m) {
        clearTimeout(timer);
        ok(m[1]);
      }
    };
    child.stdout.on('data', take);
    child.stderr.on('data', take);
    child.once('exit', (code) => {
      clearTimeout(timer);
      no(new Error(`The workbench server ended with ${code}:\n${log}`));
    });
  });
  const kill = (signal) => {
    try {
      process.kill(-child.pid, signal);
    } catch {
      /* already gone */
    }
  };
  const orphan = () => kill('SIGKILL'); // the test process ended without stop()
  process.once('exit', orphan);
  return {
    url,
    log: () => log,
    async stop() {
      process.off('exit', orphan);
      const gone = child.exitCode === null ? new Promise((r) => child.once('exit', r)) : undefined;
      kill('SIGTERM');
      await Promise.race([gone, new Promise((r) => setTimeout(r, 3000))]);
      kill('SIGKILL');
    },
  };
}

/**
 * Starts a workbench with one extension on (a copy of) a folder.
 *
 * @param {object} o
 * @param {string} [o.vsix]          a packaged extension, installed with the editor's own installer
 * @param {string} [o.extensionDir]  or an unpacked one, linked in as it stands
 * @param {string} o.folder          the folder to open; a copy of it, unless inPlace
 * @param {boolean} [o.inPlace]      open (and let the test change) the folder itself
 * @param {object} [o.settings]      user settings on top of the quiet defaults
 * @param {{width:number,height:number}} [o.viewport]
 * @param {number} [o.scale]         device pixels per pixel in screenshots (2 makes small text easy to read)
 */
export async function startWorkbench({
  vsix,
  extensionDir,
  folder,
  inPlace = false,
  settings = {},
  viewport = { width: 1280, height: 800 },
  scale = 1,
}) {
  const tools = installed();
  const scratch = mkdtempSync(join(tmpdir(), 'workbench-'));
  const userData = join(scratch, 'user'),
    extensions = join(scratch, 'extensions');
  const settingsFile = join(userData, 'User', 'settings.json');
  mkdirSync(dirname(settingsFile), { recursive: true });
  mkdirSync(extensions);
  let current = { ...QUIET, ...settings };
  writeFileSync(settingsFile, JSON.stringify(current, null, 2));
  const root = inPlace ? resolve(folder) : join(scratch, basename(resolve(folder)));
  if (!inPlace) cpSync(folder, root, { recursive: true });

  const removeScratch = () => rmSync(scratch, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
  const onTerm = () => process.exit(143); // so that the 'exit' handlers below run
  process.once('exit', removeScratch).once('SIGTERM', onTerm);
  const closers = [
    () => {
      process.off('exit', removeScratch).off('SIGTERM', onTerm);
      removeScratch();
    },
  ];
  const stop = async () => {
    for (const close of closers.splice(0).reverse()) await close();
  };
  try {
    const common = ['--user-data-dir', userData, '--extensions-dir', extensions];
    if (vsix) {
      const r = await run(
        tools.node,
        [tools.entry, '--config', tools.config, ...common, '--install-extension', resolve(vsix)],
        { cwd: scratch },
      ).catch((e) => {
        throw new Error(`Installing ${vsix} failed:\n${e.stdout}${e.stderr}`);
      });
      if (!/successfully installed/.test(r.stdout))
        throw new Error(`Installing ${vsix} failed:\n${r.stdout}${r.stderr}`);
    }
    if (extensionDir) {
      const p = JSON.parse(readFileSync(join(extensionDir, 'package.json'), 'utf8'));
      symlinkSync(resolve(extensionDir), join(extensions, `${p.publisher}.${p.name}-${p.version}`));
    }
    const server = await startServer(
      tools,
      [
        ...common,
        '--auth',
        'none',
        '--bind-addr',
        '127.0.0.1:0',
        '--disable-telemetry',
        '--disable-update-check',
        '--disable-workspace-trust',
        root,
      ],
      scratch,
    );
    closers.push(server.stop);

    const { chromium } = await import(pathToFileURL(tools.playwright));
    const browser = await chromium.launch({
      executablePath: tools.chromium,
      headless: true,
      args: CHROMIUM_ARGS,
      handleSIGTERM: false,
    });
    closers.push(() => browser.close());
    const context = await browser.newContext({ viewport, deviceScaleFactor: scale, serviceWorkers: 'allow' });
    const page = await context.newPage();
    const consoleErrors = [];
    page.on('console', (m) => m.type() === 'error' && consoleErrors.push(m.text()));
    page.on('pageerror', (e) => consoleErrors.push(String(e)));
    await page.goto(`${server.url}/?folder=${encodeURIComponent(root)}`);
    await page.locator('.monaco-workbench .part.statusbar .statusbar-item').first().waitFor({ timeout: 60000 });
    await page.locator('.explorer-folders-view .monaco-list-row').first().waitFor({ timeout: 60000 });
    const drive = driver(page, root, userData);
    return {
      ...drive,
      page,
      browser,
      folder: root,
      userData,
      vscode: tools.vscode,
      consoleErrors,
      serverLog: server.log,
      stop,
      /** Changes user settings while the workbench runs: in the editor, for a change of the file from outside goes unseen. */
      async setSettings(more) {
        current = { ...current, ...more };
        await drive.runCommand('Preferences: Open User Settings (JSON)');
        await page.locator('.editor-group-container.active .tab.active').filter({ hasText: 'settings.json' }).waitFor();
        await page.keyboard.press('Control+A');
        await drive.insert(JSON.stringify(current));
        await drive.save();
        await drive.runCommand('View: Close Editor');
      },
    };
  } catch (e) {
    await stop();
    throw e;
  }
}
