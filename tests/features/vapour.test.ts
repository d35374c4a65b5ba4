// Vapour through the documents: published cases of dilution air, hovers, what is missing or contradictory, and that units and nonsense change nothing.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { reckonArea } from '../../server/src/areas/reckon.ts'
import { vapourOf } from '../../server/src/areas/vapour/facts.ts'
import { quantities } from '../../server/src/areas/vapour/quantities.ts'
import type { Outcome } from '../../server/src/base/outcome.ts'
import { runs } from '../support/counts.ts'
import { numbersAt } from '../support/render.ts'
import { expectAlike, halfFilled, numbersIn, setupOf } from './physics.ts'
import { sampleFiles } from './samples.ts'

const INK = `ink:
  base: solvent
  volatile: 90 %
  density: 950 kg/m³
  molar-mass: 118 g/mol
  exposure-limit: 20 ppm
  lower-explosive-limit: 1.1 %
`
const PROFILE = `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
heat:
  platen: 42 °C
  after: 48 °C
  fan: true
drying:
  pause: 0.5 s
  run-out: 7 min
colour:
  ink-limit: 260 %
#- s.stock.yaml
stock: s
family: film-pvc-calendered
thickness: 80 µm
grammage: 112 g/m²
widths: [1372 mm]
dry-touch: {time: 6 min, at: 42 °C}
#- p.printer.yaml
printer: p
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2, drop-volume: 12 pL}
${INK}modes:
  m: {resolution: 720 x 360 dpi, passes: 4, carriage-speed: 1000 mm/s, directions: two-way}
carriage:
  bed-width: 1600 mm
  overrun: 120 mm
  turnaround: 0.35 s
heaters:
  platen: {length: 200 mm, range: [30 °C, 60 °C], coupling: 120 W/m²K}
  after: {length: 450 mm, range: [30 °C, 90 °C], coupling: 80 W/m²K}
drying:
  path-to-winding: 1.4 m
#- rollbook.yaml
shop: Tern Quay Print Works
units: metric
climate:
  temperature: [18 °C, 26 °C]
`
const WATER = PROFILE.replace(INK, 'ink: {base: water, volatile: 75 %, density: 1050 kg/m³}\n')
const without = (key: string): string => PROFILE.replace(new RegExp(`  ${key}: .*\\n`), '')
const withInk = (ink: string): string => PROFILE.replace(INK, `ink: {${ink}}\n`)

const facts = async (source: string) => vapourOf(await setupOf(source))

function value<T>(outcome: Outcome<T> | undefined): T {
  if (!outcome?.ok) throw new Error(outcome?.problem.reason ?? 'not reckoned')
  return outcome.value
}

const HOUR = 3600
const LITRE = 1e-3
/** m of a 4-pass advance of this printer: 25.4 mm of swath. */
const ADVANCE = 0.0254 / 4
/** Drops on a square metre at 100 %. */
const DOTS = (720 * 360) / 0.0254 ** 2

/** The profile printing `perArea` m³/m² at `areaRate` m²/s in a room of `room` °C: by the drop volume and the time the carriage takes to turn. */
function printing({ perArea, areaRate, room, ink }: { perArea: number; areaRate: number; room: number; ink: string }): string {
  const turnaround = (ADVANCE * 1.372) / areaRate - (1.372 + 0.24)
  return withInk(ink)
    .replace('12 pL', `${((perArea / DOTS / 2.6) * 1e15).toFixed(12)} pL`)
    .replace('turnaround: 0.35 s', `turnaround: ${turnaround.toFixed(12)} s`)
    .replace('  pause: 0.5 s\n', '')
    .replace('[18 °C, 26 °C]', `[${room - 1} °C, ${room + 1} °C]`)
}

