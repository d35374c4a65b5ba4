// The command line and the editor speak with one voice: over every sample, `check --format json` tells what a language server session publishes.
import { readFile } from 'node:fs/promises'
import { PassThrough } from 'node:stream'
import { fileURLToPath } from 'node:url'
import { afterAll, expect, test, vi } from 'vitest'
import { createConnection, type Diagnostic, StreamMessageReader, StreamMessageWriter } from 'vscode-languageserver/node'
import { createProtocolConnection, PublishDiagnosticsNotification } from 'vscode-languageserver-protocol/node'
import { nodeCliHost } from '../../server/src/cli/node.ts'
import type { PointRange, ReadableFinding } from '../../server/src/cli/readable.ts'
import { runCli } from '../../server/src/cli/run.ts'
import { fileUri, NodeHost } from '../../server/src/host/node.ts'
import { serve } from '../../server/src/lsp/server.ts'

const SAMPLES = fileURLToPath(new URL('../../samples', import.meta.url))

const ends: (() => void)[] = []
afterAll(() => {
  for (const end of ends) end()
})

test.each(['tern-quay', 'broken'])('%s', async (shop) => {
  const folder = `${SAMPLES}/${shop}`
  const told = await checkJson(folder)
  expect(told.length).toBeGreaterThan(0)
  const files = [...(await new NodeHost().list(fileUri(folder)))]
  const published = await session(folder, files)
  for (const file of files) {
    const name = fileURLToPath(file).slice(folder.length + 1)
    const expected = told.filter((f) => f.file === name).map((f) => asDiagnostic(f, folder))
    // A server that is still reading the folder knows less; what it says in the end is compared.
    await vi.waitFor(() => expect([name, published.get(file)?.map(essence)]).toEqual([name, expected]), { timeout: 20_000 })
  }
})

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

/** The newest diagnostics of each file, all of them open in one session. */
async function session(folder: string, files: readonly string[]): Promise<ReadonlyMap<string, readonly Diagnostic[]>> {
  const [up, down] = [new PassThrough(), new PassThrough()]
  const server = createConnection(new StreamMessageReader(up), new StreamMessageWriter(down))
  serve(server, new NodeHost(), 'test')
  const client = createProtocolConnection(new StreamMessageReader(down), new StreamMessageWriter(up))
  const published = new Map<string, readonly Diagnostic[]>()
  client.onNotification(PublishDiagnosticsNotification.type, ({ uri, diagnostics }) => {
    published.set(uri, diagnostics)
  })
  client.onRequest('client/registerCapability', () => null)
  client.listen()
  ends.push(() => {
    client.dispose()
    server.dispose()
  })
  await client.sendRequest('initialize', {
    processId: null,
    rootUri: fileUri(folder),
    capabilities: { textDocument: { publishDiagnostics: { relatedInformation: true } } },
  })
  await client.sendNotification('initialized', {})
  for (const uri of files) {
    const text = await readFile(fileURLToPath(uri), 'utf8')
    await client.sendNotification('textDocument/didOpen', {
      textDocument: { uri, languageId: 'rollbook', version: 1, text },
    })
  }
  return published
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
