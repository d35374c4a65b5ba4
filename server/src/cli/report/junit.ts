// `rollbook check --format junit`: a suite for each document. What makes the check fail is a failed case, what could not be judged a case in
// error, everything else is in the suite's output. There is no standard; the elements and attributes are those that CI hosts read
// (common practice).
import type { Judged } from '../judging.ts'
import type { ReadableFinding } from '../readable.ts'
import { type Asked, acceptedText, asideOf, fails, type MakeReport, placeOf, summaryText, worstFirst } from './report.ts'

export const junitReport: MakeReport = (cli, asked) => {
  const documents: Judged[] = []
  return {
    take: (document) => documents.push(document),
    end(ending) {
      const suites = documents.map((document) => suiteOf(document, asked))
      const { troubles } = ending
      if (troubles.length > 0) suites.push(notJudged(troubles))
      const total = (key: 'tests' | 'failures' | 'errors'): number => suites.reduce((all, suite) => all + suite[key], 0)
      const about = [...asideOf(ending), summaryText(ending, asked)].join('\n')
      cli.out(
        `<?xml version="1.0" encoding="UTF-8"?>\n` +
          `<testsuites name="rollbook check" tests="${total('tests')}" failures="${total('failures')}" errors="${total('errors')}">\n` +
          `${suites.map(({ xml }) => xml).join('')}` +
          `  <!-- ${xml(about).replace(/--/g, '- -')} -->\n</testsuites>\n`,
      )
    },
  }
}

interface Suite {
  readonly tests: number
  readonly failures: number
  readonly errors: number
  readonly xml: string
}

function suiteOf({ shown, findings }: Judged, asked: Asked): Suite {
  const failing = findings.filter((f) => placeOf(f, asked) === 'told' && fails(f.severity, asked.failOn)).sort(worstFirst)
  const others = findings.filter((f) => !failing.includes(f) && placeOf(f, asked) !== 'before')
  const name = xml(shown)
  const cases = failing.map(
    (f) =>
      `    <testcase classname="${name}" name="${xml(`${f.code} ${f.fingerprint}`)}" file="${name}" line="${f.range.start.line}">\n` +
      `      <failure type="${f.severity}" message="${xml(f.message)}">${xml(placed(f))}</failure>\n    </testcase>\n`,
  )
  if (cases.length === 0)
    cases.push(`    <testcase classname="${name}" name="no finding that fails the check" file="${name}"/>\n`)
  const word = (f: ReadableFinding): string =>
    ({ accepted: `${acceptedText(f)} `, due: 'due: ' })[placeOf(f, asked) as string] ?? ''
  const output = others.map((f) => `${word(f)}${placed(f)}`).join('\n')
  return suite(name, cases, { failures: failing.length, errors: 0 }, output)
}

function notJudged(troubles: readonly string[]): Suite {
  const cases = troubles.map(
    (text, i) =>
      `    <testcase classname="not judged" name="not judged ${i + 1}">\n      <error message="${xml(text)}"/>\n    </testcase>\n`,
  )
  return suite('not judged', cases, { failures: 0, errors: troubles.length }, '')
}

function suite(
  name: string,
  cases: readonly string[],
  { failures, errors }: { failures: number; errors: number },
  output: string,
): Suite {
  const counts = `tests="${cases.length}" failures="${failures}" errors="${errors}" skipped="0"`
  const printed = output === '' ? '' : `    <system-out>${xml(output)}</system-out>\n`
  return {
    tests: cases.length,
    failures,
    errors,
    xml: `  <testsuite name="${name}" ${counts}>\n${cases.join('')}${printed}  </testsuite>\n`,
  }
}

const placed = ({ file, range, severity, code, message }: ReadableFinding): string =>
  `${file}:${range.start.line}:${range.start.column} ${severity} ${code} ${message}`

const ENTITIES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' }

/** Text for XML 1.0, which cannot hold control characters, halves of characters and two others at all. */
const xml = (text: string): string =>
  text
    .replace(/\p{Cs}/gu, '\ufffd')
    .replace(/(?![\t\n\r])\p{Cc}|[\ufffe\uffff]/gu, '\ufffd')
    .replace(/[&<>"]/g, (character) => ENTITIES[character]!)
