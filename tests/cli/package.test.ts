// What `npm pack` makes, installed into an empty folder without a network, as a build server gets it: it must run without a build.
import { execFileSync, spawnSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Metafile } from 'esbuild'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { bundledPackages, noticesOf } from '../../server/tools/notices.ts'

const ROOT = fileURLToPath(new URL('../..', import.meta.url))
let folder = ''
const installed = (...path: string[]): string => join(folder, 'node_modules', 'rollbook', ...path)

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'rollbook-pack-'))
  // It builds first, which `npm test` has done just now.
  npm(ROOT, 'pack', '--silent', ...(process.env.BUILT ? ['--ignore-scripts'] : []), '--pack-destination', folder)
  const [archive = ''] = readdirSync(folder)
  npm(folder, 'install', '--silent', '--offline', '--prefix', folder, join(folder, archive))
}, 120_000)

afterAll(() => rmSync(folder, { recursive: true, force: true }))

function npm(cwd: string, ...args: readonly string[]): void {
  execFileSync('npm', args, { cwd, stdio: ['ignore', 'ignore', 'inherit'], shell: process.platform === 'win32' })
}

test('holds the command line, the server, the schemas and the licences, and nothing else', () => {
  const files = readdirSync(installed(), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(installed().length + 1))
    .map((path) => path.replaceAll('\\', '/').replace(/engine-\w+/, 'engine-…'))
  expect([...new Set(files)].sort()).toEqual([
    'CHANGELOG.md',
    'LICENSE',
    'README.md',
    'dist/commands.cjs',
    'dist/engine-….cjs',
    'dist/help.cjs',
    'dist/messages.cjs',
    'dist/pages.json',
    'dist/rollbook.cjs',
    'dist/server.cjs',
    'dist/third-party-notices.txt',
    'package.json',
    'schemas/catalog.json',
    'schemas/common.schema.json',
    'schemas/media.schema.json',
    'schemas/printer.schema.json',
    'schemas/shop.schema.json',
    'schemas/stock.schema.json',
  ])
})

test('runs from an empty folder by its name', () => {
  mkdirSync(join(folder, 'shop'))
  writeFileSync(join(folder, 'shop', 'twice.media.yaml'), 'profile: twice\nprofile: twice\n')
  const { stdout, status } = spawnSync('npx', ['--offline', 'rollbook', 'check', 'shop'], {
    cwd: folder,
    encoding: 'utf8',
    shell: process.platform === 'win32',
  })
  expect(status).toBe(1)
  expect(stdout).toContain('duplicate-key')
})

test('ships the licence of each package that it bundles', () => {
  const notices = readFileSync(installed('dist', 'third-party-notices.txt'), 'utf8')
  // A package that the bundle uses for certain, with the words that its licence asks to be kept.
  expect(notices).toMatch(/^yaml \d+\.\d+\.\d+ \(ISC\)\n\nCopyright Eemeli Aro/m)
  expect(notices).toMatch(/^vscode-jsonrpc \d+\.\d+\.\d+ \(MIT\)\n\nCopyright \(c\) Microsoft Corporation/m)
  expect(notices).toMatch(/^vscode-languageserver-textdocument \d+\.\d+\.\d+ \(MIT\)\n\nCopyright \(c\) Microsoft Corporation/m)
  expect(notices).toMatch(/^psychrolib \d+\.\d+\.\d+ \(MIT\)$/m)
  expect(notices).not.toMatch(/^(?:esbuild|vitest|mathjs) /m)
})

test('names each bundled package once, with those inside another package and those of a scope', () => {
  const inputs = [
    'server/src/main-cli.ts',
    'node_modules/yaml/dist/index.js',
    'node_modules/yaml/dist/parse.js',
    'node_modules/@a/b/index.js',
    'node_modules/x/node_modules/y/i.js',
  ]
  expect(bundledPackages([metafile(inputs)])).toEqual(['node_modules/@a/b', 'node_modules/x/node_modules/y', 'node_modules/yaml'])
})

test('refuses to ship a package without a licence text', () => {
  mkdirSync(join(folder, 'node_modules', 'bare'))
  writeFileSync(join(folder, 'node_modules', 'bare', 'package.json'), '{"name":"bare","version":"1.0.0"}')
  expect(() => noticesOf(folder, [metafile(['node_modules/bare/index.js'])])).toThrow(
    /bare is bundled, but its package holds no licence/,
  )
})

const metafile = (inputs: readonly string[]): Metafile => ({
  inputs: {},
  outputs: {
    'dist/x.js': {
      bytes: 1,
      imports: [],
      exports: [],
      inputs: Object.fromEntries(inputs.map((path) => [path, { bytesInOutput: 1 }])),
    },
  },
})
