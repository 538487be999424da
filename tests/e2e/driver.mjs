// What a person does in the editor and reads from it: keys, lists, hovers, the status bar. See README.md.
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { homedir } from 'node:os';
import { basename, dirname, join, relative, resolve } from 'node:path';
import { settled, until } from './wait.mjs';

/** The hands and eyes of a test on a Playwright page that shows a workbench with the folder `root`. */
export function driver(page, root, userData) {
  const keys = page.keyboard;
  const clean = (s) => s.replace(/[\u00a0\u200b-\u200d\ufeff]/g, (c) => (c === '\u00a0' ? ' ' : '')).trim();
  const quick = page.locator('.quick-input-widget');
  const editor = page.locator('.editor-group-container.active .editor-instance .monaco-editor').first();
  const floating = '.monaco-hover:not(.hidden), .action-widget, .suggest-widget.visible, .quick-input-widget';

  /** Closes whatever floats above the editor (hover, list of fixes, suggestions, quick input). */
  async function calm() {
    for (let i = 0; i < 4; i++) {
      if (!(await page.locator(floating).locator('visible=true').count())) return;
      if (await quick.isVisible())
        await quick
          .locator('input')
          .first()
          .focus({ timeout: 1000 })
          .catch(() => {});
      await keys.press('Escape');
      await until(
        () => page.locator(floating).locator('visible=true').count(),
        (n) => n === 0,
        { timeout: 400 },
      ).catch(() => {});
    }
    await page.mouse.move(2, 2); // a hover held by the pointer
  }

  /** Opens the quick input with `shortcut`, types `text`, waits for a row that `wanted` accepts, and takes it. */
  async function quickPick(shortcut, text, wanted, what) {
    await calm();
    const input = quick.locator('input[type="text"], input').first();
    await until(
      async () => {
        // the shortcut is lost while the workbench is still wiring its keys
        if (!(await quick.isVisible())) await keys.press(shortcut);
        return quick.waitFor({ state: 'visible', timeout: 1500 }).then(
          () => true,
          () => false,
        );
      },
      Boolean,
      { what: `the quick input after ${shortcut}` },
    );
    await input.fill(text);
    const rows = quick.locator('.monaco-list-row');
    let seen = [];
    await until(
      async () => {
        // rows come and go while it still searches, so the click names its row
        seen = await rows.evaluateAll((list) =>
          list.map((r) => ({
            label: r.querySelector('.label-name')?.textContent ?? '',
            description: r.querySelector('.label-description')?.textContent ?? '',
            aria: r.getAttribute('aria-label') ?? '',
          })),
        );
        const row = seen.find(wanted);
        return (
          row &&
          quick
            .locator(`.monaco-list-row[aria-label=${JSON.stringify(row.aria)}]`)
            .first()
            .click({ timeout: 1000 })
            .then(
              () => true,
              () => false,
            )
        );
      },
      Boolean,
      { what, timeout: 8000 },
    ).catch(async () => {
      await keys.press('Escape');
      throw new Error(`There is no ${what}; the list shows: ${JSON.stringify(seen.map((r) => r.aria))}`);
    });
    await quick.waitFor({ state: 'hidden' });
    await page.mouse.move(2, 2); // else what lies under the pointer shows its tooltip
  }

  async function runCommand(title) {
    await quickPick(
      'F1',
      `>${title}`,
      (r) => clean(r.label).toLowerCase() === title.toLowerCase(),
      `command "${title}"`,
    );
  }

  async function open(file) {
    const path = resolve(root, file),
      name = basename(path),
      folder = dirname(path);
    const shortened = (p) => (p.startsWith(`${homedir()}/`) ? `~${p.slice(homedir().length)}` : p);
    // At first the list still shows what was opened lately, so the folder has to match as well.
    const folders = [
      folder,
      shortened(folder),
      ...(`${folder}/`.startsWith(`${root}/`) ? [relative(root, folder)] : []),
    ];
    await quickPick('Control+P', path, (r) => r.label === name && folders.includes(r.description), `file ${path}`);
    const label = page.locator('.editor-group-container.active .tab.active .monaco-icon-label').first();
    await until(
      () => label.getAttribute('aria-label', { timeout: 1000 }).catch(() => null),
      (l) => [path, shortened(path)].some((p) => l === p || l?.startsWith(`${p} `)),
      { what: `the tab of ${path}` },
    );
    await editor.locator('.view-line').first().waitFor();
    await focusEditor();
  }

  async function focusEditor() {
    if (await editor.evaluate((e) => e.classList.contains('focused'))) return;
    await until(
      async () => {
        await keys.press('Control+1'); // focus the first editor group
        return editor.evaluate((e) => e.classList.contains('focused'));
      },
      Boolean,
      { every: 100, what: 'focus in the editor' },
    );
  }

  const position = async () => {
    const text = await page
      .locator('#status\\.editor\\.selection')
      .textContent({ timeout: 2000 })
      .catch(() => '');
    const m = /Ln (\d+), Col (\d+)/.exec(text ?? '');
    return m ? { line: +m[1], col: +m[2] } : undefined;
  };

  /** Puts the cursor at a 1-based line and column and brings it into view. */
  async function cursor(line, col = 1) {
    await calm();
    await focusEditor();
    await until(
      async () => {
        if (!(await quick.isVisible())) await keys.press('Control+G');
        return quick.waitFor({ state: 'visible', timeout: 1500 }).then(
          () => true,
          () => false,
        );
      },
      Boolean,
      { what: 'the go-to-line input' },
    );
    await quick.locator('input').first().fill(`:${line}:${col}`);
    await quick.locator('.monaco-list-row').first().waitFor();
    await keys.press('Enter');
    await quick.waitFor({ state: 'hidden' });
    // A tab or a wide sign counts differently in the status bar, so only the line is insisted on.
    await until(position, (p) => p?.line === line, { what: `the cursor on line ${line}` });
    await focusEditor();
  }

  /** Types as a person does: brackets close by themselves, and Enter takes an open suggestion. */
  async function type(text) {
    await focusEditor();
    await keys.type(text);
  }
  /** Puts text in exactly as given, as a paste does. */
  async function insert(text) {
    await focusEditor();
    await keys.insertText(text);
  }

  async function save() {
    await calm();
    await focusEditor();
    await keys.press('Control+S');
    await until(
      () => page.locator('.editor-group-container.active .tab.active.dirty').count(),
      (n) => n === 0,
      { what: 'the file to be saved' },
    );
  }
  /** Saves, and gives the file's text as it is on disk. */
  async function savedText(file) {
    await save();
    return readFileSync(resolve(root, file), 'utf8');
  }

  /** The lines now on the screen, by number; hints inside a line are left out. */
  const visibleLines = () =>
    editor.evaluate((e) => {
      const numbers = new Map(
        [...e.querySelectorAll('.margin-view-overlays .line-numbers')].map((n) => [
          n.parentElement.style.top,
          Number(n.textContent),
        ]),
      );
      return [...e.querySelectorAll('.view-line')]
        .map((v) => {
          const copy = v.cloneNode(true);
          for (const hint of copy.querySelectorAll('[class*="dyn-rule"]')) hint.remove();
          return {
            line: numbers.get(v.style.top),
            text: copy.textContent.replaceAll('\u00a0', ' ').replace(/\u200c/g, ''),
          };
        })
        .filter((l) => l.line)
        .sort((a, b) => a.line - b.line);
    });

  /**
   * Every row of a list, each read by `read`, which runs in the page. A list draws only the rows in view, so this turns
   * the wheel over it, from its start to its end and back to where it stood; the list redraws before the event returns.
   */
  const wholeList = (list, read) =>
    list.evaluate(
      (l, [source, PX]) => {
        const read = new Function(`return (${source})`)(),
          rows = new Map(),
          box = l.querySelector('.monaco-list-rows');
        const collect = () => {
          for (const r of l.querySelectorAll('.monaco-list-row')) rows.set(Number(r.dataset.index), read(r));
        };
        const scrollTop = () => l.getBoundingClientRect().top - box.getBoundingClientRect().top;
        const move = (px) => {
          const before = scrollTop();
          box.dispatchEvent(
            new WheelEvent('wheel', { wheelDeltaY: Math.round(-px * PX), bubbles: true, cancelable: true }),
          );
          return Math.abs(scrollTop() - before) > 0.5;
        };
        collect();
        if (box.getBoundingClientRect().height > l.clientHeight + 1) {
          const start = scrollTop();
          move(-1e6);
          do collect();
          while (move(l.clientHeight - 24));
          if (scrollTop() + l.clientHeight < box.getBoundingClientRect().height - 2)
            throw new Error('this list does not scroll by wheel');
          move(start - scrollTop());
        }
        return [...rows].sort((a, b) => a[0] - b[0]).map(([, v]) => v);
      },
      [read.toString(), 120 / 50],
    );

  /** Reads a whole list once it holds still or, with `wanted`, until that is true; [] while the list is not there. */
  async function readList(list, read, { wanted, timeout = 15000, still, shape = (rows) => rows, what }) {
    const look = async () =>
      shape(
        (await list.isVisible())
          ? await wholeList(list, read).catch((e) => {
              // redrawn meanwhile
              if (/does not scroll/.test(e)) throw e;
              return [];
            })
          : [],
      );
    return wanted ? until(look, wanted, { timeout, what, every: 100 }) : settled(look, { still });
  }

  /**
   * What the Problems view lists: { severity, message, source, code, line, col, file, related? }.
   * Without `wanted`, waits until the list holds still; with it, until `wanted(list)` is true, or throws.
   */
  async function problems(o = {}) {
    const panel = page.locator('.markers-panel');
    if (!(await panel.isVisible())) {
      await calm();
      await keys.press('Control+Shift+M');
      await panel.waitFor();
    }
    const seen = await readList(
      panel.locator('.monaco-list').first(),
      (r) => {
        const text = (s) => r.querySelector(s)?.textContent.trim() ?? '';
        const aria = r.getAttribute('aria-label') ?? '';
        const at = /\[Ln (\d+), Col (\d+)\]/.exec(text('.marker-line'));
        // Not from the icon: on the focused row that is a light bulb.
        const severity = /^(Error|Warning|Info)/.exec(aria)?.[1].toLowerCase() ?? 'hint';
        const file = / in file (.*?) of folder (.*)$/.exec(aria); // its label is drawn later than its row
        if (r.getAttribute('aria-level') === '1')
          return { file: file ? `${file[2]}/${file[1]}`.replace(/^[./]*\//, '') : text('.label-name') };
        if (r.getAttribute('aria-level') !== '2')
          return { note: text('.related-info-resource') ? text('.marker-description') || aria : aria };
        return {
          severity,
          message: text('.marker-message > span') || aria,
          source: text('.marker-source'),
          code: text('.marker-code'),
          line: at ? +at[1] : undefined,
          col: at ? +at[2] : undefined,
          aria,
        };
      },
      {
        ...o,
        what: 'the wanted list of problems',
        shape: (rows) => {
          const out = [];
          let file;
          for (const r of rows) {
            if (r.severity) out.push({ ...r, file, related: [] });
            else if (r.file) file = r.file;
            else if (out.length) out.at(-1).related.push(r.note);
          }
          return out;
        },
      },
    );
    await focusEditor();
    return seen;
  }

  /** The hover at a position: { text, parts }. It stays open for a screenshot until the next action. */
  async function hoverAt(line, col, { timeout = 10000 } = {}) {
    await cursor(line, col);
    const hover = page
      .locator('.monaco-resizable-hover .monaco-hover, .monaco-editor-hover')
      .locator('visible=true')
      .first();
    const rows = hover.locator('.hover-row:not(.status-bar)');
    const read = async () => {
      if (!(await hover.count())) return [];
      // biome-ignore lint/performance/useDomNodeTextContent: textContent runs the cells of a table together
      return rows.evaluateAll((all) => all.map((r) => r.innerText.trim()));
    };
    const good = (parts) => parts.length > 0 && !parts.some((t) => t === 'Loading...' || t === '');
    await until(
      async () => {
        // a server that is still starting answers nothing: ask again
        await keys.press('Control+K');
        await keys.press('Control+I');
        return until(read, good, { timeout: 2500 }).catch(() => []);
      },
      good,
      { timeout, what: `a hover at ${line}:${col}` },
    );
    const parts = (await settled(read, { still: 250 })).map(clean);
    return { text: parts.join('\n'), parts };
  }

  const actions = page.locator('.action-widget').locator('visible=true');
  /**
   * Titles under the light bulb at a line; the list stays open for a screenshot until the next action.
   * [] when the editor has kept saying for `patience` ms that there are none.
   */
  async function quickFixes(line, { col = 1, timeout = 10000, patience = 1500 } = {}) {
    await cursor(line, col);
    const refusal = page.locator('.monaco-editor-overlaymessage').locator('visible=true');
    let noneSince;
    await until(
      async () => {
        if (!(await actions.count())) await keys.press('Control+.');
        await actions
          .or(refusal)
          .first()
          .waitFor({ timeout: 1500 })
          .catch(() => {});
        if (await actions.count()) return 'some';
        if (await refusal.count()) {
          noneSince ??= Date.now();
          return Date.now() - noneSince > patience && 'none';
        }
      },
      Boolean,
      { timeout, what: `quick fixes on line ${line}` },
    );
    if (!(await actions.count())) {
      await keys.press('Escape');
      return [];
    }
    return (
      await settled(
        () =>
          actions
            .locator('.monaco-list-row.action')
            .evaluateAll((rows) => rows.map((r) => (r.querySelector('.title') ?? r).textContent.trim())),
        { still: 200 },
      )
    ).map(clean);
  }

  /** Takes a fix by its title and waits until the text on the screen has changed (unless expectEdit is false). */
  async function applyQuickFix(line, title, { col = 1, expectEdit = true } = {}) {
    const titles = await quickFixes(line, { col });
    const index = titles.indexOf(title);
    if (index < 0) throw new Error(`No quick fix "${title}" on line ${line}; there are: ${JSON.stringify(titles)}`);
    const before = JSON.stringify(await visibleLines());
    // By key: the menu ignores the pointer until it has moved, so that a stray click takes nothing.
    const here = () =>
      actions
        .locator('.monaco-list-row.focused')
        .first()
        .textContent({ timeout: 1000 })
        .then(clean, () => '');
    for (let i = 0; i <= titles.length && !(await here()).includes(title); i++) await keys.press('ArrowDown');
    if (!(await here()).includes(title))
      throw new Error(`The quick fix "${title}" cannot be reached by key (disabled?)`);
    await keys.press('Enter');
    await until(
      () => actions.count(),
      (n) => n === 0,
      { what: 'the list of fixes to close' },
    );
    if (expectEdit)
      await until(
        async () => JSON.stringify(await visibleLines()),
        (now) => now !== before,
        { what: `"${title}" to change the text` },
      );
    await focusEditor();
  }

  /** Waits as problems() does, for lists read from the editor's surface. */
  const fromEditor = (look, { wanted, timeout = 15000 }, what) =>
    wanted ? until(look, wanted, { timeout, what }) : settled(look, { patience: 6000 });

  /** Inlay hints in view: { line, text }. */
  const inlayHints = (o = {}) =>
    fromEditor(
      () =>
        editor.evaluate((e) => {
          const numbers = new Map(
            [...e.querySelectorAll('.margin-view-overlays .line-numbers')].map((n) => [
              n.parentElement.style.top,
              Number(n.textContent),
            ]),
          );
          return [...e.querySelectorAll('.view-line')]
            .flatMap((v) => {
              const text = [...v.querySelectorAll('span[class*="dyn-rule"]')]
                .map((s) => s.textContent)
                .join('')
                .replaceAll('\u00a0', ' ')
                .replace(/[\u200a-\u200d\u2060\ufeff]/g, '')
                .trim();
              return text ? [{ line: numbers.get(v.style.top), text }] : [];
            })
            .sort((a, b) => a.line - b.line);
        }),
      o,
      'the wanted inlay hints',
    );

  /** Code lenses in view: { line, texts }; line is the line below the lens. */
  const codeLenses = (o = {}) =>
    fromEditor(
      () =>
        editor.evaluate((e) => {
          const rows = [...e.querySelectorAll('.margin-view-overlays .line-numbers')]
            .map((n) => ({ top: n.getBoundingClientRect().top, line: Number(n.textContent) }))
            .sort((a, b) => a.top - b.top);
          return [...e.querySelectorAll('.codelens-decoration')]
            .map((c) => {
              const box = c.getBoundingClientRect();
              return {
                line: rows.find((r) => r.top > box.top + 1)?.line,
                texts: [...c.querySelectorAll('a, span:not(.codicon)')]
                  .map((t) => t.textContent.trim())
                  .filter((t) => t && t !== '|'),
              };
            })
            .filter((c) => c.texts.length)
            .sort((a, b) => a.line - b.line);
        }),
      o,
      'the wanted code lenses',
    );

  /** Clicks the code lens with this text. */
  async function clickCodeLens(text) {
    await calm();
    await editor.locator('.codelens-decoration a', { hasText: text }).first().click();
    await page.mouse.move(2, 2);
  }

  /** What the suggestion list offers at the cursor: { label, detail }. It stays open until the next action. */
  async function completions({ timeout = 10000 } = {}) {
    await focusEditor();
    const widget = page.locator('.suggest-widget.visible').first();
    await until(
      async () => {
        if (!(await widget.isVisible())) await keys.press('Control+Space');
        await widget.waitFor({ timeout: 1500 }).catch(() => {});
        return widget.locator('.monaco-list-row').count();
      },
      (n) => n > 0,
      { timeout, what: 'suggestions at the cursor' },
    );
    return readList(
      widget.locator('.monaco-list').first(),
      (r) => ({
        label: r.querySelector('.label-name')?.textContent ?? '',
        detail: (
          r.querySelector('.details-label')?.textContent ||
          r.querySelector('.label-description')?.textContent ||
          r.querySelector('.qualifier-label')?.textContent ||
          ''
        ).trim(),
        kind: /codicon-symbol-([\w-]+)/.exec(r.innerHTML)?.[1] ?? '',
      }),
      { still: 200 },
    );
  }

  /** The Outline view: { name, level }. */
  async function outline(o = {}) {
    const pane = page.locator('.outline-pane');
    const list = pane.locator('.monaco-list').first();
    if (!(await list.isVisible())) await runCommand('Explorer: Focus on Outline View');
    await pane.waitFor();
    const seen = await readList(
      list,
      (r) => ({
        name: r.querySelector('.label-name')?.textContent ?? r.textContent.trim(),
        level: Number(r.getAttribute('aria-level')),
      }),
      { ...o, what: 'the wanted outline' },
    );
    await focusEditor();
    return seen;
  }

  /** Texts of the notifications on the screen. */
  const notifications = () =>
    page
      .locator('.notification-list-item-message')
      .allTextContents()
      .then((l) => l.map(clean));

  /** The text of an output channel, from its log file; '' when there is none yet. */
  function outputLog(name) {
    const found = [];
    const walk = (dir) => {
      for (const f of readdirSync(dir, { withFileTypes: true })) {
        const p = join(dir, f.name);
        if (f.isDirectory()) walk(p);
        else if (f.name.endsWith('.log') && f.name.includes(name)) found.push(p);
      }
    };
    const logs = [join(userData, 'logs')].filter(existsSync);
    for (const dir of logs) walk(dir);
    found.sort((a, b) => statSync(b).mtimeMs - statSync(a).mtimeMs);
    return found.length ? readFileSync(found[0], 'utf8') : '';
  }

  /** A picture of the window, taken when nothing is being drawn any more. */
  async function screenshot(path) {
    await page.evaluate(() => new Promise((r) => requestAnimationFrame(() => requestAnimationFrame(r))));
    mkdirSync(dirname(resolve(path)), { recursive: true });
    await page.screenshot({ path });
    return path;
  }

  return {
    open,
    type,
    insert,
    cursor,
    position,
    save,
    savedText,
    visibleLines,
    problems,
    hoverAt,
    quickFixes,
    applyQuickFix,
    inlayHints,
    codeLenses,
    clickCodeLens,
    completions,
    outline,
    runCommand,
    notifications,
    outputLog,
    screenshot,
    calm,
  };
}
