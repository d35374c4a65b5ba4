// The bundle as it is installed: built into a folder of its own, far from any node_modules, and run as a process.
import { execFileSync, type SpawnOptionsWithoutStdio, spawn } from 'node:child_process'
import { chmodSync, cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { createContext, runInContext } from 'node:vm'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import {
  createProtocolConnection,
  DidOpenTextDocumentNotification,
  InitializedNotification,
  InitializeRequest,
  PublishDiagnosticsNotification,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node'
import { programOf } from '../../client/src/parts.ts'
import { explainTopic, explainTopics } from '../../server/src/features/explain.ts'
import { pageHtml } from '../../server/src/picture/page.ts'
import { picturesOf } from '../../server/src/report/pictures.ts'
import { RULES } from '../../server/src/rules/generated/index.ts'
import { shopWith, TODAY } from '../picture/shop.ts'
import { some } from '../support/counts.ts'
import { ROOT as FIXTURES, parseFixture } from '../support/fixture.ts'
import { setupFrom } from '../support/setups.ts'

const ROOT = fileURLToPath(new URL('../..', import.meta.url))
let folder = ''

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'rollbook-'))
  // `npm test` has built them for the package just now.
  if (process.env.BUILT) cpSync(join(ROOT, 'dist'), join(folder, 'dist'), { recursive: true })
  else build(join(folder, 'dist'))
  write('shop/rollbook.yaml', 'shop: Tern Quay Print Works\n')
  write('shop/twice.media.yaml', 'profile: twice\nprofile: twice\n')
  write('empty/notes.txt', 'no document\n')
  write('latin/banner.media.yaml', Buffer.from('profile: banner\ntitle: B\xe4nner\n', 'latin1'))
}, 60_000)

afterAll(() => rmSync(folder, { recursive: true, force: true }))

function build(into: string): void {
  const tsx = join(ROOT, 'node_modules', 'tsx', 'dist', 'cli.mjs')
  execFileSync(process.execPath, [tsx, 'server/tools/build.ts', '--quiet', '--out', into], { cwd: ROOT })
}

function write(name: string, content: string | Buffer): void {
  const path = join(folder, name)
  mkdirSync(join(path, '..'), { recursive: true })
  writeFileSync(path, content)
}

/** Runs the bundle in the temporary folder. */
const rollbook = (args: readonly string[], options: SpawnOptionsWithoutStdio = {}): Promise<Ran> =>
  ran(process.execPath, [join(folder, 'dist', 'rollbook.cjs'), ...args], options)

interface Ran {
  readonly out: string
  readonly err: string
  readonly code: number | null
}

async function ran(command: string, args: readonly string[], options: SpawnOptionsWithoutStdio = {}): Promise<Ran> {
  const child = spawn(command, args, { cwd: folder, ...options })
  let out = ''
  let err = ''
  child.stdout.setEncoding('utf8').on('data', (chunk: string) => {
    out += chunk
  })
  child.stderr.setEncoding('utf8').on('data', (chunk: string) => {
    err += chunk
  })
  child.stdin.end()
  const code = await new Promise<number | null>((resolve) => child.on('close', resolve))
  return { out, err, code }
}

test('says the version of the package', async () => {
  const { version } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'))
  expect(await rollbook(['--version'])).toEqual({ out: `rollbook ${version}\n`, err: '', code: 0 })
})

test('what only the command line needs is no part of the server', () => {
  const holding = readdirSync(join(folder, 'dist')).filter((name) =>
    readFileSync(join(folder, 'dist', name), 'utf8').includes('CSV_QUOTE_NOT_CLOSED'),
  )
  expect(holding).toEqual(['commands.cjs'])
})

test('can be run by its name', async () => {
  chmodSync(join(folder, 'dist', 'rollbook.cjs'), 0o755)
  expect(execFileSync(join(folder, 'dist', 'rollbook.cjs'), ['--help'], { encoding: 'utf8' })).toMatch(/^rollbook: /)
})

test('checks a folder on disk', async () => {
  const { out, code } = await rollbook(['check', 'shop'])
  expect(out).toMatch(/^shop\/twice\.media\.yaml\n[\s\S]* {2}2:1 +\w+ duplicate-key /)
  expect(code).toBe(1)
})

