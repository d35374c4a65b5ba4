// The language server as a worker of the browser: the same bundles as on Node, put together into one script that is started from memory.
import type * as vscode from 'vscode'
import { type Port, portTransport } from '../../server/src/lsp/port.ts'
import { scriptOf, type Transport } from './transport.ts'

declare const Worker: new (
  url: string,
  options: { readonly name: string },
) => Port & {
  onerror: ((event: { readonly message?: string }) => void) | null
  terminate(): void
}

export async function startWorker(dist: vscode.Uri, log: vscode.LogOutputChannel): Promise<Transport> {
  const program = await scriptOf(dist, 'server.cjs')
  const script = URL.createObjectURL(new Blob([program], { type: 'text/javascript' }))
  const worker = new Worker(script, { name: 'Rollbook' })
  const [reader, writer] = portTransport(worker)
  worker.onerror = ({ message }) => {
    log.error(`the server's worker ended: ${message}`)
    reader.fireClose()
  }
  return {
    reader,
    writer,
    end() {
      worker.terminate()
      URL.revokeObjectURL(script)
    },
  }
}
