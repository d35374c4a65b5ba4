// `rollbook sheet --enter`: values written by hand on a sheet, asked for in its order and put into the profile by the smallest edit; whoever leaves, leaves the file
// as it was.
import { describe, expect, test } from 'vitest'
import { ran } from '../cli/shell.ts'

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
instruments:
  rule-1m: {kind: rule, division: 0.5 mm, limit-of-error: class-1}
  probe: {kind: thermometer, limit-of-error: 1 K}
#- film.stock.yaml
stock: film
family: film-pvc-cast
thickness: 80 µm
lots:
  - {lot: K-7, received: 2026-03-01, opened: 2026-03-02}
#- gull.printer.yaml
printer: gull
heads: {channels: [cyan, black]}
modes: {quick: {resolution: 720 x 720 dpi, passes: 8, carriage-speed: 1 m/s, directions: two-way}}
carriage: {gaps: [1.5 mm, 2 mm]}
feed: {range: [-1 %, 1 %], step: 0.05 %, entry: percent, pattern-lengths: [1 m], fine: {rows: [left, right], patches: 11, step: 2 µm}}
alignment: {patches: 11, step: 18 µm}
heaters: {after: {length: 400 mm, range: [20 °C, 70 °C], step: 1 K, coupling: 40 W/m²K}}
panel:
  - {key: heat.after, where: the last dial}
  - {key: gap, where: the lever}
`
const PROFILE = `profile: one   # on the wall
stock: film
printer: gull
mode: quick
gap: 2 mm
feed:
  correction: +0.20 %
heat: { after: 44 °C }
alignment:
  date: 2026-03-01
  one-way: { cyan: 1, black: 0 }
`
const TODAY = { today: '2026-03-26' }
const entered = (typed: readonly string[], profile = PROFILE) =>
  ran('sheet one --enter', `${SHOP}#- one.media.yaml\n${profile}`, { ...TODAY, typed })

/** No read-back, one length, no fine feed, no alignment, no web. */
const LENGTH = ['', 'today', '', '998.5', '', 'rule-1m', '24', 'K-7', '', '', '', '', '', '', '']

describe('what was written by hand', () => {
  test('a length: what stays the same is proposed, its state is written with it, and every other byte stays', async () => {
    const { files, code, err, out } = await entered(LENGTH)
    expect(code).toBe(0)
    expect(err.match(/^\S.*$/gm)).toEqual([
      'Read back from the machine',
      'Length, printed 1 m',
      'Fine feed, best patch',
      'Alignment, best patch in quick',
      'Web, read while it runs, from a safe place',
      'All of it',
    ])
    expect(err.match(/ {2}.*\[.*\]$/gm)).toMatchInlineSnapshot(`
      [
        "  pattern (m) [1 m]",
        "  keyed in then (%) [+0.20 %]",
        "  lot [K-7]",
        "  Was it made under these settings? as in this profile: { from: profile, stock: film, printer: gull, mode: quick, gap: 2 mm, heat.after: 44 °C }: yes, no [yes]",
        "  Write this? feed.checks { date: 2026-03-26, commanded: 1 m, measured: 998.5 mm, applied: +0.20 %, with: rule-1m, web: 24 °C, lot: K-7, under: s3i2m }: yes, no [yes]",
      ]
    `)
    expect(out).toMatchInlineSnapshot(`
      "+ feed.checks { date: 2026-03-26, commanded: 1 m, measured: 998.5 mm, applied: +0.20 %, with: rule-1m, web: 24 °C, lot: K-7, under: s3i2m }
      one.media.yaml is added to; nothing else in it has changed.
      "
    `)
    const after = files.get('one.media.yaml')!
    const added = after.split('\n').filter((line) => !PROFILE.includes(line))
    expect(added).toMatchInlineSnapshot(`
      [
        "  checks:",
        "    - { date: 2026-03-26, commanded: 1 m, measured: 998.5 mm, applied: +0.20 %, with: rule-1m, web: 24 °C, lot: K-7, under: s3i2m }",
        "conditions:",
        "  s3i2m: { from: profile, stock: film, printer: gull, mode: quick, gap: 2 mm, heat.after: 44 °C }",
      ]
    `)
    expect(after.split('\n').filter((line) => !added.includes(line) && line !== '')).toEqual(PROFILE.trimEnd().split('\n'))
  })

  test('all parts of a sheet: a heat that was read back otherwise is the state that is proposed', async () => {
    const { files, code } = await entered([
      ...['yesterday', '46', '=', '', 'hand'],
      '',
      ...['today', '', '0', '-1', '', ''],
      ...['today', '1', '0', '2', '', '', ''],
      ...['today', '', '39', '2'],
      'yes',
    ])
    expect(code).toBe(0)
    expect(files.get('one.media.yaml')).toMatchInlineSnapshot(`
      "profile: one   # on the wall
      stock: film
      printer: gull
      mode: quick
      gap: 2 mm
      feed:
        correction: +0.20 %
        fine:
          date: 2026-03-26
          applied: +0.20 %
          under: s48wo
          picks: [0, -1]
      heat: { after: 44 °C, readings: [{ date: 2026-03-26, zone: after, set: 44 °C, web: 39 °C, under: s3i2m }] }
      keyed:
        - { date: 2026-03-25, by: hand, gap: 2 mm, after: 46 °C }
      conditions:
        s3i2m: { from: profile, stock: film, printer: gull, mode: quick, gap: 2 mm, heat.after: 44 °C }
        s48wo: { from: read-back, stock: film, printer: gull, mode: quick, gap: 2 mm, heat.after: 46 °C }
      # alignment:
      #   date: 2026-03-01
      #   one-way: { cyan: 1, black: 0 }
      alignment:
        date: 2026-03-26
        under: s48wo
        thickness: 80 µm
        one-way: { cyan: 1, black: 0 }
        two-way: { cyan: 2 }
      "
    `)
  })

  test('the same reading again is recognised, and taken only where it is said to be another', async () => {
    const { files } = await entered(LENGTH)
    const once = files.get('one.media.yaml')!
    const again = LENGTH.toSpliced(9, 1, 'no')
    expect((await entered(again, once)).files.get('one.media.yaml')).toBe(once)
    const { files: twice } = await entered(LENGTH.toSpliced(9, 0, 'yes'), once)
    expect(twice.get('one.media.yaml')!.match(/measured: 998\.5 mm/g)).toHaveLength(2)
  })

  test('under other settings than those that are known it names no state', async () => {
    const { files } = await entered(LENGTH.toSpliced(9, 1, 'no'))
    expect(files.get('one.media.yaml')).toMatch(/lot: K-7 \}\n/)
    expect(files.get('one.media.yaml')).not.toMatch(/conditions/)
  })
})