describe('published cases, through the documents', () => {
  // Abulencia & Theodore, Fluid Flow for the Practicing Chemical Engineer, example 20.2: toluene adhesive at 3/8 gal/h, 40 % of it toluene of
  // SG 0.87, MW 92, 293 K, K 5, 80 ppm: 8.24 g/min, 2.15 L/min of vapour, 134375 L/min of air (134516 unrounded).
  test('air to breathe beside a toluene adhesive', async () => {
    const areaRate = 10 / HOUR
    const perArea = (0.375 * 3.785411784 * LITRE) / 10
    const ink = 'base: solvent, volatile: 40 %, density: 0.87 g/cm³, molar-mass: 92 g/mol, exposure-limit: 80 ppm'
    const { rate, breathing, explosion } = await facts(printing({ perArea, areaRate, room: 19.85, ink }))
    expect(Math.abs(value(rate).typical * 60_000 - 8.24)).toBeLessThan(0.01)
    expect(value(breathing).vapour.typical * 60_000).toBeCloseTo(2.15, 2)
    expect(Math.abs(value(breathing).air.typical * 60_000 - 134_516)).toBeLessThan(100)
    expect(explosion).toMatchObject({ ok: false, problem: { input: 'ink.lower-explosive-limit' } })
  })

  // Independent computation: 10 g/m² of solvent at 16.6 m²/h, MW 118, 25 °C, LEL 1.1 %, 20 ppm: 34.417 L/h of vapour, 12.515 m³/h of air for a
  // quarter of the LEL and 8604 m³/h at 20 ppm with K 5.
  const V4 = { perArea: 0.01 / 1000, areaRate: 16.6 / HOUR, room: 25 }
  const V4_INK =
    'base: solvent, volatile: 100 %, density: 1000 kg/m³, molar-mass: 118 g/mol, exposure-limit: 20 ppm, lower-explosive-limit: 1.1 %'
  const cold = (text: string) => text.replace(/heaters:\n(?: {2}.*\n)+/, '').replace(/heat:\n(?: {2}.*\n)+/, '')

  test('both airs of an ink solvent, hundreds of times apart', async () => {
    const { load, breathing, explosion } = await facts(cold(printing({ ...V4, ink: V4_INK })))
    expect(value(load).typical).toBeCloseTo(0.01, 9)
    expect(value(breathing).vapour.typical * HOUR * 1000).toBeCloseTo(34.417, 2)
    expect(value(explosion).air.typical * HOUR).toBeCloseTo(12.515, 2)
    expect(Math.abs(value(breathing).air.typical * HOUR - 8604)).toBeLessThan(1)
    // Mixing from 3 to 10 beside the 5 of the case.
    expect(value(breathing).air.low / value(breathing).air.typical).toBeCloseTo(3 / 5, 9)
    expect(value(breathing).air.high / value(breathing).air.typical).toBeCloseTo(2, 9)
  })

  // Independent computation: 10 g/m² of water at 16.6 m²/h, 2.40 MJ/kg (from memory): about 111 W.
  test('water takes heat, and no air is reckoned for it', async () => {
    const { heat, rate, breathing, explosion } = await facts(
      printing({ ...V4, ink: 'base: water, volatile: 100 %, density: 1000 kg/m³' }),
    )
    expect(value(heat).typical).toBeCloseTo(110.7, 1)
    expect(value(rate).typical * HOUR).toBeCloseTo(0.166, 6)
    expect([breathing, explosion]).toEqual([undefined, undefined])
  })

  // Ludwig, Applied Process Design vol. 1, table 7-22: at 212 °F the limit of acetone is 0.899 and that of n-hexane 0.833 of its value in the room.
  test('a hot heater lowers the explosive limit, and a heater left open counts as hot as it can be set', async () => {
    const room = value((await facts(cold(printing({ ...V4, ink: V4_INK })))).explosion).air
    const at = async (text: string) => value((await facts(text)).explosion).air
    const hot = printing({ ...V4, ink: V4_INK }).replace('[30 °C, 90 °C]', '[30 °C, 100 °C]')
    const set = await at(hot.replace('after: 48 °C', 'after: 100 °C'))
    expect(room.typical / set.typical).toBeCloseTo(0.899, 2)
    expect(room.typical / set.high).toBeCloseTo(0.833, 2)
    expect(await at(hot.replace('  after: 48 °C\n', ''))).toEqual(set)
    // Above 121 °C the handbook takes 0.7 (from memory), which is less than the measured losses there and so counts.
    const oven = await at(hot.replace('after: 48 °C', 'after: 130 °C'))
    expect(room.typical / oven.low).toBeCloseTo(0.7, 9)
  })
})

