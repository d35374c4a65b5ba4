// The command line, the editor, a browser and git speak with one voice: over every sample, `check --format json` tells what a language server session
// publishes and what the core finds without Node, and the merge driver takes three times the same for the same.
import { readdirSync, readFileSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { PassThrough } from 'node:stream'
import { fileURLToPath } from 'node:url'
import { createContext, runInContext } from 'node:vm'
import { build } from 'esbuild'
import { afterAll, describe, expect, test, vi } from 'vitest'
import {
  type ClientCapabilities,
  type Diagnostic,
  StreamMessageReader,
  StreamMessageWriter,
  type WorkspaceDiagnosticReport,
} from 'vscode-languageserver/node'
import {
  createMessageConnection,
  createProtocolConnection,
  PublishDiagnosticsNotification,
  WorkspaceDiagnosticRequest,
} from 'vscode-languageserver-protocol/node'
import { LineIndex } from '../../server/src/base/line-index.ts'
import { nodeCliHost } from '../../server/src/cli/node.ts'
import type { PointRange, ReadableFinding } from '../../server/src/cli/readable.ts'
import { runCli } from '../../server/src/cli/run.ts'
import { fileUri, NodeHost } from '../../server/src/host/node.ts'
import { serve } from '../../server/src/lsp/server.ts'
import { auditMerge } from '../../server/src/merge/audit.ts'
import type { Finding } from '../../server/src/rules/rule.ts'
import { kindOfFile } from '../../server/src/schema/schema.ts'
import { some } from '../support/counts.ts'
import { newFolder } from './repository.ts'

const SAMPLES = fileURLToPath(new URL('../../samples', import.meta.url))

/** How long something is waited for, and how often looked at. */
const PATIENT = { timeout: 20_000, interval: 4 }

const ends: (() => void)[] = []
afterAll(() => {
  for (const end of ends) end()
})

describe.each(['tern-quay', 'broken'])('%s', (shop) => {
  const folder = `${SAMPLES}/${shop}`

  test('with all documents open', async () => {
    const { files, expected } = await told(folder)
    const { published, open } = await session(folder)
    for (const file of files) await open(file)
    // A server that is still reading the folder knows less; what it says in the end is compared.
    for (const file of files)
      await vi.waitFor(() => expect([file, published.get(file)?.map(essence)]).toEqual([file, expected(file)]), {
        timeout: 20_000,
      })
  })

  test('with one document open at a time, and the others closed', async () => {
    const { files, expected } = await told(folder)
    const { published, open, close } = await session(folder)
    for (const file of some(files, 4)) {
      await open(file)
      await vi.waitFor(() => expect([file, published.get(file)?.map(essence)]).toEqual([file, expected(file)]), {
        timeout: 20_000,
      })
      published.delete(file)
      await close(file)
      await vi.waitFor(() => expect([file, published.get(file)]).toEqual([file, []]), PATIENT)
    }
  })

  test('with none open, for a client that asks for all', async () => {
    const { files, expected } = await told(folder)
    const { ask } = await session(folder, { diagnostic: { relatedInformation: true } })
    const { items } = await ask()
    const found = new Map(items.map((item) => [item.uri, item.kind === 'full' ? item.items.map(essence) : []]))
    expect(files.map((file) => [file, found.get(file) ?? []])).toEqual(files.map((file) => [file, expected(file)]))
    expect(found.size).toBe(files.filter((file) => expected(file).length > 0).length)
  })

  test('in the core alone, with neither Node nor a disk', async () => {
    const { files, expected } = await told(folder)
    const found = await foundWithoutNode(folder)
    for (const file of files) expect([file, found(file)]).toEqual([file, expected(file)])
  })

  test('in the merge driver: what nobody changed is the same, byte for byte, and what is in doubt is an error', async () => {
    const { files, expected } = await told(folder)
    const results = newFolder()
    let merged = 0
    for (const [i, file] of files.entries()) {
      const into = join(results, `${i}`)
      const path = fileURLToPath(file)
      const [code, out, err] = await driver(path, path, path, into, path)
      const text = readFileSync(path, 'utf8')
      merged += code === 0 ? 1 : 0
      if (code === 0) expect([file, out, err, readFileSync(into, 'utf8')]).toEqual([file, 'merged\n', '', text])
      // What is left to git, or in doubt, cannot be read or says a thing twice: the command line tells an error of it.
      const doubt = code === 0 ? auditMerge(kindOfFile(file)!, { base: text, ours: text, theirs: text, merged: text }) : out
      const isTold = doubt === undefined || expected(file).some(({ severity }) => severity === 1)
      expect([file, doubt, isTold]).toEqual([file, doubt, true])
    }
    expect(merged).toBeGreaterThan(files.length / 2)
  })
})

/** What `rollbook git merge` answers: its exit code and what it says. */
async function driver(...args: readonly string[]): Promise<readonly [code: number, out: string, err: string]> {
  let [out, err] = ['', '']
  const code = await runCli(['git', 'merge', ...args], {
    ...nodeCliHost(),
    out: (text) => {
      out += text
    },
    err: (text) => {
      err += text
    },
  })
  return [code, out, err]
}

const CORE = `
  import { Analysis } from './workspace/analysis.ts'
  import { Workspace } from './workspace/workspace.ts'
  import { MemoryHost } from './host/memory.ts'
  globalThis.check = async (root, texts, bytes, today) => {
    const workspace = new Workspace(new MemoryHost(new Map(texts), today, new Map(bytes)))
    await workspace.addFolder(root)
    const analysis = new Analysis(workspace, true)
    const found = []
    for (const { file } of workspace.everything()) {
      await workspace.load(file)
      await workspace.prepare(file)
      found.push([file, analysis.findings(file)])
    }
    return JSON.stringify(found)
  }`

interface Core {
  readonly TextDecoder: unknown
  check?: (...args: readonly unknown[]) => Promise<string>
}

let core: Promise<Core> | undefined

/** The core in a context of its own that has what a browser's worker has. */
async function coreWithoutNode(): Promise<Core> {
  const scope: Core = { TextDecoder }
  const context = createContext(scope)
  runInContext(await bundleOfCore(), context)
  expect(runInContext('typeof process + typeof Buffer + typeof require', context)).toBe('undefinedundefinedundefined')
  return scope
}

async function bundleOfCore(): Promise<string> {
  const { outputFiles } = await build({
    stdin: { contents: CORE, resolveDir: fileURLToPath(new URL('../../server/src', import.meta.url)), loader: 'ts' },
    bundle: true,
    write: false,
    platform: 'browser',
    format: 'iife',
    target: 'es2022',
    logLevel: 'silent',
  })
  return outputFiles[0]!.text
}

/** What is found in a folder by a bundle of the core. */
async function foundWithoutNode(folder: string): Promise<(file: string) => readonly Essence[]> {
  core ??= coreWithoutNode()
  const { check } = await core
  const host = new NodeHost()
  const [texts, bytes] = [new Map<string, string>(), new Map<string, Uint8Array>()]
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    const path = join(entry.parentPath, entry.name)
    if (!entry.isFile()) continue
    if (kindOfFile(fileUri(path))) texts.set(fileUri(path), await host.read(fileUri(path)))
    else bytes.set(fileUri(path), readFileSync(path))
  }
  const found = new Map<string, readonly Finding[]>(
    JSON.parse(await check!(`${fileUri(folder)}/`, [...texts], [...bytes], host.today())),
  )
  const rangeIn = (file: string, span: Finding['span']) => new LineIndex(texts.get(file)!).range(span)
  return (file) =>
    found.get(file)!.map(({ severity, code, message, span, related }) => ({
      severity: SEVERITY[severity],
      code,
      message,
      range: rangeIn(file, span),
      related: (related ?? []).map((r) => ({ uri: r.file, range: rangeIn(r.file, r.span), message: r.message })),
    }))
}