describe('with threads that judge beside it', () => {
  const SAMPLES = join(ROOT, 'samples', 'tern-quay')
  const check = (jobs: number, env: Readonly<Record<string, string>> = {}, format = 'json'): Promise<Ran> =>
    rollbook(['check', SAMPLES, '--format', format, '--today', TODAY, '--jobs', String(jobs)], {
      env: { ...process.env, ...env },
    })

  /** What is done in each new thread before it begins, as no thread of ours ever would. */
  function hooked(name: string, script: string): Readonly<Record<string, string>> {
    const path = join(folder, `${name.replaceAll(' ', '-')}.cjs`)
    writeFileSync(path, `const threads = require('node:worker_threads'), fs = require('node:fs')\n${script}`)
    return { NODE_OPTIONS: `--require "${path}"`, ROLLBOOK_DEBUG: '1' }
  }

  /** At the sixth text that a thread reads. */
  const atWork = (does: string): string => `const { readFileSync } = fs
    let left = 5
    if (!threads.isMainThread) fs.readFileSync = (...given) => {
      if (left-- === 0) { ${does} }
      return readFileSync(...given)
    }`

  test.each(['text', 'sarif'])('tells the same, byte for byte, as %s', async (format) => {
    const one = await check(1, {}, format)
    // Each thread would say on standard error that it has ended.
    expect(await check(3, { ROLLBOOK_DEBUG: '1' }, format)).toEqual(one)
  })

  test.each([
    ['throws', atWork("setImmediate(() => { throw new TypeError('boom') })"), /TypeError: boom/],
    ['leaves', atWork('process.exit(3)'), /it left with 3/],
    ['throws before it begins', "if (!threads.isMainThread) throw new Error('not here')", /not here/],
    ['cannot be made', "threads.Worker = class { constructor() { throw new Error('too many') } }", /too many/],
  ])('where one %s, the first thread judges what is left', async (name, script, why) => {
    const { err, ...one } = await check(1)
    const { err: told, ...two } = await check(2, hooked(name, script))
    expect(two).toEqual(one)
    const lines = told.trimEnd().split('\n')
    for (const line of lines) expect(line).toMatch(why)
    expect(lines).toHaveLength(2)
  })

  test.skipIf(process.platform === 'win32')('Ctrl+C ends them all', async () => {
    const env = { ...process.env, ...hooked('stays', atWork("fs.writeSync(2, 'at work\\n'); for (;;);")) }
    const args = [join(folder, 'dist', 'rollbook.cjs'), 'check', SAMPLES, '--jobs', '2']
    const child = spawn(process.execPath, args, { env })
    child.stderr.once('data', () => child.kill('SIGINT'))
    expect(await new Promise((resolve) => child.on('close', (_, signal) => resolve(signal)))).toBe('SIGINT')
  })
})

test('draws the same page, byte for byte, as the core does', async () => {
  for (const [name, text] of parseFixture(shopWith()).files) write(`drawn/${name.slice(FIXTURES.length)}`, text)
  const page = pageHtml(picturesOf(await setupFrom(shopWith(), TODAY)))
  const args = ['picture', 'drawn/e.media.yaml', '--today', TODAY, '--html', '-']
  expect(await rollbook(args)).toEqual({ out: page, err: '', code: 0 })
})

test('tells paths that are not there, and folders that hold no document', async () => {
  expect(await rollbook(['check', 'shopp'])).toEqual({ out: '', err: "There is no file or folder 'shopp'.\n", code: 2 })
  const { err, code } = await rollbook(['check', 'empty'])
  expect([err, code]).toEqual([expect.stringMatching(/^There is nothing to check in 'empty'/), 2])
})

test('a file that is not UTF-8 is not read as something else', async () => {
  const { err, code } = await rollbook(['check', 'latin'])
  expect(err).toBe('latin/banner.media.yaml cannot be read: it is not UTF-8 text. Save it as UTF-8 in an editor.\n')
  expect(code).toBe(2)
})