describe('hovers', () => {
  const at = (key: string, text = PROFILE): Promise<string> => told(numbersAt(text.replace(`${key}:`, `$0${key}:`)))

  test('the ink limit, solvent', async () => {
    expect(await at('ink-limit')).toMatchInlineSnapshot(`
      "****Ink** at the limit of 260 %: about 13 mL on a square metre, 160 mL an hour where all of the width is printed so (estimate: every dot one full drop).**

      At most 11 g/m² of ink evaporate; that is 140 g/h with all of the width at the ink limit.

      Air that thins this vapour, two questions with two answers:

      - **to breathe:** 7000 m³/h (4200 to 14000) at 20 ppm (mixing factor 3 to 10, from memory)
      - **against explosion:** 11 m³/h (10 to 11) at a quarter of the lower explosive limit of 1.1 %, lowered for 48 °C

      Caution: An estimate for talking to those who design ventilation, not a design. Air enough to stay below a quarter of the lower explosive limit is far from enough to breathe; vapour gathers low, near the web and in the roll, where no average holds. Keep ignition sources and static away. The safety data sheets of the ink and its cleaners, the machine’s safety documents, local codes and licensed practice come first."
    `)
  })

  test('the ink limit, solvent, in a shop of feet and pounds', async () => {
    expect(await at('ink-limit', PROFILE.replace('units: metric', 'units: us'))).toMatchInlineSnapshot(`
      "****Ink** at the limit of 260 %: about 13 mL on a square metre, 160 mL an hour where all of the width is printed so (estimate: every dot one full drop).**

      At most 0.32 oz/yd² of ink evaporate; that is 0.3 lb/h with all of the width at the ink limit.

      Air that thins this vapour, two questions with two answers:

      - **to breathe:** 4100 ft³/min (2500 to 8200) at 20 ppm (mixing factor 3 to 10, from memory)
      - **against explosion:** 6.2 ft³/min (6.1 to 6.3) at a quarter of the lower explosive limit of 1.1 %, lowered for 118.4 °F

      Caution: An estimate for talking to those who design ventilation, not a design. Air enough to stay below a quarter of the lower explosive limit is far from enough to breathe; vapour gathers low, near the web and in the roll, where no average holds. Keep ignition sources and static away. The safety data sheets of the ink and its cleaners, the machine’s safety documents, local codes and licensed practice come first."
    `)
  })

  test('the ink limit, water', async () => {
    expect(await at('ink-limit', WATER)).toMatchInlineSnapshot(`
      "****Ink** at the limit of 260 %: about 13 mL on a square metre, 160 mL an hour where all of the width is printed so (estimate: every dot one full drop).**

      At most 9.9 g/m² of ink evaporate, counted as water; that is 0.13 kg/h with all of the width at the ink limit, and that takes 84 W of heat.

      It ends up in the air of the room unless it is led off. What else evaporates with the water, and its limits, stand in the ink’s safety data sheet.

      Caution: ventilate, and keep ignition sources and static away. The safety data sheet of the ink, the machine’s safety documents, local codes and licensed practice come first."
    `)
  })

  test('the ink limit, an ink that light sets', async () => {
    expect(await at('ink-limit', withInk('base: uv'))).toMatchInlineSnapshot(`
      "****Ink** at the limit of 260 %: about 13 mL on a square metre, 160 mL an hour where all of the width is printed so (estimate: every dot one full drop).**

      This ink is set by light and counted as giving off nothing. Until it is set it harms skin and eyes, and its lamps may make ozone: keep the extraction on.

      Caution: ventilate, and keep ignition sources and static away. The safety data sheet of the ink, the machine’s safety documents, local codes and licensed practice come first."
    `)
  })

  test('the ink limit, one of the limits missing', async () => {
    expect(await at('ink-limit', without('exposure-limit'))).toMatchInlineSnapshot(`
      "****Ink** at the limit of 260 %: about 13 mL on a square metre, 160 mL an hour where all of the width is printed so (estimate: every dot one full drop).**

      At most 11 g/m² of ink evaporate; that is 140 g/h with all of the width at the ink limit.

      Air that thins this vapour, two questions with two answers:

      - **to breathe:** cannot be told: the printer does not give its ink.exposure-limit, how much of the vapour may be in air to breathe
      - **against explosion:** 11 m³/h (10 to 11) at a quarter of the lower explosive limit of 1.1 %, lowered for 48 °C

      Caution: An estimate for talking to those who design ventilation, not a design. Air enough to stay below a quarter of the lower explosive limit is far from enough to breathe; vapour gathers low, near the web and in the roll, where no average holds. Keep ignition sources and static away. The safety data sheets of the ink and its cleaners, the machine’s safety documents, local codes and licensed practice come first."
    `)
  })

  test('the ink limit, nothing but the base', async () => {
    expect(await at('ink-limit', withInk('base: solvent'))).toMatchInlineSnapshot(`
      "****Ink** at the limit of 260 %: about 13 mL on a square metre, 160 mL an hour where all of the width is printed so (estimate: every dot one full drop).**

      What evaporates of the ink cannot be told: the printer does not give its ink.volatile, the share of the ink that evaporates.

      Caution: ventilate, and keep ignition sources and static away. The safety data sheet of the ink, the machine’s safety documents, local codes and licensed practice come first."
    `)
  })

  test('the ink limit, no molar mass: told once', async () => {
    expect(await at('ink-limit', without('molar-mass'))).toMatchInlineSnapshot(`
      "****Ink** at the limit of 260 %: about 13 mL on a square metre, 160 mL an hour where all of the width is printed so (estimate: every dot one full drop).**

      At most 11 g/m² of ink evaporate; that is 140 g/h with all of the width at the ink limit.

      Air to thin this vapour cannot be told: the printer does not give its ink.molar-mass, which turns mass of vapour into volume.

      Caution: ventilate, and keep ignition sources and static away. The safety data sheet of the ink, the machine’s safety documents, local codes and licensed practice come first."
    `)
  })

  test('the pause says what evaporates', async () => {
    expect((await at('pause')).split('\n\n').find((p) => p.includes('evaporate'))).toMatchInlineSnapshot(
      `"At most 11 g/m² of ink evaporate; that is 140 g/h with all of the width at the ink limit."`,
    )
  })

  test('the fan', async () => {
    const files = sampleFiles('profiles/banner-510-bay-1.media.yaml')
    const text = await numbersAt(files.replace('  fan: true', '  $0fan: true'), '2026-11-25')
    expect(plain(text)).toMatchInlineSnapshot(`
      "**Hottest behind the platen: 44 °C (42 to 46), within the limit: the stock bears 60 °C.**

      | the web             |   set | reaches          |   stays | settles in       | margin |
      | ------------------- | ----: | ---------------- | ------: | ---------------- | -----: |
      | ahead of the platen | 40 °C | 35 °C (33 to 36) |    80 s | 64 s (36 to 75)  |   25 K |
      | on the platen       | 42 °C | 39 °C (38 to 41) |    64 s | 29 s (4.2 to 56) |   21 K |
      | behind the platen   | 48 °C | 44 °C (42 to 46) | 2.4 min | 36 s (12 to 57)  |   16 K |
      | to the roll         |       | 22 °C            |   5 min |                  |        |

      At most 11 g/m² (11 to 12) of ink evaporate; that is 200 g/h (200 to 210) with all of the width at the ink limit.

      Air that thins this vapour, two questions with two answers:

      - **to breathe:** 10000 m³/h (6100 to 22000) at 20 ppm (mixing factor 3 to 10, from memory)
      - **against explosion:** 16 m³/h (15 to 17) at a quarter of the lower explosive limit of 1.1 %, lowered for 48 °C

      Caution: An estimate for talking to those who design ventilation, not a design. Air enough to stay below a quarter of the lower explosive limit is far from enough to breathe; vapour gathers low, near the web and in the roll, where no average holds. Keep ignition sources and static away. The safety data sheets of the ink and its cleaners, the machine’s safety documents, local codes and licensed practice come first."
    `)
  })

  test('a printer that says nothing of its ink: the fan is told as before', async () => {
    const silent = plain(await numbersAt(PROFILE.replace(INK, '').replace('fan:', '$0fan:')))
    expect(silent).not.toMatch(/evaporate|against explosion/)
    expect(silent).toContain('| the web ')
  })
})

