// Judges documents one after the other, as `rollbook check` and `rollbook due` tell of them: closed documents are loaded, judged and let go, so
// that memory does not grow with the shop. What could not be judged is told to the bench.
import { kindOfFile } from '../schema/schema.ts'
import { type Bench, defectText } from './bench.ts'
import type { CliHost } from './host.ts'
import { FindingReader, type ReadableFinding } from './readable.ts'
import { type Unjudged, unjudgedOf } from './unjudged.ts'

export interface Judged {
  readonly file: string
  /** The file as a person knows it. */
  readonly shown: string
  readonly findings: readonly ReadableFinding[]
}

/** Tells of a document's fingerprints which are new; undefined where nothing is compared. */
export type Newness = (file: string) => Promise<((fingerprint: string) => boolean) | undefined>

export async function* judge(
  cli: CliHost,
  bench: Bench,
  files: readonly string[],
  at: (doing: string) => void,
  newness?: Newness,
): AsyncGenerator<Judged, void> {
  const { workspace } = bench
  const reader = new FindingReader(bench)
  const untold = new Untold()
  let coming = files.length > 0 ? workspace.load(files[0]!) : undefined
  for (const [i, file] of files.entries()) {
    const shown = bench.shown(file)
    at(`checking ${shown}`)
    const document = await coming
    // The next text is read while this one is checked.
    if (i + 1 < files.length) coming = workspace.load(files[i + 1]!)
    for (const unread of workspace.unread(file)) if (unread.kind === 'folder') bench.trouble(bench.unreadText(unread))
    if (!document) {
      bench.trouble(bench.unreadText({ place: file, kind: kindOfFile(file)!, reason: workspace.whyUnreadable(file) ?? '' }))
      continue
    }
    let judged: Judged | undefined
    try {
      await workspace.prepare(file)
      const findings = await reader.read(file, await newness?.(file))
      judged = { file, shown, findings }
      untold.take(shown, findings, await unjudgedOf(bench, file), bench)
    } catch (error) {
      bench.trouble(`${shown} is not judged: this went wrong inside Rollbook: ${defectText(cli, error)}`)
    }
    if (judged) yield judged
    // Stocks and printers are wanted again; a profile is not, and thousands of them would fill the memory.
    if (document.kind === 'media') workspace.release(file)
  }
  for (const text of untold.texts()) bench.trouble(text)
}

/** What was not judged and is told by no finding: a finding that a shop takes as a hint, or ignores, makes nothing judged. */
class Untold {
  private readonly told = new Set<string>()
  private readonly waiting: { readonly text: string; readonly by: readonly string[] }[] = []

  take(shown: string, findings: readonly ReadableFinding[], unjudged: readonly Unjudged[], bench: Bench): void {
    for (const { file, severity, code, range } of findings)
      if (severity !== 'hint') this.told.add(`${file} ${range.start.line}`).add(`${file} ${code}`)
    for (const { text, lacking, at, codes = [] } of unjudged)
      this.waiting.push({
        text: lacking ? `${shown} is judged without what it names. ${text}` : text,
        by: at ? [at.line, ...codes].map((by) => `${bench.shown(at.file)} ${by}`) : [],
      })
  }

  texts(): readonly string[] {
    return this.waiting.filter(({ by }) => !by.some((one) => this.told.has(one))).map(({ text }) => text)
  }
}
