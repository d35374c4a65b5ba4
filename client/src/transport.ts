// The way to a language server: where there is Node the server is a process of its own, in a browser it is a worker.

import * as vscode from 'vscode'
import type { MessageReader, MessageWriter } from 'vscode-jsonrpc'
import { programOf } from './parts.ts'

/** A server that was started, and how to talk with it. */
export interface Transport {
  readonly reader: MessageReader
  readonly writer: MessageWriter
  /** Ends the server, should it not have done so by itself. */
  end(): void
}

/** A browser's extension host has no Node. */
export const ON_NODE = typeof process === 'object' && process.versions?.node !== undefined

/** The bundle of this name in a folder, as a script for where there is no Node. */
export const scriptOf = (dist: vscode.Uri, entry: string, result?: string): Promise<string> =>
  programOf((name) => vscode.workspace.fs.readFile(vscode.Uri.joinPath(dist, name)), entry, result)

/** How messages go, where there is no Node: the client is bundled without it, and asks for it when it is first needed (`server/tools/build.ts`). */
export async function provideMessages(dist: vscode.Uri): Promise<void> {
  const given = globalThis as { rollbookMessages?: unknown }
  if (!ON_NODE) given.rollbookMessages ??= new Function(await scriptOf(dist, 'messages.cjs', 'return '))()
}

/** `dist` is the folder of the bundles. */
export async function startServer(dist: vscode.Uri, log: vscode.LogOutputChannel): Promise<Transport> {
  if (!ON_NODE) return (await import('./worker.ts')).startWorker(dist, log)
  return (await import('./fork.ts')).forkServer(dist, log)
}
