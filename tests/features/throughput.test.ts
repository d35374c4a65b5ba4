// Advance and throughput as a technician meets them: hovers in the profile's own numbers, what is missing, other units, half-filled documents.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { passesThatCover } from '../../server/src/areas/advance/advance.ts'
import { throughputOf } from '../../server/src/areas/advance/facts.ts'
import { quantities } from '../../server/src/areas/advance/quantities.ts'
import { FILM, MACHINE } from '../../server/src/areas/machine/examples.ts'
import { reckonArea } from '../../server/src/areas/reckon.ts'
import { must } from '../calculations/must.ts'
import { runs } from '../support/counts.ts'
import { numbersAt } from '../support/render.ts'
import { everyNumber, setupFrom, withoutLines } from '../support/setups.ts'

const PROFILE = `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
drying: {pause: 0.5 s}
carriage: {turn-at: print-edge, strikes: 1}
web: {speed: 60 mm/s}
`

const US = `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
drying: {pause: 0.5 s}
carriage: {turn-at: print-edge, strikes: 1}
web: {speed: 2.362204724409449 in/s}
#- p.printer.yaml
printer: p
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2, drop-speed: 7 m/s}
modes:
  standard: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 39.370078740157481 in/s, directions: two-way}
carriage: {bed-width: 62.992125984251969 in, overrun: 4.7244094488188976 in, turnaround: 0.35 s}
#- s.stock.yaml
stock: s
thickness: 8.4645669291338583 mil
widths: [35.984251968503937 in, 54.015748031496063 in, 70.866141732283465 in]
`

const numbersOf = (text: string): string => text.slice(0, text.indexOf('\n\nThe print mode'))

