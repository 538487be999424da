/**
 * The `tarebook` command. Only what every run needs is loaded here: the engine, its tables and its grammar come with the
 * verb that uses them, so that `--version` and `--help` answer at once and `serve` loads the server's bundle alone.
 */
import { join } from 'node:path';
import { Command, CommanderError, InvalidArgumentError, Option } from 'commander';
import { version } from '../../package.json';
import type { CheckOptions } from './check';
import type { ComputeOptions } from './compute';
import { type ColorChoice, type Exit, processTerminal, UsageError } from './terminal';
import type { WasteOptions } from './waste';

const PURPOSE = `Reads lab notebook pages (.tare), recomputes every number in them and says
what does not agree.`;

const EXIT_CODES = `
Exit codes:
  0  no findings at or above --fail-on (default: error)
  1  findings at or above it
  2  could not run: wrong usage or settings, a file that cannot be read`;

const EXAMPLES = `
Examples:
  tarebook check                    check all pages in the current folder
  tarebook compute TB-014.tare      print what follows from a page as JSON

"tarebook help VERB" says more about one verb.`;

const CHECK_MORE = `
PATH is a page, a folder to be searched for .tare files, or - for standard
input. Registers and the other pages of the same notebook are read too: all
below the nearest folder upwards with tarebook.json or .git, else below the
folder named. Only the named paths are reported.

Examples:
  tarebook check notebook/2026
  tarebook check --fail-on warning --rule claim-rounding=warning TB-014.tare
  tarebook check --format sarif --output tarebook.sarif`;

const COMPUTE_MORE = `
PATH is a page, a folder to be searched for .tare files, or - for standard
input. Numbers are full precision in the unit that their key names, null where
they cannot be computed.

Exit codes:
  0  all was read
  2  a file could not be read: its entry holds an error, the others are there

Examples:
  tarebook compute TB-014.tare
  tarebook compute notebook --output numbers.json`;

const WASTE_MORE = `
PATH is a page, a folder to be searched for .tare files, or - for standard
input. What a stream takes is what a register says of it, else a stock list of
usual names. Volumes become masses only with a density that is known or written.

Exit codes:
  0  all was read
  2  a file could not be read; the sheets hold the others

Examples:
  tarebook waste notebook
  tarebook waste --stream "halogenated organic" --since 2026-03-01 notebook`;

const PATHS = 'pages, folders, or - for standard input (default: .)';

let exit: Exit = 0;

