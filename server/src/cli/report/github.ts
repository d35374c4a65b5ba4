// `rollbook check --format github`: workflow commands that the host shows as annotations at the lines of a change. The host takes ten errors and
// ten warnings of a step and drops the rest without a word, so the worst are chosen here and the rest are counted. Source: the host's
// documentation of workflow commands; the limits from memory.

import type { Severity } from '../../rules/rule.ts'
import type { ReadableFinding } from '../readable.ts'
import { printable } from '../terminal.ts'
import { repositoryPath } from './paths.ts'
import { type Asked, acceptedText, asideOf, type Ending, type MakeReport, placeOf, summaryText, worstFirst } from './report.ts'

/** Annotations of one level that a step may make. */
const MAX_ANNOTATIONS = 10

const LEVEL: Readonly<Record<Severity, 'error' | 'warning' | 'notice'>> = { error: 'error', warning: 'warning', hint: 'notice' }

export const githubReport: MakeReport = (cli, asked) => {
  const told: ReadableFinding[] = []
  const accepted: ReadableFinding[] = []
  return {
    take({ findings }) {
      told.push(...findings.filter((finding) => placeOf(finding, asked) === 'told'))
      accepted.push(...findings.filter((finding) => placeOf(finding, asked) === 'accepted'))
    },
    end(ending) {
      const path = (shown: string): string => repositoryPath(cli, shown)
      // In the log, and at no line: annotations are few.
      const held = accepted.map(
        (f) => `Rollbook: ${printable(`${f.file}:${f.range.start.line} ${f.code} ${acceptedText(f)} ${f.message}`)}`,
      )
      cli.out(`${[...linesOf(told, ending, asked, path), ...held].join('\n')}\n`)
    },
  }
}

function linesOf(
  told: readonly ReadableFinding[],
  ending: Ending,
  asked: Asked,
  path: (shown: string) => string,
): readonly string[] {
  const { troubles } = ending
  // What could not be judged comes before all: a check that saw half must not look like one that saw all.
  const failures = troubles
    .slice(0, troubles.length > MAX_ANNOTATIONS ? MAX_ANNOTATIONS - 1 : MAX_ANNOTATIONS)
    .map((text) => command('error', { title: 'Not judged' }, text))
  if (troubles.length > MAX_ANNOTATIONS)
    failures.push(
      command(
        'error',
        { title: 'Not judged' },
        `${troubles.length - failures.length} more could not be judged: the log of this step lists them.`,
      ),
    )
  const sorted = [...told].sort(worstFirst)
  const shown: ReadableFinding[] = []
  const room = { error: MAX_ANNOTATIONS - failures.length, warning: MAX_ANNOTATIONS, hint: MAX_ANNOTATIONS - 1 }
  for (const finding of sorted) if (room[finding.severity]-- > 0) shown.push(finding)
  const left = told.length - shown.length
  const totals = `${summaryText(ending, asked)}${left > 0 ? ` The worst ${shown.length} are shown at their lines; ${left} more are in 'rollbook check'.` : ''}`
  return [
    ...failures,
    ...shown.map((finding) => annotation(finding, path)),
    command('notice', { title: 'Rollbook' }, totals),
    // Never a command: a line that begins with the words of a document could be one.
    ...asideOf(ending).map((text) => `Rollbook: ${printable(text)}`),
  ]
}

function annotation({ severity, file, range, code, message }: ReadableFinding, path: (shown: string) => string): string {
  const { start, end } = range
  const place = {
    file: path(file),
    line: String(start.line),
    endLine: String(end.line),
    // Columns are understood within one line only.
    ...(start.line === end.line && { col: String(start.column), endColumn: String(end.column) }),
  }
  return command(LEVEL[severity], { ...place, title: code }, message)
}

function command(name: string, properties: Readonly<Record<string, string>>, message: string): string {
  const listed = Object.entries(properties).map(
    ([key, value]) => `${key}=${escaped(value).replace(/:/g, '%3A').replace(/,/g, '%2C')}`,
  )
  return `::${name} ${listed.join(',')}::${escaped(printable(message))}`
}

const escaped = (text: string): string => text.replace(/%/g, '%25').replace(/\r/g, '%0D').replace(/\n/g, '%0A')
