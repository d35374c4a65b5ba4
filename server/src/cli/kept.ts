// `--cache`: verdicts kept from run to run. One stands on the day it was made, for the same program, while every question that was asked for it has
// the same answer: the text of each document that was read, who has an id or a slot, which documents there are. Which answers are others follows from
// the documents that are. Nothing is kept, and nothing taken, where something could not be read or failed.
import { MAX_COLOUR_BYTES } from '../model/colour-file.ts'
import { type Facts, ID_KEY } from '../model/facts.ts'
import { kindOfFile } from '../schema/schema.ts'
import type { Question } from '../workspace/askers.ts'
import type { KnownFacts } from '../workspace/workspace.ts'
import type { Bench } from './bench.ts'
import type { CliHost } from './host.ts'
import type { Kept, Made, Verdict } from './judging.ts'
import { type KnownText, type State, Stored } from './stored.ts'
import { Texts } from './texts.ts'

/** What is kept in a folder, from before the shop is read. */
export class Keeping {
  readonly texts: Texts
  /** The same effects, with a note of what is read. */
  readonly cli: CliHost
  private stored: Stored | undefined

  constructor(
    cli: CliHost,
    private readonly folder: string,
  ) {
    this.texts = new Texts(cli.host)
    this.cli = Object.create(cli, { host: { value: this.texts.host } })
  }

  /** What is known of the documents below a folder that hold what they held. */
  known(root: string): KnownFacts {
    const { host, cwd } = this.cli
    this.stored ??= Stored.read(this.folder, host.today(), cwd, root)
    const { state } = this.stored
    return {
      get: (file) => {
        const known = state.texts.get(file)
        return known && this.texts.holds(file, known.name) ? known.facts : undefined
      },
    }
  }

  /** The verdicts, once the shop is read. */
  verdicts(bench: Bench): KeptVerdicts | undefined {
    return this.stored && new KeptVerdicts(bench, this.texts, this.stored)
  }
}

export class KeptVerdicts implements Kept {
  private readonly standing = new Map<string, boolean>()
  private changed = false
  private others: Promise<ReadonlySet<string>> | undefined
  /** Files beside the documents that were asked for, now or earlier. */
  private readonly beside: Set<string>

  constructor(
    private readonly bench: Bench,
    private readonly texts: Texts,
    private readonly stored: Stored,
  ) {
    this.beside = new Set(stored.state.beside.keys())
  }

  private get sound(): boolean {
    return this.texts.steady && this.bench.troubles.length === 0 && this.bench.workspace.unread().length === 0
  }

  /** The documents of which there is no verdict that stands. */
  async lacking(files: readonly string[]): Promise<readonly string[]> {
    const lacking: string[] = []
    for (const file of files) if (!(await this.stands(file))) lacking.push(file)
    return lacking
  }

  async of(file: string): Promise<Verdict | undefined> {
    return this.sound && (await this.stands(file)) ? this.stored.verdict(file) : undefined
  }

  async keep(file: string, { verdict, asked: noted = [] }: Made): Promise<void> {
    this.changed = this.stored.delete(file) || this.changed
    this.standing.set(file, false)
    if (!verdict || !this.sound) return
    const asked = [...new Set(noted.map((question) => question.replace(/^(?:file|own) /, TEXT) as Question))]
    for (const question of asked) {
      const beside = question.startsWith(TEXT) && question.slice(TEXT.length)
      if (beside && !kindOfFile(beside)) this.beside.add(beside)
    }
    this.stored.set(file, asked, verdict)
    this.standing.set(file, true)
    this.changed = true
  }

  /** Writes what stands, where that has changed or what it rests on; gives why it could not. */
  async save(): Promise<string | undefined> {
    if (!this.changed && (await this.otherAnswers()).size === 0) return undefined
    for (const file of this.stored.files) if (!(await this.stands(file))) this.stored.delete(file)
    const beside = new Map<string, string>()
    for (const file of this.beside) beside.set(file, this.texts.names.get(file) ?? (await this.nameNow(file)))
    return this.sound ? this.stored.write({ texts: this.textsNow(), unmerged: this.bench.workspace.unmerged, beside }) : undefined
  }

  private async stands(file: string): Promise<boolean> {
    let stands = this.standing.get(file)
    if (stands === undefined) {
      const others = await this.otherAnswers()
      const shop = this.bench.workspace.shopFolder(file)
      stands =
        this.stored.has(file) && (others.size === 0 || !this.stored.asked(file).some((one) => others.has(inShop(shop, one))))
      this.standing.set(file, stands)
    }
    return stands
  }

  /** The questions whose answers may be others than when the verdicts were written, all of which stood then. */
  private otherAnswers(): Promise<ReadonlySet<string>> {
    this.others ??= this.compare()
    return this.others
  }

  private async compare(): Promise<ReadonlySet<string>> {
    const others = new Set<string>()
    const { texts, unmerged, beside } = this.stored.state
    const now = this.textsNow()
    const tell = ({ facts: { kind, file, values }, shop }: KnownText, isCalledOtherwise: boolean): void => {
      others.add(`${TEXT}${file}`)
      if (kind === 'media') others.add(inShop(shop, 'measured'))
      if (!isCalledOtherwise) return
      others.add(inShop(shop, `all ${kind}`))
      others.add(inShop(shop, `id ${kind} ${values[ID_KEY[kind]]?.text}`))
      others.add(inShop(shop, `slot ${values.slot?.text}`))
    }
    for (const [file, is] of now) {
      const was = texts.get(file)
      if (is.name !== '' && was?.name === is.name && was.shop === is.shop) continue
      const isCalledOtherwise = was?.shop !== is.shop || JSON.stringify(was.facts) !== JSON.stringify(is.facts)
      for (const one of was ? [was, is] : [is]) tell(one, isCalledOtherwise)
    }
    for (const [file, was] of texts) if (!now.has(file)) tell(was, true)
    const merging = this.bench.workspace.unmerged
    for (const file of [...unmerged, ...merging])
      if (unmerged.has(file) !== merging.has(file)) for (const one of [texts.get(file), now.get(file)]) if (one) tell(one, false)
    for (const [file, name] of beside) if ((await this.nameNow(file, name)) !== name) others.add(`${TEXT}${file}`)
    return others
  }

  private textsNow(): State['texts'] {
    const { workspace } = this.bench
    const known = (facts: Facts): KnownText => ({
      name: this.texts.names.get(facts.file) ?? '',
      facts,
      shop: workspace.shopFolder(facts.file),
    })
    return new Map(workspace.everything().map((facts) => [facts.file, known(facts)]))
  }

  /** The name of what a file beside the documents holds, or why that cannot be read. Where that is what it `was`, it need not be read. */
  private async nameNow(file: string, was?: string): Promise<string> {
    const { texts } = this
    if (was === undefined || !texts.holds(file, was)) await texts.host.readBytes(file, MAX_COLOUR_BYTES).catch(() => undefined)
    return texts.names.get(file) ?? ''
  }
}

const TEXT = 'text '

/** Texts are the same for all shops; all else is asked of one. */
const inShop = (shop: string, question: Question): string => (question.startsWith(TEXT) ? question : `${shop} ${question}`)
