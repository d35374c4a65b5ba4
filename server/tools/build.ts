// Bundles what is shipped into dist/: the VS Code client, the language server, the command line, the pages of explanation, the sample shop,
// and the licences of the packages that are bundled.
// `npm run build` minifies; `npm run build -- --debug` keeps names and adds source maps for a debugger; `--out <folder>` builds elsewhere.
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { basename, join, relative, resolve, sep } from 'node:path'
import { minify } from '@swc/core'
import { type BuildOptions, build, type Metafile, type Plugin, transform } from 'esbuild'
import { COMPILE_CACHE, COMPILE_LESS_FIRST } from './banners.ts'
import { yamlLate } from './late.ts'
import { leanClient } from './lean-client.ts'
import { noticesOf } from './notices.ts'
import { PAGES_FILE, pagesApart, pagesText } from './pages.ts'

const ROOT = join(import.meta.dirname, '..', '..')
// The tests of the installed command line build into a folder of their own.
const OUT = process.argv.indexOf('--out') + 1
const DIST = OUT > 0 && process.argv[OUT] ? resolve(process.argv[OUT]) : join(ROOT, 'dist')
const SAMPLE_SHOP = join(ROOT, 'samples', 'tern-quay')
const DEBUG = process.argv.includes('--debug')
const QUIET = process.argv.includes('--quiet')

const { version } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'))

const OPTIONS: BuildOptions = {
  absWorkingDir: ROOT,
  outdir: DIST,
  bundle: true,
  platform: 'node',
  target: 'node20',
  // The packages' ES modules shake better than their CommonJS twins.
  mainFields: ['module', 'main'],
  minify: !DEBUG,
  sourcemap: DEBUG ? 'inline' : false,
  // The licences of what is bundled are shipped whole in a file of their own.
  legalComments: 'none',
  logLevel: 'warning',
  outExtension: { '.js': '.cjs' },
  define: { ROLLBOOK_VERSION: JSON.stringify(version) },
}

/** The texts of help, which the command and its engine both read. */
const helpApart: Plugin = {
  name: 'help-apart',
  setup: ({ onResolve }) =>
    onResolve({ filter: /\/help\.ts$/ }, ({ kind }) =>
      kind === 'entry-point' ? undefined : { path: './help.cjs', external: true },
    ),
}

/** How messages go over a pipe, which the client and the server both read. */
const messagesApart: Plugin = {
  name: 'messages-apart',
  setup: ({ onResolve }) =>
    onResolve({ filter: /^vscode-jsonrpc(?:\/node)?$/ }, ({ kind }) =>
      kind === 'entry-point' ? undefined : { path: './messages.cjs', external: true },
    ),
}

/** The client runs where there is no Node as well: there `client/src/parts.ts` provides it. */
const messagesProvided: Plugin = {
  name: 'messages-provided',
  setup({ onLoad, onResolve }) {
    onResolve({ filter: /^vscode-jsonrpc(?:\/node)?$/ }, () => ({ path: 'messages', namespace: 'messages' }))
    onResolve({ filter: /^\.\/messages\.cjs$/ }, ({ path }) => ({ path, external: true }))
    onLoad({ filter: /.*/, namespace: 'messages' }, () => ({
      contents: "module.exports = globalThis.rollbookMessages ?? require('./messages.cjs')",
      loader: 'js',
    }))
  },
}

/** What is imported late is loaded as CommonJS as well: Node's own loader of ES modules would be more than a start of its own. */
const LATE = { supported: { 'dynamic-import': false } }

mkdirSync(DIST, { recursive: true })
const metafiles = await Promise.all([
  client(),
  part('help', 'server/src/cli/help.ts'),
  part('messages', 'vscode-jsonrpc/node'),
  command(),
  serverAndCommands(),
])
written(join(DIST, 'third-party-notices.txt'), noticesOf(ROOT, metafiles))
written(join(DIST, PAGES_FILE), pagesText())
samples()
written(join(DIST, 'readme.md'), pageOfExtension(readFileSync(join(ROOT, 'README.md'), 'utf8')))
if (!QUIET) process.stdout.write(`${readdirSync(DIST).map(sizeOf).join('\n')}\n`)

/** Under the one ending that a browser's extension host takes. */
async function client(): Promise<Metafile> {
  const entryPoints = { extension: 'client/src/extension.ts' }
  const { metafile, outputFiles } = await build({
    ...OPTIONS,
    metafile: true,
    entryPoints,
    format: 'cjs',
    outExtension: { '.js': '.js' },
    external: ['vscode'],
    plugins: [messagesProvided, leanClient],
    write: false,
    ...LATE,
  })
  for (const { path, text } of outputFiles) written(path, await shortest(text))
  return metafile
}