describe('what is missing', () => {
  test.each([
    ['base', 'load', 'whether it is solvent, water or set by light'],
    ['volatile', 'load', 'the share of the ink that evaporates'],
    ['density', 'load', 'which turns drops into mass'],
    ['molar-mass', 'breathing', 'which turns mass of vapour into volume'],
    ['molar-mass', 'explosion', 'which turns mass of vapour into volume'],
    ['exposure-limit', 'breathing', 'how much of the vapour may be in air to breathe'],
    ['lower-explosive-limit', 'explosion', 'from which share of the air its vapour can explode'],
  ] as const)('%s: no %s, and why', async (key, fact, what) => {
    expect((await facts(without(key)))[fact]).toEqual({
      ok: false,
      problem: { input: `ink.${key}`, reason: `the printer does not give its ink.${key}, ${what}` },
    })
  })

  test('one limit missing leaves the other answer', async () => {
    expect((await facts(without('exposure-limit'))).explosion).toMatchObject({ ok: true })
    expect((await facts(without('lower-explosive-limit'))).breathing).toMatchObject({ ok: true })
  })

  test('the reckoned quantities name the key; a printer without an ink has none', async () => {
    const rows = reckonArea(quantities, await setupOf(without('exposure-limit')))
    expect(rows.map((r) => [r.key, r.problem])).toEqual([
      ['vapour.load', undefined],
      ['vapour.rate', undefined],
      [
        'vapour.breathing',
        {
          input: 'ink.exposure-limit',
          reason: 'the printer does not give its ink.exposure-limit, how much of the vapour may be in air to breathe',
        },
      ],
      ['vapour.explosion', undefined],
    ])
    expect(reckonArea(quantities, await setupOf(PROFILE.replace(INK, '')))).toEqual([])
    expect((await facts(PROFILE.replace(INK, ''))).load).toMatchObject({ problem: { input: 'ink' } })
  })

  test('no ink limit, no way to know the output: the key that those want', async () => {
    expect((await facts(without('ink-limit'))).load).toMatchObject({ problem: { input: 'ink-limit' } })
    const still = await facts(without('turnaround'))
    expect(still.load.ok).toBe(true)
    expect(still.rate).toMatchObject({ problem: { input: 'carriage.turnaround' } })
    expect(still.breathing).toEqual(still.rate)
  })

  test('a heater of which nothing is known', async () => {
    const { explosion, breathing } = await facts(without('after').replace('range: [30 °C, 90 °C], ', ''))
    expect(explosion).toMatchObject({ problem: { input: 'heat.after' } })
    expect(breathing).toMatchObject({ ok: true })
  })
})