test('a letter that was lost before is text like any other', async () => {
  write('lost/banner.media.yaml', 'profile: banner\ntitle: B\ufffdnner\n')
  const { err, code } = await rollbook(['check', 'lost'])
  // The unreadable document elsewhere is told, and is no reason to call this check undone.
  expect([err, code]).toEqual([
    expect.stringMatching(/^latin\/banner\.media\.yaml cannot be read: it is not UTF-8 text\..*\n$/),
    1,
  ])
})

test('a folder and a file closed to the reader are told, and are not taken for empty', async () => {
  write('shut/rollbook.yaml', 'shop: Tern Quay Print Works\n')
  write('shut/profiles/one.media.yaml', 'profile: one\n')
  write('shut/stocks/film.stock.yaml', 'stock: film\n')
  write('shut/printers/bay-1.printer.yaml', 'printer: bay-1\n')
  // Root reads whatever it likes, so that the command is run as another.
  const asAnother = process.getuid?.() === 0 ? { uid: 65534, gid: 65534 } : {}
  chmodSync(folder, 0o755)
  chmodSync(join(folder, 'shut/stocks'), 0o000)
  chmodSync(join(folder, 'shut/printers/bay-1.printer.yaml'), 0o000)
  try {
    const { out, err, code } = await rollbook(['check', 'shut', '--format', 'json'], asAnother)
    const expected = [
      'shut/printers/bay-1.printer.yaml cannot be read: permission is denied',
      'shut/stocks cannot be listed, and what is in it is not known: permission is denied',
    ]
    expect([JSON.parse(out).notChecked.sort(), err.trim().split('\n').sort(), code]).toEqual([expected, expected, 2])
    const one = await rollbook(['check', 'shut/stocks'], asAnother)
    expect([one.out, one.err.split('\n')[0], one.code]).toEqual(['Nothing could be checked.\n', expected[1], 2])
  } finally {
    chmodSync(join(folder, 'shut/stocks'), 0o755)
  }
})

test('the folder it is called in is gone', async () => {
  const gone = (args: string): Promise<Ran> =>
    ran('sh', [
      '-c',
      `mkdir gone && cd gone && rmdir ../gone && "${process.execPath}" "${join(folder, 'dist/rollbook.cjs')}" ${args}`,
    ])
  const sorry = 'The folder this was called in is not there any more. Change to one that is, and try again.\n'
  expect(await gone('check')).toEqual({ out: '', err: sorry, code: 2 })
  expect(await gone('--version')).toMatchObject({ out: expect.stringMatching(/^rollbook \d/), err: '', code: 0 })
  expect(await gone('--help')).toMatchObject({ err: '', code: 0 })
})

test('a byte order mark takes no column', async () => {
  write('mark/twice.media.yaml', '\ufeffprofile: twice\nprofile: twice\n')
  write('mark/rollbook.yaml', '\ufeff{shop: a, shop: b}\n')
  const { findings } = JSON.parse((await rollbook(['check', 'mark', '--format', 'json'])).out)
  const columns = findings.flatMap((f: { code: string; file: string; range: { start: { column: number } } }) =>
    f.code === 'duplicate-key' ? [`${f.file} ${f.range.start.column}`] : [],
  )
  expect(columns).toEqual(['mark/rollbook.yaml 11', 'mark/twice.media.yaml 1'])
})

test('long output reaches its reader whole', async () => {
  const entries = Array.from({ length: 50 }, (_, i) => `wrong-${i}: 1`).join('\n')
  for (let i = 0; i < 60; i++) write(`long/many-${i}.media.yaml`, `profile: many-${i}\n${entries}\n`)
  for (const format of ['text', 'json']) {
    const { out, code } = await rollbook(['check', 'long', '--format', format])
    expect(out.match(/ has no 'wrong-\d+'|'wrong-\d+'/g)?.length).toBeGreaterThanOrEqual(3000)
    expect(code).toBe(1)
  }
})

