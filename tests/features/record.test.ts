// Recording by digits alone: of each kind of evidence a new entry of today, in which the reading is all that is left to type; readings put right with a
// trace; and what stands above the sections meanwhile.
import { describe, expect, test } from 'vitest'
import { nextPrintTitle } from '../../server/src/areas/feed/next-print-words.ts'
import { applyEdits, editsOf, withoutStops } from '../../server/src/base/text-edit.ts'
import { LiveDocument } from '../../server/src/model/document.ts'
import { evidenceIn } from '../../server/src/model/evidence.ts'
import { cursorOf, openFixture, parseFixture } from '../support/fixture.ts'
import { afterAction } from '../support/render.ts'
import { inShop } from './example-shop.ts'

const TODAY = '2026-03-31'

const PROFILE = `profile: example
stock: film
printer: bay-1
mode: standard
gap: 2.0 mm
feed:
  correction: +0.10 %
  checks:
    - { date: 2026-03-20, commanded: 1000 mm, measured: 999 mm, applied: +0.10 %, with: tape-5m, web: 23 °C, under: s3w3i }
    - { date: 2026-03-21, commanded: 1000 mm, measured: 999 mm, applied: +0.10 %, with: tape-5m, web: 23 °C, note: by daylight, under: s3w3i }
heat: { platen: 40 °C }
suction: 3
web: { tension: 2 }
conditions:
  s3w3i: { from: profile, stock: film, printer: bay-1, mode: standard, gap: 2.0 mm, suction: 3, web.tension: 2, heat.platen: 40 °C }
`

/** The lines that are new or other after recording, as a snippet; the whole document is asked about, as the commands do. */
async function recorded(text: string, title: RegExp, shop = (fixture: string) => fixture): Promise<string> {
  const whole = inShop(`$0${text.trimEnd()}$0\n`)
  const after = await afterAction(shop(whole), title, TODAY)
  const before = text.split('\n')
  return after
    .split('\n')
    .filter((line) => !before.includes(line))
    .join('\n')
}

