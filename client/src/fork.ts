// The language server as a process of its own, by the Node of the extension host. What it writes beside the talk goes to the log.
import { fork } from 'node:child_process'
import type { Readable } from 'node:stream'
import * as vscode from 'vscode'
import { IPCMessageReader, IPCMessageWriter } from 'vscode-jsonrpc/node'
import type { Transport } from './transport.ts'

/** Where the extension host is debugged, the server can be too. */
const DEBUGGED = process.execArgv.some((arg) => /^--(?:inspect|debug)(?:-brk)?(?:=|$)/.test(arg))

export function forkServer(dist: vscode.Uri, log: vscode.LogOutputChannel): Transport {
  const server = fork(vscode.Uri.joinPath(dist, 'server.cjs').fsPath, [], {
    // The desktop's own Node is its Electron.
    env: { ...process.env, ELECTRON_RUN_AS_NODE: '1', ELECTRON_NO_ASAR: '1' },
    execArgv: DEBUGGED ? ['--nolazy', '--inspect=6017'] : [],
    silent: true,
  })
  logLines(server.stdout, (line) => log.info(line))
  logLines(server.stderr, (line) => log.error(line))
  return {
    reader: new IPCMessageReader(server),
    writer: new IPCMessageWriter(server),
    end: () => void server.kill(),
  }
}

function logLines(stream: Readable | null, write: (line: string) => void): void {
  let rest = ''
  stream?.setEncoding('utf8').on('data', (chunk: string) => {
    const lines = (rest + chunk).split(/\r?\n/)
    rest = lines.pop() ?? ''
    lines.forEach(write)
  })
}
