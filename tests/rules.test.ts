// Every rule's own examples: a bad one yields exactly its message at its mark, its fix gives the text after, and what is good is clean.
import { describe, expect, test } from 'vitest'
import { applyEdits, editsOf } from '../server/src/base/text-edit.ts'
import { RULES } from '../server/src/rules/generated/index.ts'
import type { Example, Finding } from '../server/src/rules/rule.ts'
import { runRules } from '../server/src/rules/run.ts'
import { some } from './support/counts.ts'
import { type Fixture, openFixture, parseFixture } from './support/fixture.ts'

const TODAY = '2026-03-31'

/** What every profile must have itself, or which each must be proven for: a base that lacks it does not speak for it. */
const TOLD_ANEW: ReadonlySet<string> = new Set(['alignment-missing', 'feed-unproven', 'setting-missing'])

for (const rule of RULES) {
  describe(rule.code, () => {
    test('has a summary, a page and examples of both kinds', () => {
      expect(rule.summary).toMatch(/^[A-Z].*\.$/)
      expect(rule.docs.length).toBeGreaterThan(60)
      expect(rule.examples.some((e) => e.message !== undefined)).toBe(true)
      expect(rule.examples.some((e) => e.message === undefined)).toBe(true)
    })
    for (const example of rule.examples) {
      test(example.name, () => check(rule.code, example))
    }
    for (const example of some(rule.examples, 3)) test(`${example.name} (CRLF)`, () => check(rule.code, withCrlf(example)))
    test('is told once, where its cause stands, and as due where the days alone bring it', async () => {
      for (const { text, message } of rule.examples) {
        if (message === undefined) continue
        const fixture = parseFixture(text)
        if (!TOLD_ANEW.has(rule.code))
          expect(await messagesOf(rule.code, builtOn(fixture)), 'of a profile built on it').toEqual([])
        const newest = newestDay(fixture)
        if (newest && !rule.due) expect(await messagesOf(rule.code, fixture, newest), `on ${newest}`).not.toEqual([])
      }
    })
    test('answers whatever is left out of its examples', async () => {
      const texts = new Set(rule.examples.filter(({ text }) => text.length < 3000).flatMap(({ text }) => leftOut(text)))
      for (const text of some([...texts])) {
        // Findings or none: what throws, here or when its fixes are asked for, fails.
        for (const { fixes, steps } of await findingsOf(rule.code, parseFixture(text)))
          [fixes, steps].map((offered) => offered?.())
      }
    })
  })
}

async function check(code: string, example: Example): Promise<void> {
  const fixture = parseFixture(example.text)
  const findings = await findingsOf(code, fixture)
  if (example.message === undefined) {
    expect(findings.map((f) => f.message)).toEqual([])
    return
  }
  expect(findings.map((f) => f.message)).toEqual([example.message])
  const [finding] = findings
  expect(finding!.span.end, 'the finding has a length').toBeGreaterThan(finding!.span.start)
  if (!fixture.mark) throw new Error('a bad example marks its finding with $0')
  const { start, end } = fixture.mark
  if (end > start) expect(fixture.text.slice(finding!.span.start, finding!.span.end)).toBe(fixture.text.slice(start, end))
  expect(finding!.span.start, 'the finding stands at the mark').toBeLessThanOrEqual(start)
  expect(finding!.span.end, 'the finding stands at the mark').toBeGreaterThanOrEqual(start)
  expect(offered(finding!)).toEqual(example.fixes ?? [])
  expect(toldBeside(finding!, fixture)).toEqual(example.related ?? [])
  expect(finding!.unnecessary ?? false).toBe(example.unnecessary ?? false)
  expect(finding!.outdated ?? false).toBe(example.outdated ?? false)
  if (example.after !== undefined) await checkFix(code, finding!, fixture, example.after)
}

const offered = ({ fixes }: Finding): readonly string[] =>
  (fixes?.() ?? []).flatMap((fix) =>
    fix
      ? [
          fix.title +
            (fix.preferred ? ' [preferred]' : '') +
            (fix.form ? ' [form]' : '') +
            (fix.refused === undefined ? '' : ` [refused: ${fix.refused}]`),
        ]
      : [],
  )

const toldBeside = ({ related = [] }: Finding, { files }: Fixture): readonly string[] =>
  related.map(({ file, span, message }) => `${message} ${files.get(file)!.slice(span.start, span.end).split(/\r?\n/)[0]}`)

async function checkFix(code: string, finding: Finding, fixture: Fixture, after: string): Promise<void> {
  const fix = finding.fixes?.().find((f) => f !== undefined)
  if (!fix) throw new Error('the finding has no fix')
  const edits = editsOf(fixture.text, fix.edits)
  expect(edits.length, 'the fix changes something').toBeGreaterThan(0)
  const fixed = applyEdits(fixture.text, edits)
  expect(fixed).toBe(after)
  const again: Fixture = { ...fixture, text: fixed, mark: undefined, files: new Map(fixture.files).set(fixture.file, fixed) }
  expect(await messagesOf(code, again), 'the fix clears the finding').toEqual([])
}

/** A profile that says nothing but that it is built on the one of a fixture. */
function builtOn(fixture: Fixture): Fixture {
  const [folder, id] = [fixture.file.replace(/[^/]+$/, ''), fixture.file.replace(/^.*\/|\..*$/g, '')]
  const [file, text] = [`${folder}on-it.media.yaml`, `profile: on-it\nbase: ${id}\n`]
  const base = /^profile:/m.test(fixture.text) ? fixture.text : `profile: ${id}\n${fixture.text}`
  return { file, text, mark: undefined, files: new Map(fixture.files).set(fixture.file, base).set(file, text) }
}

/** The newest day that the documents of a fixture tell of. */
const newestDay = ({ files }: Fixture): string | undefined =>
  [...files.values()]
    .flatMap((text) => text.match(/\b\d{4}-\d\d-\d\d\b/g) ?? [])
    .filter((day) => day <= TODAY)
    .sort()
    .at(-1)

const messagesOf = async (code: string, fixture: Fixture, today = TODAY): Promise<readonly string[]> =>
  (await findingsOf(code, fixture, today)).map((f) => f.message)

async function findingsOf(code: string, fixture: Fixture, today = TODAY): Promise<readonly Finding[]> {
  const analysis = await openFixture(fixture, today)
  const context = analysis.context(fixture.file)
  if (!context) throw new Error(`no context for ${fixture.file}`)
  return runRules({ ...context, setup: context.setup, only: new Set([code]), strict: true })
}

/** The text without each of its lines, and without each setting that stands in brackets. */
function leftOut(text: string): readonly string[] {
  const plain = text.replaceAll('$0', '')
  const found = [
    ...plain.matchAll(/^(?!#- ).+$/gm),
    ...plain.matchAll(/(?<=[{,] ?)[\w-]+: (?:[^,{}[\]\n]+|\[[^\]\n]*\])(?:, )?/g),
  ]
  return found.map(({ 0: part, index }) => plain.slice(0, index) + plain.slice(index + part.length))
}

const withCrlf = (example: Example): Example => ({
  ...example,
  text: example.text.replace(/\r?\n/g, '\r\n'),
  ...(example.after !== undefined && { after: example.after.replace(/\r?\n/g, '\r\n') }),
})
