// Documents of before states were written down: their evidence is moved under states entry by entry, and nothing that a person wrote is lost on the way.
import { describe, expect, test } from 'vitest'
import { openFixture, parseFixture } from '../support/fixture.ts'
import { afterAction } from '../support/render.ts'

const OLD = `profile: example
base: everyday
gap: 2.0 mm
feed:
  fine: { date: 2026-03-20, applied: 0 %, mode: fine, by: sensor, picks: [1, 0, 1] }   # by the sensor
alignment:
  date: 2026-03-24
  gap: 1.5 mm   # before the strike
  thickness: 215 µm
  # the slow one
  mode: fine    # as ever
  two-way: { cyan: 1 }
colour:
  measured: [strip.txt, 'old strip.txt']
#- everyday.media.yaml
profile: everyday
stock: banner
printer: bay-1
mode: quick
`

/** The text after the fix of such a title, asked for at a mark. */
const fixed = (source: string, mark: string, title: string): Promise<string> =>
  afterAction(source.replace(mark, `$0${mark}`), title)

const MOVE = 'Move gap and mode into a state under conditions'
const REST = OLD.slice(OLD.indexOf('#- '))

describe('an old document', () => {
  test('is moved under states, one section after the other', async () => {
    const aligned = await fixed(OLD, 'gap: 1.5', MOVE)
    const picked = await fixed(aligned + REST, 'mode: fine, by', 'Move mode into a state under conditions')
    const measured = await fixed(picked + REST, 'strip.txt,', 'Make it the file of an entry')
    const whole = await fixed(measured + REST, "'old strip", 'Make it the file of an entry')
    expect(whole).toMatchInlineSnapshot(`
      "profile: example
      base: everyday
      gap: 2.0 mm
      feed:
        fine: { date: 2026-03-20, applied: 0 %, under: s6fpl, by: sensor, picks: [1, 0, 1] }   # by the sensor
      alignment:
        date: 2026-03-24
        under: s6c6a   # before the strike
        thickness: 215 µm
        # the slow one
        # as ever
        two-way: { cyan: 1 }
      colour:
        measured: [{ file: strip.txt }, { file: 'old strip.txt' }]
      conditions:
        s6c6a: { from: said, stock: banner, printer: bay-1, mode: fine, gap: 1.5 mm }
        s6fpl: { from: said, stock: banner, printer: bay-1, mode: fine }
      "
    `)
  })

  test('is moved by the finding of either key alike', async () => {
    expect(await fixed(OLD, 'gap: 1.5', MOVE)).toBe(await fixed(OLD, 'mode: fine    #', MOVE))
  })

  test('is moved by nobody but a person: no fix of it is preferred, or is one of form alone', async () => {
    const fixture = parseFixture(OLD)
    const fixes = (await openFixture(fixture)).findings(fixture.file).flatMap((finding) => finding.fixes?.() ?? [])
    const moves = fixes.filter((fix) => fix && /^(?:Move|Make it the file)/.test(fix.title))
    expect(moves.map((fix) => [fix!.preferred ?? false, fix!.form ?? false])).toEqual(Array(5).fill([false, false]))
  })
})
