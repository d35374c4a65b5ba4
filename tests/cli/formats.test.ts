// The formats of `rollbook check` for CI hosts: valid by what is published of them, whole, and never quieter than the text.
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { fileURLToPath } from 'node:url'
import Ajv from 'ajv'
import { describe, expect, test } from 'vitest'
import { nodeCliHost } from '../../server/src/cli/node.ts'
import type { ReadableFinding } from '../../server/src/cli/readable.ts'
import { runCli } from '../../server/src/cli/run.ts'
import { PRINTER, ran, run, type Shell, shopWith } from './shell.ts'

const SAMPLES = fileURLToPath(new URL('../../samples', import.meta.url))

interface Checked {
  readonly out: string
  readonly code: number
}

const checked = new Map<string, Promise<Checked>>()

/** A check of a sample shop as it stands on disk: asked once. */
function sample(shop: string, ...args: readonly string[]): Promise<Checked> {
  const asked = [shop, ...args].join(' ')
  const found = checked.get(asked) ?? check(shop, args)
  checked.set(asked, found)
  return found
}

async function check(shop: string, args: readonly string[]): Promise<Checked> {
  let out = ''
  const code = await runCli(['check', '--today', '2026-11-25', ...args], {
    ...nodeCliHost(),
    cwd: `${SAMPLES}/${shop}`,
    out: (text) => {
      out += text
    },
    err: () => undefined,
  })
  return { out, code }
}

const findingsOf = async (shop: string): Promise<readonly ReadableFinding[]> =>
  JSON.parse((await sample(shop, '--format', 'json')).out).findings

const SHORT = `#- profiles/banner.media.yaml
profile: banner
printer: bay-1
feed:
  correction: +0.05 %
  checks:
    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: +0.05 %}
`

/** As many profiles, each with one warning. */
const many = (count: number): string =>
  Array.from({ length: count }, (_, i) => SHORT.replaceAll('banner', `b${String(i).padStart(2, '0')}`)).join('')

const OLD = `#- profiles/old.media.yaml
profile: old
printer: bay-1
feed:
  correction: 0 %
  checks:
    - {date: 2026-01-30, commanded: 2000 mm, measured: 2000 mm, applied: 0 %}
`

test('the exit code is the same in every format', async () => {
  const shop = shopWith('feed-correction', 'duplicate-key') + PRINTER
  const cases: readonly [string, Shell, number][] = [
    [shop, {}, 0],
    [shop + SHORT, {}, 1],
    [shop + SHORT, { unreadable: ['profiles/banner.media.yaml'] }, 2],
  ]
  for (const format of ['text', 'json', 'sarif', 'junit', 'github', 'gitlab'])
    for (const [files, shell, code] of cases)
      expect([format, (await ran(`check --format ${format}`, files, shell)).code]).toEqual([format, code])
})

