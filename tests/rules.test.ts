// Every rule's own examples: a bad one yields exactly its message at its mark, its fix gives the text after, and what is good is clean.
import { describe, expect, test } from 'vitest'
import { applyEdits, editsOf } from '../server/src/base/text-edit.ts'
import { RULES } from '../server/src/rules/generated/index.ts'
import type { Example, Finding } from '../server/src/rules/rule.ts'
import { runRules } from '../server/src/rules/run.ts'
import { type Fixture, openFixture, parseFixture } from './support/fixture.ts'

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
      test(`${example.name} (CRLF)`, () => check(rule.code, withCrlf(example)))
    }
    test('answers whatever is left out of its examples', async () => {
      const texts = new Set(rule.examples.filter(({ text }) => text.length < 3000).flatMap(({ text }) => leftOut(text)))
      for (const text of texts) {
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
  expect(
    (await findingsOf(code, again)).map((f) => f.message),
    'the fix clears the finding',
  ).toEqual([])
}

async function findingsOf(code: string, fixture: Fixture): Promise<readonly Finding[]> {
  const analysis = await openFixture(fixture)
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
