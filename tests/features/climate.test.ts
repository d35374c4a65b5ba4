// The room in hovers and as reckoned quantities: dew point, growth of paper, the air over the platen, static.
import fc from 'fast-check'
import psychrolib from 'psychrolib'
import { describe, expect, test } from 'vitest'
import { reckonArea } from '../../server/src/areas/reckon.ts'
import { climateOf } from '../../server/src/areas/room/facts.ts'
import { quantities } from '../../server/src/areas/room/quantities.ts'
import { runs } from '../support/counts.ts'
import { hover } from '../support/render.ts'
import { expectAlike, halfFilled, numbersIn, setupOf } from './physics.ts'
import { sampleFiles } from './samples.ts'

const PRINTER = `#- p.printer.yaml
printer: p
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2}
modes:
  m: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
carriage: {bed-width: 1600 mm, overrun: 120 mm, turnaround: 0.35 s}
heaters:
  platen: {length: 200 mm, range: [30 °C, 60 °C], step: 1 K, coupling: 100 W/m²K}
`
const PAPER = `#- s.stock.yaml
stock: s
family: paper-coated
thickness: 170 µm
grammage: 200 g/m²
expansion: 8 ppm/K
moisture-expansion: 0.004 %/%RH
heat-capacity: 1340 J/kgK
widths: [1270 mm]
`
const SHOP = `#- rollbook.yaml
shop: S
climate:
  temperature: [18 °C, 26 °C]
  humidity: [40 %RH, 60 %RH]
`
const PROFILE = `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  checks:
    - date: 2026-03-20
      commanded: 1000 mm
      measured: 1000.5 mm
      applied: 0 %
      web: 21 °C
      climate:
        temperature: 22 °C
        humidity: 68 %RH
heat:
  platen: 40 °C
${PAPER}${PRINTER}${SHOP}`

const at = (text: string): Promise<string> => hover(text.replace('climate:\n        t', '$0climate:\n        t'))

describe('hovers', () => {
  test('paper: dew point, outside the shop’s climate, growth', async () => {
    expect(await told(at(PROFILE))).toMatchInlineSnapshot(`
      "**Water condenses from this air on what is colder than 15.8 °C.**

      The web measured lies 5.2 K above that: dry (ISO 8502-4, from memory).

      Outside the shop's climate (18 °C to 26 °C, 40 %RH to 60 %RH): 68 %RH.

      At rest in this air the stock is 0.72 mm/m longer than in the middle of the shop's humidity; from the driest to the dampest it grows by 0.8 mm/m. Over the platen the shop's air has 20 %RH (20 to 22) left, and the stock comes out 1.1 mm/m (1 to 1.1) shorter at most."
    `)
  })

  test('film in dry air: static', async () => {
    const film = PROFILE.replace('family: paper-coated', 'family: film-pet').replace(/moisture-expansion.*\n/, '')
    expect(await told(at(film.replace('68 %RH', '31 %RH')))).toMatchInlineSnapshot(`
      "**Water condenses from this air on what is colder than 4.1 °C.**

      The web measured lies 17 K above that: dry (ISO 8502-4, from memory).

      Outside the shop's climate (18 °C to 26 °C, 40 %RH to 60 %RH): 31 %RH.

      Caution: In air below about 40 %RH films and dry paper charge as they unwind: they cling to the platen, draw dust and stray drops, and can shock. Raise the humidity of the room, let the roll rest in it, and keep earthing and ionisers as the safety documents of the machine and the material say; they, local codes and licensed practice come first, above all where solvent vapour is present. (Common practice.)"
    `)
  })

  test('a sample profile', async () => {
    const files = sampleFiles('profiles/coated-paper-200-bay-2.media.yaml')
    const first = files.indexOf('climate: {')
    expect(await told(hover(`${files.slice(0, first)}$0${files.slice(first)}`, '2026-11-25'))).toMatchInlineSnapshot(`
      "**Water condenses from this air on what is colder than 12.6 °C; keep rolls and platen 3 K above that (ISO 8502-4, from memory).**

      At rest in this air the stock is 0.08 mm/m longer than in the middle of the shop's humidity; from the driest to the dampest it grows by 0.8 mm/m. Over the platen the shop's air has 20 %RH (19 to 21) left, and the stock comes out 1.1 mm/m (1 to 1.1) shorter at most."
    `)
  })
})

