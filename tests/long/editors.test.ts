// Other editors, as README.md says: its recipes for Neovim and Emacs, word for word, over the package that a person installs.
import { execFileSync, spawnSync } from 'node:child_process'
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { delimiter, join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { installPackages } from '../support/debian.ts'
import { expectRecorded } from '../support/known-clients.ts'
import { told } from './told.ts'

const ROOT = join(import.meta.dirname, '..', '..')
const README = readFileSync(join(ROOT, 'README.md'), 'utf8')
const SAMPLES = join(ROOT, 'samples', 'tern-quay')
const PROFILE = join('profiles', 'banner-510-bay-1.media.yaml')

/** What a check of `editors/` writes down. */
interface Told {
  readonly version: string
  /** What of the editor talks to servers, where that has a version of its own. */
  readonly library?: string
  /** As the editor declares them. */
  readonly capabilities: object
  readonly diagnostics: readonly { readonly line: number; readonly message: string }[]
  readonly hover: { readonly kind: string; readonly value: string }
  readonly completion: readonly string[]
}

interface Editor {
  /** The language of the recipe's block in README.md. */
  readonly recipe: string
  /** Where the editor reads the recipe from, below the person's home folder. */
  readonly file: string
  /** Debian's packages. */
  readonly packages: readonly string[]
  /** A command that ends well where the editor is there, with all that the recipe needs. */
  readonly present: readonly string[]
  readonly run: (home: string, profile: string) => readonly string[]
  /** What a person answers. */
  readonly answers?: string
}

const check = (name: string): string => join(import.meta.dirname, 'editors', name)

const EDITORS: Readonly<Record<string, Editor>> = {
  Neovim: {
    recipe: 'lua',
    file: '.config/nvim/init.lua',
    packages: ['neovim'],
    present: ['nvim', '--version'],
    run: (_, profile) => ['nvim', '--headless', profile, '-c', `luafile ${check('check.lua')}`],
  },
  Emacs: {
    recipe: 'elisp',
    file: '.emacs.d/init.el',
    packages: ['emacs-nox', 'elpa-eglot'],
    present: ['emacs', '--batch', '-f', 'package-activate-all', '--eval', "(require 'eglot)"],
    // In batch mode Emacs reads no init file and activates no package by itself.
    run: (home, profile) => [
      ...['emacs', '--batch', '-f', 'package-activate-all', '-l', join(home, '.emacs.d', 'init.el')],
      ...['-l', check('check.el'), profile],
    ],
    answers: 'y\n', // To the list of files that a rename edits.
  },
}

const work = mkdtempSync(join(tmpdir(), 'rollbook-editors-'))
let bin = ''

beforeAll(() => {
  const pack = ['pack', '--silent', '--pack-destination', work]
  execFileSync('npm', pack, { cwd: ROOT, stdio: ['ignore', 'ignore', 'inherit'] })
  const [archive = ''] = readdirSync(work)
  execFileSync('npm', ['install', '--silent', '--offline', '--prefix', work, join(work, archive)], { cwd: work })
  bin = join(work, 'node_modules', '.bin')
}, 300_000)

afterAll(() => rmSync(work, { recursive: true, force: true, maxRetries: 5 }))

describe.each(Object.entries(EDITORS))('the recipe for %s', (name, editor) => {
  const home = join(work, name)
  const shop = join(home, 'tern-quay')
  let found: Told

  beforeAll(() => {
    if (!works(editor.present)) installPackages(...editor.packages)
    if (!works(editor.present)) throw new Error(`${name} is missing on this machine: install ${editor.packages.join(' and ')}`)
    cpSync(SAMPLES, shop, { recursive: true })
    mkdirSync(join(home, editor.file, '..'), { recursive: true })
    writeFileSync(join(home, editor.file), recipeIn(editor.recipe))
    const [command = '', ...args] = editor.run(home, join(shop, PROFILE))
    const { status, stdout, stderr } = spawnSync(command, args, {
      cwd: home,
      env: { PATH: `${bin}${delimiter}${process.env.PATH}`, HOME: home, LANG: 'C.UTF-8', TOLD: join(home, 'told.json') },
      input: editor.answers ?? '',
      encoding: 'utf8',
      timeout: 240_000,
      killSignal: 'SIGKILL',
    })
    expect(status, `${stdout}\n${stderr}`).toBe(0)
    found = JSON.parse(readFileSync(join(home, 'told.json'), 'utf8'))
    told(
      `${name} ${found.version} ran the recipe of README.md: ${found.diagnostics.length} findings, a hover in ${found.hover.kind}`,
    )
  }, 600_000)

  test('asks for what the table of methods in DEVELOPERS.md says', () => {
    const { version, library, capabilities } = found
    expectRecorded(name, [version, library].filter((part) => part !== undefined).join(', '), capabilities)
  })

  test('tells the findings of a profile at their lines', () => {
    const at = (line: number) => found.diagnostics.filter((one) => one.line === line).map(({ message }) => message)
    expect(at(lineOf('  correction:'))).toEqual([
      expect.stringContaining('Key in +0.24 %: prints come out 1.2 mm per metre short.'),
    ])
    expect(at(lineOf('fault: length-short'))).toEqual([expect.stringContaining('length-short is not settled.')])
    expect(found.diagnostics).toHaveLength(2)
  })

  test('tells on a hover what is to be done, with the table as it is read', () => {
    const lines = found.hover.value.split('\n').map((line) => line.replace(/[*`|]/g, '').replace(/\s+/g, ' ').trim())
    expect(lines).toContain('Key in +0.24 %: with +0.12 % prints come out 1.2 mm per metre short.')
    expect(lines).toContain('2026-11-19 1800 mm 1797.8 mm +0.24 % ±0.033 % 82 %')
    if (found.hover.kind === 'plaintext') expect(found.hover.value).not.toMatch(/\*\*|`|^\||\\[-*_]/m)
  })

  test('completes a value with the words of the printer', () => {
    expect(found.completion).toEqual(['1', '2', '3', '4'])
  })

  test('renames a stock in all documents, open or not, and nothing else', () => {
    const after = textsOf(shop)
    const before = textsOf(SAMPLES)
    const changed = [...after].filter(([file, text]) => before.get(file) !== text).map(([file]) => file)
    expect(changed.sort()).toEqual([PROFILE, join('stocks', 'banner-510.stock.yaml')])
    expect(after.size).toBe(before.size)
    for (const file of changed) {
      const text = after.get(file)!
      expect(text).toMatch(/^stock: banner-520$/m)
      // A state is called after what it holds, so its name follows.
      const state = /^ {2}(s\w{4}): \{/m.exec(text)?.[1] ?? 's1q50'
      expect(text.replaceAll('banner-520', 'banner-510').replaceAll(state, 's1q50')).toBe(before.get(file))
    }
  })
})

/** The one block of that language in README.md. */
function recipeIn(language: string): string {
  const blocks = [...README.matchAll(new RegExp(`^\`\`\`${language}\n(.*?)^\`\`\``, 'gms'))]
  expect(blocks, `blocks of ${language} in README.md`).toHaveLength(1)
  return blocks[0]![1]!
}

const works = ([command = '', ...args]: readonly string[]): boolean => spawnSync(command, args, { stdio: 'ignore' }).status === 0

const lineOf = (text: string): number =>
  readFileSync(join(SAMPLES, PROFILE), 'utf8')
    .split('\n')
    .findIndex((line) => line.includes(text)) + 1

/** The documents of a shop; an editor that can renames the file of what it renames too. */
function textsOf(folder: string): ReadonlyMap<string, string> {
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.yaml'))
  return new Map(
    files.map((file) => [file.replace('banner-520.stock', 'banner-510.stock'), readFileSync(join(folder, file), 'utf8')]),
  )
}
