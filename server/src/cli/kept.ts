// `--cache`: verdicts kept from run to run. One stands on the day it was made, for the same program, while every question that was asked for it has
// the same answer: the text of each document that was read, who has an id or a slot, which documents there are. Nothing is kept, and nothing
// taken, where something could not be read or failed. A file that is not whole, or of another program, counts as none.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Host } from '../host/host.ts'
import { MAX_COLOUR_BYTES } from '../model/colour-file.ts'
import type { Facts } from '../model/facts.ts'
import { type DocumentKind, kindOfFile } from '../schema/schema.ts'
import { BUNDLED, VERSION } from '../version.ts'
import type { Question } from '../workspace/askers.ts'
import type { Bench } from './bench.ts'
import type { CliHost } from './host.ts'
import type { Kept, Made, Verdict } from './judging.ts'
import { nameFor, readKept, writeKept } from './node-kept.ts'

/** The program as it is: of a bundle the text of its commands, which names the parts of the engine by theirs. */
const OF_PROGRAM = BUNDLED ? nameFor(readFileSync(join(__dirname, 'commands.cjs'))) : VERSION

/** A verdict as it is written, one a line: its file, the questions with the name of their answers, and itself. */
type Line = readonly [file: string, asked: readonly Question[], answers: string, verdict: Verdict]

export class KeptVerdicts implements Kept {
  /** By file; one that was made anew takes the place of the one that was read. */
  private readonly lines = new Map<string, string>()
  private readonly answers = new Map<string, string>()
  private readonly slots = new Map<string, Map<string | undefined, Facts[]>>()
  private changed = false
  private readonly path: string
  private readonly head: string

  private constructor(
    cli: CliHost,
    private readonly bench: Bench,
    private readonly texts: Texts,
    folder: string,
  ) {
    const roots = [...bench.roots()]
    this.path = join(folder, `check-${nameFor([...roots, cli.cwd].join('\n'))}.jsonl`)
    this.head = JSON.stringify([OF_PROGRAM, process.version, cli.host.today(), roots, cli.cwd])
  }

  /** Those of an earlier run in a folder. `texts` has read all that the bench has. */
  static in(folder: string, cli: CliHost, bench: Bench, texts: Texts): KeptVerdicts {
    const kept = new KeptVerdicts(cli, bench, texts, folder)
    const text = readKept(kept.path)
    const [mark = '', head, ...lines] = text.split('\n')
    if (head === kept.head && mark === nameFor(text.slice(mark.length + 1)))
      for (const line of lines) kept.lines.set(line.slice(2, line.indexOf('"', 2)), line)
    return kept
  }

  private get sound(): boolean {
    return this.texts.steady && this.bench.troubles.length === 0 && this.bench.workspace.unread().length === 0
  }

  /** The documents of which there is no verdict that stands. */
  async lacking(files: readonly string[]): Promise<readonly string[]> {
    const lacking: string[] = []
    for (const file of files) if (!(await this.of(file))) lacking.push(file)
    return lacking
  }

  async of(file: string): Promise<Verdict | undefined> {
    const line = this.lines.get(file)
    if (line === undefined || !this.sound) return undefined
    const [, asked, answers, verdict] = JSON.parse(line) as Line
    return (await this.answersTo(file, asked)) === answers ? verdict : undefined
  }

  async keep(file: string, { verdict, asked: noted = [] }: Made): Promise<void> {
    this.changed = this.lines.delete(file) || this.changed
    if (!verdict || !this.sound) return
    const asked = [...new Set(noted.map((question) => question.replace(/^(?:file|own) /, 'text ') as Question))]
    const line: Line = [file, asked, await this.answersTo(file, asked), verdict]
    if (!this.sound) return
    this.lines.set(file, JSON.stringify(line))
    this.changed = true
  }

  /** Writes what has changed; gives why it could not. */
  async save(): Promise<string | undefined> {
    if (!this.changed || !this.sound) return undefined
    const body = [this.head, ...this.lines.values()].join('\n')
    return writeKept(this.path, `${nameFor(body)}\n${body}`)
  }

  /** A short name for the answers to questions, as they are asked from a file's shop. */
  private async answersTo(file: string, asked: readonly Question[]): Promise<string> {
    const shop = this.bench.workspace.shopFolder(file)
    let all = shop
    for (const question of asked) {
      const key = question.startsWith('text ') ? question : `${shop} ${question}`
      let answer = this.answers.get(key)
      if (answer === undefined) {
        answer = nameFor(await this.answerTo(file, question))
        this.answers.set(key, answer)
      }
      all += answer
    }
    return nameFor(all)
  }

  private async answerTo(file: string, question: Question): Promise<string> {
    const { workspace } = this.bench
    const shelf = workspace.shelf(file)
    const [what, kind = ''] = question.split(' ')
    if (what === 'text') return this.textOf(question.slice(what.length + 1))
    if (what === 'id') return JSON.stringify(shelf.withId(kind as DocumentKind, question.slice(`id ${kind} `.length)))
    if (what === 'all') return JSON.stringify([...shelf.all(kind as DocumentKind)])
    if (what === 'slot') return JSON.stringify(this.slotsIn(file).get(question.slice('slot '.length)) ?? [])
    const texts = [...shelf.all('media')].map((profile) => this.textOf(profile.file))
    return (await Promise.all(texts)).join()
  }

  /** The profiles of a file's shop by their slots, on whatever printer. */
  private slotsIn(file: string): ReadonlyMap<string | undefined, readonly Facts[]> {
    const { workspace } = this.bench
    const shop = workspace.shopFolder(file)
    let slots = this.slots.get(shop)
    if (!slots) {
      slots = new Map()
      this.slots.set(shop, slots)
      for (const facts of workspace.shelf(file).all('media')) {
        const slot = facts.values.slot?.text
        slots.set(slot, [...(slots.get(slot) ?? []), facts])
      }
    }
    return slots
  }

  /** What stands in a file, by its name, or why there is nothing. */
  private async textOf(file: string): Promise<string> {
    const { texts, bench } = this
    if (!kindOfFile(file)) await texts.host.readBytes(file, MAX_COLOUR_BYTES).catch(() => undefined)
    return `${texts.names.get(file)} ${bench.workspace.unmerged.has(file)}`
  }
}

/** A host that knows what it has read of each file, and whether that was the same each time. */
export class Texts {
  readonly names = new Map<string, string>()
  steady = true
  private since = new Map<string, string>()
  readonly host: Host

  constructor(host: Host) {
    this.host = {
      list: (folder, depth, unlisted, others) => host.list(folder, depth, unlisted, others),
      read: (file) => this.named(file, host.read(file)),
      readBytes: (file, most) => this.named(file, host.readBytes(file, most)),
      today: () => host.today(),
      log: (level, message) => host.log(level, message),
    }
  }

  /** What was read since this was asked for last, by file. */
  readSince(): readonly ReadText[] {
    const { since } = this
    this.since = new Map()
    return [...since]
  }

  /** Takes what was read of a file elsewhere. */
  take(file: string, name: string): void {
    if ((this.names.get(file) ?? name) !== name) this.steady = false
    this.names.set(file, name)
    this.since.set(file, name)
  }

  private async named<T extends string | Uint8Array>(file: string, reading: Promise<T>): Promise<T> {
    this.take(file, await reading.then(nameFor, String))
    return reading
  }
}

export type ReadText = readonly [file: string, name: string]
