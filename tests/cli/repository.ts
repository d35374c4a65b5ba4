// Shops in real git repositories, made anew in a temporary folder: fixtures committed, and commands run in them as a build runs them.
import { execFileSync } from 'node:child_process'
import { cpSync, existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { afterAll } from 'vitest'
import type { CliHost } from '../../server/src/cli/host.ts'
import { nodeCliHost } from '../../server/src/cli/node.ts'
import { runCli } from '../../server/src/cli/run.ts'
import { parseFixture, ROOT } from '../support/fixture.ts'

const made: string[] = []
afterAll(() => {
  for (const folder of made) rmSync(folder, { recursive: true, force: true })
}, 60_000)

export const newFolder = (): string => {
  const folder = mkdtempSync(join(tmpdir(), 'rollbook-since-'))
  made.push(folder)
  return folder
}

/** Git without the settings of whoever runs the tests. */
export const ENV = {
  ...process.env,
  GIT_CONFIG_GLOBAL: '/dev/null',
  GIT_CONFIG_SYSTEM: '/dev/null',
  GIT_AUTHOR_NAME: 'Kim',
  GIT_AUTHOR_EMAIL: 'kim@ternquay.example',
  GIT_COMMITTER_NAME: 'Kim',
  GIT_COMMITTER_EMAIL: 'kim@ternquay.example',
  // Nothing of it is kept: it neither waits for the disk nor looks after itself.
  GIT_CONFIG_COUNT: '2',
  GIT_CONFIG_KEY_0: 'core.fsync',
  GIT_CONFIG_VALUE_0: 'none',
  GIT_CONFIG_KEY_1: 'maintenance.auto',
  GIT_CONFIG_VALUE_1: 'false',
}

export const git = (folder: string, ...args: readonly string[]): string => gitOn(undefined, folder, ...args)

/** Git as at a moment, where one is given. */
export const gitOn = (when: string | undefined, folder: string, ...args: readonly string[]): string =>
  started(when, folder, 'git', args)

/** Starting takes longest, from a process as large as that of the tests: what belongs together goes into one shell. */
const started = (when: string | undefined, folder: string, command: string, args: readonly string[]): string =>
  execFileSync(command, args, {
    cwd: folder,
    env: { ...ENV, ...(when !== undefined && { GIT_AUTHOR_DATE: when, GIT_COMMITTER_DATE: when }) },
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe'],
  })

export function write(folder: string, fixture: string): void {
  for (const [file, text] of parseFixture(fixture).files) {
    const path = join(folder, file.slice(ROOT.length))
    mkdirSync(dirname(path), { recursive: true })
    writeFileSync(path, text)
  }
}

export function commit(folder: string, fixture = '', message = 'a change', when?: string): void {
  if (fixture !== '') write(folder, fixture)
  started(when, folder, 'sh', ['-c', 'git add -A && git commit -q --allow-empty -m "$1"', 'sh', message])
}

/** Folders that nobody writes into, by what they were made of. */
const originals = new Map<string, string>()

/** A new folder as one that was made of the same before, or made now: to copy a repository is less work than to make it. */
export function madeOnce(of: string, make: (folder: string) => void): string {
  const original = originals.get(of)
  const folder = newFolder()
  if (original !== undefined && existsSync(original)) cpSync(original, folder, { recursive: true })
  else {
    make(folder)
    const kept = newFolder()
    cpSync(folder, kept, { recursive: true })
    originals.set(of, kept)
  }
  return folder
}

/** A repository with one commit. */
export const repository = (fixture: string): string =>
  madeOnce(fixture, (folder) => {
    git(folder, 'init', '-q', '-b', 'main', '--template=')
    commit(folder, fixture, 'the shop')
  })

export interface Answer {
  readonly out: string
  readonly err: string
  readonly code: number
}

export const HOST = nodeCliHost()

/** A check as on the day that fixtures are of. */
export const check = (cwd: string, ...args: readonly string[]): Promise<Answer> =>
  rollbook(cwd, 'check', '--today', '2026-03-31', ...args)

export const rollbook = (cwd: string, ...args: readonly string[]): Promise<Answer> => rollbookWith({}, cwd, ...args)

/** The same with some of its effects made otherwise. */
export async function rollbookWith(own: Partial<CliHost>, cwd: string, ...args: readonly string[]): Promise<Answer> {
  let out = ''
  let err = ''
  const code = await runCli(args, {
    ...HOST,
    ...own,
    cwd,
    isTty: false,
    out: (text) => {
      out += text
    },
    err: (text) => {
      err += text
    },
  })
  return { out, err, code }
}

export interface Told {
  readonly code: number
  readonly files: number
  readonly findings: readonly { readonly file: string; readonly code: string; readonly new?: boolean; readonly message: string }[]
  readonly remarks: readonly string[]
  readonly notChecked: readonly string[]
}

export async function told(cwd: string, ...args: readonly string[]): Promise<Told> {
  const { out, code } = await check(cwd, '--format', 'json', ...args)
  return { ...JSON.parse(out), code }
}

/** Two stocks and two printers; a profile rests on another. */
export const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
#- stocks/film.stock.yaml
stock: film
thickness: 0.1 mm
softens-at: 70 °C
#- stocks/paper.stock.yaml
stock: paper
thickness: 0.2 mm
#- printers/bay-1.printer.yaml
printer: bay-1
carriage: {gaps: [1.5 mm, 2 mm, 3 mm]}
slots: 30
#- printers/bay-2.printer.yaml
printer: bay-2
carriage: {gaps: [1.5 mm, 2 mm]}
slots: 30
#- profiles/film-1.media.yaml
profile: film-1
stock: film
printer: bay-1
gap: 2 mm
slot: 1
#- profiles/film-2.media.yaml
profile: film-2
base: film-1
printer: bay-2
slot: 1
#- profiles/paper-1.media.yaml
profile: paper-1
stock: paper
printer: bay-1
gap: 2 mm
slot: 2
`
