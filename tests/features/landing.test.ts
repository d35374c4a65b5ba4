// Landing as a technician meets it: hovers on gap and alignment in the profile's own numbers, what is missing, other units, half-filled documents.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { alignmentEvidence } from '../../server/src/areas/landing/evidence.ts'
import { landingOf } from '../../server/src/areas/landing/facts.ts'
import { quantities } from '../../server/src/areas/landing/quantities.ts'
import { FILM, MACHINE } from '../../server/src/areas/machine/examples.ts'
import { reckonArea } from '../../server/src/areas/reckon.ts'
import { runs } from '../support/counts.ts'
import { numbersAt } from '../support/render.ts'
import { everyNumber, setupFrom, withoutLines } from '../support/setups.ts'

const PROFILE = `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 2.0 mm
alignment:
  date: 2026-03-24
  under: before
  thickness: 400 µm
  one-way: {cyan: 0, magenta: 0, yellow: -1, black: 0}
  two-way: {cyan: 1, magenta: 1, yellow: 5, black: 2}
conditions:
  before: {from: profile, stock: s, printer: p, mode: slow, gap: 1.5 mm}
`

const US = `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 0.078740157480314961 in
alignment:
  date: 2026-03-24
  under: before
  thickness: 15.748031496062992 mil
  one-way: {cyan: 0, magenta: 0, yellow: -1, black: 0}
  two-way: {cyan: 1, magenta: 1, yellow: 5, black: 2}
conditions:
  before: {from: profile, stock: s, printer: p, mode: slow, gap: 0.059055118110236220 in}
#- p.printer.yaml
printer: p
heads: {channels: [cyan, magenta, yellow, black], drop-speed: 275.59055118110236 in/s}
modes:
  standard: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 39.370078740157481 in/s, directions: two-way}
  slow: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 19.685039370078740 in/s, directions: two-way}
alignment: {patches: 11, step: 0.70866141732283465 mil}
#- s.stock.yaml
stock: s
thickness: 8.4645669291338583 mil
`

const tablesOf = (text: string): string[] =>
  text.split('\n\n').filter((part) => part.startsWith('| ') || part.startsWith('Median'))

describe('hovers', () => {
  test('the gap tells flight, offset, sensitivity and what has changed', async () => {
    const text = await numbersAt(`${PROFILE.replace('gap: 2.0', 'gap: $02.0')}${MACHINE}${FILM}`)
    expect(tablesOf(text)).toMatchInlineSnapshot(`
      [
        "| at this gap                     |                                                  |
      | ------------------------------- | ------------------------------------------------ |
      | flight                          | 2 mm − 215 µm of stock = **1.78 mm**             |
      | out and back                    | **510 µm** apart before compensation (14 pixels) |
      | each 100 µm of gap or stock     | **28.6 µm** (0.81 pixels)                        |
      | gap 1.5 mm → 2 mm               | 71.4 µm (2 pixels) further apart                 |
      | thickness 400 µm → 215 µm       | 26.4 µm (0.75 pixels) further apart              |
      | carriage speed 500 mm/s → 1 m/s | 157 µm (4.5 pixels) further apart                |",
      ]
    `)
  })

  test('the alignment tells what each change moves', async () => {
    const text = await numbersAt(`${PROFILE.replace('alignment:', 'align$0ment:')}${MACHINE}${FILM}`)
    expect(text).toContain('By straight flight out and back land 14 pixels apart before compensation.')
    expect(tablesOf(text)).toMatchInlineSnapshot(`
      [
        "| since this pattern was printed  | moves out and back                  |
      | ------------------------------- | ----------------------------------- |
      | gap 1.5 mm → 2 mm               | 71.4 µm (2 pixels) further apart    |
      | thickness 400 µm → 215 µm       | 26.4 µm (0.75 pixels) further apart |
      | carriage speed 500 mm/s → 1 m/s | 157 µm (4.5 pixels) further apart   |",
      ]
    `)
  })

  test('the picks are told in micrometres, with the ink that stands apart', async () => {
    const text = await numbersAt(`${PROFILE.replace('two-way:', 'two-$0way:')}${MACHINE}${FILM}`)
    expect(tablesOf(text)).toMatchInlineSnapshot(`
      [
        "| ink     |   pick | from the median |
      | ------- | -----: | --------------: |
      | cyan    | +18 µm |           -9 µm |
      | magenta | +18 µm |           -9 µm |
      | yellow  | +90 µm |          +63 µm |
      | black   | +36 µm |           +9 µm |",
      ]
    `)
    const one = await numbersAt(`${PROFILE.replace('yellow: 5', 'yellow: $05')}${MACHINE}${FILM}`)
    expect(one).toContain('+90 µm (2.6 pixels), +63 µm from the median of all inks.')
  })

  test('a printer without a drop speed says so, and still tells the flight', async () => {
    const text = await numbersAt(
      `${PROFILE.replace('gap: 2.0', 'gap: $02.0')}${MACHINE.replace(', drop-speed: 7 m/s', '')}${FILM}`,
    )
    expect(text).toContain('= **1.78 mm**')
    expect(text).toContain('How far dots land apart cannot be told: the printer does not give the speed of its drops.')
  })

  test('a gap below the stock tells that nothing is left', async () => {
    const text = await numbersAt(`${PROFILE.replace('gap: 2.0 mm', 'gap: $00.2 mm')}${MACHINE}${FILM}`)
    expect(text).toContain('The flight of the drops cannot be told: nothing is left of the gap: the heads would touch the stock.')
  })
})