describe('what contradicts itself', () => {
  test.each([
    ['volatile: 90 %', 'volatile: 0 %', 'load', 'ink.volatile', /solvent-based, and none of it to evaporate/],
    ['exposure-limit: 20 ppm', 'exposure-limit: 0.9 %', 'breathing', 'ink.exposure-limit', /not below ink.lower-explosive-limit/],
    ['after: 48 °C', 'after: 260 °C', 'explosion', 'heat', /above 200 °C/],
  ] as const)('%s written as %s', async (right, wrong, fact, input, reason) => {
    const text = PROFILE.replace(right, wrong).replace('limit: 1.1 %', 'limit: 0.8 %')
    expect((await facts(text))[fact]).toEqual({ ok: false, problem: { input, reason: expect.stringMatching(reason) } })
  })

  test('limits in contradiction leave neither answer', async () => {
    const { breathing, explosion } = await facts(PROFILE.replace('20 ppm', '0.9 %').replace('1.1 %', '0.8 %'))
    expect(explosion).toEqual(breathing)
  })

  // The schema's limits are those of the calculations, so what is beyond them has its finding and is no number here.
  test.each([
    ['volatile: 90 %', 'volatile: 120 %', 'load', 'ink.volatile'],
    ['density: 950', 'density: 0', 'load', 'ink.density'],
    ['exposure-limit: 20 ppm', 'exposure-limit: 20 %', 'breathing', 'ink.exposure-limit'],
    ['exposure-limit: 20 ppm', 'exposure-limit: 0 ppm', 'breathing', 'ink.exposure-limit'],
    ['lower-explosive-limit: 1.1 %', 'lower-explosive-limit: 90 %', 'explosion', 'ink.lower-explosive-limit'],
    ['molar-mass: 118', 'molar-mass: 118000', 'breathing', 'ink.molar-mass'],
  ] as const)('%s written as %s counts as not given', async (right, wrong, fact, input) => {
    expect((await facts(PROFILE.replace(right, wrong)))[fact]).toEqual({
      ok: false,
      problem: { input, reason: expect.stringContaining(`the printer does not give its ${input}, `) },
    })
  })

  test('an ink that light sets gives off nothing, unless the printer says what', async () => {
    const nothing = await facts(withInk('base: uv'))
    expect(nothing.rate).toEqual({ ok: true, value: { low: 0, typical: 0, high: 0 } })
    expect([nothing.heat, nothing.breathing, nothing.explosion]).toEqual([undefined, undefined, undefined])
    const some = await facts(PROFILE.replace('base: solvent', 'base: uv').replace('volatile: 90 %', 'volatile: 2 %'))
    expect(value(some.breathing).air.typical).toBeGreaterThan(0)
  })
})

