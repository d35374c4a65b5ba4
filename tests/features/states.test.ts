// States of the machine where they are named: what is offered, told, followed and renamed.
import { describe, expect, test } from 'vitest'
import { LineIndex } from '../../server/src/base/line-index.ts'
import { applyEdits, editsOf } from '../../server/src/base/text-edit.ts'
import { cursorOf, openFixture, parseFixture, ROOT } from '../support/fixture.ts'
import { completions, hover } from '../support/render.ts'
import { inShop } from './example-shop.ts'

const NOW =
  'from: profile, stock: film, printer: bay-1, mode: standard, gap: 2.0 mm, suction: 3, web.tension: 2, heat.platen: 40 °C'

/** A profile with three states: of today, with another suction and heat, and of which little is known. */
const PROFILE = `profile: example
stock: film
printer: bay-1
mode: standard
gap: 2.0 mm
feed:
  checks:
    - { date: 2026-03-02, commanded: 1000 mm, measured: 998 mm, applied: 0 %, under: s9ra7 }
    - { date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %, under: s9ra7 }
    - { date: 2026-03-28, commanded: 1000 mm, measured: 998 mm, applied: 0 %, under: morning }
alignment: { date: 2026-03-02, under: s9ra7 }
heat: { platen: 40 °C }
suction: 3
web: { tension: 2 }
conditions:
  s9ra7: { from: read-back, stock: film, printer: bay-1, mode: standard, gap: 2.0 mm, suction: 2, web.tension: 2, heat.platen: 42 °C }
  now-ish: { ${NOW} }
  morning: { from: said, stock: film, printer: bay-1, mode: fine, suction: 7 }
`

const at = (text: string): string => inShop(PROFILE.replace(text.replace('$0', ''), text))

test('what is offered: as today first, then the newest, with what differs', async () => {
  const fixture = parseFixture(
    at('2026-03-28, commanded: 1000 mm, measured: 998 mm, applied: 0 %, under: $0').replace('$0morning', '$0'),
  )
  const analysis = await openFixture(fixture)
  const items = analysis.completions(fixture.file, cursorOf(fixture))
  expect(items.map(({ label, detail, sort }) => `${sort} ${label}: ${detail}`).join('\n')).toMatchInlineSnapshot(`
    "1000 now-ish: as today
    1001 s9ra7: suction 2 instead of 3; heat of the platen 42 °C instead of 40 °C
    1002 morning: mode fine instead of standard; suction 7, which bay-1 does not have; gap, tension, heat of the platen not known then
    9 another setting ran: write a new state as said: writes s98gv with today's settings: change them there"
  `)
})

test('levels and gaps are offered in a state too', async () => {
  const { labels } = await completions(inShop(PROFILE.replace('suction: 2', 'suction: $0')))
  expect(labels).toEqual(['1', '2', '3'])
})

describe('what is told', () => {
  test('on the name that evidence gives', async () => {
    expect((await hover(at('applied: 0 %, under: s9$0ra7'))).split('\n').slice(0, 7).join('\n')).toMatchInlineSnapshot(`
      "*s9ra7*
      **feed.checks.under** \`s9ra7\`

      **It came out 2 mm per metre short, and asks for +0.20 % ±0.11 % (95 %).**

      Unlike today: suction 2 instead of 3; heat of the platen 42 °C instead of 40 °C.
      "
    `)
  })

  test('where it is given', async () => {
    expect((await hover(at('  mor$0ning: {'))).split('\n').slice(0, 7).join('\n')).toMatchInlineSnapshot(`
      "*morning*
      **conditions** \`morning\`

      Unlike today: mode fine instead of standard; suction 7, which bay-1 does not have; gap, tension, heat of the platen not known then.

      stock \`film\` · printer \`bay-1\` · mode \`fine\` · suction \`7\`
      "
    `)
    expect((await hover(at('  now$0-ish: {'))).split('\n').slice(0, 7).join('\n')).toMatchInlineSnapshot(`
      "*now-ish*
      **conditions** \`now-ish\`

      As today.

      stock \`film\` · printer \`bay-1\` · mode \`standard\` · gap \`2.0 mm\` · suction \`3\` · tension \`2\` · heat of the platen \`40 °C\`
      "
    `)
  })
})

/** The lines of the places, each with its place marked. */
async function places(source: string, ask: 'definition' | 'references' | 'highlights'): Promise<string> {
  const fixture = parseFixture(source)
  const analysis = await openFixture(fixture)
  const lines = new LineIndex(fixture.text)
  const found = await analysis[ask](fixture.file, cursorOf(fixture))
  return found
    .map(({ span }) => {
      const line = lines.lineAt(span.start)
      const [start, end] = [lines.lineStart(line), lines.lineEnd(line)]
      return `${line + 1}: ${fixture.text.slice(Math.max(start, span.start - 20), span.start).trimStart()}«${fixture.text.slice(span.start, Math.min(end, span.end))}»`
    })
    .join('\n')
}