describe('facts', () => {
  test('the two-way offset and its sensitivity of the worked cases', async () => {
    // Derived: dx = 2 · 1.0 · 2.0 mm / 7 = 571.43 µm and 28.571 µm per 0.1 mm of gap; the flight is the gap less 215 µm of stock.
    const setup = await setupFrom(`${PROFILE.replace('gap: 2.0 mm', 'gap: 2.215 mm')}${MACHINE}${FILM}`)
    const { offset, flight } = landingOf(setup)
    if (!offset.ok || !flight.ok) throw new Error('nothing reckoned')
    expect(flight.value).toBeCloseTo(0.002, 12)
    expect(offset.value.offset.typical * 1e6).toBeCloseTo(571.43, 2)
    expect(offset.value.perGap.typical * 1e-4 * 1e6).toBeCloseTo(28.571, 3)
    // By hand: 571.43 µm at 720 dots per 25.4 mm across, and not at the 360 along.
    expect(reckonArea(quantities, setup).find((r) => r.key === 'landing.pixels')?.value).toBeCloseTo((0.57143 * 720) / 25.4, 3)
  })

  test('the change since the alignment is the difference of the two offsets', async () => {
    const { since } = landingOf(await setupFrom(`${PROFILE}${MACHINE}${FILM}`))
    // Then 2 · 0.5 · 1.1 mm / 7, now 2 · 1.0 · 1.785 mm / 7.
    if (!since?.total.ok) throw new Error('nothing reckoned')
    expect(since.total.value.typical).toBeCloseTo((2 * 1.0 * 0.001785) / 7 - (2 * 0.5 * 0.0011) / 7, 15)
  })

  test('a drop speed with an uncertainty gives a range', async () => {
    const { offset } = landingOf(await setupFrom(`${PROFILE}${MACHINE.replace('7 m/s', '7 ±1 m/s')}${FILM}`))
    if (!offset.ok) throw new Error('nothing reckoned')
    const { low, typical, high } = offset.value.offset
    expect([low, typical, high].map((v) => v / 0.00357)).toEqual([1 / 8, 1 / 7, 1 / 6].map((v) => expect.closeTo(v, 12)))
  })

  test('without a state nothing that it rests on is taken to be as today', async () => {
    const bare = PROFILE.replace(/ {2}(?:under|thickness): .*\n/g, '')
    const { since } = landingOf(await setupFrom(`${bare}${MACHINE}${FILM}`))
    expect(since).toMatchObject({ age: 7, gap: undefined, thickness: undefined, speed: undefined })
    expect(since?.then).toMatchObject({ gap: undefined, speed: undefined })
    expect(since?.total).toMatchObject({
      ok: false,
      problem: { input: 'alignment.under', reason: 'the alignment was made under settings that are not known' },
    })
  })

  test('an alignment that does not say on how thick a stock is of the stock as its document has it', async () => {
    const { since } = landingOf(await setupFrom(`${PROFILE.replace(/ {2}thickness: .*\n/, '')}${MACHINE}${FILM}`))
    expect(since?.thickness).toBeUndefined()
    expect(since?.then.thickness).toBeCloseTo(215e-6, 12)
  })
})

