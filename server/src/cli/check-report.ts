// What `rollbook check` prints: for people, grouped by file as it goes; for machines, one JSON object at the end.
import type { Severity } from '../rules/rule.ts'
import { VERSION } from '../version.ts'
import type { CliHost } from './host.ts'
import type { LeftOut } from './left-out.ts'
import type { ReadableFinding } from './readable.ts'
import { printable, type Style, styleOf } from './terminal.ts'

export interface Counts {
  readonly errors: number
  readonly warnings: number
  readonly hints: number
}

export interface CheckReport {
  readonly counts: Counts
  /** One checked document, with or without findings. */
  take(shown: string, findings: readonly ReadableFinding[]): void
  /** `troubles`: why not everything could be checked; `leftOut`: what the documents of stocks and printers leave out. */
  end(troubles: readonly string[], leftOut: LeftOut): void
}

const COUNTED: Readonly<Record<Severity, keyof Counts>> = { error: 'errors', warning: 'warnings', hint: 'hints' }

class Tally {
  readonly counts = { errors: 0, warnings: 0, hints: 0 }
  documents = 0
  withFindings = 0
  fixable = 0

  add(findings: readonly ReadableFinding[]): void {
    this.documents++
    if (findings.length > 0) this.withFindings++
    for (const { severity, fixes } of findings) {
      this.counts[COUNTED[severity]]++
      if (fixes.length > 0) this.fixable++
    }
  }
}

export function jsonReport(cli: CliHost): CheckReport {
  const tally = new Tally()
  const all: ReadableFinding[] = []
  return {
    counts: tally.counts,
    take(_, findings) {
      tally.add(findings)
      all.push(...findings)
    },
    end(troubles, { entries }) {
      const summary = tally.counts
      const report = {
        version: VERSION,
        files: tally.documents,
        summary,
        findings: all,
        notChecked: troubles,
        notJudged: entries,
      }
      cli.out(`${JSON.stringify(report, null, 2)}\n`)
    },
  }
}

export function terminalReport(cli: CliHost, { quiet }: { quiet: boolean }): CheckReport {
  const tally = new Tally()
  const style = styleOf(cli)
  let waiting = ''
  const write = (text: string, least: number): void => {
    waiting += text
    if (waiting === '' || waiting.length < least) return
    cli.out(waiting)
    waiting = ''
  }
  return {
    counts: tally.counts,
    take(shown, found) {
      const findings = quiet ? found.filter((f) => f.severity !== 'hint') : found
      tally.add(findings)
      // On a terminal at once; else many at a time, since every write costs.
      if (findings.length > 0) write(`${style.bold(printable(shown))}\n${linesOf(findings, style)}\n`, cli.isTty ? 0 : 1 << 15)
    },
    end(troubles, { lines }) {
      const inPart = troubles.length + lines.length > 0
      write(quiet ? '' : `${[summary(tally, inPart), ...lines.map(printable)].join('\n')}\n`, 0)
    },
  }
}

function linesOf(findings: readonly ReadableFinding[], style: Style): string {
  const place = ({ range }: ReadableFinding): string => `${range.start.line}:${range.start.column}`
  const width = Math.max(...findings.map((f) => place(f).length))
  const below = ' '.repeat(width + 4)
  const lines: string[] = []
  for (const finding of findings) {
    const { severity, code, message, fixes, related } = finding
    lines.push(`  ${place(finding).padEnd(width)}  ${COLOUR[severity](style)(severity)} ${style.dim(code)} ${printable(message)}`)
    for (const { file, range, message: why } of related)
      lines.push(`${below}${style.dim(`see ${printable(file)}:${range.start.line}:${range.start.column} ${printable(why)}`)}`)
    for (const { title } of fixes) lines.push(`${below}${style.dim(`fix: ${printable(title)}`)}`)
  }
  return `${lines.join('\n')}\n`
}

const COLOUR: Readonly<Record<Severity, (style: Style) => (text: string) => string>> = {
  error: (style) => style.red,
  warning: (style) => style.yellow,
  hint: (style) => style.blue,
}

function summary({ counts, documents, withFindings, fixable }: Tally, inPart: boolean): string {
  if (documents === 0) return 'Nothing could be checked.'
  const checked = `${many(documents, 'document')} checked${inPart ? ', and not everything could be judged' : ''}`
  const { errors, warnings, hints } = counts
  if (errors + warnings + hints === 0) return inPart ? `${checked}. Nothing found in what was.` : `${checked}: nothing found.`
  const found = `${many(errors, 'error')}, ${many(warnings, 'warning')} and ${many(hints, 'hint')} in ${withFindings} of them`
  return `${checked}: ${found}.${fixable === 0 ? '' : ` ${fixable} can be put right with a fix offered in the editor.`}`
}

const many = (n: number, word: string): string => `${n} ${word}${n === 1 ? '' : 's'}`
