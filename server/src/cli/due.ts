// `rollbook due`: what the days alone have brought: test prints that have grown old, deliveries nobody has printed on. What can hurt somebody comes
// first, then what makes prints of a wrong length, then what makes them look wrong; of equals what more profiles rest on.
import { retiredOf } from '../model/retired.ts'
import type { Risk } from '../rules/rule.ts'
import { VERSION } from '../version.ts'
import { countDependents } from '../workspace/dependents.ts'
import { type Bench, openBench, tellTroubles } from './bench.ts'
import { filesOf } from './check.ts'
import { type CliHost, EXIT } from './host.ts'
import { judge } from './judging.ts'
import type { Options } from './options.ts'
import type { ReadableFinding } from './readable.ts'
import { byRisk, countsText, type FailOn, fails, many, SEVERITIES, sum, Tally } from './report/report.ts'
import { COLOUR } from './report/text.ts'
import { printable, styleOf } from './terminal.ts'

/** Something due, and how many profiles rest on the document it is due in. */
type Due = ReadableFinding & { readonly profiles: number }

export async function due(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const bench = openBench(cli)
  at('looking for the documents')
  const files = await filesOf(cli, bench, options)
  const failOn = (options.word('fail-on') ?? 'warning') as FailOn
  const tally = new Tally({ failOn, due: false, newSince: undefined, today: cli.host.today() })
  const found: Due[] = []
  let retired = 0
  for await (const { file, findings } of judge(cli, bench, files, at)) {
    const setup = bench.analysis.context(file)?.setup
    if (setup && retiredOf(setup)) {
      retired++
      continue
    }
    tally.add(findings)
    const due = findings.filter((finding) => finding.due)
    if (due.length === 0) continue
    const profiles = dependentsOf(bench, file)
    found.push(...due.map((finding) => ({ ...finding, profiles })))
  }
  found.sort((a, b) => byRisk(a, b) || SEVERITIES.indexOf(a.severity) - SEVERITIES.indexOf(b.severity) || b.profiles - a.profiles)
  if (options.has('json')) cli.out(`${JSON.stringify(json(cli, bench, tally, found, retired), null, 2)}\n`)
  else cli.out(text(cli, bench, tally, found, retired))
  tellTroubles(cli, bench)
  if (bench.troubles.length > 0) return EXIT.failed
  return found.some(({ severity }) => fails(severity, failOn)) ? EXIT.findings : EXIT.clean
}

function dependentsOf({ workspace }: Bench, file: string): number {
  const shelf = workspace.shelf(file)
  for (const kind of ['media', 'printer', 'stock', 'shop'] as const)
    for (const facts of shelf.all(kind)) if (facts.file === file) return countDependents(facts, shelf)
  return 0
}

const HEADS: readonly (readonly [Risk | undefined, string])[] = [
  ['harm', "Where somebody or a machine may be hurt (the machine's and the material's own safety documents come first):"],
  ['length', 'Where prints may come out too long or too short:'],
  ['look', 'Where prints may look wrong:'],
  [undefined, 'In the record:'],
]

function text(cli: CliHost, bench: Bench, tally: Tally, found: readonly Due[], retired: number): string {
  const style = styleOf(cli)
  const lines: string[] = []
  for (const [risk, head] of HEADS) {
    const here = found.filter((finding) => finding.risk === risk)
    if (here.length === 0) continue
    lines.push(style.bold(head))
    for (const { file, range, severity, code, message, profiles } of here) {
      lines.push(
        `  ${printable(file)}:${range.start.line}:${range.start.column}  ${COLOUR[severity](style)(severity)} ${style.dim(code)}`,
      )
      lines.push(
        `    ${printable(message)}${profiles > 0 ? ` ${many(profiles, 'profile')} ${profiles === 1 ? 'rests' : 'rest'} on it.` : ''}`,
      )
    }
    lines.push('')
  }
  if (retired > 0)
    lines.push(
      `${many(retired, 'profile')} out of use ${retired === 1 ? 'is' : 'are'} left out: nothing is due on what is retired.`,
    )
  lines.push(dueSummary(cli, bench, tally))
  return `${lines.join('\n')}\n`
}

function dueSummary(cli: CliHost, { troubles }: Bench, { due, documents }: Tally): string {
  if (documents === 0) return 'Nothing could be looked at.'
  const inPart = troubles.length > 0 ? ', and not everything could be judged' : ''
  const looked = `${many(documents, 'document')} looked at as on ${cli.host.today()}${inPart}`
  return sum(due) === 0
    ? `${looked}: nothing is due${inPart === '' ? '' : ' in what was'}.`
    : `${looked}: ${countsText(due)} due.`
}

const json = (cli: CliHost, { troubles }: Bench, { due, documents }: Tally, found: readonly Due[], retired: number): object => ({
  version: VERSION,
  date: cli.host.today(),
  files: documents,
  summary: due,
  retired,
  due: found.map(({ fixes: _, ...finding }) => finding),
  notChecked: troubles,
})