describe('records', () => {
  test('a heat reading, of the zone that is set, at what it is set to', async () => {
    expect(
      await recorded(PROFILE.replace('heat: { platen: 40 °C }', 'heat:\n  platen: 40 °C'), /^Record a heat reading/),
    ).toMatchInlineSnapshot(`
      "  readings:
          - { date: \${4|2026-03-31,2026-03-30|}, zone: \${2:platen}, set: \${3:40 °C}, web: \${1} °C, under: \${5|s3w3i,another-setting-ran|} }"
    `)
  })

  test('fine picks, a stop a row', async () => {
    const rows = (fixture: string): string =>
      fixture.replace('entry: percent', 'entry: percent, fine: {rows: [left, middle, right], patches: 11, step: 0.05 %}')
    expect(await recorded(PROFILE, /^Record fine picks/, rows)).toMatchInlineSnapshot(`
      "  fine:
          date: \${5|2026-03-31,2026-03-30|}
          applied: \${4:+0.10 %}
          under: \${6|s3w3i,another-setting-ran|}
          picks: [\${1}, \${2}, \${3}]"
    `)
  })

  test('an alignment, a stop an ink and way', async () => {
    expect(await recorded(PROFILE, /^Record an alignment/)).toMatchInlineSnapshot(`
      "alignment:
        date: \${10|2026-03-31,2026-03-30|}
        under: \${11|s3w3i,another-setting-ran|}
        thickness: \${9:50 µm}
        one-way: { cyan: \${1}, magenta: \${2}, yellow: \${3}, black: \${4} \\}
        two-way: { cyan: \${5}, magenta: \${6}, yellow: \${7}, black: \${8} \\}"
    `)
    expect(await recorded(PROFILE.replace('mode: standard\n', 'mode: fine\n'), /^Record an alignment/)).not.toContain('two-way')
  })

  test('a read-back and an observation', async () => {
    expect(await recorded(PROFILE, /^Record a read-back/)).toMatchInlineSnapshot(`
      "keyed:
        - { date: \${2|2026-03-31,2026-03-30|}, correction: \${1} % }"
    `)
    expect(
      await recorded(
        `${PROFILE}observed:\n  - { date: 2026-03-01, fault: grain, settled: 2026-03-02 }\n`,
        /^Record an observation/,
      ),
    ).toMatchInlineSnapshot(`"  - { date: \${2|2026-03-31,2026-03-30|}, fault: \${1} }"`)
  })

  test('what there is once keeps the one before as a comment, word for word', async () => {
    const old =
      'alignment:\n  date: 2026-03-01\n  thickness: 50 µm # by hand\n\n  one-way: { cyan: 0, magenta: 1, yellow: 0, black: 0 }\n'
    const text = PROFILE.replace('heat:', `${old}heat:`)
    const after = withoutStops(
      await afterAction(inShop(text.replace('alignment:', '$0alignment:')), /^Record an alignment/, TODAY),
    )
    for (const line of old.trimEnd().split('\n')) expect(after.split('\n')).toContain(line === '' ? '' : `# ${line}`)
    expect(after.match(/^alignment:$/gm)).toHaveLength(1)
    const before = evidenceIn(new LiveDocument('a', 'media', text)).length
    expect(evidenceIn(new LiveDocument('a', 'media', after))).toHaveLength(before)
  })

  test('in brackets it is refused, with the reason', async () => {
    const text = PROFILE.replace(/feed:[\s\S]*?heat:/, 'feed: { fine: { date: 2026-03-01, applied: 0 %, picks: [0] } }\nheat:')
    const fixture = parseFixture(inShop(text.replace('fine:', 'fi$0ne:')))
    const analysis = await openFixture(fixture, TODAY)
    const offered = analysis.actions(fixture.file, fixture.mark!).find(({ title }) => title.startsWith('Record fine picks'))
    expect(offered?.refused).toContain('Write it by hand')
  })

  test('what is written reads back as evidence of today under a state, with CRLF too', async () => {
    for (const text of [PROFILE, PROFILE.replaceAll('\n', '\r\n')])
      for (const title of [/^Record a heat reading/, /^Record an alignment/, /^Record a read-back/, /^Record an observation/]) {
        const fixture = parseFixture(inShop('').replace('#- example.media.yaml\n\n', `#- example.media.yaml\n${text}`))
        const analysis = await openFixture(fixture, TODAY)
        const action = analysis.actions(fixture.file, { start: 0, end: text.length }).find((one) => title.test(one.title))!
        const after = applyEdits(text, editsOf(text, action.edits))
        const filled = withoutStops(
          after
            .replace(/\$\{\d+\} (°C|%)/g, '40 $1')
            .replace(/fault: \$\{\d+\}/, 'fault: grain')
            .replace(/\$\{\d+\}/g, '0'),
        )
        const document = new LiveDocument('a', 'media', filled)
        expect(document.tree.problems, filled).toEqual([])
        const entries = evidenceIn(document)
        expect(entries).toHaveLength(3)
        expect(
          entries.some(({ cells }) => cells.some(({ key, text: value }) => key === 'date' && value === TODAY)),
          filled,
        ).toBe(true)
        if (text.includes('\r')) expect(filled.replaceAll('\r\n', '')).not.toContain('\n')
      }
  })
})