interface Told {
  readonly files: readonly string[]
  readonly expected: (file: string) => readonly Essence[]
}

const toldOf = new Map<string, Promise<Told>>()

/** The documents of a folder, and what the command line tells of each: asked once. */
function told(folder: string): Promise<Told> {
  const found = toldOf.get(folder) ?? tellOf(folder)
  toldOf.set(folder, found)
  return found
}

async function tellOf(folder: string): Promise<Told> {
  const findings = await checkJson(folder)
  expect(findings.length).toBeGreaterThan(0)
  const files = [...(await new NodeHost().list(fileUri(folder)))]
  const nameOf = (file: string): string => fileURLToPath(file).slice(folder.length + 1)
  return { files, expected: (file) => findings.filter((f) => f.file === nameOf(file)).map((f) => asDiagnostic(f, folder)) }
}

async function checkJson(folder: string): Promise<readonly ReadableFinding[]> {
  let out = ''
  await runCli(['check', '--format', 'json'], {
    ...nodeCliHost(),
    cwd: folder,
    out: (text) => {
      out += text
    },
  })
  return JSON.parse(out).findings
}

/** The newest diagnostics of each file of a session, and what opens and closes one. */
async function session(
  folder: string,
  textDocument: ClientCapabilities['textDocument'] = { publishDiagnostics: { relatedInformation: true } },
): Promise<{
  published: Map<string, readonly Diagnostic[]>
  open: (uri: string) => Promise<void>
  close: (uri: string) => Promise<void>
  ask: () => Promise<WorkspaceDiagnosticReport>
}> {
  const [up, down] = [new PassThrough(), new PassThrough()]
  serve(createMessageConnection(new StreamMessageReader(up), new StreamMessageWriter(down)), new NodeHost(), 'test')
  const client = createProtocolConnection(new StreamMessageReader(down), new StreamMessageWriter(up))
  const published = new Map<string, readonly Diagnostic[]>()
  client.onNotification(PublishDiagnosticsNotification.type, ({ uri, diagnostics }) => {
    published.set(uri, diagnostics)
  })
  client.onRequest('client/registerCapability', () => null)
  client.listen()
  ends.push(() => client.dispose())
  await client.sendRequest('initialize', {
    processId: null,
    rootUri: fileUri(folder),
    capabilities: { textDocument },
  })
  await client.sendNotification('initialized', {})
  return {
    published,
    async open(uri) {
      const text = await readFile(fileURLToPath(uri), 'utf8')
      await client.sendNotification('textDocument/didOpen', { textDocument: { uri, languageId: 'rollbook', version: 1, text } })
    },
    close: (uri) => client.sendNotification('textDocument/didClose', { textDocument: { uri } }),
    ask: () => client.sendRequest(WorkspaceDiagnosticRequest.type, { previousResultIds: [] }),
  }
}

const SEVERITY = { error: 1, warning: 2, hint: 3 }

interface Essence {
  readonly severity: number | undefined
  readonly code: unknown
  readonly message: Diagnostic['message']
  readonly range: Diagnostic['range']
  readonly related: readonly { uri: string; range: Diagnostic['range']; message: string }[]
}

const essence = ({ severity, code, message, range, relatedInformation }: Diagnostic): Essence => ({
  severity,
  code,
  message,
  range,
  related: (relatedInformation ?? []).map((r) => ({ uri: r.location.uri, range: r.location.range, message: r.message })),
})

const asDiagnostic = ({ severity, code, message, range, related }: ReadableFinding, folder: string): Essence => ({
  severity: SEVERITY[severity],
  code,
  message,
  range: asRange(range),
  related: related.map((r) => ({ uri: fileUri(`${folder}/${r.file}`), range: asRange(r.range), message: r.message })),
})

const asRange = ({ start, end }: PointRange): Diagnostic['range'] => ({
  start: { line: start.line - 1, character: start.column - 1 },
  end: { line: end.line - 1, character: end.column - 1 },
})
