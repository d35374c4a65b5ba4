// Judges documents and tells of them one after the other, as `rollbook check` and `rollbook due` do: closed documents are loaded, judged and let go,
// so that memory does not grow with the shop. What could not be judged is told to the bench. Who judged a document, this thread or another, and when,
// shows in nothing that is told.
import { type Undescribed, undescribedIn } from '../areas/undescribed.ts'
import { Numbered } from '../rules/support/fingerprint.ts'
import { kindOfFile } from '../schema/schema.ts'
import type { Question } from '../workspace/askers.ts'
import { type Bench, defectText } from './bench.ts'
import type { CliHost } from './host.ts'
import { FindingReader, type ReadableFinding } from './readable.ts'
import { unjudgedOf } from './unjudged.ts'

export interface Judged {
  readonly file: string
  /** The file as a person knows it. */
  readonly shown: string
  readonly findings: readonly ReadableFinding[]
  /** Of a profile what its printer and its stock leave out. */
  readonly undescribed?: readonly Undescribed[]
}

/** What was found of one document, in plain values, so that it can be kept. */
export interface Verdict extends Pick<Judged, 'findings' | 'undescribed'> {
  /** What was not judged: said at the end, unless a finding tells it, here or elsewhere. */
  readonly unsaid: readonly Unsaid[]
}

interface Unsaid {
  readonly text: string
  /** The findings that tell it: any at a line of a file, or one of a code in a file. */
  readonly by: readonly string[]
}

/** A verdict that was made just now; none where a document is not judged, and the bench is told why. */
export interface Made {
  readonly verdict: Verdict | undefined
  /** All that was asked for it, where somebody wants to know. */
  readonly asked: readonly Question[] | undefined
}

/** Verdicts that were kept, and stand. */
export interface Kept {
  of(file: string): Promise<Verdict | undefined>
  /** Keeps a verdict, with all that was asked for it. */
  keep(file: string, made: Made): Promise<void>
}

/** Verdicts that are made elsewhere meanwhile; undefined for a document that is to be judged here. */
export interface Elsewhere {
  of(file: string): Promise<Made | undefined>
}

/** Tells of a document's fingerprints which are new. */
export type Newness = (file: string) => Promise<(fingerprint: string) => boolean>

/** What may stand beside the judging: what is compared with, what was kept, and who judges as well. */
export interface Beside {
  readonly newness?: Newness | undefined
  readonly kept?: Kept | undefined
  readonly elsewhere?: Elsewhere | undefined
}

export async function* judge(
  cli: CliHost,
  bench: Bench,
  files: readonly string[],
  at: (doing: string) => void,
  { newness, kept, elsewhere }: Beside = {},
): AsyncGenerator<Judged, void> {
  const judging = new Judging(cli, bench, kept !== undefined)
  const untold = new Untold()
  const numbered = new Numbered()
  const made = async (file: string): Promise<Verdict | undefined> => {
    const found = (await elsewhere?.of(file)) ?? (await judging.make(file))
    await kept?.keep(file, found)
    return found.verdict
  }
  for (const file of files) {
    at(`checking ${bench.shown(file)}`)
    const verdict = (await kept?.of(file)) ?? (await made(file))
    const marked = verdict && newness ? await judging.marked(file, verdict, newness) : verdict
    if (marked) {
      const { unsaid, ...found } = marked
      const findings = found.findings.map((one) => ({ ...one, fingerprint: numbered.take(one.fingerprint) }))
      untold.take(findings, unsaid)
      yield { ...found, file, shown: bench.shown(file), findings }
    }
    judging.release(file)
  }
  for (const text of untold.texts()) bench.trouble(text)
}

export class Judging {
  private readonly reader: FindingReader

  constructor(
    private readonly cli: CliHost,
    private readonly bench: Bench,
    /** Whether it is noted what is asked for a verdict. */
    private readonly noting: boolean,
  ) {
    this.reader = new FindingReader(bench)
  }

  async make(file: string): Promise<Made> {
    const { workspace } = this.bench
    const noted = this.noting ? new Set<Question>() : undefined
    workspace.noted = noted
    const verdict = await this.unlessFailing(file, () => this.verdictOf(file))
    const document = workspace.document(file)
    for (const part of noted && document ? workspace.partsOf(document) : []) noted?.add(`text ${part.file}`)
    workspace.noted = undefined
    return { verdict, asked: noted && [...noted] }
  }

  /** The same, each finding with whether it is new. */
  marked(file: string, verdict: Verdict, newness: Newness): Promise<Verdict | undefined> {
    return this.unlessFailing(file, async () => {
      await this.bench.workspace.load(file)
      const isNew = await newness(file)
      return { ...verdict, findings: verdict.findings.map((finding) => ({ ...finding, new: isNew(finding.fingerprint) })) }
    })
  }

  /** Stocks and printers are wanted again; a profile is not, and thousands of them would fill the memory. */
  release(file: string): void {
    if (kindOfFile(file) === 'media') this.bench.workspace.release(file)
  }

  private async verdictOf(file: string): Promise<Verdict | undefined> {
    const { bench, reader } = this
    const { workspace } = bench
    const document = await workspace.load(file)
    for (const unread of workspace.unread(file)) if (unread.kind === 'folder') bench.trouble(bench.unreadText(unread))
    if (!document) {
      bench.trouble(bench.unreadText({ place: file, kind: kindOfFile(file)!, reason: workspace.whyUnreadable(file) ?? '' }))
      return undefined
    }
    await workspace.prepare(file)
    const findings = await reader.read(file)
    const unsaid = (await unjudgedOf(bench, file)).map(({ text, lacking, at, codes = [] }) => ({
      text: lacking ? `${bench.shown(file)} is judged without what it names. ${text}` : text,
      by: at ? [at.line, ...codes].map((by) => `${bench.shown(at.file)} ${by}`) : [],
    }))
    const { setup } = bench.analysis.context(file) ?? {}
    return { findings, unsaid, ...(setup && { undescribed: undescribedIn(setup) }) }
  }

  private async unlessFailing<T>(file: string, make: () => Promise<T>): Promise<T | undefined> {
    const { cli, bench } = this
    try {
      return await make()
    } catch (error) {
      bench.trouble(`${bench.shown(file)} is not judged: this went wrong inside Rollbook: ${defectText(cli, error)}`)
      return undefined
    }
  }
}

/** What was not judged and is told by no finding: a finding that a shop takes as a hint, or ignores, makes nothing judged. */
class Untold {
  private readonly told = new Set<string>()
  private readonly waiting: Unsaid[] = []

  take(findings: readonly ReadableFinding[], unsaid: readonly Unsaid[]): void {
    for (const { file, severity, code, range } of findings)
      if (severity !== 'hint') this.told.add(`${file} ${range.start.line}`).add(`${file} ${code}`)
    this.waiting.push(...unsaid)
  }

  texts(): readonly string[] {
    return this.waiting.filter(({ by }) => !by.some((one) => this.told.has(one))).map(({ text }) => text)
  }
}
