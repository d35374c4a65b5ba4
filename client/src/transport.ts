// The way to a language server: where there is Node the server is a process of its own, in a browser it is a worker.

import type * as vscode from 'vscode'
import type { MessageReader, MessageWriter } from 'vscode-jsonrpc'

/** A server that was started, and how to talk with it. */
export interface Transport {
  readonly reader: MessageReader
  readonly writer: MessageWriter
  /** Ends the server, should it not have done so by itself. */
  end(): void
}

/** A browser's extension host has no Node. */
export const ON_NODE = typeof process === 'object' && process.versions?.node !== undefined

/** `dist` is the folder of the bundles. */
export async function startServer(dist: vscode.Uri, log: vscode.LogOutputChannel): Promise<Transport> {
  if (!ON_NODE) return (await import('./worker.ts')).startWorker(dist, log)
  return (await import('./fork.ts')).forkServer(dist, log)
}
