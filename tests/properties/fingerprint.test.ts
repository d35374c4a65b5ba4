// A finding's fingerprint: kept by every rewriting that says the same, changed by every change of a number, and never resting on words or days.
import { describe, expect, test } from 'vitest'
import { digest } from '../../server/src/base/digest.ts'
import type { Finding } from '../../server/src/rules/rule.ts'
import { fingerprintOf, Numbered } from '../../server/src/rules/support/fingerprint.ts'
import { Chance } from '../support/chance.ts'
import { runs } from '../support/counts.ts'
import { openFixture, parseFixture } from '../support/fixture.ts'
import { seed } from '../support/seed.ts'

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

/** How many rewritings keep it, and how many changes of a number do not. */
const REWRITES = 10_000

const chance = new Chance(seed)

/** The profile as somebody else would have written it, and a day to look at it. */
function rewritten(): readonly [text: string, day: string] {
  const unit = (...ways: readonly string[]): string => chance.one(ways)
  const quoted = (text: string): string => chance.one([text, `'${text}'`, `"${text}"`])
  const gap = quoted(unit('2.5 mm', '2500 µm', '0.25 cm', '2.50 mm', '2.500mm'))
  const after = quoted(unit('65 °C', '149 °F', '65.0 °C', '338.15 K'))
  const correction = quoted(unit('+0.05 %', '0.05 %', '0.050 %', '+0.0500 %'))
  const checks = ['03-01, 2000, 1996.0, A-1', '03-20, 2000, 1996.5, A-1', '03-02, 1000, 998.1, '].map((line) => {
    const [day, commanded, measured, lot] = line.split(', ') as [string, string, string, string]
    const applied = unit('+0.05 %', '0.05 %', '0.050 %')
    const keys = [
      `date: 2026-${day}`,
      `commanded: ${unit(`${commanded} mm`, `${Number(commanded) / 1000} m`)}`,
      `measured: ${unit(`${measured} mm`, `${Number(measured) / 10} cm`)}`,
      `applied: ${applied}`,
      ...(lot === '' ? [] : [`lot: ${lot}`]),
    ]
    return `    - { ${shuffled(keys).join(', ')} }\n`
  })
  const feed = shuffled([`  correction: ${correction}\n`, `  checks:\n${checks.join('')}`])
  const heat = chance.one([`heat:\n  after: ${after}\n`, `heat: { after: ${after} }\n`])
  const blocks = ['profile: banner\n', 'stock: film\n', 'printer: bay-1\n', `gap: ${gap}\n`, heat, `feed:\n${feed.join('')}`]
  const remarks = ['', '', '\n', '# kept\n', '\n\n# two\n', 'notes: ask Kim\n', 'title: For outside\n']
  let noted = shuffled(blocks).flatMap((block) => [chance.one(remarks), block])
  // A key stands in a document once.
  noted = noted.filter((part, i) => !/^(?:notes|title)/.test(part) || noted.indexOf(part) === i)
  const name = chance.one(['banner', 'profiles/bay-1/banner', 'x'])
  return [`#- ${name}.media.yaml\n${noted.join('')}`, chance.one(['2026-03-31', '2026-04-02'])]
}

function shuffled<T>(all: readonly T[]): readonly T[] {
  const left = [...all]
  return all.map(() => left.splice(chance.below(left.length), 1)[0]!)
}

/** Another number in place of one, at a step that is written; the finding that stands on it. */
const other = (from: number, to: number, decimals: number, not: number): string => {
  const steps = 10 ** decimals
  const value = (Math.round(from * steps) + chance.below(Math.round((to - from) * steps))) / steps
  return value === not ? `${to}` : `${value}`
}

const NUMBERS: readonly (readonly [code: string, change: () => string])[] = [
  ['heat-outside-printer', () => PROFILE.replace('65 °C', `${other(61.01, 90, chance.below(3), 65)} °C`)],
  ['unknown-gap', () => PROFILE.replace('2.5 mm', `${other(2.1, 2.9, 1 + chance.below(3), 2.5)} mm`)],
  [
    'feed-correction',
    () => PROFILE.replace('correction: +0.05 %', `correction: ${other(-0.3, 0.08, 2 + chance.below(2), 0.05)} %`),
  ],
]

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
    const many = runs(REWRITES, 300)
    for (let i = 0; i < many; i++) {
      const [text, day] = rewritten()
      expect([text, told(await prints(text, { today: day }))]).toEqual([text, before])
    }
  }, 3_600_000)
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

  test('with any number beyond what is written: of what stands on it alone', async () => {
    const before = told(await prints(PROFILE))
    const many = runs(REWRITES, 300)
    for (let i = 0; i < many; i++) {
      const [code, change] = chance.one(NUMBERS)
      const text = change()
      const after = told(await prints(text))
      expect([text, after[code] === before[code], after[code] !== undefined]).toEqual([text, false, true])
      for (const other of TOLD.filter((one) => one !== code && after[one] !== undefined && one !== 'feed-correction'))
        expect([text, other, after[other]]).toEqual([text, other, before[other]])
    }
  }, 3_600_000)
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