/** A part that two others read. */
async function part(name: string, entry: string): Promise<Metafile> {
  const { metafile, outputFiles } = await build({
    ...OPTIONS,
    metafile: true,
    entryPoints: { [name]: entry },
    format: 'cjs',
    write: false,
  })
  for (const { path, text } of outputFiles) written(path, await shortest(text))
  return metafile
}

/** The command itself, which answers what it can without the commands. What both have is data, and short. */
async function command(): Promise<Metafile> {
  const { metafile, outputFiles } = await build({
    ...OPTIONS,
    metafile: true,
    write: false,
    entryPoints: { rollbook: 'server/src/main-cli.ts' },
    format: 'cjs',
    banner: { js: '#!/usr/bin/env node' },
    plugins: [
      helpApart,
      {
        name: 'commands-apart',
        setup: ({ onResolve }) =>
          onResolve({ filter: /\/main-commands\.ts$/ }, () => ({ path: './commands.cjs', external: true })),
      },
    ],
    ...LATE,
  })
  for (const { path, text } of outputFiles) written(path, await shortest(text))
  chmodSync(join(DIST, 'rollbook.cjs'), 0o755)
  return metafile
}

/**
 * The server and the commands are the same engine, so it is shipped once, as a part of its own. Only ES modules can be split:
 * each part is made CommonJS afterwards, which the editor's extension host can fork on every version.
 */
async function serverAndCommands(): Promise<Metafile> {
  const { outputFiles = [], metafile } = await build({
    ...OPTIONS,
    metafile: true,
    entryPoints: { server: 'server/src/main-server.ts', commands: 'server/src/main-commands.ts' },
    plugins: [helpApart, messagesApart, pagesApart, yamlLate],
    ...LATE,
    format: 'esm',
    splitting: true,
    chunkNames: 'engine-[hash]',
    write: false,
  })
  const fresh = await Promise.all(
    outputFiles.map(async ({ path, text }) => {
      const options = { format: 'cjs', platform: 'node', target: 'node20', sourcemap: OPTIONS.sourcemap ?? false } as const
      const { code } = await transform(text, { ...options, minify: !DEBUG, legalComments: 'none' })
      const first = basename(path).startsWith('engine-') ? '' : COMPILE_LESS_FIRST + COMPILE_CACHE
      written(path, first + (await shortest(code)))
      return basename(path)
    }),
  )
  for (const name of readdirSync(DIST)) if (name.startsWith('engine-') && !fresh.includes(name)) rmSync(join(DIST, name))
  return metafile
}

/** A file that is the same already is left alone: whoever reads it meanwhile, such as an editor under test, finds it whole. */
function written(path: string, text: string): void {
  if (!existsSync(path) || readFileSync(path, 'utf8') !== text) writeFileSync(path, text)
}

/** What esbuild has minified, by a minifier that follows values further: a twentieth less to fetch. */
async function shortest(script: string): Promise<string> {
  if (DEBUG) return script
  const options = { compress: { passes: 4, ecma: 2022, toplevel: true }, mangle: { toplevel: true } } as const
  return (await minify(script, { ...options, module: false })).code
}

/** What an editor shows of the extension: of the README what is done in the editor, without pictures that only the repository holds. */
function pageOfExtension(readme: string): string {
  const [head = '', ...sections] = readme.replace(/^!\[.*\n\n?/gm, '').split(/^(?=## )/m)
  const told = ['In VS Code', 'What a number is worth', 'What it computes, and how far to trust it', 'License']
  return head + told.map((title) => sections.find((section) => section.startsWith(`## ${title}\n`)) ?? '').join('')
}

/** Writes the sample shop as one object of relative path to text, which the walkthrough unpacks into a folder of the person's choice. */
function samples(): void {
  const texts: Record<string, string> = {}
  for (const path of filesBelow(SAMPLE_SHOP)) texts[relative(SAMPLE_SHOP, path).split(sep).join('/')] = readFileSync(path, 'utf8')
  written(join(DIST, 'samples.json'), JSON.stringify(texts))
}

function filesBelow(folder: string): string[] {
  const entries = readdirSync(folder, { withFileTypes: true, recursive: true })
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort()
}

function sizeOf(name: string): string {
  return `${name}: ${(statSync(join(DIST, name)).size / 1000).toFixed(1)} kB`
}
