// `rollbook check --format gitlab`: the host's code quality report, a list of issues with fingerprints by which it tells new ones from old. The list
// has no place for what could not be judged, so that is an issue of its own, the gravest. Source: the host's documentation of the report.
import { digest } from '../../base/digest.ts'
import type { Severity } from '../../rules/rule.ts'
import type { ReadableFinding } from '../readable.ts'
import { printable } from '../terminal.ts'
import { repositoryPath } from './paths.ts'
import { acceptedText, type MakeReport, placeOf, worstFirst } from './report.ts'

const SEVERITY: Readonly<Record<Severity, string>> = { error: 'critical', warning: 'major', hint: 'info' }

/** What is accepted stays in the list, at the least weight there is. */
const TOLD: ReadonlySet<string> = new Set(['told', 'accepted'])

export const gitlabReport: MakeReport = (cli, asked) => {
  const told: ReadableFinding[] = []
  return {
    take: ({ findings }) => told.push(...findings.filter((finding) => TOLD.has(placeOf(finding, asked)))),
    end({ troubles }) {
      const issues = told.sort(worstFirst).map(({ severity, code, message, fingerprint, file, range, accepted }) => ({
        description: printable(accepted ? `${acceptedText({ accepted })} ${message}` : message),
        check_name: code,
        fingerprint,
        severity: SEVERITY[accepted ? 'hint' : severity],
        location: { path: repositoryPath(cli, file), lines: { begin: range.start.line, end: range.end.line } },
      }))
      const failures = troubles.map((text) => ({
        description: `Not judged: ${printable(text)}`,
        check_name: 'not-judged',
        fingerprint: digest(`not-judged ${text}`),
        severity: 'blocker',
        location: { path: '.', lines: { begin: 1 } },
      }))
      cli.out(`${JSON.stringify([...failures, ...issues], null, 2)}\n`)
    },
  }
}
