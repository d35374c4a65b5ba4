// The language server in a worker of a browser: it talks with whoever made the worker, who reads every file for it. There is no git here.
import { createMessageConnection } from 'vscode-jsonrpc'
import { hereAndNow } from './host/host.ts'
import { type Port, portTransport } from './lsp/port.ts'
import { MessageType } from './lsp/protocol.ts'
import { serve } from './lsp/server.ts'
import { VERSION } from './version.ts'

export function serveInWorker(): void {
  const scope = globalThis as unknown as Port & { close(): void }
  const connection = createMessageConnection(...portTransport(scope))
  const host = hereAndNow((level, message) => {
    const type = level === 'error' ? MessageType.Error : MessageType.Info
    void connection.sendNotification('window/logMessage', { type, message })
  })
  serve(connection, host, VERSION, { exit: () => scope.close() })
}
