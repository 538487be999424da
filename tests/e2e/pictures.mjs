// npm run pictures: draws the icon from its SVG, and takes the README's pictures from the real editor.
// Wants a build that has been packaged (npm run package).
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { packaged, ROOT } from './vsix.mjs';
import { installed, startWorkbench } from './workbench.mjs';

const client = join(ROOT, 'client');

async function icon() {
  const tools = installed();
  const { chromium } = await import(pathToFileURL(tools.playwright));
  const browser = await chromium.launch({ executablePath: tools.chromium, args: ['--no-sandbox', '--disable-gpu'] });
  try {
    const page = await browser.newPage({ viewport: { width: 256, height: 256 } });
    const svg = readFileSync(join(client, 'icons', 'icon.svg'), 'utf8');
    await page.setContent(`<style>body { margin: 0 } svg { display: block }</style>${svg}`);
    await page.screenshot({ path: join(client, 'icons', 'icon.png'), omitBackground: true });
  } finally {
    await browser.close();
  }
}

/** The first picture of the README: a page with a missing tare, its finding, and the fixes offered for it. */
async function missingTare() {
  const wb = await startWorkbench({
    vsix: packaged(),
    folder: join(ROOT, 'tests', 'e2e', 'pages'),
    settings: { 'workbench.colorTheme': 'Default Light Modern', 'workbench.activityBar.location': 'hidden' },
    viewport: { width: 1100, height: 620 },
    scale: 2,
  });
  try {
    await wb.open('no-tare.tare');
    const [finding] = await wb.problems({ wanted: (list) => list.some((found) => found.code === 'tare-missing') });
    await wb.quickFixes(finding.line, { col: finding.col });
    await wb.screenshot(join(client, 'media', 'missing-tare.png'));
  } finally {
    await wb.stop();
  }
}

await icon();
await missingTare();
