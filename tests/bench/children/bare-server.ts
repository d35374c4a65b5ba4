// The floor under every language server for YAML on Node: the protocol library, the `yaml` parser, and what it reports, nothing else.
import { createConnection, ProposedFeatures, TextDocumentSyncKind } from 'vscode-languageserver/node'
import { TextDocument } from 'vscode-languageserver-textdocument'
import { parseDocument } from 'yaml'

const connection = createConnection(ProposedFeatures.all)
const texts = new Map<string, TextDocument>()

connection.onInitialize(() => ({ capabilities: { textDocumentSync: TextDocumentSyncKind.Incremental } }))
connection.onDidOpenTextDocument(({ textDocument: { uri, languageId, version, text } }) => {
  texts.set(uri, TextDocument.create(uri, languageId, version, text))
  publish(uri)
})
connection.onDidChangeTextDocument(({ textDocument: { uri, version }, contentChanges }) => {
  texts.set(uri, TextDocument.update(texts.get(uri)!, contentChanges, version))
  publish(uri)
})
connection.listen()

function publish(uri: string): void {
  const document = texts.get(uri)!
  const { errors } = parseDocument(document.getText())
  const diagnostics = errors.map(({ message, pos: [start, end] }) => ({
    message,
    range: { start: document.positionAt(start), end: document.positionAt(end) },
  }))
  void connection.sendDiagnostics({ uri, version: document.version, diagnostics })
}