describe('a mistyped reading', () => {
  const corrected = (text: string): Promise<string> => afterAction(inShop(text), /^Correct this reading/, TODAY)
  const changed = async (text: string): Promise<string> => {
    const after = await corrected(text)
    return after
      .split('\n')
      .filter((line) => !PROFILE.split('\n').includes(line))
      .join('\n')
  }

  test('is there to be typed over, and what was written stays in the note', async () => {
    expect(await changed(PROFILE.replace('measured: 999', 'measured: 9$099'))).toMatchInlineSnapshot(
      `"    - { date: 2026-03-20, commanded: 1000 mm, measured: \${1:999} mm, applied: +0.10 %, with: tape-5m, web: 23 °C, under: s3w3i, note: 'measured was 999 mm, corrected 2026-03-31' }"`,
    )
    expect(
      await changed(
        PROFILE.replace(
          'measured: 999 mm, applied: +0.10 %, with: tape-5m, web: 23 °C, note',
          'measured: 999 mm, applied: +0.10 %, with: tape-5m, web: 2$03 °C, note',
        ),
      ),
    ).toMatchInlineSnapshot(
      `"    - { date: 2026-03-21, commanded: 1000 mm, measured: 999 mm, applied: +0.10 %, with: tape-5m, web: \${1:23} °C, note: 'by daylight; web was 23 °C, corrected 2026-03-31', under: s3w3i }"`,
    )
  })

  test('without a note in such entries it stays on the line', async () => {
    const picks = 'alignment:\n  date: 2026-03-01\n  one-way: { cyan: 0, magenta: $01 }\n'
    expect(await changed(PROFILE.replace('heat:', `${picks}heat:`))).toMatchInlineSnapshot(`
      "alignment:
        date: 2026-03-01
        one-way: { cyan: 0, magenta: \${1:1} } # one-way.magenta was 1, corrected 2026-03-31"
    `)
  })

  test('of a day, a name or a setting there is nothing to correct so', async () => {
    for (const text of [
      PROFILE.replace('2026-03-20', '2026-0$03-20'),
      PROFILE.replace('with: tape', 'with: ta$0pe'),
      PROFILE.replace('gap: 2.0', 'gap: 2$0.0'),
    ]) {
      const fixture = parseFixture(inShop(text))
      const analysis = await openFixture(fixture, TODAY)
      const at = { start: cursorOf(fixture), end: cursorOf(fixture) }
      expect(analysis.actions(fixture.file, at).map(({ title }) => title)).not.toContain(
        'Correct this reading, and keep what was written',
      )
    }
  })
})

describe('above a section', () => {
  const told = ({ title, why }: { title: string; why: string }): string => `${title} (${why})`
  const above = async (text: string, shop = (fixture: string) => fixture): Promise<string> => {
    const fixture = parseFixture(shop(inShop(text)))
    const analysis = await openFixture(fixture, TODAY)
    return analysis
      .lenses(fixture.file)
      .map(
        ({ span, title, about }) =>
          `${fixture.text.slice(span.start, span.end)}: ${title ?? told(analysis.gain(fixture.file, (about as { gainIn: string }).gainIn)!)}`,
      )
      .join('\n')
  }
  const panel = (fixture: string): string =>
    fixture
      .replace('title: Bay 1, solvent', "title: Bay 1\npanel: [{key: feed.correction, where: 'second sheet, top line'}]")
      .replace('entry: percent', 'entry: percent, pattern-lengths: [1000 mm]')

  test('stands what to key in and where, what another print gains, and what can be recorded', async () => {
    expect(
      await above(PROFILE.replace('measured: 999', 'measured: 995').replace('measured: 999', 'measured: 995'), panel),
    ).toMatchInlineSnapshot(`
      "feed: Off, under 1 %: key in +0.60 % (second sheet, top line)
      checks: Record a feed check"
    `)
    expect(await above(PROFILE, panel)).toMatchInlineSnapshot(`
      "feed: Doubtful, 16 %: key in +0.20 % (second sheet, top line)
      feed: under 5 %: mind the scatter (More prints are not the way: look at what makes the feed scatter, or state how far it scatters (feed.repeatability), or allow more. Even 6 more of the 1000 mm pattern, measured with tape-5m, prove it with a chance of under 5 % only.)
      checks: Record a feed check"
    `)
  })

  test('verdict, what to key in, where, and what prints gain are seen together at 1280 px with the side bar open', () => {
    // As wide as that: about 88 columns (measured in the workbench).
    const head = 'Doubtful, 16 %: key in +0.20 % (second sheet, top line)'
    for (const chance of [0.26, 0.999])
      for (const prints of [1, 6]) {
        const title = nextPrintTitle({ prints, chance, poor: false, reading: false })
        expect(title).toMatch(/^(?:over )?\d+ % with \d more prints?$/)
        expect(`${head} | ${title}`.length).toBeLessThanOrEqual(88)
      }
    for (const reading of [true, false])
      for (const chance of [0.01, 0.26])
        expect(`${head} | ${nextPrintTitle({ reading, prints: 6, chance, poor: true })}`.length).toBeLessThanOrEqual(88)
  })

  test('nothing where nothing is', async () => {
    expect(await above('profile: example\nfeed:\n')).toBe('')
  })
})