describe('where it leads', () => {
  test('from evidence to the state, and back', async () => {
    expect(await places(at('{ date: 2026-03-02, under: s9$0ra7 }'), 'definition')).toMatchInlineSnapshot(`"16: «s9ra7»"`)
    expect(await places(at('  s9r$0a7: { from'), 'references')).toMatchInlineSnapshot(`
      "8: pplied: 0 %, under: «s9ra7»
      9: pplied: 0 %, under: «s9ra7»
      11: 2026-03-02, under: «s9ra7»"
    `)
    expect(await places(at('  s9r$0a7: { from'), 'highlights')).toMatchInlineSnapshot(`
      "8: pplied: 0 %, under: «s9ra7»
      9: pplied: 0 %, under: «s9ra7»
      11: 2026-03-02, under: «s9ra7»
      16: «s9ra7»"
    `)
  })

  test('a mode of a state is one of the printer that the state names', async () => {
    const other = `${inShop(PROFILE.replace('bay-1, mode: fine', 'bay-2, mode: fi$0ne'))}#- bay-2.printer.yaml
printer: bay-2
modes:
  fine: {resolution: 360 x 360 dpi, passes: 2}
`
    const fixture = parseFixture(other)
    const analysis = await openFixture(fixture)
    analysis.workspace.update(`${ROOT}bay-2.printer.yaml`, fixture.files.get(`${ROOT}bay-2.printer.yaml`)!)
    expect(analysis.definition(fixture.file, cursorOf(fixture)).map(({ file }) => file)).toEqual([`${ROOT}bay-2.printer.yaml`])
  })
})

/** `file: the line as it becomes`, one a line, or why it is refused. */
async function renamed(source: string, name: string): Promise<string> {
  const fixture = parseFixture(source)
  const analysis = await openFixture(fixture)
  const renaming = await analysis.rename(fixture.file, cursorOf(fixture), name)
  if (!renaming?.ok) return `refused: ${renaming?.refused}`
  return [...renaming.edits]
    .flatMap(([{ file, text }, edits]) => {
      const before = text.split('\n')
      const after = applyEdits(text, editsOf(text, edits)).split('\n')
      return after.filter((line, i) => line !== before[i]).map((line) => `${file.slice(ROOT.length)}: ${line}`)
    })
    .join('\n')
}

describe('another name', () => {
  test('of the state, where it is given and named', async () => {
    expect(await renamed(at('  s9r$0a7: { from'), 'after-service')).toMatchInlineSnapshot(`
      "example.media.yaml:     - { date: 2026-03-02, commanded: 1000 mm, measured: 998 mm, applied: 0 %, under: after-service }
      example.media.yaml:     - { date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %, under: after-service }
      example.media.yaml: alignment: { date: 2026-03-02, under: after-service }
      example.media.yaml:   after-service: { from: read-back, stock: film, printer: bay-1, mode: standard, gap: 2.0 mm, suction: 2, web.tension: 2, heat.platen: 42 °C }"
    `)
    expect(await renamed(at('applied: 0 %, under: mor$0ning'), 'spring')).toMatchInlineSnapshot(`
      "example.media.yaml:     - { date: 2026-03-28, commanded: 1000 mm, measured: 998 mm, applied: 0 %, under: spring }
      example.media.yaml:   spring: { from: said, stock: film, printer: bay-1, mode: fine, suction: 7 }"
    `)
  })

  test('none that the tool would have made, and none that is there', async () => {
    expect(await renamed(at('  mor$0ning: {'), 's1abc')).toMatchInlineSnapshot(
      `"refused: 's1abc' looks like a name that the tool makes of what a state says: a name of your own is made of words."`,
    )
    expect(await renamed(at('  mor$0ning: {'), 'now-ish')).toMatchInlineSnapshot(
      `"refused: example.media.yaml has the state 'now-ish' already."`,
    )
    expect(
      await renamed(at('applied: 0 %, under: mor$0ning').replace('  morning:', '  evening:'), 'spring'),
    ).toMatchInlineSnapshot(`"refused: This profile has no state 'morning', so there is nothing to rename."`)
  })

  test('of the stock: the made name follows the content, and an own one stays', async () => {
    expect(await renamed(at('stock: fi$0lm\n'), 'gloss-film')).toMatchInlineSnapshot(`
      "film.stock.yaml: stock: gloss-film
      everyday.media.yaml: stock: gloss-film
      example.media.yaml: stock: gloss-film
      example.media.yaml:     - { date: 2026-03-02, commanded: 1000 mm, measured: 998 mm, applied: 0 %, under: s0yoz }
      example.media.yaml:     - { date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %, under: s0yoz }
      example.media.yaml: alignment: { date: 2026-03-02, under: s0yoz }
      example.media.yaml:   s0yoz: { from: read-back, stock: gloss-film, printer: bay-1, mode: standard, gap: 2.0 mm, suction: 2, web.tension: 2, heat.platen: 42 °C }
      example.media.yaml:   now-ish: { from: profile, stock: gloss-film, printer: bay-1, mode: standard, gap: 2.0 mm, suction: 3, web.tension: 2, heat.platen: 40 °C }
      example.media.yaml:   morning: { from: said, stock: gloss-film, printer: bay-1, mode: fine, suction: 7 }"
    `)
  })

  test('of a level, in the states of that printer', async () => {
    const source = `${inShop(PROFILE.replace('bay-1, mode: fine, suction: 7', 'bay-2, mode: fine, suction: 2')).replace('{1: 100 Pa, 2: 200', '{1: 100 Pa, $02: 200')}`
    expect(await renamed(source, '5')).toMatchInlineSnapshot(`
      "bay-1.printer.yaml: suction: {levels: {1: 100 Pa, 5: 200 Pa, 3: 320 Pa}}
      example.media.yaml:     - { date: 2026-03-02, commanded: 1000 mm, measured: 998 mm, applied: 0 %, under: s837k }
      example.media.yaml:     - { date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %, under: s837k }
      example.media.yaml: alignment: { date: 2026-03-02, under: s837k }
      example.media.yaml:   s837k: { from: read-back, stock: film, printer: bay-1, mode: standard, gap: 2.0 mm, suction: 5, web.tension: 2, heat.platen: 42 °C }"
    `)
  })
})
