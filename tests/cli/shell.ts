// Runs commands in memory, as at a terminal in the folder of a shop: a command line and files in, what is printed and the exit code out.
import { expect } from 'vitest'
import { CannotRun, type CliHost } from '../../server/src/cli/host.ts'
import { runCli } from '../../server/src/cli/run.ts'
import { CannotRead } from '../../server/src/host/host.ts'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { NoHistory } from '../../server/src/host/revisions.ts'
import { RULES } from '../../server/src/rules/generated/index.ts'
import { parseFixture, ROOT } from '../support/fixture.ts'

export interface Shell {
  readonly isTty?: boolean
  readonly env?: Readonly<Record<string, string>>
  /** Below the shop's folder. */
  readonly cwd?: string
  readonly today?: string
  /** Files that exist and cannot be read. */
  readonly unreadable?: readonly string[]
  /** Files that are no text. */
  readonly bytes?: Readonly<Record<string, Uint8Array>>
  /** Files whose merge git has not settled. */
  readonly unmerged?: readonly string[]
  /** What comes on standard input. */
  readonly stdin?: string
  /** What a person at the terminal types, a line a question; nobody sits there where not given. */
  readonly typed?: readonly string[]
  /** Errors thrown by reading, as a defect of the program would be. */
  readonly defect?: string
}

export interface Ran {
  readonly out: string
  readonly err: string
  readonly code: number
  /** Files that were written, by path. */
  readonly created: ReadonlyMap<string, string>
  /** All files after the run, by their path in the shop. */
  readonly files: ReadonlyMap<string, string>
}

class ShellHost extends MemoryHost {
  constructor(
    files: Map<string, string>,
    private readonly shell: Shell,
  ) {
    super(files, shell.today, new Map(Object.entries(shell.bytes ?? {}).map(([name, bytes]) => [ROOT + name, bytes])))
  }

  override async list(...asked: Parameters<MemoryHost['list']>): Promise<readonly string[]> {
    if (this.shell.defect !== undefined) throw new TypeError(this.shell.defect)
    return super.list(...asked)
  }

  override async read(file: string): Promise<string> {
    const name = file.slice(ROOT.length)
    if (this.shell.unreadable?.includes(name)) throw new CannotRead(name, 'permission is denied')
    return super.read(file)
  }
}

/** Runs `rollbook <line>` in a folder with the files of a fixture (see tests/support/fixture.ts). Words that hold blanks come as a list. */
export async function ran(line: string | readonly string[], fixture = '', shell: Shell = {}): Promise<Ran> {
  const files = fixture === '' ? new Map<string, string>() : parseFixture(fixture).files
  let out = ''
  let err = ''
  const created = new Map<string, string>()
  const paths = [...files.keys()].map((file) => new URL(file).pathname)
  const cli: CliHost = {
    host: new ShellHost(files, shell),
    cwd: `/shop${shell.cwd === undefined ? '' : `/${shell.cwd}`}`,
    env: shell.env ?? {},
    isTty: shell.isTty ?? false,
    out: (text) => {
      out += text
    },
    err: (text) => {
      err += text
    },
    look: async (path) => {
      if (path.includes('locked')) throw new CannotRun(`${path} cannot be looked at: permission is denied.`)
      if (paths.includes(path)) return 'file'
      return path === '/shop' || paths.some((p) => p.startsWith(`${path}/`)) ? 'folder' : undefined
    },
    create: async (path, text) => {
      if (paths.includes(path)) throw new CannotRun(`There is a file ${path} already; it is not written over.`)
      created.set(path, text)
    },
    createAll: async (all) => {
      const there = [...all.keys()].find((path) => paths.includes(path))
      if (there !== undefined)
        throw new CannotRun(`There is a file ${there} already; it is not written over. Nothing is written.`)
      for (const [path, text] of all) created.set(path, text)
    },
    talk: () => {
      if (shell.typed === undefined) return undefined
      const lines = [...shell.typed]
      return {
        ask: async () => lines.shift(),
        tell: (text) => {
          err += text
        },
        end: () => undefined,
      }
    },
    rewrite: async (file, before, after) => {
      expect(files.get(file)).toBe(before)
      files.set(file, after)
    },
    discard: async (path) => {
      throw new CannotRun(`${path} cannot be taken away.`)
    },
    stdin: async () => shell.stdin ?? '',
    printPdf: async () => {
      throw new CannotRun('No browser is here.')
    },
    revisions: {
      of: async () => {
        throw new NoHistory('There is no git here.')
      },
      whole: async () => {
        throw new NoHistory('There is no git here.')
      },
      repository: async () => {
        throw new NoHistory('There is no git here.')
      },
      mergedByLine: async () => undefined,
      unmerged: async () => (shell.unmerged ?? []).map((name) => ROOT + name),
    },
    startServer: async () => {
      out += 'the server runs\n'
    },
  }
  const code = await runCli(typeof line === 'string' ? line.split(' ').filter((word) => word !== '') : line, cli)
  return { out, err, code, created, files: new Map([...files].map(([file, text]) => [file.slice(ROOT.length), text])) }
}

/** What a person sees: standard output, standard error marked `!`, the exit code. */
export async function run(line: string | readonly string[], fixture = '', shell: Shell = {}): Promise<string> {
  const { out, err, code } = await ran(line, fixture, shell)
  const errors = err === '' ? '' : err.trimEnd().replace(/^/gm, '! ')
  return [out.trimEnd(), errors, `exit ${code}`].filter((part) => part !== '').join('\n')
}

/** A shop in which only some rules speak, so that a test shows what it is about. */
export const shopWith = (...codes: readonly string[]): string => `#- rollbook.yaml
shop: Tern Quay Print Works
tolerance: {length: 0.05 %}
recheck: {feed: 30 d}
reference-temperature: 23 °C
instruments:
  rule-1m: {kind: rule, division: 0.5 mm, limit-of-error: [0.3 mm, 0.2 mm/m], expansion: 11.5 ppm/K}
rules:
${RULES.filter((rule) => !codes.includes(rule.code))
  .map((rule) => `  ${rule.code}: ignore`)
  .join('\n')}
`

export const PRINTER = `#- printers/bay-1.printer.yaml
printer: bay-1
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
`
