// `rollbook check`: every finding of the documents named, the same as the editor shows, for people and for machines. Closed documents are
// loaded, checked and let go one after the other, so that memory does not grow with the shop.
import { type Bench, DOCUMENT_NAMES, documentAt, lookUp, openBench } from './bench.ts'
import { type CheckReport, jsonReport, terminalReport } from './check-report.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import type { Options } from './options.ts'
import { FindingReader } from './readable.ts'
import { printable } from './terminal.ts'

export async function check(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const bench = openBench(cli)
  const report: CheckReport =
    options.word('format') === 'json' ? jsonReport(cli) : terminalReport(cli, { quiet: options.has('quiet') })
  at('looking for the documents')
  const files = await filesOf(cli, bench, options.positionals.length > 0 ? options.positionals : ['.'])
  const reader = new FindingReader(bench)
  let coming = bench.workspace.load(files[0]!)
  for (const [i, file] of files.entries()) {
    const shown = bench.shown(file)
    at(`checking ${shown}`)
    const document = await coming
    // The next text is read while this one is checked.
    if (i + 1 < files.length) coming = bench.workspace.load(files[i + 1]!)
    if (!document) continue
    await bench.workspace.prepare(file)
    report.take(shown, await reader.read(file))
    // Stocks and printers are wanted again; a profile is not, and thousands of them would fill the memory.
    if (document.kind === 'media') bench.workspace.release(file)
  }
  report.end(bench.troubles)
  for (const aside of bench.asides) if (!bench.troubles.includes(aside)) cli.err(`${printable(aside)}\n`)
  if (bench.troubles.length > 0) return EXIT.failed
  return report.counts.errors + report.counts.warnings > 0 ? EXIT.findings : EXIT.clean
}

/** The documents named by the arguments, each once, in the order of their paths. Their shops are indexed. */
async function filesOf(cli: CliHost, bench: Bench, paths: readonly string[]): Promise<readonly string[]> {
  const files = new Set<string>()
  const named = await Promise.all(paths.map(async (argument) => ({ argument, ...(await lookUp(cli, argument)) })))
  for (const { argument, path, kind } of named) {
    if (kind === 'file') files.add(documentAt(path, argument))
    else {
      const found = await bench.documentsBelow(path)
      if (found.length === 0)
        throw new CannotRun(`There is nothing to check in '${argument}': no document named ${DOCUMENT_NAMES}.`)
      for (const file of found) files.add(file)
    }
    await bench.addShopsOf(path, kind)
  }
  return [...files].sort()
}