describe('hovers', () => {
  test('the mode tells advance, pass, output and bands', async () => {
    const text = await numbersAt(`${PROFILE.replace('mode: standard', 'mode: stand$0ard')}${MACHINE}${FILM}`)
    expect(numbersOf(text)).toMatchInlineSnapshot(`
      "**It prints **6.37 m²/h**, web 1.29 mm/s on average.**

      | in this mode |                                                                                           |
      | ------------ | ----------------------------------------------------------------------------------------- |
      | advance      | 25.4 mm swath ÷ 8 passes = **3.175 mm**, 45 raster lines                                  |
      | coverage     | every raster line, 8 nozzles each                                                         |
      | a pass       | 2.46 s with its pause, two-way, 1372 mm wide (the stock's widest width that fits)         |
      | output       | **6.37 m²/h**, web 1.29 mm/s on average                                                   |
      | bands        | 5.5 cycles per degree from 1000 mm; the eye has 94 % of its best there (a rank, no limit) |
      | seen best    | from about 1400 mm                                                                        |
      | feed error   | 0.56 % shifts a boundary by a quarter of a pixel                                          |

      Contrast sensitivity ranks bands, it does not pass or fail them: real bands of a print are seen at lower contrast than the smooth waves it was measured with, and a single line or step is seen at any distance that resolves it. Look at the print from where the customer will"
    `)
  })

  test('turn-at compares all places on the widest and the narrowest width, and for a print half as wide', async () => {
    const text = await numbersAt(`${PROFILE.replace('turn-at: print-edge', 'turn-at: print$0-edge')}${MACHINE}${FILM}`)
    expect(text.split('\n\n').filter((part) => part.startsWith('| print') || part.startsWith('On 914'))).toMatchInlineSnapshot(`
      [
        "On 914 mm \`print-edge\` prints 34 % more than \`bed-end\`, and gives 26 % less time over the heaters. A print half as wide as the web: \`print-edge\` prints 39 % more than \`web-edge\`, with which all prints on a roll take the same time. Widths are those of the stock.",
      ]
    `)
  })

  test('strikes and the pause tell what they cost', async () => {
    const strikes = await numbersAt(`${PROFILE.replace('strikes: 1', 'strikes: $01')}${MACHINE}${FILM}`)
    expect(strikes.split('\n\n').find((part) => part.startsWith('| strikes'))).toMatchInlineSnapshot(`
      "| strikes | output at 1372 mm wide | ink |
      | ------: | ---------------------: | --: |
      |   **1** |              6.37 m²/h | 1 × |
      |       2 |              3.18 m²/h | 2 × |"
    `)
    const pause = await numbersAt(`${PROFILE.replace('0.5 s', '0.$05 s')}${MACHINE}${FILM}`)
    expect(pause.split('\n\n').find((part) => part.startsWith('A pass'))).toMatchInlineSnapshot(
      `"A pass 1372 mm wide takes 1.96 s; pass to pass 2.46 s, 6.37 m²/h."`,
    )
  })

  test('a printer without a turnaround says which key to fill in', async () => {
    const machine = MACHINE.replace(', turnaround: 0.35 s', '')
    const text = await numbersAt(`${PROFILE.replace('turn-at: print-edge', 'turn-at: print$0-edge')}${machine}${FILM}`)
    expect(text).toContain('Output and bands cannot be told: the printer does not give the turnaround of its carriage.')
  })

  test('a US shop reads inches and square feet', async () => {
    const shop = '#- rollbook.yaml\nshop: Tern Quay Print Works\nunits: us\n'
    const text = await numbersAt(`${PROFILE.replace('mode: standard', 'mode: stand$0ard')}${MACHINE}${FILM}${shop}`)
    expect(numbersOf(text)).toMatchInlineSnapshot(`
      "**It prints **68.6 ft²/h**, web 0.254 ft/min on average.**

      | in this mode |                                                                                           |
      | ------------ | ----------------------------------------------------------------------------------------- |
      | advance      | 1 in swath ÷ 8 passes = **0.125 in**, 45 raster lines                                     |
      | coverage     | every raster line, 8 nozzles each                                                         |
      | a pass       | 2.46 s with its pause, two-way, 54.02 in wide (the stock's widest width that fits)        |
      | output       | **68.6 ft²/h**, web 0.254 ft/min on average                                               |
      | bands        | 5.5 cycles per degree from 39.4 in; the eye has 94 % of its best there (a rank, no limit) |
      | seen best    | from about 57 in                                                                          |
      | feed error   | 0.56 % shifts a boundary by a quarter of a pixel                                          |

      Contrast sensitivity ranks bands, it does not pass or fail them: real bands of a print are seen at lower contrast than the smooth waves it was measured with, and a single line or step is seen at any distance that resolves it. Look at the print from where the customer will"
    `)
  })
})

