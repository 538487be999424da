import { spawn, spawnSync } from 'node:child_process';
import { chmodSync, readFileSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { version } from '../../package.json';
import { cells } from '../../server/cli/cells';
import { RULES } from '../../server/rules';
import { ESTER, root, Tarebook, WRONG_NET } from './build';

const tarebook = new Tarebook();
beforeAll(() => tarebook.build(), 120_000);
afterAll(() => tarebook.dispose());

const check = (files: Readonly<Record<string, string | Buffer>>, args: readonly string[] = ['check']) =>
  tarebook.run(args, { cwd: tarebook.notebook(files) });

const WRONG_LINE = WRONG_NET.split('\n').findIndex((line) => line.startsWith('product')) + 1;
const WRONG_COLUMN = WRONG_NET.split('\n')[WRONG_LINE - 1]!.indexOf('13.764') + 1;

describe('without pages', () => {
  test('no verb: usage on standard error, 2', () => {
    const { status, stdout, stderr } = tarebook.run([]);
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    expect(stderr).toMatch(/^Usage: tarebook VERB/);
  });
  test('--version', () =>
    expect(tarebook.run(['--version'])).toEqual({ status: 0, stdout: `tarebook ${version}\n`, stderr: '' }));
  test.each([[['--help']], [['check', '--help']], [['compute', '-h']], [['help', 'explain']], [['help', 'serve']]])(
    '%j fits 80 columns and goes to standard output',
    (args) => {
      const { status, stdout, stderr } = tarebook.run(args);
      expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
      expect(Math.max(...stdout.split('\n').map(cells))).toBeLessThanOrEqual(80);
      expect(stdout).toMatch(/^Usage: tarebook /);
    },
  );
  test.each([
    [['chek'], /unknown command 'chek'\n\(Did you mean check\?\)/],
    [['check', '--fromat', 'json'], /unknown option '--fromat'\n\(Did you mean --format\?\)/],
    [['check', '--format', 'xml'], /Allowed choices are text, compact, json, sarif, github/],
    [['check', '--max-warnings', 'few'], /whole number/],
    [['check', '--rule', 'net-mismach=off', '.'], /unknown rule "net-mismach" \(did you mean "net-mismatch"\?\)/],
    [['check', '--rule', 'net-mismatch=loud', '.'], /severity must be one of off, hint/],
    [['check', '-', 'a.tare'], /must stand alone/],
    [['explain', 'net-mismach'], /did you mean "net-mismatch"\?/],
    [['explain'], /missing required argument 'CODE'/],
    [['serve'], /required option '--stdio'/],
  ])('%j: 2, one reason on standard error', (args, reason) => {
    const { status, stdout, stderr } = tarebook.run(args);
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    expect(stderr).toMatch(reason);
    expect(stderr).not.toMatch(/\n\s+at /);
  });
  test('explain prints the page of a rule', () => {
    const { status, stdout } = tarebook.run(['explain', 'net-mismatch']);
    expect(status).toBe(0);
    expect(stdout).toMatch(/^# net-mismatch\n[\s\S]*## Why[\s\S]*## Example/);
  });
  test('rules lists every rule once', () => {
    const { status, stdout } = tarebook.run(['rules']);
    expect(status).toBe(0);
    for (const { code } of RULES) expect(stdout.match(new RegExp(`^  ${code} +\\w+ +\\S`, 'gm'))).toHaveLength(1);
  });
  test('--version and --help load no engine', () => {
    // Without the tables' text in it, what is loaded is a fraction of the bundle: measured by what V8 has compiled.
    const script = `
      const inspector = require('node:inspector');
      const session = new inspector.Session();
      session.connect();
      session.post('Profiler.enable');
      session.post('Profiler.startPreciseCoverage', { callCount: true, detailed: false });
      process.argv.push('--help');
      require(${JSON.stringify(tarebook.cli)});
      process.on('exit', () => session.post('Profiler.takePreciseCoverage', (_, { result }) => {
        const own = result.find(({ url }) => url.endsWith('cli.js'));
        process.stderr.write(String(own.functions.filter((f) => f.ranges[0].count > 0).length));
      }));`;
    const called = Number(spawnSync(process.execPath, ['-e', script], { encoding: 'utf8' }).stderr);
    expect(called).toBeGreaterThan(0);
    expect(called).toBeLessThan(400);
  });
});

describe('exit codes', () => {
  test('a clean page: 0, and its main job in one line', () => {
    const { status, stdout, stderr } = check({ 'ester.tare': ESTER });
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(stdout).toBe(
      '  TB-014  isopentyl acetate  13.674 g  76.2 % distilled  theory 17.94 g  limiting isopentyl alcohol\n' +
        '\nno findings on 1 page\n',
    );
  });
  test('an error: 1', () => expect(check({ 'a.tare': WRONG_NET }).status).toBe(1));
  test('--fail-on never: 0', () =>
    expect(check({ 'a.tare': WRONG_NET }, ['check', '--fail-on', 'never']).status).toBe(0));
  test('--rule lowers a rule under the bar, and raises it again', () => {
    const rule = (severity: string) => ['check', '--rule', `net-mismatch=${severity}`];
    expect(check({ 'a.tare': WRONG_NET }, rule('warning')).status).toBe(0);
    expect(check({ 'a.tare': WRONG_NET }, [...rule('warning'), '--fail-on', 'warning']).status).toBe(1);
    expect(check({ 'a.tare': WRONG_NET }, [...rule('warning'), '--max-warnings', '0']).status).toBe(1);
    expect(check({ 'a.tare': WRONG_NET }, [...rule('off'), '--fail-on', 'hint', '--quiet']).stdout).toBe('');
  });
  test('tarebook.json sets a severity, the command line wins over it', () => {
    const files = {
      'a.tare': WRONG_NET,
      'tarebook.json': '{"rules": {"severity": {"net-mismatch": "hint"}}} // ours',
    };
    expect(check(files).status).toBe(0);
    expect(check(files, ['check', '--rule', 'net-mismatch=error']).status).toBe(1);
  });
  test('a tarebook.json that cannot be read: 2, and where', () => {
    const { status, stderr } = check({ 'a.tare': ESTER, 'tarebook.json': '{"rules": ' });
    expect(status).toBe(2);
    expect(stderr).toMatch(/^tarebook: tarebook\.json: .+\n$/);
  });
  test('a missing path: 2, the others are still reported', () => {
    const { status, stdout, stderr } = check({ 'a.tare': WRONG_NET }, ['check', 'nowhere', 'a.tare']);
    expect(status).toBe(2);
    expect(stderr).toBe('tarebook: nowhere: no such file or folder\n');
    expect(stdout).toContain('net-mismatch');
  });
  test('a folder without pages: 0 and a note', () =>
    expect(check({ 'readme.txt': 'x' })).toEqual({ status: 0, stdout: '', stderr: 'tarebook: no .tare files in .\n' }));
});

describe('formats', () => {
  test('text: path, place, source line, carets, working, help, count', () => {
    const lines = check({ 'a b.tare': WRONG_NET }, ['check', '--no-summary']).stdout.split('\n');
    expect(lines[0]).toBe('a b.tare');
    expect(lines[1]).toMatch(new RegExp(`^  ${WRONG_LINE}:${WRONG_COLUMN}  error  net-mismatch  .*13\\.674 g`));
    const [source = '', carets = ''] = lines.slice(2, 4);
    expect(source.slice(carets.indexOf('^'), carets.lastIndexOf('^') + 1)).toBe('13.764 g');
    expect(lines[4]).toMatch(/^ {8}54\.881 g − 41\.207 g = 13\.674 g$/);
    expect(lines.some((line) => /^ {6}help: .*13\.674 g/.test(line))).toBe(true);
    expect(lines.at(-2)).toBe('1 error on 1 page');
  });
  test('colour only when asked for', () => {
    expect(check({ 'a.tare': WRONG_NET }).stdout).not.toContain('\u001B');
    expect(check({ 'a.tare': WRONG_NET }, ['check', '--color', 'always']).stdout).toContain('\u001B[31merror');
  });
  test('compact: one line a finding, as the problem matcher reads it', () => {
    const { stdout } = check({ 'sub/a.tare': WRONG_NET }, ['check', '--format', 'compact']);
    const { regexp } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).contributes.problemMatchers[0]
      .pattern;
    const fields = new RegExp(regexp).exec(stdout.trimEnd());
    expect(fields?.slice(1, 6)).toEqual([
      'sub/a.tare',
      String(WRONG_LINE),
      String(WRONG_COLUMN),
      'error',
      'net-mismatch',
    ]);
  });
  test('github: an annotation with its place, colons and commas escaped', () => {
    const { stdout } = check({ 'a,b.tare': WRONG_NET }, ['check', '--format', 'github']);
    expect(stdout).toMatch(
      new RegExp(
        `^::error file=a%2Cb\\.tare,line=${WRONG_LINE},endLine=${WRONG_LINE},col=${WRONG_COLUMN},endColumn=${WRONG_COLUMN + 8},` +
          'title=tarebook \\(net-mismatch\\)::[^\\n]+\\n$',
      ),
    );
  });
  test('--output writes the document and nothing else', () => {
    const cwd = tarebook.notebook({ 'a.tare': WRONG_NET });
    const { status, stdout } = tarebook.run(['check', '--format', 'json', '--output', 'out.json'], { cwd });
    expect({ status, stdout }).toEqual({ status: 1, stdout: '' });
    expect(JSON.parse(readFileSync(join(cwd, 'out.json'), 'utf8')).files[0].diagnostics[0].code).toBe('net-mismatch');
    const failed = tarebook.run(['check', '--output', 'no/such/out.txt'], { cwd });
    expect(failed.status).toBe(2);
    expect(failed.stderr).toBe('tarebook: cannot write no/such/out.txt: no such folder\n');
  });
  test('accepted findings are counted, and shown with --verbose', () => {
    const page = `${WRONG_NET}`.replace(/^product.*$/m, '$&\naccept net-mismatch: the printout is lost, see the log');
    const quiet = check({ 'a.tare': page });
    expect(quiet.status).toBe(0);
    expect(quiet.stdout).toMatch(/\(1 accepted\)\n$/);
    const verbose = check({ 'a.tare': page }, ['check', '--verbose']);
    expect(verbose.stdout).toContain('accepted: the printout is lost, see the log');
    const sarif = JSON.parse(check({ 'a.tare': page }, ['check', '--format', 'sarif']).stdout);
    expect(sarif.runs[0].results[0].suppressions).toEqual([
      { kind: 'inSource', justification: 'the printout is lost, see the log' },
    ]);
  });
  test.each(['text', 'compact', 'json', 'sarif', 'github'])('%s: the same bytes twice, no absolute path', (format) => {
    const cwd = tarebook.notebook({ 'b/x.tare': WRONG_NET, 'a.tare': ESTER.replace('TB-014', 'TB-015') });
    const once = tarebook.run(['check', '--format', format], { cwd }).stdout;
    expect(tarebook.run(['check', '--format', format], { cwd }).stdout).toBe(once);
    expect(once).not.toContain(tarebook.home);
    expect(once).toContain('b/x.tare');
  });
});

describe('SARIF 2.1.0', () => {
  const sarif = (files: Readonly<Record<string, string | Buffer>>) =>
    JSON.parse(check(files, ['check', '--format', 'sarif']).stdout);
  test('what the standard requires (3.13, 3.14, 3.19, 3.27, 3.29, 3.30)', () => {
    const { version: format, runs } = sarif({ 'ä b.tare': WRONG_NET });
    expect(format).toBe('2.1.0');
    expect(runs).toHaveLength(1);
    const { tool, columnKind, results, invocations } = runs[0];
    expect(columnKind).toBe('utf16CodeUnits');
    expect(tool.driver).toMatchObject({ name: 'Tarebook', version });
    expect(invocations).toEqual([{ executionSuccessful: true }]);
    const [result] = results;
    expect(tool.driver.rules[result.ruleIndex].id).toBe(result.ruleId);
    expect(result).toMatchObject({ ruleId: 'net-mismatch', level: 'error', suppressions: [] });
    expect(result.locations[0].physicalLocation).toEqual({
      artifactLocation: { uri: '%C3%A4%20b.tare' },
      region: {
        startLine: WRONG_LINE,
        startColumn: WRONG_COLUMN,
        endLine: WRONG_LINE,
        endColumn: WRONG_COLUMN + '13.764 g'.length,
      },
    });
  });
  test('a fingerprint stays when lines are added above', () => {
    const print = (page: string) => sarif({ 'a.tare': page }).runs[0].results[0].partialFingerprints;
    expect(print(WRONG_NET.replace('substance', 'Some prose.\n\nsubstance'))).toEqual(print(WRONG_NET));
    expect(print(WRONG_NET.replace('TB-014', 'TB-015'))).not.toEqual(print(WRONG_NET));
  });
  test('a file that cannot be read is a notification', () => {
    const { invocations } = sarif({ 'a.tare': Buffer.from([0xff, 0x41]) }).runs[0];
    expect(invocations[0].executionSuccessful).toBe(false);
    expect(invocations[0].toolExecutionNotifications[0].message.text).toMatch(/^a\.tare: is not UTF-8/);
  });
});

describe('input', () => {
  test('standard input', () => {
    const run = (args: readonly string[]) =>
      tarebook.run(['check', '--format', 'compact', ...args], { input: WRONG_NET });
    expect(run(['-']).stdout).toMatch(/^stdin\.tare:\d+:\d+: error net-mismatch/);
    expect(run(['-', '--stdin-filename', 'lab/a.tare']).stdout).toMatch(/^lab\/a\.tare:/);
    expect(tarebook.run(['check', '-'], { input: Buffer.from([0xe9]) }).status).toBe(2);
  });
  test('standard input stands for the file it is named after, among its registers', () => {
    const page = ESTER.replace(/^balance.*\n/m, '').replace(/^vessel.*\n/m, '');
    const cwd = tarebook.notebook({
      'registers/vessels.tare': 'balance B-2: readability 0.001 g\nvessel F-12: 50 mL flask, tare 41.207 g\n',
      'a.tare': WRONG_NET,
    });
    const run = tarebook.run(['check', '-', '--stdin-filename', 'a.tare', '--fail-on', 'warning'], {
      cwd,
      input: page,
    });
    expect(run.stdout).toContain('13.674 g');
    expect(run.status).toBe(0);
  });
  test('a single file is checked among its registers, and only it is reported', () => {
    const page = ESTER.replace(/^vessel.*\n/m, '');
    const files = {
      'registers/vessels.tare': 'vessel F-12: 50 mL flask, tare 41.207 g\n',
      '2026/a.tare': page,
      '2026/b.tare': WRONG_NET.replace('TB-014', 'TB-015'),
    };
    const { status, stdout } = check(files, ['check', '2026/a.tare']);
    expect(stdout).toMatch(/^ {2}TB-014 .*13\.674 g .*\n\nno findings on 1 page\n$/);
    expect(status).toBe(0);
  });
  test('two pages with one ID, seen from either', () => {
    const files = { 'a.tare': ESTER, 'b.tare': ESTER };
    for (const args of [['a.tare'], ['b.tare'], ['a.tare', 'b.tare']]) {
      const { status, stdout } = check(files, ['check', '--format', 'compact', ...args]);
      expect(stdout.match(/error id-duplicate/g)).toHaveLength(args.length);
      expect(status).toBe(1);
    }
  });
  test('pages made from each other in a circle', () => {
    const page = (id: string, from: string) =>
      ESTER.replace('TB-014', id).replace('limiting', `limiting, from ${from}`);
    const { status, stderr } = check({ 'a.tare': page('TB-1', 'TB-2'), 'b.tare': page('TB-2', 'TB-1') });
    expect(status).not.toBe(2);
    expect(stderr).toBe('');
  });
  test('a folder is walked in name order, links in a circle end, other endings and node_modules are left out', () => {
    const cwd = tarebook.notebook({
      'b.tare': ESTER.replace('TB-014', 'TB-2'),
      'a/z.tare': ESTER.replace('TB-014', 'TB-1'),
      'c.txt': WRONG_NET,
      'node_modules/d.tare': WRONG_NET,
    });
    symlinkSync('..', join(cwd, 'a', 'up'));
    symlinkSync('nowhere', join(cwd, 'a', 'gone'));
    const { files } = JSON.parse(tarebook.run(['check', '--format', 'json'], { cwd }).stdout);
    expect(files.map(({ path }: { path: string }) => path)).toEqual(['a/z.tare', 'b.tare']);
    const named = tarebook.run(['check', '--format', 'json', 'c.txt'], { cwd });
    expect(JSON.parse(named.stdout).files[0].path).toBe('c.txt');
  });
  test('a link to nothing that is named like a page', () => {
    const cwd = tarebook.notebook({ 'a.tare': ESTER });
    symlinkSync('nowhere', join(cwd, 'b.tare'));
    const { status, stderr, stdout } = tarebook.run(['check'], { cwd });
    expect({ status, stderr }).toEqual({ status: 2, stderr: 'tarebook: b.tare: no such file or folder\n' });
    expect(stdout).toContain('TB-014');
  });
  test('a folder named like a page', () => {
    const { status, stdout } = check({ 'a.tare/b.tare': ESTER });
    expect(status).toBe(0);
    expect(stdout).toContain('TB-014');
  });
  test.skipIf(process.platform === 'win32')('a folder and a file that may not be read', () => {
    const cwd = tarebook.notebook({ 'a.tare': ESTER, 'b/c.tare': ESTER, 'd.tare': ESTER });
    chmodSync(join(cwd, 'b'), 0);
    chmodSync(join(cwd, 'd.tare'), 0);
    const uid = process.getuid?.() === 0 ? 65_534 : undefined;
    const { status, stderr, stdout } = tarebook.run(['check'], { cwd, uid });
    chmodSync(join(cwd, 'b'), 0o755);
    expect(status).toBe(2);
    expect(stderr).toBe('tarebook: b: no permission to read it\ntarebook: d.tare: no permission to read it\n');
    expect(stdout).toContain('TB-014');
  });
  test('bytes that are not UTF-8: 2, the line, the others are still reported', () => {
    const { status, stderr, stdout } = check({ 'a.tare': Buffer.from('x\n20 °C', 'latin1'), 'b.tare': ESTER });
    expect({ status, stderr }).toEqual({
      status: 2,
      stderr: 'tarebook: a.tare: is not UTF-8 (line 2); save it as UTF-8\n',
    });
    expect(stdout).toContain('TB-014');
  });
  test('a byte order mark, and Windows line ends, move nothing', () => {
    const { stdout } = check({ 'a.tare': `\uFEFF${WRONG_NET.replace(/\n/g, '\r\n')}` }, [
      'check',
      '--format',
      'compact',
    ]);
    expect(stdout).toMatch(new RegExp(`^a\\.tare:${WRONG_LINE}:${WRONG_COLUMN}: `));
  });
  test.each([
    ['nothing', ''],
    ['one line of a million characters', `charge x: ${'1 '.repeat(500_000)}\n`],
    ['a million characters of prose in one line', 'Stirred. '.repeat(120_000)],
    ['five megabytes of prose', 'The mixture was stirred for an hour.\n'.repeat(140_000)],
    ['null characters', '\0\0\n'],
  ])(
    '%s',
    (_, text) => {
      const { status, stderr } = check({ 'a.tare': text }, ['check', '--quiet']);
      expect(stderr).toBe('');
      expect([0, 1]).toContain(status);
    },
    90_000,
  );
  test('a page that sends commands to the terminal', () => {
    const { stdout } = check({ 'a.tare': WRONG_NET.replaceAll('isopentyl acetate', 'ester \u001B[2J') });
    expect(stdout).not.toContain('\u001B');
  });
});

describe('processes', () => {
  test('a reader that goes away ends the output without a word', async () => {
    const cwd = tarebook.notebook(
      Object.fromEntries(Array.from({ length: 40 }, (_, i) => [`${i}.tare`, WRONG_NET.replace('TB-014', `TB-${i}`)])),
    );
    const child = spawn(process.execPath, [tarebook.cli, 'compute'], { cwd, stdio: ['ignore', 'pipe', 'pipe'] });
    let stderr = '';
    child.stderr.on('data', (data) => {
      stderr += data;
    });
    child.stdout.destroy();
    await new Promise((resolve) => child.on('close', resolve));
    expect(stderr).toBe('');
  });
  test('serve answers an editor and ends when told to', async () => {
    const child = spawn(process.execPath, [tarebook.cli, 'serve', '--stdio'], { cwd: tarebook.home });
    const send = (message: object): void => {
      const body = JSON.stringify({ jsonrpc: '2.0', ...message });
      child.stdin.write(`Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`);
    };
    let output = '';
    const answered = new Promise<void>((resolve) =>
      child.stdout.on('data', (data) => {
        output += data;
        if (output.includes('"capabilities"')) resolve();
      }),
    );
    const closed = new Promise<number | null>((resolve) => child.on('close', resolve));
    send({ id: 1, method: 'initialize', params: { processId: null, rootUri: null, capabilities: {} } });
    await answered;
    send({ method: 'initialized', params: {} });
    send({ id: 2, method: 'shutdown' });
    send({ method: 'exit' });
    expect(await closed).toBe(0);
  });
});
