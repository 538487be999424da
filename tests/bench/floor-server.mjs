// The floor: a language server on the same library that keeps the text, looks for one character, and answers. What a
// real server needs beyond this is its own cost.
import { createConnection, ProposedFeatures, TextDocuments } from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';

const connection = createConnection(ProposedFeatures.all);
const documents = new TextDocuments(TextDocument);

connection.onInitialize(() => ({
  capabilities: {
    textDocumentSync: 2,
    hoverProvider: true,
    completionProvider: {},
    documentSymbolProvider: true,
    diagnosticProvider: { interFileDependencies: false, workspaceDiagnostics: false },
  },
}));
connection.onHover(() => ({ contents: 'floor' }));
connection.onCompletion(() => []);
connection.onDocumentSymbol(() => []);
connection.languages.diagnostics.on(({ textDocument }) => {
  const document = documents.get(textDocument.uri);
  const text = document?.getText() ?? '';
  const items = [];
  for (let at = text.indexOf('§'); at >= 0; at = text.indexOf('§', at + 1)) {
    const range = { start: document.positionAt(at), end: document.positionAt(at + 1) };
    items.push({ range, severity: 1, message: 'A section sign' });
  }
  return { kind: 'full', items };
});
documents.listen(connection);
connection.listen();
