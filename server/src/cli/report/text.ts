// What `rollbook check` prints for people: grouped by file as it goes; what is due comes last, by itself.

import type { Severity } from '../../rules/rule.ts'
import type { CliHost } from '../host.ts'
import type { Judged } from '../judging.ts'
import type { ReadableFinding } from '../readable.ts'
import { printable, type Style, styleOf } from '../terminal.ts'
import { type Asked, acceptedText, type CheckReport, fails, placeOf, summaryText } from './report.ts'

/** Quiet: only what is as bad as a warning or makes the check fail, nothing that is due, and no line at the end. */
export function textReport(cli: CliHost, asked: Asked, { quiet }: { quiet: boolean }): CheckReport {
  const style = styleOf(cli)
  const due: Judged[] = []
  const accepted: Judged[] = []
  let waiting = ''
  const write = (text: string, least: number): void => {
    waiting += text
    if (waiting === '' || waiting.length < least) return
    cli.out(waiting)
    waiting = ''
  }
  return {
    take({ shown, findings, ...rest }) {
      const listed = findings.filter(
        (f) => placeOf(f, asked) === 'told' && (!quiet || f.severity !== 'hint' || fails(f.severity, asked.failOn)),
      )
      const aside = quiet ? [] : findings.filter((f) => placeOf(f, asked) === 'due')
      if (aside.length > 0) due.push({ ...rest, shown, findings: aside })
      const held = quiet ? [] : findings.filter((f) => placeOf(f, asked) === 'accepted')
      if (held.length > 0) accepted.push({ ...rest, shown, findings: held })
      // On a terminal at once; else many at a time, since every write costs.
      if (listed.length > 0) write(groupText(shown, listed, style), cli.isTty ? 0 : 1 << 15)
    },
    end(ending) {
      if (quiet) return write('', 0)
      if (due.length > 0) write(`${style.bold('Due today; no change brought it, and it does not count here:')}\n\n`, 0)
      for (const { shown, findings } of due) write(groupText(shown, findings, style), 1 << 15)
      if (accepted.length > 0) write(`${style.bold('Accepted in the documents, each until a day; it does not count:')}\n\n`, 0)
      for (const { shown, findings } of accepted) write(groupText(shown, findings, style), 1 << 15)
      write(
        `${[...ending.remarks.map(printable), summaryText(ending, asked), ...ending.leftOut.lines.map(printable)].join('\n')}\n`,
        0,
      )
    },
  }
}

const groupText = (shown: string, findings: readonly ReadableFinding[], style: Style): string =>
  `${style.bold(printable(shown))}\n${linesOf(findings, style)}\n`

function linesOf(findings: readonly ReadableFinding[], style: Style): string {
  const place = ({ range }: ReadableFinding): string => `${range.start.line}:${range.start.column}`
  const width = Math.max(...findings.map((f) => place(f).length))
  const below = ' '.repeat(width + 4)
  const lines: string[] = []
  for (const finding of findings) {
    const { severity, code, message, fixes, related } = finding
    lines.push(`  ${place(finding).padEnd(width)}  ${COLOUR[severity](style)(severity)} ${style.dim(code)} ${printable(message)}`)
    const held = acceptedText(finding)
    if (held !== undefined) lines.push(`${below}${printable(held)}`)
    for (const { file, range, message: why } of related)
      lines.push(`${below}${style.dim(`see ${printable(file)}:${range.start.line}:${range.start.column} ${printable(why)}`)}`)
    for (const { title } of fixes) lines.push(`${below}${style.dim(`fix: ${printable(title)}`)}`)
  }
  return `${lines.join('\n')}\n`
}

export const COLOUR: Readonly<Record<Severity, (style: Style) => (text: string) => string>> = {
  error: (style) => style.red,
  warning: (style) => style.yellow,
  hint: (style) => style.blue,
}
