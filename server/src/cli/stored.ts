// The file of `--cache`, of letters of ASCII alone, which are read quickest: a name of the rest, whose it is, the state of the shops in which all of its
// verdicts stand, and the verdicts, one a line. A file that is not whole, or of another program, another day or another place, counts as none.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Facts } from '../model/facts.ts'
import { kindOfFile } from '../schema/schema.ts'
import { BUNDLED, VERSION } from '../version.ts'
import type { Question } from '../workspace/askers.ts'
import type { Verdict } from './judging.ts'
import { nameFor, readKept, writeKept } from './node-kept.ts'

/** The program as it is: of a bundle the text of its commands, which names the parts of the engine by theirs. */
const OF_PROGRAM = BUNDLED ? nameFor(readFileSync(join(__dirname, 'commands.cjs'))) : VERSION

/** Of a document the name of its text, what it is called and refers to, and the folder of its shop. */
export interface KnownText {
  readonly name: string
  readonly facts: Facts
  readonly shop: string
}

/** All that a verdict can rest on, beside the program and the day. */
export interface State {
  /** The documents by file. */
  readonly texts: ReadonlyMap<string, KnownText>
  readonly unmerged: ReadonlySet<string>
  /** Files beside the documents that a verdict asked for, with the names of what they hold, or why that cannot be read. */
  readonly beside: ReadonlyMap<string, string>
}

/** A document as it is written: its file, the name of its text, and the values of its facts. */
type Text = readonly [file: string, name: string, values: Facts['values']]

/** The state as it is written: the documents by their shops. */
type Written = readonly [
  shops: readonly (readonly [shop: string, texts: readonly Text[]])[],
  unmerged: string[],
  beside: [string, string][],
]

/** Between what was asked for a verdict and the verdict; within neither it stands as such. */
const BETWEEN = '\t'
const LINE_END = 10

export class Stored {
  private constructor(
    private readonly path: string,
    private readonly head: string,
    readonly state: State,
    private readonly lines: Map<string, string>,
  ) {}

  /** What an earlier run has left in a folder for commands of this place and a shop. */
  static read(folder: string, today: string, cwd: string, root: string): Stored {
    const path = join(folder, `check-${nameFor(`${root}\n${cwd}`)}.jsonl`)
    const own = ascii(JSON.stringify([OF_PROGRAM, process.version, today, cwd]))
    const bytes = readKept(path)
    const at = bytes.indexOf(LINE_END) + 1
    const [head, state = '', ...lines] = bytes.toString('latin1', at).split('\n')
    if (at === 0 || head !== own || bytes.toString('latin1', 0, at - 1) !== nameFor(bytes.subarray(at)))
      return new Stored(path, own, stateIn([[], [], []]), new Map())
    const byFile = new Map(lines.map((line) => [line.slice(2, line.indexOf('"', 2)), line]))
    return new Stored(path, own, stateIn(JSON.parse(state)), byFile)
  }

  get files(): readonly string[] {
    return [...this.lines.keys()]
  }

  has(file: string): boolean {
    return this.lines.has(file)
  }

  asked(file: string): readonly Question[] {
    const line = this.lines.get(file) ?? '[]'
    return JSON.parse(line.split(BETWEEN, 1)[0]!).slice(1)
  }

  verdict(file: string): Verdict | undefined {
    const line = this.lines.get(file)
    return line === undefined ? undefined : JSON.parse(line.slice(line.indexOf(BETWEEN)))
  }

  set(file: string, asked: readonly Question[], verdict: Verdict): void {
    this.lines.set(file, ascii(JSON.stringify([file, ...asked]) + BETWEEN + JSON.stringify(verdict)))
  }

  delete(file: string): boolean {
    return this.lines.delete(file)
  }

  /** Writes the verdicts, all of which stand in a state; gives why that could not be done: words that follow a colon. */
  write({ texts, unmerged, beside }: State): Promise<string | undefined> {
    const shops = new Map<string, Text[]>()
    for (const [file, { name, facts, shop }] of texts) {
      const of = shops.get(shop) ?? []
      shops.set(shop, of)
      of.push([file, name, facts.values])
    }
    const written: Written = [[...shops], [...unmerged], [...beside]]
    const body = Buffer.from([this.head, ascii(JSON.stringify(written)), ...this.lines.values()].join('\n'), 'latin1')
    return writeKept(this.path, [nameFor(body), '\n', body])
  }
}

function stateIn([shops, unmerged, beside]: Written): State {
  const texts = new Map<string, KnownText>()
  for (const [shop, of] of shops)
    for (const [file, name, values] of of) texts.set(file, { name, shop, facts: { file, kind: kindOfFile(file)!, values } })
  return { texts, unmerged: new Set(unmerged), beside: new Map(beside) }
}

/** JSON without a letter beyond ASCII. */
const ascii = (json: string): string =>
  json.replace(/[^\0-\x7f]/g, (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`)