describe('what cannot stand', () => {
  test('is told at once and asked again', async () => {
    const typed = LENGTH.toSpliced(3, 1, '998,5', '998.5').toSpliced(1, 1, '2026-02-30', '2026-03-27', 'today')
    const { err, files } = await entered(typed.toSpliced(8, 1, 'lead', 'rule-1m'))
    expect(err.match(/^ {2}(?!Write).*(?:'.*' is|to come|decimal comma).*$/gm)).toMatchInlineSnapshot(`
      [
        "  date: '2026-02-30' is no day of the calendar written as 2026-03-14",
        "  2026-03-27 is still to come.",
        "  measured: '998,5' has a decimal comma; write a decimal point, '998.5 mm'",
        "  'lead' is none of rule-1m.",
      ]
    `)
    expect(files.get('one.media.yaml')).toMatch(/measured: 998\.5 mm/)
  })

  test('who goes away, or does not want it written, leaves the file as it was', async () => {
    for (const typed of [LENGTH.slice(0, 6), LENGTH.slice(0, -1), [...LENGTH.slice(0, -1), 'no']]) {
      const { files } = await entered(typed)
      expect(files.get('one.media.yaml')).toBe(PROFILE)
    }
  })

  test('of a script’s answers ends it: those behind would go to other questions', async () => {
    const at = { ...TODAY, stdin: `${LENGTH.toSpliced(3, 1, 'long').join('\n')}\n` }
    const { files, err, code } = await ran('sheet one --enter --answers -', `${SHOP}#- one.media.yaml\n${PROFILE}`, at)
    expect([code, files.get('one.media.yaml')]).toEqual([2, PROFILE])
    expect(err.split('\n').at(-2)).toMatchInlineSnapshot(
      `"Nothing is written: to 'measured (mm)' the answers say 'long'. measured: 'long' is no number alone; its unit stands in the header"`,
    )
  })

  test('a text that is broken, a second profile, nobody to answer', async () => {
    const shop = `${SHOP}#- one.media.yaml\n${PROFILE}`
    for (const [line, fixture, shell, told] of [
      ['sheet one --enter', `${shop}gap: [\n`, { typed: [] }, /^Nothing is written: /],
      ['sheet one two --enter', shop, {}, /takes one profile/],
      ['sheet one --enter', shop, {}, /Nobody answers here/],
      ['sheet one --enter --pdf a.pdf', shop, { typed: [] }, /nothing else than --answers/],
    ] as const) {
      const { code, err, files } = await ran(line, fixture, { ...TODAY, ...shell })
      expect([code, err]).toEqual([2, expect.stringMatching(told)])
      expect(files.get('one.media.yaml')).toBe(fixture.slice(fixture.indexOf(PROFILE)))
    }
  })
})