test('explains each topic as the source does, though the pages are not in the bundle', async () => {
  const child = spawn(process.execPath, [join(folder, 'dist', 'server.cjs'), '--stdio'], { cwd: folder })
  const client = createProtocolConnection(new StreamMessageReader(child.stdout), new StreamMessageWriter(child.stdin))
  client.listen()
  await client.sendRequest(InitializeRequest.type, { processId: null, rootUri: null, capabilities: {} })
  for (const { topic } of explainTopics()) {
    const { markdown } = await client.sendRequest<{ markdown: string }>('rollbook/explain', { topic })
    expect(markdown).toBe(explainTopic(topic))
  }
  child.kill()
  client.dispose()
  const bundled = readdirSync(join(folder, 'dist')).filter((name) => /^(?:server|commands|engine-.*)\.cjs$/.test(name))
  expect(bundled.length).toBeGreaterThan(2)
  for (const name of bundled) {
    const code = readFileSync(join(folder, 'dist', name), 'utf8')
    const rule = RULES.find(({ docs }) => code.includes(docs.split(/[\n`]/).find((part) => part.length > 30) ?? docs))
    expect([name, rule?.code]).toEqual([name, undefined])
  }
})

test('the same bundles, put together into one script, are a server in a worker, where there is no Node', async () => {
  const program = await programOf((name) => readFile(join(folder, 'dist', name)), 'server.cjs')
  const answers = new Map<number, (result: unknown) => void>()
  const messages: { id?: number; result?: unknown; method?: string }[] = []
  // What a worker has of itself, beside the language.
  const { TextDecoder, TextEncoder, URL, atob, crypto, performance, setTimeout, clearTimeout } = globalThis
  const scope = createContext({
    ...{ TextDecoder, TextEncoder, URL, atob, crypto, performance, setTimeout, clearTimeout, WorkerGlobalScope: Object },
    postMessage: (message: (typeof messages)[number]) => {
      messages.push(message)
      if (message.id !== undefined && message.method === undefined) answers.get(message.id)?.(message.result)
    },
    close: () => messages.push({ method: 'close' }),
  }) as { onmessage?: (event: { data: unknown }) => void }
  runInContext(program, scope)
  const send = (message: object): void => scope.onmessage?.({ data: { jsonrpc: '2.0', ...message } })
  let asked = 0
  const ask = (method: string, params: object): Promise<unknown> =>
    new Promise((resolve) => {
      answers.set(++asked, resolve)
      send({ id: asked, method, params })
    })
  expect(
    await ask('initialize', { processId: null, rootUri: null, capabilities: { textDocument: { diagnostic: {} } } }),
  ).toMatchObject({
    serverInfo: { name: 'rollbook' },
  })
  send({ method: 'initialized', params: {} })
  const textDocument = { uri: 'virtual:/x/x.media.yaml', languageId: 'rollbook', version: 1, text: 'profile: x\nprofile: x\n' }
  send({ method: 'textDocument/didOpen', params: { textDocument } })
  expect(await ask('textDocument/diagnostic', { textDocument })).toMatchObject({
    items: [{ code: 'missing-key' }, { code: 'duplicate-key' }],
  })
  const { topic = '' } = explainTopics()[0] ?? {}
  expect(await ask('rollbook/explain', { topic })).toEqual({ markdown: explainTopic(topic) })
  await ask('shutdown', {})
  send({ method: 'exit' })
  await vi.waitFor(() => expect(messages.at(-1)).toEqual({ method: 'close' }))
})

test('starts the language server beside it', async () => {
  const child = spawn(process.execPath, [join(folder, 'dist', 'rollbook.cjs'), 'lsp', '--stdio'], { cwd: folder })
  const client = createProtocolConnection(new StreamMessageReader(child.stdout), new StreamMessageWriter(child.stdin))
  client.listen()
  const { serverInfo } = await client.sendRequest(InitializeRequest.type, { processId: null, rootUri: null, capabilities: {} })
  expect(serverInfo).toMatchObject({ name: 'rollbook', version: (await rollbook(['--version'])).out.trim().split(' ')[1] })
  await client.sendRequest('shutdown')
  const ended = new Promise((resolve) => child.on('close', resolve))
  await client.sendNotification('exit')
  expect(await ended).toBe(0)
  client.dispose()
})

// A recursion that comes near the end of the stack ends some engines' whole process, which nothing can catch: whether it does hangs on what
// the process has done before. So each text is given to a process of its own.
describe.each([
  ['brackets', '['],
  ['braces', '{'],
  ['braces with a key', '{a: '],
  ['question marks', '? '],
  ['dashes', '- '],
])('a text of opening %s', (_, opening) => {
  const SIZES = [1200, 2000, 16_000, 1_048_576]

  test.each(some(SIZES, 3))('of %i characters is refused by the command line', async (size) => {
    const name = `deep-${opening.charCodeAt(0)}-${size}`
    write(`deep/${name}/x.media.yaml`, opening.repeat(size / opening.length))
    const { out, code } = await rollbook(['check', `deep/${name}`])
    // 2, for nothing of the document could be judged.
    expect([out, code]).toEqual([expect.stringMatching(/ too-deep /), 2])
  })

  test.each([
    ['before it has read anything', undefined],
    ['with a shop open', join(ROOT, 'samples', 'tern-quay')],
  ])('is refused by the language server %s', async (_, shop) => {
    const { opened, stop } = await server(shop)
    for (const size of SIZES)
      expect(await opened(`x-${size}.media.yaml`, opening.repeat(size / opening.length))).toContain('too-deep')
    await stop()
  })
})

/** The language server of the bundle, and what it finds in a document that is opened. */
async function server(shop: string | undefined) {
  const child = spawn(process.execPath, [join(folder, 'dist', 'server.cjs'), '--stdio'])
  const client = createProtocolConnection(new StreamMessageReader(child.stdout), new StreamMessageWriter(child.stdin))
  const ended = new Promise<number | null>((resolve) => child.on('close', resolve))
  const told = new Map<string, (codes: readonly unknown[]) => void>()
  client.onNotification(PublishDiagnosticsNotification.type, ({ uri, diagnostics }) =>
    told.get(uri)?.(diagnostics.map((d) => d.code)),
  )
  client.listen()
  const root = pathToFileURL(shop ?? folder).href
  const workspaceFolders = shop === undefined ? null : [{ uri: root, name: 'shop' }]
  await client.sendRequest(InitializeRequest.type, { processId: null, rootUri: null, capabilities: {}, workspaceFolders })
  await client.sendNotification(InitializedNotification.type, {})
  const opened = (name: string, text: string): Promise<readonly unknown[]> =>
    new Promise((resolve, reject) => {
      const uri = `${root}/${name}`
      told.set(uri, resolve)
      void ended.then((code) => reject(new Error(`The server ended with ${code}.`)))
      void client.sendNotification(DidOpenTextDocumentNotification.type, {
        textDocument: { uri, languageId: 'rollbook', version: 1, text },
      })
    })
  // The shop is read first, as it is where an editor opens one of its documents.
  if (shop !== undefined) await opened('first.media.yaml', 'profile: first\nstock: banner-510\n')
  const stop = async (): Promise<void> => {
    await client.sendRequest('shutdown')
    await client.sendNotification('exit')
    expect(await ended).toBe(0)
    client.dispose()
  }
  return { opened, stop }
}

describe.skipIf(process.platform === 'win32')('on a full disk', () => {
  /** A shell lets no file grow beyond this many blocks, as a disk that is full does: all of these write more. */
  const FULL = 1
  const full = (line: string): Promise<Ran> => {
    const run = `trap '' XFSZ; ulimit -f ${FULL}; exec '${process.execPath}' '${join(folder, 'dist', 'rollbook.cjs')}' ${line}`
    return ran('bash', ['-c', run], { cwd: join(folder, 'full') })
  }

  test.each([
    ['sheet e --html sheet.html', 2],
    ['picture e --html page.html', 2],
    // What is kept is no part of the answer.
    ['check --cache kept', 1],
  ])('%s leaves nothing that is not whole', async (line, code) => {
    for (const [name, text] of parseFixture(shopWith()).files) write(`full/${name.slice(FIXTURES.length)}`, text)
    expect(await full(line)).toMatchObject({ code, err: expect.stringMatching(/EFBIG/) })
    expect(readdirSync(join(folder, 'full')).filter((name) => /html|tmp/.test(name))).toEqual([])
    if (line.includes('kept')) expect(readdirSync(join(folder, 'full', 'kept'))).toEqual([])
  })
})
