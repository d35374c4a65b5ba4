// The command line and the editor speak with one voice: over every sample, `check --format json` tells what a language server session publishes.
import { readFile } from 'node:fs/promises'
import { PassThrough } from 'node:stream'
import { fileURLToPath } from 'node:url'
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
import { nodeCliHost } from '../../server/src/cli/node.ts'
import type { PointRange, ReadableFinding } from '../../server/src/cli/readable.ts'
import { runCli } from '../../server/src/cli/run.ts'
import { fileUri, NodeHost } from '../../server/src/host/node.ts'
import { serve } from '../../server/src/lsp/server.ts'
import { some } from '../support/counts.ts'

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
})

/** The documents of a folder, and what the command line tells of each. */
async function told(folder: string): Promise<{ files: readonly string[]; expected: (file: string) => readonly Essence[] }> {
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