describe('sarif', () => {
  // The schema as published with the standard's last working draft, 2.1.0-rtm.5, in a package of its own. It is written for JSON Schema draft 4,
  // whose words for what it uses are those of draft 7 but for the name of the identifier.
  const require = createRequire(import.meta.url)
  const {
    id: _,
    $schema: __,
    ...schema
  } = JSON.parse(readFileSync(require.resolve('@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json'), 'utf8'))
  const valid = new Ajv({ strict: false, validateFormats: false, unicodeRegExp: false, allErrors: true }).compile(schema)
  const faults = (log: unknown): unknown => (valid(log) ? [] : valid.errors)

  test('the schema refuses what is wrong', () => {
    expect(faults({ version: '2.0.0', runs: [] })).not.toEqual([])
    expect(faults({ version: '2.1.0', runs: [{ results: [] }] })).not.toEqual([])
    expect(
      faults({ version: '2.1.0', runs: [{ tool: { driver: { name: 'x' } }, results: [{ message: {}, level: 'bad' }] }] }),
    ).not.toEqual([])
  })

  test.each(['tern-quay', 'broken'])('%s is valid and whole, with a fingerprint for each finding', async (shop) => {
    const { out } = await sample(shop, '--format', 'sarif')
    const log = JSON.parse(out)
    expect(faults(log)).toEqual([])
    const found = await findingsOf(shop)
    const [{ results, tool }] = log.runs
    expect(results).toHaveLength(found.length)
    const prints = results.map((r: { partialFingerprints: object }) => r.partialFingerprints['rollbookFinding/v1' as never])
    expect(new Set(prints).size).toBe(found.length)
    expect([...prints].sort()).toEqual(found.map(({ fingerprint }) => fingerprint).sort())
    for (const { ruleId, ruleIndex } of results) expect(tool.driver.rules[ruleIndex].id).toBe(ruleId)
  })

  test('each result, with its place, its fix and what it names', async () => {
    const twice = '#- a.media.yaml\nprofile: a\nprofile: a\n'
    const { out } = await ran('check --format sarif', shopWith('duplicate-key') + twice)
    const log = JSON.parse(out)
    expect(faults(log)).toEqual([])
    expect(log.runs[0].results).toMatchInlineSnapshot(`
      [
        {
          "fixes": [
            {
              "artifactChanges": [
                {
                  "artifactLocation": {
                    "uri": "a.media.yaml",
                    "uriBaseId": "%SRCROOT%",
                  },
                  "replacements": [
                    {
                      "deletedRegion": {
                        "endColumn": 1,
                        "endLine": 3,
                        "startColumn": 1,
                        "startLine": 2,
                      },
                      "insertedContent": {
                        "text": "",
                      },
                    },
                  ],
                },
              ],
              "description": {
                "text": "Delete the later one",
              },
            },
          ],
          "level": "error",
          "locations": [
            {
              "physicalLocation": {
                "artifactLocation": {
                  "uri": "a.media.yaml",
                  "uriBaseId": "%SRCROOT%",
                },
                "region": {
                  "endColumn": 8,
                  "endLine": 2,
                  "startColumn": 1,
                  "startLine": 2,
                },
              },
            },
          ],
          "message": {
            "text": "'profile' is given twice with the same value. One is enough.",
          },
          "partialFingerprints": {
            "rollbookFinding/v1": "6f08d5ebfaa643a0",
          },
          "relatedLocations": [
            {
              "id": 0,
              "message": {
                "text": "The first one, which counts here.",
              },
              "physicalLocation": {
                "artifactLocation": {
                  "uri": "a.media.yaml",
                  "uriBaseId": "%SRCROOT%",
                },
                "region": {
                  "endColumn": 8,
                  "endLine": 1,
                  "startColumn": 1,
                  "startLine": 1,
                },
              },
            },
          ],
          "ruleId": "duplicate-key",
          "ruleIndex": 0,
        },
      ]
    `)
  })

  test('what could not be judged makes the run a failed one', async () => {
    const shop = shopWith('feed-correction') + PRINTER + SHORT
    const log = JSON.parse((await ran('check --format sarif', shop, { unreadable: ['profiles/banner.media.yaml'] })).out)
    expect(faults(log)).toEqual([])
    expect(log.runs[0].invocations[0].executionSuccessful).toBe(false)
    expect(log.runs[0].invocations[0].toolExecutionNotifications[0]).toEqual({
      level: 'error',
      message: { text: 'profiles/banner.media.yaml cannot be read: permission is denied' },
    })
  })
})

describe('github', () => {
  test('annotations at their lines, and the totals', async () => {
    expect(await run('check --format github', shopWith('feed-correction') + PRINTER + SHORT)).toMatchInlineSnapshot(`
      "::warning file=profiles/banner.media.yaml,line=4,endLine=4,col=15,endColumn=22,title=feed-correction::Name the stock first, and key in nothing before. By what is known prints come out 2 mm per metre short. 1 check asks for +0.25 %25 ±0.11 %25, and +0.05 %25 is set.
      ::notice title=Rollbook::3 documents checked: 0 errors, 1 warning and 0 hints in 1 of them. 1 can be put right with a fix offered in the editor.
      exit 1"
    `)
  })

  test('no more than the host shows, the worst first, and the rest are counted', async () => {
    const bad = '#- z.media.yaml\nprofile: z\nprofile: z\n'
    const { out } = await ran('check --format github', shopWith('feed-correction', 'duplicate-key') + PRINTER + many(14) + bad)
    const lines = out.trimEnd().split('\n')
    expect(lines.map((line) => line.slice(2, line.indexOf(' '))).join(' ')).toBe(`error ${'warning '.repeat(10)}notice`)
    expect(lines.at(-1)).toContain('1 error, 14 warnings and 0 hints in 15 of them')
    expect(lines.at(-1)).toContain("The worst 11 are shown at their lines; 4 more are in 'rollbook check'.")
  })

  test('what could not be judged comes first', async () => {
    const { out } = await ran('check --format github', shopWith('feed-correction') + PRINTER + SHORT, {
      unreadable: ['profiles/banner.media.yaml'],
    })
    expect(out).toMatch(/^::error title=Not judged::profiles\/banner\.media\.yaml cannot be read: permission is denied\n/)
  })

  test('a document cannot give commands to the host', async () => {
    const text = `${shopWith('unknown-key')}#- a.media.yaml\nprofile: a\n"x\\n::set-output name=a::b": 1\n"50%,:": 1\n`
    const { out } = await ran('check --format github', text)
    for (const line of out.trimEnd().split('\n')) expect(line).toMatch(/^::(?:error|notice) [^:]*::/)
    expect(out).toContain('50%25,:')
  })

  test('paths are those of the repository, also from a folder in it', async () => {
    const { out } = await ran('check --format github', shopWith('feed-correction') + PRINTER + SHORT, {
      cwd: 'profiles',
      env: { GITHUB_WORKSPACE: '/shop' },
    })
    expect(out).toContain('file=profiles/banner.media.yaml,')
  })
})

