// Bundles what is shipped into dist/: the VS Code client, the language server, the command line and the sample shop.
// `npm run build` minifies; `npm run build -- --debug` keeps names and adds source maps for a debugger; `--out <folder>` builds elsewhere.
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { join, relative, resolve, sep } from 'node:path'
import { build } from 'esbuild'

const ROOT = join(import.meta.dirname, '..', '..')
const OUT = process.argv.indexOf('--out') + 1
const DIST = OUT > 0 && process.argv[OUT] ? resolve(process.argv[OUT]) : join(ROOT, 'dist')
const SAMPLE_SHOP = join(ROOT, 'samples', 'tern-quay')
const DEBUG = process.argv.includes('--debug')
const QUIET = process.argv.includes('--quiet')
const VERSION = (JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { version: string }).version

interface Bundle {
  readonly entry: string
  readonly file: string
  readonly external?: string[]
  readonly banner?: string
}

const BUNDLES: readonly Bundle[] = [
  { entry: 'client/src/extension.ts', file: 'extension.cjs', external: ['vscode'] },
  { entry: 'server/src/main-node.ts', file: 'server.cjs' },
  { entry: 'server/src/main-cli.ts', file: 'rollbook.cjs', banner: '#!/usr/bin/env node' },
]

rmSync(DIST, { recursive: true, force: true })
mkdirSync(DIST, { recursive: true })
const lines = await Promise.all(BUNDLES.map(bundle))
lines.push(samples())
if (!QUIET) process.stdout.write(`${lines.join('\n')}\n`)

async function bundle({ entry, file, external = [], banner }: Bundle): Promise<string> {
  if (!existsSync(join(ROOT, entry))) return `${file}: left out, there is no ${entry}`
  const outfile = join(DIST, file)
  await build({
    absWorkingDir: ROOT,
    entryPoints: [entry],
    outfile,
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'cjs',
    external,
    // The packages' ES modules shake better than their CommonJS twins.
    mainFields: ['module', 'main'],
    minify: !DEBUG,
    sourcemap: DEBUG ? 'linked' : false,
    define: { ROLLBOOK_VERSION: JSON.stringify(VERSION) },
    legalComments: 'none',
    logLevel: 'warning',
    ...(banner === undefined ? {} : { banner: { js: banner } }),
  })
  if (banner?.startsWith('#!')) chmodSync(outfile, 0o755)
  return `${file}: ${kilobytes(outfile)}`
}

/** Writes the sample shop as one object of relative path to text, which the walkthrough unpacks into a folder of the person's choice. */
function samples(): string {
  const texts: Record<string, string> = {}
  for (const path of filesBelow(SAMPLE_SHOP)) texts[relative(SAMPLE_SHOP, path).split(sep).join('/')] = readFileSync(path, 'utf8')
  const file = join(DIST, 'samples.json')
  writeFileSync(file, JSON.stringify(texts))
  return `samples.json: ${Object.keys(texts).length} files, ${kilobytes(file)}`
}

function filesBelow(folder: string): string[] {
  if (!existsSync(folder)) return []
  const entries = readdirSync(folder, { withFileTypes: true, recursive: true })
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort()
}

function kilobytes(file: string): string {
  return `${(statSync(file).size / 1000).toFixed(1)} kB`
}