describe('facts', () => {
  test('the worked case of 25.4 mm, 8 passes, 1 m/s and 1.6 m from edge to edge', async () => {
    // Derived: H = 360 nozzles at 360 to the inch, A = H / 8; t = (1.6 + 2 · 0.05) / 1 + 0.5 (turning 0.4, settling 0.1); rate = 3600 A W / t.
    const machine = MACHINE.replace('overrun: 120 mm, turnaround: 0.35 s', 'overrun: 50 mm, turnaround: 0.5 s')
    const stock = FILM.replace(/widths: .*/, 'widths: [1600 mm]')
    const facts = throughputOf(await setupFrom(`${PROFILE.replace('pause: 0.5 s', 'pause: 0 s')}${machine}${stock}`))
    if (!facts.plan.ok || !facts.pass.ok || !facts.bands.ok || !facts.seenBest.ok || !facts.quarterPixel.ok)
      throw new Error('nothing reckoned')
    expect(facts.plan.value.advance).toBeCloseTo(0.003175, 12)
    expect(facts.pass.value.passTime).toBeCloseTo(2.2, 9)
    expect(facts.pass.value.areaRate * 3600).toBeCloseTo(8.313, 3)
    expect(facts.pass.value.webSpeed * 1000).toBeCloseTo(1.4432, 4)
    // Bands 3.175 mm apart at the default viewing distance of 1 m: 5.50 cycles per degree; a quarter pixel at 360 dpi is 5556 ppm of 3.175 mm.
    expect(facts.bands.value.frequency).toBeCloseTo(5.5, 2)
    // By hand: they come to 7.8909 cycles per degree, where Mannos & Sakrison (1974) is greatest, at 7.8909 · 3.175 mm / 0.0174537, the sight of a degree.
    expect(facts.seenBest.value).toBeCloseTo(1.4354, 4)
    expect(facts.quarterPixel.value * 1e6).toBeCloseTo(5556, 0)
  })

  test('turning at the edge of a narrow print prints 83 % more in the worked case', async () => {
    // Derived: 0.6 m of image on a 1.6 m bed, 2.2 s over the bed and 1.2 s over the image.
    const machine = MACHINE.replace('overrun: 120 mm, turnaround: 0.35 s', 'overrun: 50 mm, turnaround: 0.5 s')
    const stock = FILM.replace(/widths: .*/, 'widths: [600 mm]')
    const facts = throughputOf(await setupFrom(`${PROFILE.replace('pause: 0.5 s', 'pause: 0 s')}${machine}${stock}`))
    if (!facts.pass.ok || !facts.full) throw new Error('nothing reckoned')
    expect(facts.pass.value.areaRate / facts.full['bed-end'].areaRate).toBeCloseTo(2.2 / 1.2, 9)
  })

  test('turning at the edge of the web takes the same time for every print on a roll', async () => {
    // Derived: a web of 1.1 m is crossed in (1.1 + 2 · 0.05) / 1 + 0.5 = 1.7 s, and half of it in 1.15 s.
    const machine = MACHINE.replace('overrun: 120 mm, turnaround: 0.35 s', 'overrun: 50 mm, turnaround: 0.5 s')
    const stock = FILM.replace(/widths: .*/, 'widths: [1100 mm, 2 m]')
    const profile = PROFILE.replace('pause: 0.5 s', 'pause: 0 s').replace('print-edge', 'web-edge')
    const setup = await setupFrom(`${profile}${machine}${stock}`)
    const { turnAt, pass, full, half, narrow } = throughputOf(setup)
    expect([turnAt, narrow]).toEqual(['web-edge', undefined])
    expect(must(pass)).toEqual(full!['web-edge'])
    const seconds = (turns: typeof full) => Object.values(turns!).map(({ passTime }) => Number(passTime.toFixed(9)))
    expect(seconds(full)).toEqual([1.7, 1.7, 2.2])
    expect(seconds(half)).toEqual([1.15, 1.7, 2.2])
    expect(reckonArea(quantities, setup).find(({ key }) => key === 'throughput.pass-time')?.inputs).toContainEqual(
      expect.objectContaining({ name: 'width of the web (the widest that fits)', value: 1.1 }),
    )
  })

  test('the passes suggested cover every line, and those of the mode do not', async () => {
    const setup = await setupFrom(`${PROFILE.replace('standard', 'half')}${MACHINE}${FILM}`)
    const plan = must(throughputOf(setup).plan)
    expect(plan.coverage).toEqual({ kind: 'gaps', missed: 0.5 })
    expect(passesThatCover(plan, 1)).toEqual([16])
  })

  test('a stock wider than the bed is refused', async () => {
    const { pass } = throughputOf(await setupFrom(`${PROFILE}${MACHINE}${FILM.replace(/widths: .*/, 'widths: [1800 mm]')}`))
    expect(pass).toEqual({
      ok: false,
      problem: { input: 'widths', reason: "none of the stock's widths fits the bed of the printer" },
    })
  })
})

describe('properties', () => {
  test('inches give what millimetres give', async () => {
    const metric = reckonArea(quantities, await setupFrom(`${PROFILE}${MACHINE}${FILM}`))
    const us = reckonArea(quantities, await setupFrom(US))
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
        for (const value of everyNumber([throughputOf(setup), lines])) expect(Number.isFinite(value)).toBe(true)
        for (const line of lines) expect(line.value === undefined).toBe(line.problem !== undefined)
      }),
      { numRuns: runs(60) },
    )
  })
})
