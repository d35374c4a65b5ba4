// Judges documents one after the other, as `rollbook check` and `rollbook due` tell of them: closed documents are loaded, judged and let go, so
// that memory does not grow with the shop. What could not be judged is told to the bench.
import { type Undescribed, undescribedIn } from '../areas/undescribed.ts'
import { Numbered } from '../rules/support/fingerprint.ts'
import { kindOfFile } from '../schema/schema.ts'
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

/** Verdicts that were kept, and stand. */
export interface Kept {
  of(file: string): Promise<Verdict | undefined>
  /** Makes a verdict and keeps it, with all that is asked for it. */
  making(file: string, make: () => Promise<Verdict | undefined>): Promise<Verdict | undefined>
}

/** Tells of a document's fingerprints which are new; undefined where nothing is compared. */
export type Newness = (file: string) => Promise<((fingerprint: string) => boolean) | undefined>

export async function* judge(
  cli: CliHost,
  bench: Bench,
  files: readonly string[],
  at: (doing: string) => void,
  newness?: Newness,
  kept?: Kept,
): AsyncGenerator<Judged, void> {
  const reader = new FindingReader(bench)
  const untold = new Untold()
  const numbered = new Numbered()
  for (const file of files) {
    at(`checking ${bench.shown(file)}`)
    const make = (): Promise<Verdict | undefined> => verdictOf(cli, bench, reader, file, newness)
    const verdict = (await kept?.of(file)) ?? (await (kept ? kept.making(file, make) : make()))
    if (verdict) {
      const { unsaid, ...found } = verdict
      const findings = found.findings.map((one) => ({ ...one, fingerprint: numbered.take(one.fingerprint) }))
      untold.take(findings, unsaid)
      yield { ...found, file, shown: bench.shown(file), findings }
    }
    // Stocks and printers are wanted again; a profile is not, and thousands of them would fill the memory.
    if (kindOfFile(file) === 'media') bench.workspace.release(file)
  }
  for (const text of untold.texts()) bench.trouble(text)
}

/** Undefined where a document is not judged: the bench is told why. */
async function verdictOf(
  cli: CliHost,
  bench: Bench,
  reader: FindingReader,
  file: string,
  newness: Newness | undefined,
): Promise<Verdict | undefined> {
  const { workspace } = bench
  const document = await workspace.load(file)
  for (const unread of workspace.unread(file)) if (unread.kind === 'folder') bench.trouble(bench.unreadText(unread))
  if (!document) {
    bench.trouble(bench.unreadText({ place: file, kind: kindOfFile(file)!, reason: workspace.whyUnreadable(file) ?? '' }))
    return undefined
  }
  try {
    await workspace.prepare(file)
    const findings = await reader.read(file, await newness?.(file))
    const unsaid = (await unjudgedOf(bench, file)).map(({ text, lacking, at, codes = [] }) => ({
      text: lacking ? `${bench.shown(file)} is judged without what it names. ${text}` : text,
      by: at ? [at.line, ...codes].map((by) => `${bench.shown(at.file)} ${by}`) : [],
    }))
    const { setup } = bench.analysis.context(file) ?? {}
    return { findings, unsaid, ...(setup && { undescribed: undescribedIn(setup) }) }
  } catch (error) {
    bench.trouble(`${bench.shown(file)} is not judged: this went wrong inside Rollbook: ${defectText(cli, error)}`)
    return undefined
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