describe('the word of an alignment', () => {
  const NOW = PROFILE.replace('400 µm', '215 µm').replace('mode: slow, gap: 1.5 mm', 'mode: standard, gap: 2 mm')
  const word = async (profile: string, more = '', machine = MACHINE): Promise<string> => {
    const { word, by, reason, print } = alignmentEvidence(await setupFrom(`${profile}${machine}${more}${FILM}`))
    return `${word} (${by}): the alignment ${reason}.${print === undefined ? '' : ` ${print}`}`
  }

  test('proven under today’s settings', async () => {
    expect(await word(NOW)).toBe('proven (conditions): the alignment was made under these settings.')
  })

  test('carried where what has changed surely stays within the tolerance', async () => {
    // By hand: 2 · 1 m/s · 0.05 mm / 7 m/s = 14.3 µm, and with three tenths more 18.6 µm; the shop allows 30 µm.
    expect(await word(NOW.replace('gap: 2 mm}', 'gap: 1.95 mm}'))).toBe(
      'carried (conditions): the alignment holds: by straight flight what has changed moves out and back by 14.3 µm, and the tolerance is 30 µm.',
    )
  })

  test('doubtful where it may have moved by more, though straight flight says less', async () => {
    // 2 · 1 m/s · 0.1 mm / 7 m/s = 28.6 µm, within 30 µm; with three tenths more 37 µm.
    expect(await word(NOW.replace('gap: 2 mm}', 'gap: 1.9 mm}'))).toBe(
      'doubtful (moved): the alignment may be out by 37 µm with what has changed since, and the tolerance is 30 µm. Print the alignment pattern in standard.',
    )
  })

  test('one way all inks move alike', async () => {
    const oneWay = NOW.replaceAll('mode: standard', 'mode: one-way').replace('gap: 2 mm}', 'gap: 1.5 mm}')
    expect(await word(oneWay)).toBe('carried (conditions): the alignment holds one way: what has changed moves all inks alike.')
  })

  test.each([
    ['no picks', NOW.replace(/ {2}(?:one|two)-way: .*\n/g, ''), 'unknown (nothing): the alignment has no picks.'],
    ['one way only', NOW.replace(/ {2}two-way: .*\n/, ''), 'unknown (nothing): the alignment has picks for one way only.'],
    ['tomorrow', NOW.replace('2026-03-24', '2026-04-01'), 'doubtful (date): the alignment is dated after today.'],
    ['no date', NOW.replace('  date: 2026-03-24\n', ''), 'doubtful (date): the alignment has no date.'],
    [
      'no state',
      NOW.replace('  under: before\n', ''),
      'doubtful (state): the alignment was made under settings that are not known.',
    ],
    [
      'another stock',
      NOW.replace('stock: s, printer', 'stock: t, printer'),
      'doubtful (pairing): the alignment was made on t, and the stock is s.',
    ],
    [
      'another printer',
      NOW.replace('printer: p, mode', 'printer: q, mode'),
      'doubtful (pairing): the alignment was made on q, and the printer is p.',
    ],
    [
      'no gap then',
      NOW.replace(', gap: 2 mm}', '}'),
      'doubtful (setting): the alignment was made under a state that does not give gap.',
    ],
    [
      'no gap now',
      NOW.replace('gap: 2.0 mm\n', ''),
      'doubtful (setting): the alignment was made with gap 2 mm, and the profile gives none.',
    ],
    [
      'a mode that is gone',
      NOW.replace('mode: standard, gap', 'mode: old, gap'),
      'doubtful (setting): the alignment was made in old, which the printer does not have.',
    ],
    [
      'another grid',
      NOW.replace('mode: standard, gap', 'mode: half, gap'),
      'doubtful (mode): the alignment was made in half (720 dpi, two-way), and standard (720 x 360 dpi, two-way) is another way to print.',
    ],
    [
      'other directions',
      NOW.replace('mode: standard, gap', 'mode: one-way, gap'),
      'doubtful (mode): the alignment was made in one-way (720 x 360 dpi, one-way), and standard (720 x 360 dpi, two-way) is another way to print.',
    ],
    [
      'too much by one change',
      NOW.replace('gap: 2 mm}', 'gap: 1.5 mm}'),
      'doubtful (part): the alignment may be out by 190 µm with what has changed since, and the tolerance is 30 µm.',
    ],
    [
      'old',
      NOW.replace('2026-03-24', '2026-01-05'),
      'doubtful (age): the alignment is 85 days old, and the shop aligns again after 60.',
    ],
  ])('%s', async (_, profile, told) => {
    expect(await word(profile)).toMatch(
      new RegExp(`^${told.replace(/[().]/g, '\\$&')}(?: Print the alignment pattern in standard(?:, both ways)?\\.)?$`),
    )
  })

  test('nothing at all, and a head that was changed since', async () => {
    expect(await word(NOW.replace(/alignment:[\s\S]*/, ''))).toBe(
      'unknown (nothing): the alignment has not been printed. Print the alignment pattern in standard.',
    )
    expect(await word(NOW, 'events: [{date: 2026-03-26, what: head-changed}]\n')).toContain(
      'doubtful (event): the alignment was made before a head was changed on 2026-03-26.',
    )
    expect(await word(NOW, 'events: [{date: 2026-03-24, what: head-changed}]\n')).toMatch(/^proven/)
  })

  test('what cannot be reckoned proves nothing, where anything has changed', async () => {
    const dropless = MACHINE.replace(', drop-speed: 7 m/s', '')
    expect(await word(NOW, '', dropless)).toMatch(/^proven/)
    expect(await word(NOW.replace('gap: 2 mm}', 'gap: 1.95 mm}'), '', dropless)).toContain(
      "doubtful (moved): the alignment cannot be brought to today's settings: the printer does not give the speed of its drops.",
    )
  })
})

describe('properties', () => {
  test('inches give what millimetres give', async () => {
    const metric = reckonArea(quantities, await setupFrom(`${PROFILE}${MACHINE}${FILM}`))
    const us = reckonArea(quantities, await setupFrom(US))
    expect(metric.length).toBeGreaterThan(6)
    expect(us.map((r) => r.key)).toEqual(metric.map((r) => r.key))
    for (const [i, line] of metric.entries()) {
      expect(typeof line.value, line.key).toBe('number')
      expect(us[i]!.value as number, line.key).toBeCloseTo(line.value as number, 12)
    }
  })

  test('half-filled documents neither throw nor give a number that is none', async () => {
    await fc.assert(
      fc.asyncProperty(fc.infiniteStream(fc.boolean()), async (keep) => {
        const setup = await setupFrom(withoutLines(`${PROFILE}${MACHINE}${FILM}`, keep))
        const lines = reckonArea(quantities, setup)
        for (const value of everyNumber([landingOf(setup), lines])) expect(Number.isFinite(value)).toBe(true)
        for (const line of lines) expect(line.value === undefined).toBe(line.problem !== undefined)
      }),
      { numRuns: runs(60) },
    )
  })
})
