// `rollbook check`: every finding of the documents named, the same as the editor shows, for people and for machines. Closed documents are
// loaded, checked and let go one after the other, so that memory does not grow with the shop.
import { undescribedIn } from '../model/undescribed.ts'
import { kindOfFile } from '../schema/schema.ts'
import { type Bench, DOCUMENT_NAMES, defectText, documentAt, lookUp, openBench, tellTroubles } from './bench.ts'
import { type CheckReport, jsonReport, terminalReport } from './check-report.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { LeftOut } from './left-out.ts'
import type { Options } from './options.ts'
import { FindingReader, type ReadableFinding } from './readable.ts'
import { type Unjudged, unjudgedOf } from './unjudged.ts'

export async function check(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const bench = openBench(cli)
  const report: CheckReport =
    options.word('format') === 'json' ? jsonReport(cli) : terminalReport(cli, { quiet: options.has('quiet') })
  at('looking for the documents')
  const files = await filesOf(cli, bench, options.positionals.length > 0 ? options.positionals : ['.'])
  const { workspace } = bench
  const reader = new FindingReader(bench)
  const untold = new Untold()
  const leftOut = new LeftOut()
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
    try {
      await workspace.prepare(file)
      const findings = await reader.read(file)
      report.take(shown, findings)
      untold.take(shown, findings, await unjudgedOf(bench, file), bench)
      const { setup } = bench.analysis.context(file) ?? {}
      if (setup) leftOut.take(undescribedIn(setup), bench.shown)
    } catch (error) {
      bench.trouble(`${shown} is not judged: this went wrong inside Rollbook: ${defectText(cli, error)}`)
    }
    // Stocks and printers are wanted again; a profile is not, and thousands of them would fill the memory.
    if (document.kind === 'media') workspace.release(file)
  }
  for (const text of untold.texts()) bench.trouble(text)
  report.end(bench.troubles, leftOut)
  tellTroubles(cli, bench)
  if (bench.troubles.length > 0) return EXIT.failed
  return report.counts.errors + report.counts.warnings > 0 ? EXIT.findings : EXIT.clean
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

/** The documents named by the arguments, each once, in the order of their paths. Their shops are indexed. */
async function filesOf(cli: CliHost, bench: Bench, paths: readonly string[]): Promise<readonly string[]> {
  const files = new Set<string>()
  const named = await Promise.all(paths.map(async (argument) => ({ argument, ...(await lookUp(cli, argument)) })))
  for (const { argument, path, kind } of named) {
    if (kind === 'file') files.add(documentAt(path, argument))
    else {
      const found = await bench.documentsBelow(path)
      if (found.length === 0 && bench.troubles.length === 0)
        throw new CannotRun(`There is nothing to check in '${argument}': no document named ${DOCUMENT_NAMES}.`)
      for (const file of found) files.add(file)
    }
    await bench.addShopsOf(path, kind)
  }
  return [...files].sort()
}
