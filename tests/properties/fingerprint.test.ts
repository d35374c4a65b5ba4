// A finding's fingerprint: kept by every rewriting that says the same, changed by every change of a number, and never resting on words or days.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { digest } from '../../server/src/base/digest.ts'
import type { Finding } from '../../server/src/rules/rule.ts'
import { fingerprintOf, Numbered } from '../../server/src/rules/support/fingerprint.ts'
import { runs } from '../support/counts.ts'
import { openFixture, parseFixture } from '../support/fixture.ts'

test.each([
  // Test vectors of the FNV authors for FNV-1a, 64 bits (from memory).
  ['', 'cbf29ce484222325'],
  ['a', 'af63dc4c8601ec8c'],
  ['foobar', '85944171f73967e8'],
])('the digest of %j is that of FNV-1a', (text, expected) => {
  expect(digest(text)).toBe(expected)
})

const OTHERS = `#- bay-1.printer.yaml
printer: bay-1
carriage: {gaps: [1.5 mm, 2 mm, 3 mm]}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
heaters: {after: {range: [20 °C, 60 °C]}}
#- film.stock.yaml
stock: film
thickness: 0.1 mm
softens-at: 70 °C
lots:
  - {lot: A-1, received: 2026-03-01}
  - {lot: A-2, received: 2026-03-31}
`

const PROFILE = `#- banner.media.yaml
profile: banner
stock: film
printer: bay-1
gap: 2.5 mm
heat:
  after: 65 °C
feed:
  correction: +0.05 %
  checks:
    - {date: 2026-03-01, commanded: 2000 mm, measured: 1996.0 mm, applied: +0.05 %, lot: A-1}
    - {date: 2026-03-20, commanded: 2000 mm, measured: 1996.5 mm, applied: +0.05 %, lot: A-1}
    - {date: 2026-03-02, commanded: 1000 mm, measured: 998.1 mm, applied: +0.05 %, lot: A-1}
`

/** Fingerprints by code of the profile's findings. */
async function prints(profile: string, { others = OTHERS, today = '2026-03-31' } = {}): Promise<Record<string, string>> {
  const analysis = await openFixture(parseFixture(profile + others), today)
  const file = parseFixture(profile + others).file
  const document = analysis.workspace.document(file)!
  const numbered = new Numbered()
  return Object.fromEntries(
    analysis
      .findings(file)
      .map((f: Finding) => [f.code, numbered.take(fingerprintOf(f, document, (other) => analysis.workspace.document(other)))]),
  )
}

const TOLD = ['feed-correction', 'feed-lot', 'heat-outside-printer', 'unknown-gap']
const told = (found: Record<string, string>): Record<string, string | undefined> =>
  Object.fromEntries(TOLD.map((code) => [code, found[code]]))

