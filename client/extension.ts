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
    commands.registerCommand('tarebook.restart', () => started.restart()),
    commands.registerCommand('tarebook.showOutput', () => output.show(true)),
    ...statusItem(started),
  );
  await started.start();
}

export function deactivate(): Promise<void> | undefined {
  return client?.stop();
}

/** One quiet item behind the braces of the status bar: is the server up, and what has it found on this page. */
function statusItem(server: LanguageClient): Disposable[] {
  const item = languages.createLanguageStatusItem('tarebook.status', PAGES);
  item.name = 'Tarebook';
  const show = () => Object.assign(item, server.state === State.Stopped ? stopped : running(server.state));
  show();
  return [
    item,
    server.onDidChangeState(show),
    languages.onDidChangeDiagnostics(show),
    window.onDidChangeActiveTextEditor(show),
  ];
}

type Status = Pick<LanguageStatusItem, 'text' | 'severity' | 'busy' | 'command'>;

const stopped: Status = {
  text: 'Tarebook is not running',
  severity: LanguageStatusSeverity.Error,
  busy: false,
  command: { title: 'Restart server', command: 'tarebook.restart' },
};

function running(state: State): Status {
  return {
    text: state === State.Starting ? 'Tarebook is starting' : `Tarebook: ${findingsHere()}`,
    severity: LanguageStatusSeverity.Information,
    busy: state === State.Starting,
    command: { title: 'Show output', command: 'tarebook.showOutput' },
  };
}

function findingsHere(): string {
  const page = window.activeTextEditor?.document;
  if (!page || !workspace.textDocuments.includes(page)) return 'no page open';
  const count = languages.getDiagnostics(page.uri).filter((found) => found.source === 'tarebook').length;
  return count === 0 ? 'no findings' : count === 1 ? '1 finding' : `${count} findings`;
}