function program(): Command {
  const main = new Command('tarebook')
    .description(PURPOSE)
    .usage('VERB [options] [PATH...]')
    .configureHelp({
      helpWidth: 80,
      subcommandTerm: (verb) => `${verb.name()} ${verb.usage().replace('[options]', '').trim()}`.trimEnd(),
    })
    .version(`tarebook ${version}`, '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .commandsGroup('Verbs:')
    .helpCommand('help [VERB]', 'print help for a verb')
    .addHelpText('after', `${EXIT_CODES}\n${EXAMPLES}`)
    .exitOverride()
    .configureOutput({ outputError: (text, write) => write(text.replace(/^error: /, 'tarebook: ')) });

  main
    .command('check')
    .summary('report what does not agree')
    .description('Reports what does not agree in the pages, and why.')
    .usage('[options] [PATH...]')
    .argument('[PATH...]', PATHS)
    .optionsGroup('Output:')
    .addOption(
      new Option('-f, --format <FORMAT>', 'how findings are written')
        .choices(['text', 'compact', 'json', 'sarif', 'github'])
        .default('text'),
    )
    .option('-o, --output <FILE>', 'write to a file instead of standard output')
    .addOption(colorOption())
    .option('-q, --quiet', 'errors only, nothing else')
    .option('-v, --verbose', 'also accepted findings, and what was read')
    .option('--no-summary', 'leave out the yield of each page (text only)')
    .optionsGroup('Findings:')
    .addOption(
      new Option('--fail-on <SEVERITY>', 'least severity that gives exit code 1')
        .choices(['error', 'warning', 'information', 'hint', 'never'])
        .default('error'),
    )
    .addOption(new Option('--exit-zero', 'the same as --fail-on never').implies({ failOn: 'never' }))
    .option('--max-warnings <N>', 'exit code 1 with more warnings than this', wholeNumber)
    .option(
      '--rule <CODE=SEVERITY>',
      'how loud a rule is (off, hint, information, warning, error); may be repeated',
      (value: string, before: readonly string[] = []) => [...before, value],
    )
    .optionsGroup('Input:')
    .option('--stdin-filename <PATH>', 'the name that standard input goes by')
    .helpOption('-h, --help', 'print this help')
    .addHelpText('after', `${CHECK_MORE}\n${EXIT_CODES}`)
    .action(async (paths: readonly string[], options: CheckOptions & { readonly color: ColorChoice }) => {
      const { check } = await import('./check');
      exit = check(orHere(paths), options, processTerminal(options.color), version);
    });

  main
    .command('compute')
    .summary('print all that follows from the pages, as JSON')
    .description('Prints what follows from the pages as one JSON document.')
    .usage('[options] [PATH...]')
    .argument('[PATH...]', PATHS)
    .option('-o, --output <FILE>', 'write to a file instead of standard output')
    .option('--stdin-filename <PATH>', 'the name that standard input goes by')
    .option('--schema', "print the document's JSON schema and nothing else")
    .helpOption('-h, --help', 'print this help')
    .addHelpText('after', COMPUTE_MORE)
    .action(async (paths: readonly string[], options: ComputeOptions) => {
      const { compute } = await import('./compute');
      exit = compute(orHere(paths), options, processTerminal());
    });

  main
    .command('waste')
    .summary('print a sheet per waste stream, over pages and dates')
    .description('Prints what went into each waste stream: when, from which page, how much.')
    .usage('[options] [PATH...]')
    .argument('[PATH...]', PATHS)
    .addOption(new Option('-f, --format <FORMAT>', 'how it is written').choices(['text', 'json']).default('text'))
    .option('-o, --output <FILE>', 'write to a file instead of standard output')
    .option('--stream <NAME>', 'only this stream')
    .option('--since <DATE>', 'only lines from this day on (ISO 8601)')
    .option('--until <DATE>', 'only lines up to this day (ISO 8601)')
    .option('--stdin-filename <PATH>', 'the name that standard input goes by')
    .helpOption('-h, --help', 'print this help')
    .addHelpText('after', WASTE_MORE)
    .action(async (paths: readonly string[], options: WasteOptions) => {
      const { waste } = await import('./waste');
      exit = waste(orHere(paths), options, processTerminal());
    });

  main
    .command('explain')
    .summary('print what a rule finds, why, and what to do')
    .description('Prints the page of a rule: what it finds, why, what to do, with examples.')
    .usage('CODE')
    .argument('<CODE>', 'the code of a finding, such as claim-mismatch')
    .helpOption('-h, --help', 'print this help')
    .action(async (code: string) => {
      const { explain } = await import('./explain');
      explain(code, processTerminal());
    });

  main
    .command('rules')
    .summary('list all rules')
    .description('Lists all rules with their default severity.')
    .helpOption('-h, --help', 'print this help')
    .action(async () => {
      const { rules } = await import('./explain');
      rules(processTerminal());
    });

  main
    .command('serve')
    .summary('run the language server for an editor')
    .description('Runs the language server, for any editor that speaks the protocol.')
    .usage('--stdio')
    .requiredOption('--stdio', 'speak over standard input and output')
    .helpOption('-h, --help', 'print this help')
    .action(serve);

  return main;
}

const colorOption = (): Option =>
  new Option('--color <WHEN>', 'colour; auto heeds NO_COLOR and FORCE_COLOR')
    .choices(['auto', 'always', 'never'])
    .default('auto');

function wholeNumber(text: string): number {
  if (/^\d+$/.test(text)) return Number(text);
  throw new InvalidArgumentError('It must be a whole number, 0 or more.');
}

function orHere(paths: readonly string[]): readonly string[] {
  if (paths.includes('-') && paths.length > 1) throw new UsageError('- (standard input) must stand alone');
  return paths.length > 0 ? paths : ['.'];
}

/** The server is a bundle of its own that starts when it is loaded; it ends the process when the editor says so. */
function serve(): void {
  require(join(__dirname, 'server.js'));
}

/** One line, whatever happens: a person at a terminal can do nothing with a stack. */
function fail(error: unknown): void {
  if (error instanceof CommanderError) {
    process.exitCode = error.exitCode === 0 ? exit : 2;
    return;
  }
  const message = (error instanceof Error ? error.message : String(error)).split('\n')[0];
  process.stderr.write(`tarebook: ${error instanceof UsageError ? '' : 'internal error: '}${message}\n`);
  process.exitCode = 2;
}

// Output into `head`: whoever reads has had enough, and that is no failure.
for (const stream of [process.stdout, process.stderr])
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') fail(error);
    process.exit(process.exitCode ?? exit);
  });
program()
  .parseAsync()
  .then(() => {
    process.exitCode = exit;
  })
  .catch(fail);
