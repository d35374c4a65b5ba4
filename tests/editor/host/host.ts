// A real VS Code workbench without a desktop: the workbench server on a free loopback port, opened in Chromium.
// Everything is bounded in time, kept in temporary folders, and ended at close.
import { type ChildProcess, execFileSync, spawn, spawnSync } from 'node:child_process'
import { randomBytes } from 'node:crypto'
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join, resolve } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { openBrowser } from './browser.ts'
import { installed } from './setup.ts'
import { DONE, TAG, wrapTests } from './wrap-tests.ts'

export interface HostOptions {
  /** Folders of extensions under development. */
  readonly extensions?: readonly string[]
  /** A folder of installed extensions, see `installExtension`. */
  readonly extensionsDir?: string
  /** A CommonJS module that exports `run()`, loaded into the extension host. */
  readonly tests?: string
  /** A folder or a .code-workspace file, or the address of a folder. */
  readonly folder?: string
  /** Runs the extensions under development, and the tests, in the browser's own extension host: there is no Node. The tests are one file then. */
  readonly web?: boolean
  readonly openFile?: string
  readonly settings?: Readonly<Record<string, unknown>>
  /** Added to the environment of the extension host. */
  readonly env?: Readonly<Record<string, string | undefined>>
  readonly userDataDir?: string
  /** Opens the folder untrusted (Restricted Mode). */
  readonly restricted?: boolean
  readonly onTestLog?: (type: string, text: string) => void
  readonly onLog?: (type: string, text: string) => void
}

export interface Host {
  readonly page: Page
  /** The tests' exit status; rejects when the host ends before them. */
  readonly result: Promise<number>
  /** What the page asked of other machines. */
  readonly requests: readonly string[]
  /** The ids of the host's living processes whose command line matches `pattern`. */
  readonly processes: (pattern: string) => number[]
  readonly log: () => string
  readonly close: () => Promise<void>
}

interface WorkbenchServer {
  readonly url: string
  readonly authority: string
  readonly token: string
  readonly gone: Promise<unknown>
  readonly stop: () => Promise<void>
  readonly processes: (pattern: string) => number[]
  readonly log: () => string
}

const SETTINGS = JSON.parse(readFileSync(join(import.meta.dirname, 'settings.json'), 'utf8'))
/**
 * Of the extensions that VS Code brings what a person with a shop may meet: pages, pictures, settings, the languages of files that lie beside ours. The
 * others are read, told of and registered at each start, a tenth of it, and no test looks at them.
 */
const BROUGHT = [
  ...['configuration-editing', 'json', 'json-language-features', 'xml', 'yaml', 'ini', 'diff', 'log'],
  ...['markdown-basics', 'markdown-language-features', 'markdown-math', 'media-preview', 'simple-browser', 'html'],
  // What the page begins with by itself, and complains of where it is not there.
  ...['typescript-language-features', 'emmet', 'npm', 'extension-editing', 'github-authentication'],
  ...['git-base', 'merge-conflict', 'references-view', 'search-result', 'theme-defaults', 'theme-modern-icons', 'theme-seti'],
]
const NO_GALLERY = { EXTENSIONS_GALLERY: '{}' }

/** Installs a .vsix for `startHost({ extensionsDir })`, as the editor's own command line does. */
export function installExtension(vsix: string, extensionsDir: string): string {
  const root = installed()
  const dir = mkdtempSync(join(tmpdir(), 'editor-host-'))
  try {
    const args = ['--install-extension', resolve(vsix), '--extensions-dir', extensionsDir, '--server-data-dir', dir]
    return execFileSync(nodeOf(root), [mainOf(root), ...args, '--accept-server-license-terms', '--telemetry-level', 'off'], {
      encoding: 'utf8',
      env: { ...process.env, ...NO_GALLERY },
    })
  } finally {
    rmSync(dir, { recursive: true, force: true })
  }
}

export async function startHost(options: HostOptions = {}): Promise<Host> {
  const temporary = options.userDataDir === undefined ? mkdtempSync(join(tmpdir(), 'editor-host-')) : undefined
  const dir = resolve(options.userDataDir ?? temporary ?? '')
  writeSettings(dir, options)
  let server: WorkbenchServer | undefined
  let browser: Browser | undefined
  const close = async (): Promise<void> => {
    await Promise.allSettled([browser?.close(), server?.stop()])
    if (temporary !== undefined) rmSync(temporary, { recursive: true, force: true, maxRetries: 5 })
  }
  try {
    server = await startServer(dir, options)
    browser = await openBrowser()
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, reducedMotion: 'reduce' })
    await page.addInitScript(STILL)
    await page.context().addCookies([{ name: 'vscode-tkn', value: server.token, url: server.url }])
    const requests = watchRequests(page, server)
    const { result } = await watchTests(page, server, options)
    if (options.web) await serveToWorker(page, server, dir, options)
    await page.goto(`${server.url}?${queryOf(server, dir, options)}`, { timeout: 60_000 })
    await page.waitForSelector('.monaco-workbench', { timeout: 60_000 })
    const { processes, log } = server
    return { page, result, requests, processes, log, close }
  } catch (error) {
    await close()
    throw error
  }
}

