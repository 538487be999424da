// Starts the language server and shows its state. All chemistry is in the server.
import {
  commands,
  type Disposable,
  type ExtensionContext,
  type LanguageStatusItem,
  LanguageStatusSeverity,
  languages,
  window,
  workspace,
} from 'vscode';
import {
  LanguageClient,
  type LanguageClientOptions,
  RevealOutputChannelOn,
  State,
  TransportKind,
} from 'vscode-languageclient/node';
import { refuseStaleEdit } from './stale';

// No scheme: an unsaved page and a page of a virtual workspace are pages too.
const PAGES = [{ language: 'tarebook' }];

let client: LanguageClient | undefined;

export async function activate(context: ExtensionContext): Promise<void> {
  const output = window.createOutputChannel('Tarebook', { log: true });
  const module = context.asAbsolutePath('dist/server.js');
  const options: LanguageClientOptions = {
    documentSelector: PAGES,
    outputChannel: output,
    revealOutputChannelOn: RevealOutputChannelOn.Never,
    diagnosticPullOptions: { onChange: true, onSave: true, onFocus: true },
    middleware: { resolveCodeAction: refuseStaleEdit },
  };
  const started = new LanguageClient(
    'tarebook',
    'Tarebook',
    {
      run: { module, transport: TransportKind.ipc },
      debug: { module, transport: TransportKind.ipc, options: { execArgv: ['--nolazy', '--inspect=6009'] } },
    },
    options,
  );
  client = started;
  context.subscriptions.push(
    output,
    commands.registerCommand('tarebook.restart', () => restart(started)),
    commands.registerCommand('tarebook.showOutput', () => output.show(true)),
    ...statusItem(started),
  );
  // A failed start is logged and told by the client itself; Restart server must stay within reach.
  await started.start().catch(() => undefined);
}

export function deactivate(): Promise<void> | undefined {
  return client?.stop();
}

/** Also brings back a server that crashed or never came up, which the client's own restart refuses. */
async function restart(server: LanguageClient): Promise<void> {
  if (server.isRunning()) await server.stop();
  await server.start();
}

/** One quiet item behind the braces of the status bar: is the server up, and what has it found on this page. */
function statusItem(server: LanguageClient): Disposable[] {
  const item = languages.createLanguageStatusItem('tarebook.status', PAGES);
  item.name = 'Tarebook';
  const show = () => Object.assign(item, status(server.state));
  show();
  return [
    item,
    server.onDidChangeState(show),
    languages.onDidChangeDiagnostics(show),
    window.onDidChangeActiveTextEditor(show),
  ];
}

type Status = Pick<LanguageStatusItem, 'text' | 'severity' | 'busy' | 'command'>;

function status(state: State): Status {
  switch (state) {
    case State.Running:
      return {
        text: `Tarebook: ${findingsHere()}`,
        severity: LanguageStatusSeverity.Information,
        busy: false,
        command: { title: 'Show output', command: 'tarebook.showOutput' },
      };
    case State.Starting:
      return {
        text: 'Tarebook is starting',
        severity: LanguageStatusSeverity.Information,
        busy: true,
        command: { title: 'Show output', command: 'tarebook.showOutput' },
      };
    default:
      return {
        text: 'Tarebook is not running',
        severity: LanguageStatusSeverity.Error,
        busy: false,
        command: { title: 'Restart server', command: 'tarebook.restart' },
      };
  }
}

function findingsHere(): string {
  const page = window.activeTextEditor?.document;
  if (!page || !workspace.textDocuments.includes(page)) return 'no page open';
  const count = languages.getDiagnostics(page.uri).filter((found) => found.source === 'tarebook').length;
  return count === 0 ? 'no findings' : count === 1 ? '1 finding' : `${count} findings`;
}