describe('gitlab', () => {
  test('each finding, with what the host needs of it', async () => {
    const { out } = await ran('check --format gitlab', shopWith('feed-correction') + PRINTER + SHORT)
    expect(JSON.parse(out)).toMatchInlineSnapshot(`
      [
        {
          "check_name": "feed-correction",
          "description": "Name the stock first, and key in nothing before. By what is known prints come out 2 mm per metre short. 1 check asks for +0.25 % ±0.11 %, and +0.05 % is set.",
          "fingerprint": "b038278ef22e3b8d",
          "location": {
            "lines": {
              "begin": 4,
              "end": 4,
            },
            "path": "profiles/banner.media.yaml",
          },
          "severity": "major",
        },
      ]
    `)
  })

  test.each(['tern-quay', 'broken'])('%s: no two fingerprints are equal', async (shop) => {
    const issues = JSON.parse((await sample(shop, '--format', 'gitlab', '--due')).out) as readonly { fingerprint: string }[]
    expect(issues.length).toBeGreaterThanOrEqual((await findingsOf(shop)).length)
    expect(new Set(issues.map(({ fingerprint }) => fingerprint)).size).toBe(issues.length)
  })

  test('what could not be judged is an issue, the gravest and the first', async () => {
    const shop = shopWith('feed-correction') + PRINTER + SHORT
    const { out } = await ran('check --format gitlab', shop, { unreadable: ['profiles/banner.media.yaml'] })
    expect(JSON.parse(out)).toMatchObject([{ severity: 'blocker', check_name: 'not-judged' }])
  })
})

describe('junit', () => {
  test('a suite for each document; only what fails the check is a failure', async () => {
    expect(
      await run('check --format junit', shopWith('feed-correction', 'feed-stale') + PRINTER + SHORT + OLD),
    ).toMatchInlineSnapshot(`
      "<?xml version="1.0" encoding="UTF-8"?>
      <testsuites name="rollbook check" tests="4" failures="1" errors="0">
        <testsuite name="printers/bay-1.printer.yaml" tests="1" failures="0" errors="0" skipped="0">
          <testcase classname="printers/bay-1.printer.yaml" name="no finding that fails the check" file="printers/bay-1.printer.yaml"/>
        </testsuite>
        <testsuite name="profiles/banner.media.yaml" tests="1" failures="1" errors="0" skipped="0">
          <testcase classname="profiles/banner.media.yaml" name="feed-correction b038278ef22e3b8d" file="profiles/banner.media.yaml" line="4">
            <failure type="warning" message="Name the stock first, and key in nothing before. By what is known prints come out 2 mm per metre short. 1 check asks for +0.25 % ±0.11 %, and +0.05 % is set.">profiles/banner.media.yaml:4:15 warning feed-correction Name the stock first, and key in nothing before. By what is known prints come out 2 mm per metre short. 1 check asks for +0.25 % ±0.11 %, and +0.05 % is set.</failure>
          </testcase>
        </testsuite>
        <testsuite name="profiles/old.media.yaml" tests="1" failures="0" errors="0" skipped="0">
          <testcase classname="profiles/old.media.yaml" name="no finding that fails the check" file="profiles/old.media.yaml"/>
          <system-out>due: profiles/old.media.yaml:6:14 warning feed-stale Print the feed pattern and add a check: the newest is 60 days old, and the shop checks again after 30 days: one was due on 2026-03-01.</system-out>
        </testsuite>
        <testsuite name="rollbook.yaml" tests="1" failures="0" errors="0" skipped="0">
          <testcase classname="rollbook.yaml" name="no finding that fails the check" file="rollbook.yaml"/>
        </testsuite>
        <!-- 4 documents checked: 0 errors, 1 warning and 0 hints in 1 of them. 1 can be put right with a fix offered in the editor. 1 is due and not counted: see 'rollbook due'. -->
      </testsuites>
      exit 1"
    `)
  })

  test('what could not be judged is an error', async () => {
    const shop = shopWith('feed-correction') + PRINTER + SHORT
    const { out } = await ran('check --format junit', shop, { unreadable: ['profiles/banner.media.yaml'] })
    expect(out).toContain('failures="0" errors="1">')
    expect(out).toContain('<error message="profiles/banner.media.yaml cannot be read: permission is denied"/>')
  })

  test('nothing in a document breaks the text', async () => {
    const { out } = await ran(
      'check --format junit',
      `${shopWith('unknown-key')}#- a.media.yaml\nprofile: a\n"<\\e&\\"]]>--": 1\n`,
    )
    expect(out).toContain('&lt; &amp;&quot;]]&gt;--')
    expect(out.match(/<!--(?:(?!-->)[\s\S])*-->/g)).toHaveLength(1)
  })
})