function writeSettings(dir: string, options: HostOptions): void {
  const file = join(dir, 'data', 'User', 'settings.json')
  mkdirSync(dirname(file), { recursive: true })
  const trust = options.restricted
    ? { 'security.workspace.trust.enabled': true, 'security.workspace.trust.startupPrompt': 'never' }
    : {}
  writeFileSync(file, JSON.stringify({ ...SETTINGS, ...trust, ...options.settings }, null, 2))
}

async function startServer(dir: string, options: HostOptions): Promise<WorkbenchServer> {
  const root = installed()
  const token = randomBytes(16).toString('hex')
  const args = [
    ...['--host', '127.0.0.1', '--port', '0', '--connection-token', token, '--accept-server-license-terms'],
    '--enable-smoke-test-driver', // Or the page ignores the extensions under development.
    ...(options.restricted ? [] : ['--disable-workspace-trust']),
    ...['--telemetry-level', 'off'],
    ...['--agent-host-bridge-host', '127.0.0.1'], // A bridge without a port: no agent host process is started.
    ...['--server-data-dir', dir, '--user-data-dir', join(dir, 'data')],
    ...['--builtin-extensions-dir', brought(root, dir)],
    ...['--extensions-dir', options.extensionsDir ?? join(dir, 'extensions')],
  ]
  // setpriv (util-linux): the kernel ends the server should this process be killed; its children follow it.
  const server = spawn('setpriv', ['--pdeathsig', 'SIGTERM', nodeOf(root), mainOf(root), ...args], {
    detached: true, // Its own process group, so that all of it can be ended.
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, ...NO_GALLERY, ...options.env },
  })
  let log = ''
  const gone = new Promise((done) => server.on('exit', done))
  const port = new Promise<string>((found, failed) => {
    const take = (chunk: Buffer): void => {
      log += chunk
      const match = /Extension host agent listening on (\d+)/.exec(log)
      if (match?.[1] !== undefined) found(match[1])
    }
    server.stdout.on('data', take)
    server.stderr.on('data', take)
    server.on('error', failed)
    server.on('exit', (code, signal) => failed(new Error(`the server ended (${code ?? signal})`)))
  })
  const stop = stopper(server, gone)
  try {
    const authority = `127.0.0.1:${await within(port, 30_000, 'server start')}`
    return {
      url: `http://${authority}/`,
      authority,
      token,
      gone,
      stop,
      processes: (pattern) => processesOf(server, pattern),
      log: () => log,
    }
  } catch (error) {
    await stop()
    throw new Error(`${error instanceof Error ? error.message : error}\n${log}`)
  }
}

/** A folder of those extensions. */
function brought(root: string, dir: string): string {
  const folder = join(dir, 'brought')
  rmSync(folder, { recursive: true, force: true })
  mkdirSync(folder)
  for (const name of BROUGHT) symlinkSync(join(root, 'vscode', 'extensions', name), join(folder, name))
  return folder
}

function stopper(server: ChildProcess, gone: Promise<unknown>): () => Promise<void> {
  const killAll = (): void => {
    try {
      if (server.pid !== undefined) process.kill(-server.pid, 'SIGKILL')
    } catch {
      // The group is gone already.
    }
  }
  process.once('exit', killAll)
  return async () => {
    server.kill('SIGTERM')
    await within(gone, 3000, 'server end').catch(() => {})
    killAll()
    process.off('exit', killAll)
  }
}

/** All of a host's processes are in the group of its server. */
function processesOf(server: ChildProcess, pattern: string): number[] {
  const { stdout } = spawnSync('pgrep', ['-g', String(server.pid), '-f', pattern], { encoding: 'utf8' })
  return stdout.split('\n').filter(Boolean).map(Number)
}

/** Resources of a webview have an address outside, but are answered by the editor's own service worker: only what it leaves counts. */
const SERVED_INSIDE = /^https:\/\/[^/]+\.vscode-resource\.vscode-cdn\.net\//

function watchRequests(page: Page, server: WorkbenchServer): string[] {
  const asked: string[] = []
  page.on('request', (request) => {
    const url = request.url()
    if (/^https?:/.test(url) && !url.startsWith(server.url) && !SERVED_INSIDE.test(url)) asked.push(url)
  })
  page.on('response', (response) => {
    if (SERVED_INSIDE.test(response.url()) && !response.fromServiceWorker()) asked.push(response.url())
  })
  return asked
}