describe('what cannot be told', () => {
  test('temperature or humidity alone', async () => {
    expect(await at(PROFILE.replace('        humidity: 68 %RH\n', ''))).toContain(
      'The dew point needs both temperature and humidity.',
    )
  })

  test('a humidity that cannot be: no dew point, no growth, no throw', async () => {
    const { checks } = climateOf(await setupOf(PROFILE.replace('68 %RH', '168 %RH')))
    expect(checks.map((c) => c.dewPoint)).toEqual([undefined])
  })

  test('a climate whose ends are swapped falls back on the documented one', async () => {
    const { humidity } = climateOf(await setupOf(PROFILE.replace('[40 %RH, 60 %RH]', '[60 %RH, 40 %RH]')))
    expect(humidity).toBe(0.5)
  })

  test('film: no growth with humidity is told', async () => {
    const rows = reckonArea(
      quantities,
      await setupOf(PROFILE.replace('family: paper-coated', 'family: film-pp').replace(/moisture-exp.*\n/, '')),
    )
    expect(rows.map((r) => r.key)).toEqual(['room.dew-point'])
  })
})

describe('reckoning', () => {
  // The registry's psychrolib (ASHRAE Handbook of Fundamentals 2017) is the reference.
  test('dew points are those of moist air', async () => {
    const { checks, dewPoint } = climateOf(await setupOf(PROFILE))
    psychrolib.SetUnitSystem(psychrolib.SI)
    expect(checks[0]!.dewPoint).toBeCloseTo(psychrolib.GetTDewPointFromRelHum(22, 0.68), 6)
    expect(dewPoint.ok && dewPoint.value).toBeCloseTo(psychrolib.GetTDewPointFromRelHum(26, 0.6), 6)
  })

  // 0.004 (fraction per fraction) from 50 %RH to 68 %RH, and from the damp end at 60 %RH.
  test('growth with humidity', async () => {
    const { checks, overWindow } = climateOf(await setupOf(PROFILE))
    expect(checks[0]!.fromMiddle?.typical).toBeCloseTo(0.004 * 0.18, 9)
    expect(checks[0]!.growth?.typical).toBeCloseTo(0.004 * 0.08, 9)
    expect(overWindow?.typical).toBeCloseTo(0.004 * 0.2, 9)
  })

  test('every quantity has formula, inputs with origin, and source', async () => {
    const rows = reckonArea(quantities, await setupOf(PROFILE))
    expect(rows.map((r) => r.key)).toEqual(['room.dew-point', 'room.growth', 'room.platen-humidity', 'room.platen-growth'])
    for (const row of rows) {
      expect(row.value).toBeDefined()
      expect(row.formula).not.toBe('')
      expect(row.source).not.toBe('')
      expect(row.inputs.length).toBeGreaterThan(0)
    }
  })
})

const US = PROFILE.replace('platen: 40 °C', 'platen: 104 °F')
  .replace('web: 21 °C', 'web: 69.8 °F')
  .replace('temperature: 22 °C', 'temperature: 71.6 °F')
  .replace('[18 °C, 26 °C]', '[64.4 °F, 78.8 °F]')
  .replace('thickness: 170 µm', 'thickness: 6.69291338583 mil')
  .replace('moisture-expansion: 0.004 %/%RH', 'moisture-expansion: 40 ppm/%RH')

test('the same profile in inches and °F gives the same results', async () => {
  const facts = async (source: string) => {
    const { evidence: _, ...check } = climateOf(await setupOf(source)).checks[0]!
    const { air, humidity, dewPoint, overWindow, atPlaten } = climateOf(await setupOf(source))
    return [air, humidity, dewPoint, overWindow, atPlaten, check.dewPoint, check.condensation, check.growth, check.fromMiddle]
  }
  expectAlike(await facts(PROFILE), await facts(US))
})

test('half-filled and hostile documents: no throw, no number that is none', async () => {
  await fc.assert(
    fc.asyncProperty(halfFilled(PROFILE), async (source) => {
      const setup = await setupOf(source).catch(() => undefined)
      if (!setup) return
      expect(numbersIn([climateOf(setup), reckonArea(quantities, setup)]).filter((n) => !Number.isFinite(n))).toEqual([])
    }),
    { numRuns: runs(150) },
  )
})

/** The part of a hover that the numbers write: between the heading and the explanation of the key. */
async function told(markdown: Promise<string>): Promise<string> {
  const parts = (await markdown).split('\n\n')
  const end = parts.findIndex((p) => p.startsWith('The air of the print room during the check'))
  return parts.slice(1, end).join('\n\n')
}
