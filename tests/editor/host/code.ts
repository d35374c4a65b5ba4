// Stands in for the desktop editor's executable in @vscode/test-electron: runs extension tests in the workbench host.
// Exit status: that of the tests (0 passed, 1 failed); 2: bad arguments; 3: the host failed; 124: too late.
import { existsSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { parseArgs } from 'node:util'
import { type Host, startHost } from './host.ts'
import { installed } from './setup.ts'

const LIMIT_MS = Number(process.env.EDITOR_HOST_TIMEOUT_MS ?? 180_000)

const { values, positionals } = parseArgs({
  strict: false, // The desktop editor has many more switches; they change nothing here.
  allowPositionals: true,
  options: {
    extensionDevelopmentPath: { type: 'string', multiple: true },
    extensionTestsPath: { type: 'string' },
    'user-data-dir': { type: 'string' },
    'extensions-dir': { type: 'string' },
  },
})
const extensions = values.extensionDevelopmentPath as string[] | undefined
const tests = values.extensionTestsPath as string | undefined
if (!extensions?.length || tests === undefined) fail(2, 'needs --extensionDevelopmentPath and --extensionTestsPath')
for (const path of [...extensions, ...positionals, tests]) if (!existsSync(path)) fail(2, `no such file or folder: ${path}`)

installed() // Before the clock starts: the first time takes about a minute.
let host: Host | undefined
let ending = false
const log: string[] = []
for (const [signal, number] of Object.entries({ SIGINT: 2, SIGTERM: 15, SIGHUP: 1 }))
  process.once(signal, () => end(128 + number))
setTimeout(async () => {
  const picture = join(tmpdir(), `editor-host-${process.pid}.png`)
  await host?.page.screenshot({ path: picture, timeout: 3000 }).catch(() => {})
  process.stderr.write(`editor-host: no result within ${LIMIT_MS} ms; see ${picture}\n${details()}\n`)
  await end(124)
}, LIMIT_MS)

try {
  const folder = positionals.find(isFolder)
  const openFile = positionals.find((path) => !isFolder(path))
  const userDataDir = values['user-data-dir'] as string | undefined
  const extensionsDir = values['extensions-dir'] as string | undefined
  host = await startHost({
    extensions,
    tests,
    ...(folder === undefined ? {} : { folder }),
    ...(openFile === undefined ? {} : { openFile }),
    ...(userDataDir === undefined ? {} : { userDataDir }),
    ...(extensionsDir === undefined ? {} : { extensionsDir }),
    onTestLog: (type, text) => (['warn', 'error'].includes(type) ? process.stderr : process.stdout).write(`${text}\n`),
    onLog: (type, text) => {
      if (!text.includes('from gallery as it is disabled')) log.push(`[${type}] ${text}`)
      if (process.env.EDITOR_HOST_VERBOSE) process.stderr.write(`[${type}] ${text}\n`)
    },
  })
  await end(await host.result)
} catch (error) {
  if (!ending) process.stderr.write(`editor-host: ${error instanceof Error ? error.stack : error}\n${details()}\n`)
  await end(3)
}

async function end(status: number): Promise<void> {
  if (ending) return
  ending = true
  await Promise.race([host?.close(), sleep(8000)])
  process.exit(status)
}

function details(): string {
  return `${log.slice(-15).join('\n')}\n${host?.log().slice(-2000) ?? ''}`
}

function fail(status: number, message: string): never {
  process.stderr.write(`editor-host: ${message}\n`)
  process.exit(status)
}

function isFolder(path: string): boolean {
  return path.endsWith('.code-workspace') || statSync(path).isDirectory()
}