/** Ready when the page can report; `result` is settled when the tests are over. (Bare, it would be awaited with this function.) */
async function watchTests(page: Page, server: WorkbenchServer, options: HostOptions): Promise<{ result: Promise<number> }> {
  let finished = false
  const result = new Promise<number>((done, failed) => {
    page
      .exposeFunction('codeAutomationExit', (code: number) => {
        if (code === 0 && !finished) failed(new Error('the extension host ended before the tests did'))
        else done(code)
      })
      .catch(failed)
    page.on('console', (message) => {
      if (message.text().startsWith('No extension host found')) failed(new Error(message.text()))
    })
    page.on('crash', () => failed(new Error('the workbench page crashed')))
    page.on('close', () => failed(new Error('the workbench page closed')))
    server.gone.then(() => failed(new Error('the server ended')))
  })
  result.catch(() => {}) // A host without tests never awaits it.
  await page.exposeFunction('codeAutomationLog', (type: string, args: unknown[]) => {
    const text = args.map((value) => (typeof value === 'string' ? value : JSON.stringify(value))).join(' ')
    if (text === DONE) finished = true
    else if (text.startsWith(TAG)) options.onTestLog?.(type, text.slice(TAG.length))
    else options.onLog?.(type, text)
  })
  return { result }
}

function queryOf(server: WorkbenchServer, dir: string, options: HostOptions): URLSearchParams {
  const remote = (path: string): string => `vscode-remote://${server.authority}${resolve(path)}`
  const payload = [['skipWelcome', 'true']]
  if (options.openFile !== undefined) payload.push(['openFile', remote(options.openFile)])
  if (!options.web) {
    for (const path of options.extensions ?? []) payload.push(['extensionDevelopmentPath', remote(path)])
    if (options.tests !== undefined)
      payload.push(['extensionTestsPath', remote(wrapTests(options.tests, join(dir, 'tests.cjs')))])
  }
  const query = new URLSearchParams({ payload: JSON.stringify(payload) })
  if (options.folder === undefined)
    query.set('ew', 'true') // An empty window.
  else if (/^[\w-]+:/.test(options.folder)) query.set('folder', options.folder)
  else query.set(options.folder.endsWith('.code-workspace') ? 'workspace' : 'folder', resolve(options.folder))
  return query
}

/**
 * The browser's extension host takes extensions over HTTP, and learns of those under development from the page's configuration. Both are put in on the
 * browser's side: files as /local-files/..., and that configuration.
 */
async function serveToWorker(page: Page, server: WorkbenchServer, dir: string, options: HostOptions): Promise<void> {
  const { extensions = [], tests } = options
  const uri = (path: string): object => ({ scheme: 'http', authority: server.authority, path: `/local-files${resolve(path)}` })
  // Tests run in the host that holds their folder.
  const testsPath = tests === undefined ? undefined : join(resolve(extensions[0] ?? '.'), '.tests.cjs')
  const wrapped = tests === undefined ? undefined : wrapTests(tests, join(dir, 'tests.js'), true)
  await page.context().route(`${server.url}local-files/**`, (route) => {
    const path = decodeURIComponent(new URL(route.request().url()).pathname).slice('/local-files'.length)
    if (path === testsPath && wrapped !== undefined) return route.fulfill({ path: wrapped })
    return existsSync(path) ? route.fulfill({ path }) : route.fulfill({ status: 404, body: '' })
  })
  const development = { extensions: extensions.map(uri), ...(testsPath && { extensionTestsPath: uri(testsPath) }) }
  await page.addInitScript(`(${CONFIGURATION})(${JSON.stringify(development)})`)
}

/** Nothing turns, blinks or slides: without a graphics card each picture of it is work for the processor. */
const STILL = `if (self === top) addEventListener('DOMContentLoaded', () => {
  const style = document.createElement('style')
  style.textContent = '* { animation: none !important; transition: none !important }'
  document.head?.append(style)
})`

const CONFIGURATION = `(development) => {
  const { getAttribute } = Element.prototype
  Element.prototype.getAttribute = function (name) {
    const value = getAttribute.call(this, name)
    if (this.id !== 'vscode-workbench-web-configuration') return value
    const config = JSON.parse(value)
    return JSON.stringify({ ...config, developmentOptions: { ...config.developmentOptions, ...development } })
  }
}`

function nodeOf(root: string): string {
  return join(root, 'node', 'bin', 'node')
}

function mainOf(root: string): string {
  return join(root, 'vscode', 'out', 'server-main.js')
}

function within<T>(promise: Promise<T>, ms: number, what: string): Promise<T> {
  let timer: NodeJS.Timeout
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new Error(`${what}: no answer within ${ms} ms`)), ms)
  })
  return Promise.race([promise, late]).finally(() => clearTimeout(timer))
}