describe('stays', () => {
  test.each([
    ['in another unit', (t: string) => t.replace('gap: 2.5 mm', 'gap: 0.25 cm').replace('65 °C', '149 °F')],
    ['with a number written longer', (t: string) => t.replace('+0.05 %\n', '0.0500 %\n').replace('2.5 mm', '2.50mm')],
    ['in quotes, with comments and blank lines', (t: string) => t.replace('gap: 2.5 mm', '\n# as agreed\ngap: "2.5 mm" # wide')],
    [
      'with the keys in another order',
      (t: string) =>
        t
          .replace('gap: 2.5 mm\nheat:\n  after: 65 °C\n', '')
          .replace('stock: film', 'heat:\n  after: 65 °C\ngap: 2.5 mm\nstock: film'),
    ],
    [
      'with the checks in another order',
      (t: string) => t.replace(/( {4}- \{date: 2026-03-01.*\n)([\s\S]*)$/, (_, first: string, rest: string) => rest + first),
    ],
    ['in a file of another name', (t: string) => t.replace('banner.media.yaml', 'profiles/bay-1/banner.media.yaml')],
    ['with a note beside it', (t: string) => t.replace('printer: bay-1', 'printer: bay-1\ntitle: For outside\nnotes: ask Kim')],
  ])('%s', async (_, rewrite) => {
    const rewritten = rewrite(PROFILE)
    expect(rewritten).not.toBe(PROFILE)
    const before = told(await prints(PROFILE))
    expect(Object.values(before).filter((f) => f === undefined)).toEqual([])
    expect(told(await prints(rewritten))).toEqual(before)
  })

  test('on another day, with another message', async () => {
    expect(told(await prints(PROFILE, { today: '2026-04-02' }))).toEqual(told(await prints(PROFILE)))
  })

  test('rewritings of every kind together', async () => {
    const before = told(await prints(PROFILE))
    const word = fc.constantFrom('\n', '# kept\n', '\n\n# two\n')
    await fc.assert(
      fc.asyncProperty(word, word, fc.boolean(), fc.boolean(), fc.boolean(), async (a, b, unit, quote, swap) => {
        let text = PROFILE.replace('gap:', `${a}gap:`.replace(/^\n/, '')).replace('feed:\n', `${b}feed:\n`)
        if (unit) text = text.replace('2.5 mm', '2500 µm').replace('2000 mm, measured: 1996.0 mm', '2 m, measured: 1.9960 m')
        if (quote) text = text.replace('+0.05 %\n', "'+0.05 %'\n")
        if (swap) text = text.replace('stock: film\nprinter: bay-1\n', 'printer: bay-1\nstock: film\n')
        expect(told(await prints(text))).toEqual(before)
      }),
      { numRuns: runs(60) },
    )
  })
})

describe('changes', () => {
  test.each([
    ['the correction', 'feed-correction', (t: string) => t.replace('correction: +0.05 %', 'correction: +0.06 %')],
    ['the gap', 'unknown-gap', (t: string) => t.replace('2.5 mm', '2.6 mm')],
    ['the heat', 'heat-outside-printer', (t: string) => t.replace('65 °C', '66 °C')],
    ['the profile', 'unknown-gap', (t: string) => t.replace('profile: banner', 'profile: other')],
  ])('with %s', async (_, code, change) => {
    expect((await prints(change(PROFILE)))[code]).not.toBe((await prints(PROFILE))[code])
    expect((await prints(change(PROFILE)))[code]).toBeDefined()
  })

  test('with what another document says, where the finding names it', async () => {
    const before = await prints(PROFILE)
    const after = await prints(PROFILE, {
      others: OTHERS.replace('{lot: A-2, received: 2026-03-31}', '{lot: A-3, received: 2026-03-31}'),
    })
    expect(after['feed-lot']).toBeDefined()
    expect(after['feed-lot']).not.toBe(before['feed-lot'])
  })

  test('with any number beyond what is written', async () => {
    const before = (await prints(PROFILE))['heat-outside-printer']
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 6101, max: 9000 }), async (hundredths) => {
        fc.pre(hundredths !== 6500)
        const after = (await prints(PROFILE.replace('65 °C', `${hundredths / 100} °C`)))['heat-outside-printer']
        expect(after).toBeDefined()
        expect(after).not.toBe(before)
      }),
      { numRuns: runs(60) },
    )
  })
})

test('equal findings on equal entries are told apart by their order', () => {
  const numbered = new Numbered()
  const [first, second, third] = [numbered.take('a'), numbered.take('a'), numbered.take('b')]
  expect(first).toBe('a')
  expect(new Set([first, second, third]).size).toBe(3)
})

test('aliases that stand for very much take no time to speak of', async () => {
  const bomb = Array.from(
    { length: 9 },
    (_, i) => `${i === 0 ? 'x-0: &a0 [1, 1]' : `x-${i}: &a${i} [*a${i - 1}, *a${i - 1}, *a${i - 1}, *a${i - 1}]`}`,
  )
  const found = await prints(
    `#- b.media.yaml\n${bomb.join('\n')}\nprofile: b\nobserved:\n  - {date: 2026-03-01, x-all: [*a8], fault: no-such}\n`,
  )
  expect(Object.keys(found).length).toBeGreaterThan(0)
})
