// The floor under every language server on this machine: the protocol library reads what is typed, and nothing else is done.
import { createConnection, ProposedFeatures, TextDocumentSyncKind } from 'vscode-languageserver/node'

const connection = createConnection(ProposedFeatures.all)
connection.onInitialize(() => ({ capabilities: { textDocumentSync: TextDocumentSyncKind.Incremental } }))
connection.onDidOpenTextDocument(() => undefined)
connection.onDidChangeTextDocument(() => undefined)
connection.listen()
