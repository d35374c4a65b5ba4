// `rollbook check --format sarif`: the Static Analysis Results Interchange Format 2.1.0 (OASIS Standard), for code scanning and for viewers.
import { RULES } from '../../rules/generated/index.ts'
import type { Rule, Severity } from '../../rules/rule.ts'
import { VERSION } from '../../version.ts'
import type { CliHost } from '../host.ts'
import type { PointRange, ReadableFinding, ReadableFix } from '../readable.ts'
import { repositoryPath } from './paths.ts'
import { type Asked, acceptedText, asideOf, type Ending, type MakeReport, placeOf, summaryText, worstFirst } from './report.ts'

const SCHEMA = 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json'

/** Hosts refuse or cut longer lists in silence (from memory: 5,000 are shown of a run). */
const MAX_RESULTS = 5000

const LEVEL: Readonly<Record<Severity, 'error' | 'warning' | 'note'>> = { error: 'error', warning: 'warning', hint: 'note' }

export const sarifReport: MakeReport = (cli, asked) => {
  const all: ReadableFinding[] = []
  return {
    take: ({ findings }) => all.push(...findings),
    end: (ending) => cli.out(`${JSON.stringify(log(cli, asked, all.sort(worstFirst), ending), null, 2)}\n`),
  }
}

function log(cli: CliHost, asked: Asked, all: readonly ReadableFinding[], ending: Ending): object {
  const listed = all.slice(0, MAX_RESULTS)
  const codes = [...new Set(listed.map(({ code }) => code))].sort()
  const rules = codes.flatMap((code) => RULES.find((rule) => rule.code === code) ?? [])
  const cut = all.length - listed.length
  const told = [
    ...asideOf(ending),
    ...(cut > 0 ? [`The worst ${listed.length} findings are listed; ${cut} more are in 'rollbook check'.`] : []),
    summaryText(ending, asked),
  ]
  return {
    $schema: SCHEMA,
    version: '2.1.0',
    runs: [
      {
        tool: { driver: { name: 'Rollbook', version: VERSION, rules: rules.map(ruleOf) } },
        columnKind: 'utf16CodeUnits',
        invocations: [
          {
            executionSuccessful: ending.troubles.length === 0,
            toolExecutionNotifications: [
              ...ending.troubles.map((text) => ({ level: 'error', message: { text } })),
              ...told.map((text) => ({ level: 'note', message: { text } })),
            ],
          },
        ],
        results: listed.map((finding) => result(cli, asked, finding, codes)),
      },
    ],
  }
}

const ruleOf = ({ code, summary, docs, severity, risk }: Rule): object => ({
  id: code,
  shortDescription: { text: summary },
  help: { text: docs, markdown: docs },
  defaultConfiguration: { level: LEVEL[severity] },
  ...(risk && { properties: { tags: [risk] } }),
})

function result(cli: CliHost, asked: Asked, finding: ReadableFinding, codes: readonly string[]): object {
  const { code, severity, message, fingerprint, file, range, related, fixes } = finding
  const due = placeOf(finding, asked) === 'due'
  return {
    ruleId: code,
    ruleIndex: codes.indexOf(code),
    // What is due fails nobody's change.
    level: due ? 'note' : LEVEL[severity],
    message: { text: message },
    locations: [location(cli, file, range)],
    ...(related.length > 0 && {
      relatedLocations: related.map((r, id) => ({ id, ...location(cli, r.file, r.range), message: { text: r.message } })),
    }),
    partialFingerprints: { 'rollbookFinding/v1': fingerprint },
    ...(finding.new !== undefined && { baselineState: finding.new ? 'new' : 'unchanged' }),
    ...(fixes.length > 0 && { fixes: fixes.map((fix) => fixOf(cli, fix, file)) }),
    ...(finding.accepted && {
      suppressions: [{ kind: 'inSource', status: 'accepted', justification: acceptedText(finding) }],
    }),
    ...(finding.due && { properties: { due: true } }),
  }
}

const location = (cli: CliHost, file: string, range: PointRange): object => ({
  physicalLocation: { artifactLocation: artifact(cli, file), region: region(range) },
})

/** Relative to the root of the repository, which whoever reads the log knows. */
const artifact = (cli: CliHost, file: string): object => ({
  uri: repositoryPath(cli, file).split('/').map(encodeURIComponent).join('/'),
  uriBaseId: '%SRCROOT%',
})

const region = ({ start, end }: PointRange): object => ({
  startLine: start.line,
  startColumn: start.column,
  endLine: end.line,
  endColumn: end.column,
})

const fixOf = (cli: CliHost, { title, file, edits }: ReadableFix, own: string): object => ({
  description: { text: title },
  artifactChanges: [
    {
      artifactLocation: artifact(cli, file ?? own),
      replacements: edits.map((edit) => ({ deletedRegion: region(edit), insertedContent: { text: edit.newText } })),
    },
  ],
})
