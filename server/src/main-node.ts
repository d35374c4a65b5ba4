// The language server on Node: over stdio, or over the channel an editor gives.
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node'
import { NodeHost } from './host/node.ts'
import { serve } from './lsp/server.ts'
import { VERSION } from './version.ts'

const connection = createConnection(ProposedFeatures.all)
serve(
  connection,
  new NodeHost((level, message) => (level === 'error' ? connection.console.error(message) : connection.console.info(message))),
  VERSION,
)