test('an uncertainty of the data sheet is carried; it reaches neither nothing nor more than all', async () => {
  const load = async (volatile: string) => value((await facts(PROFILE.replace('volatile: 90 %', `volatile: ${volatile}`))).load)
  const exact = (await load('90 %')).typical
  const spread = await load('90 ±5 %')
  expect([spread.low / exact, spread.typical / exact, spread.high / exact].map((r) => Number(r.toFixed(6)))).toEqual([
    0.944444, 1, 1.055556,
  ])
  expect((await load('90 ±30 %')).high / exact).toBeCloseTo(1 / 0.9, 9)
  expect((await load('5 ±30 %')).low / exact).toBeCloseTo(0.005 / 0.9, 9)
})

test('more ink, more vapour: in proportion to strikes, but no more in an hour', async () => {
  const [once, twice] = [await facts(PROFILE), await facts(PROFILE.replace('colour:', 'carriage: {strikes: 2}\ncolour:'))]
  expect(value(twice.load).typical / value(once.load).typical).toBeCloseTo(2, 9)
  expect(value(twice.rate).typical / value(once.rate).typical).toBeCloseTo(1, 9)
})

test('every reckoned quantity has formula, inputs with origin, and source', async () => {
  for (const source of [PROFILE, WATER])
    for (const row of reckonArea(quantities, await setupOf(source))) {
      expect(row.formula).not.toBe('')
      expect(row.source).not.toBe('')
      expect(row.inputs.length).toBeGreaterThan(0)
      expect(row.problem).toBeUndefined()
    }
})

// NIST SP 811 App. B: inch 25.4 mm, t/°F = 1.8 t/°C + 32.
test('the same documents in other units give the same results', async () => {
  const other = PROFILE.replace('platen: 42 °C', 'platen: 107.6 °F')
    .replace('after: 48 °C', 'after: 118.4 °F')
    .replace('[18 °C, 26 °C]', '[64.4 °F, 78.8 °F]')
    .replace('density: 950 kg/m³', 'density: 0.95 g/cm³')
    .replace('exposure-limit: 20 ppm', 'exposure-limit: 0.002 %')
    .replace('lower-explosive-limit: 1.1 %', 'lower-explosive-limit: 11000 ppm')
    .replace('12 pL', '0.012 nL')
    .replace('1372 mm', '54.0157480315 in')
    .replace('carriage-speed: 1000 mm/s', 'carriage-speed: 39.3700787402 in/s')
    .replace('units: metric', 'units: us')
  expectAlike(await facts(PROFILE), await facts(other))
})

test('half-filled and hostile documents: no throw, no number that is none', async () => {
  await fc.assert(
    fc.asyncProperty(fc.constantFrom(PROFILE, WATER).chain(halfFilled), async (source) => {
      const setup = await setupOf(source).catch(() => undefined)
      if (!setup) return
      expect(numbersIn([vapourOf(setup), reckonArea(quantities, setup)]).filter((n) => !Number.isFinite(n))).toEqual([])
    }),
    { numRuns: runs(150) },
  )
})

/** Without the escapes of Markdown. */
const told = async (markdown: Promise<string>): Promise<string> => plain(await markdown)

/** Markdown without its escapes. */
const plain = (markdown: string): string => markdown.replaceAll('\\', '')
