// Heat in hovers and as reckoned quantities: this profile's own numbers, what is said where something is missing or contradicts itself, and
// the same results in any units.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { heatEvidence } from '../../server/src/areas/heat/evidence.ts'
import { heatOf } from '../../server/src/areas/heat/facts.ts'
import { quantities } from '../../server/src/areas/heat/quantities.ts'
import { reckonArea } from '../../server/src/areas/reckon.ts'
import { runs } from '../support/counts.ts'
import { numbersAt } from '../support/render.ts'
import { expectAlike, halfFilled, numbersIn, setupOf } from './physics.ts'
import { sampleFiles } from './samples.ts'

const STOCK = `#- s.stock.yaml
stock: s
family: film-pvc-calendered
thickness: 80 µm
grammage: 112 g/m²
heat-capacity: 950 J/kgK
expansion: 70 ppm/K
max-web-temperature: 50 °C
widths: [1372 mm]
`
const PRINTER = `#- p.printer.yaml
printer: p
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2}
modes:
  m: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
carriage:
  bed-width: 1600 mm
  overrun: 120 mm
  turnaround: 0.35 s
heaters:
  before: {length: 250 mm, range: [30 °C, 70 °C], step: 1 K, coupling: 80 W/m²K}
  platen: {length: 200 mm, range: [30 °C, 60 °C], step: 1 K, coupling: 120 W/m²K}
  after: {length: 450 mm, range: [30 °C, 90 °C], step: 1 K, coupling: 80 W/m²K}
drying:
  pause-range: [0 s, 10 s]
  run-out-range: [0 min, 60 min]
  path-to-winding: 1.4 m
`
const HEAD = `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
`
const PROFILE = `${HEAD}heat:
  before: 36 °C
  platen: 42 °C
  after: 50 °C
  readings:
    - {date: 2026-03-02, zone: after, set: 50 °C, web: 46 °C}
${STOCK}${PRINTER}`

describe('the word of a zone', () => {
  const TWO = PRINTER.replace(
    '  m: {',
    '  quick: {resolution: 720 x 360 dpi, passes: 2, carriage-speed: 1000 mm/s, directions: two-way}\n  m: {',
  )
  const under = (state: string, reading = '{date: 2026-03-20, zone: after, set: 50 °C, web: 46 °C, under: before}'): string =>
    `${HEAD}heat:\n  after: 50 °C\n  readings:\n    - ${reading}\nconditions:\n  before: {from: profile, ${state}}\n`
  const AS_NOW = 'stock: s, printer: p, mode: m, heat.after: 50 °C'
  const wordOf = async (profile: string, printer = TWO) => {
    const setup = await setupOf(`${profile}${STOCK}${printer}`)
    const zone = heatOf(setup).zones.find((one) => one.zone === 'after')!
    const { word, reason } = heatEvidence(setup, zone)
    return { told: reason === undefined ? word : `${word}: ${reason}`, origin: zone.coupling.origin }
  }

  test.each([
    ['as set now', under(AS_NOW), 'proven: made at this setting'],
    [
      'at another setting',
      under(AS_NOW).replace('after: 50 °C', 'after: 45 °C'),
      'carried: made at another setting or speed, and the web follows its heater in proportion',
    ],
    [
      'in a mode that runs faster',
      under(AS_NOW.replace('mode: m', 'mode: quick')),
      'carried: made at another setting or speed, and the web follows its heater in proportion',
    ],
    ['without a state', under(AS_NOW).replace(', under: before', ''), 'doubtful: made under settings that are not known'],
    [
      'in a mode that is gone',
      under(AS_NOW.replace('mode: m', 'mode: old')),
      'doubtful: made in old, which the printer does not have',
    ],
    [
      'long ago',
      under(AS_NOW).replace('2026-03-20', '2026-02-20'),
      'doubtful: made 39 days ago, and the shop trusts a check for 30',
    ],
    ['without a day', under(AS_NOW).replace('date: 2026-03-20, ', ''), 'doubtful: made on a day that is not written down'],
  ])('%s', async (_, profile, told) => {
    expect(await wordOf(profile)).toEqual({ told, origin: 'readings' })
  })

  test('a reading of another stock or printer is not reckoned with', async () => {
    const none = { told: 'unknown', origin: 'printer' }
    expect(await wordOf(under(AS_NOW.replace('stock: s', 'stock: t')))).toEqual(none)
    expect(await wordOf(under(AS_NOW.replace('printer: p', 'printer: q')))).toEqual(none)
  })

  test('where one reading is sound, those under settings that are not known are left out of the number', async () => {
    const two = under(AS_NOW).replace('conditions:', '    - {date: 2026-03-21, zone: after, set: 50 °C, web: 40 °C}\nconditions:')
    const share = async (profile: string): Promise<number | undefined> => {
      const setup = await setupOf(`${profile}${STOCK}${TWO}`)
      return heatOf(setup).zones.find(({ zone }) => zone === 'after')?.coupling.fit?.share.typical
    }
    // (46 − 23) / (50 − 23) of the heater's rise, and not the mean with (40 − 23) / (50 − 23).
    expect(await share(two)).toBeCloseTo(23 / 27, 12)
    expect(await share(two.replaceAll(', under: before', ''))).toBeCloseTo(20 / 27, 12)
  })

  test('a heater that was replaced, and a web that had not settled at the speed of then', async () => {
    const event = 'events: [{date: 2026-03-25, what: heater-replaced}]\n'
    expect((await wordOf(under(AS_NOW), TWO + event)).told).toBe('doubtful: made before a heater was replaced on 2026-03-25')
    const short = TWO.replace('length: 450 mm', 'length: 2 mm')
    expect((await wordOf(under(AS_NOW.replace('mode: m', 'mode: quick')), short)).told).toBe(
      'doubtful: made at another speed, where the web had not settled over the heater',
    )
  })
})

describe('hovers', () => {
  const at = (zone: string, text = PROFILE): Promise<string> => numbersAt(text.replace(`  ${zone}:`, `  $0${zone}:`))

  test('from how short a touch the metal burns, rounded to the safe side; nothing below what burns at all', async () => {
    const caution = async (degrees: string): Promise<string> =>
      /Caution: ([^.]*(?:\.\d[^.]*)*)\./.exec(await at('after', PROFILE.replaceAll('after: 50 °C', `after: ${degrees}`)))![1]!
    const says: Record<string, string> = {}
    for (const degrees of ['30 °C', '47 °C', '54 °C', '60 °C', '64 °C', '66 °C', '140 °C', '147.2 °F'])
      says[degrees] = await caution(degrees)
    expect(says).toMatchInlineSnapshot(`
      {
        "140 °C": "bare metal of 140 °C burns at a touch of half a second or less, and sooner where the control overshoots",
        "147.2 °F": "bare metal of 64 °C burns from about 1.2 s of touch on, and sooner where the control overshoots",
        "30 °C": "Heated platens, webs and covers burn skin: the longer the touch, the lower the temperature that burns",
        "47 °C": "bare metal of 47 °C burns from about 21 min of touch on, and sooner where the control overshoots",
        "54 °C": "bare metal of 54 °C burns from about 15 s of touch on, and sooner where the control overshoots",
        "60 °C": "bare metal of 60 °C burns from about 3.1 s of touch on, and sooner where the control overshoots",
        "64 °C": "bare metal of 64 °C burns from about 1.2 s of touch on, and sooner where the control overshoots",
        "66 °C": "bare metal of 66 °C burns from about 0.7 s of touch on, and sooner where the control overshoots",
      }
    `)
  })

  test('a printer that says nothing of heaters: what is left to say', async () => {
    const bare = PROFILE.replace(/heaters:\n(?: {2}.*\n)*/, '')
    expect((await at('after', bare)).split('\n\n').find((part) => part.includes('heaters'))).toMatchInlineSnapshot(
      `"The printer does not give its heaters, so the web cannot be followed: a web that stays there settles at 46 °C (44 to 48), and the stock bears 50 °C."`,
    )
  })

  test('the platen: the path with this zone marked, growth, touch', async () => {
    expect(await at('platen')).toMatchInlineSnapshot(`
      "**Hottest behind the platen: 46 °C (44 to 48), within the limit: the stock bears 50 °C.**

      | the web             |   set | reaches          |   stays | settles in         | margin |
      | ------------------- | ----: | ---------------- | ------: | ------------------ | -----: |
      | ahead of the platen | 36 °C | 34 °C (33 to 35) | 2.6 min | 5.2 s (4.7 to 5.4) |   16 K |
      | **on the platen**   | 42 °C | 40 °C (39 to 41) | 2.1 min | 3.6 s (3.4 to 3.8) |   10 K |
      | behind the platen   | 50 °C | 46 °C (44 to 48) | 4.6 min | 4.8 s (2.5 to 7.2) |    4 K |
      | to the roll         |       | 23 °C            | 9.8 min |                    |        |

      In a room of 23 °C, with the printer's coupling of 120 W/m²K and typical losses to the air. Here the web is 1.2 mm/m (1.1 to 1.2) longer than at 23 °C. It takes 1 W from the heater.

      Caution: Heated platens, webs and covers burn skin: the longer the touch, the lower the temperature that burns. A web that stops over a heater goes on warming. Computed temperatures are estimates: measure the web. The safety documents of the machine and the material, local codes and licensed practice come first."
    `)
  })

  test('a zone whose web was read', async () => {
    expect(await at('after')).toMatchInlineSnapshot(`
      "**Hottest behind the platen: 46 °C (44 to 48), within the limit: the stock bears 50 °C.**

      | the web               |   set | reaches          |   stays | settles in         | margin |
      | --------------------- | ----: | ---------------- | ------: | ------------------ | -----: |
      | ahead of the platen   | 36 °C | 34 °C (33 to 35) | 2.6 min | 5.2 s (4.7 to 5.4) |   16 K |
      | on the platen         | 42 °C | 40 °C (39 to 41) | 2.1 min | 3.6 s (3.4 to 3.8) |   10 K |
      | **behind the platen** | 50 °C | 46 °C (44 to 48) | 4.6 min | 4.8 s (2.5 to 7.2) |    4 K |
      | to the roll           |       | 23 °C            | 9.8 min |                    |        |

      Read the web here again. Doubtful: the reading here was made under settings that are not known.

      In a room of 23 °C, as 1 reading of the web tells: it takes on 85 % of the heater's rise above the room. An estimate: for this heater the media is thick enough to lag inside. It takes 1 W from the heater.

      Caution: bare metal of 50 °C burns from about 2.1 min of touch on, and sooner where the control overshoots. Burn thresholds after ISO 13732-1:2006 (values from memory, to be checked against the standard), which sets no limits: it says when skin burns, not what a machine may reach. The safety documents of the machine and the material, local codes and licensed practice come first."
    `)
  })

  test('a reading shows its zone', async () => {
    expect(await numbersAt(PROFILE.replace('web: 46', '$0web: 46'))).toContain('**behind the platen**')
  })

  test('heat as a whole: the hottest place and the full caution', async () => {
    expect(await numbersAt(PROFILE.replace('heat:', '$0heat:'))).toMatchInlineSnapshot(`
      "**Hottest behind the platen: 46 °C (44 to 48), within the limit: the stock bears 50 °C.**

      | the web             |   set | reaches          |   stays | settles in         | margin |
      | ------------------- | ----: | ---------------- | ------: | ------------------ | -----: |
      | ahead of the platen | 36 °C | 34 °C (33 to 35) | 2.6 min | 5.2 s (4.7 to 5.4) |   16 K |
      | on the platen       | 42 °C | 40 °C (39 to 41) | 2.1 min | 3.6 s (3.4 to 3.8) |   10 K |
      | behind the platen   | 50 °C | 46 °C (44 to 48) | 4.6 min | 4.8 s (2.5 to 7.2) |    4 K |
      | to the roll         |       | 23 °C            | 9.8 min |                    |        |

      Caution: Heated platens, webs and covers burn skin: the longer the touch, the lower the temperature that burns. A web that stops over a heater goes on warming. Computed temperatures are estimates: measure the web. The safety documents of the machine and the material, local codes and licensed practice come first."
    `)
  })

  test('the fan: the same path, no zone marked', async () => {
    const text = await numbersAt(PROFILE.replace('  after: 50 °C', '  after: 50 °C\n  $0fan: true'))
    expect(text).toContain('| on the platen  ')
  })

  test('US units', async () => {
    expect(await at('platen', `${PROFILE}#- rollbook.yaml\nshop: S\nunits: us\n`)).toMatchInlineSnapshot(`
      "**Hottest behind the platen: 115 °F (111 to 118), within the limit: the stock bears 122 °F.**

      | the web             |      set | reaches             |   stays | settles in         | margin |
      | ------------------- | -------: | ------------------- | ------: | ------------------ | -----: |
      | ahead of the platen |  96.8 °F | 93 °F (91 to 94)    | 2.6 min | 5.2 s (4.7 to 5.4) |  29 °F |
      | **on the platen**   | 107.6 °F | 104 °F (102 to 105) | 2.1 min | 3.6 s (3.4 to 3.8) |  18 °F |
      | behind the platen   |   122 °F | 115 °F (111 to 118) | 4.6 min | 4.8 s (2.5 to 7.2) | 7.2 °F |
      | to the roll         |          | 73.4 °F             | 9.8 min |                    |        |

      In a room of 73.4 °F, with the printer's coupling of 120 W/m²K and typical losses to the air. Here the web is 0.12 % (0.11 to 0.12) longer than at 73.4 °F. It takes 1 W from the heater.

      Caution: Heated platens, webs and covers burn skin: the longer the touch, the lower the temperature that burns. A web that stops over a heater goes on warming. Computed temperatures are estimates: measure the web. The safety documents of the machine and the material, local codes and licensed practice come first."
    `)
  })

  test('a sample profile', async () => {
    const files = sampleFiles('profiles/banner-510-bay-1.media.yaml')
    expect(await numbersAt(files.replace('  after: 48 °C', '  $0after: 48 °C'), '2026-11-25')).toMatchInlineSnapshot(`
      "**Hottest behind the platen: 44 °C (42 to 46), within the limit: the stock bears 60 °C.**

      | the web               |   set | reaches          |   stays | settles in       | margin |
      | --------------------- | ----: | ---------------- | ------: | ---------------- | -----: |
      | ahead of the platen   | 40 °C | 35 °C (33 to 36) |    80 s | 64 s (36 to 75)  |   25 K |
      | on the platen         | 42 °C | 39 °C (38 to 41) |    64 s | 29 s (4.2 to 56) |   21 K |
      | **behind the platen** | 48 °C | 44 °C (42 to 46) | 2.4 min | 36 s (12 to 57)  |   16 K |
      | to the roll           |       | 22 °C            |   5 min |                  |        |

      Proven: the reading here was made at this setting.

      In a room of 22 °C, as 1 reading of the web tells: it takes on 85 % of the heater's rise above the room. An estimate: for this heater the media is thick enough to lag inside. It takes 17 W from the heater.

      Caution: bare metal of 48 °C burns from about 10 min of touch on, and sooner where the control overshoots. Burn thresholds after ISO 13732-1:2006 (values from memory, to be checked against the standard), which sets no limits: it says when skin burns, not what a machine may reach. The safety documents of the machine and the material, local codes and licensed practice come first."
    `)
  })
})

describe('what cannot be told', () => {
  test('no grammage, thickness or family', async () => {
    const text = await numbersAt(PROFILE.replace(STOCK, '#- s.stock.yaml\nstock: s\n').replace('  platen: 42', '  $0platen: 42'))
    expect(text).toContain('Not told: the stock gives neither its grammage nor a thickness and family to reckon it from')
  })

  test('a heater that is not set yet', async () => {
    const text = await numbersAt(PROFILE.replace('  before: 36 °C\n', '').replace('  platen: 42', '  $0platen: 42'))
    expect(text).toContain('Not told: heat.before is not given')
  })

  test('a web too thick for its coupling is refused and said so', async () => {
    const text = await numbersAt(PROFILE.replace('80 µm', '600 µm').replace('  platen: 42', '  $0platen: 42'))
    expect(text).toContain('too thick for its coupling to the heater')
  })

  test('a thick web that was read has its face', async () => {
    const thick = PROFILE.replace('80 µm', '600 µm')
    const { zones } = heatOf(await setupOf(thick))
    const after = zones.find((z) => z.zone === 'after')!.web
    expect(after.ok && after.value.trust).toBe('face')
    expect(after.ok && after.value.leave.typical).toBeCloseTo(46, 6)
  })

  test('a reading hotter than its heater is of no use, and the printer’s coupling stands in', async () => {
    const text = await numbersAt(PROFILE.replace('web: 46', 'web: 57').replace('  after: 50', '  $0after: 50'))
    expect(text).toContain('the readings are of no use: the web reads as hot as its heater or hotter')
  })

  test('a zone the printer does not have', async () => {
    const text = await numbersAt(PROFILE.replace(/ {2}before: \{.*\n/, '').replace('  before: 36', '  $0before: 36'))
    expect(text).toContain('The printer has no heater ahead of the platen: this setting does nothing.')
  })

  test('reckoned quantities name the key to fill in', async () => {
    const rows = reckonArea(
      quantities,
      await setupOf(
        PROFILE.replace('  platen: 42 °C\n', '')
          .replace(/grammage.*\n/, '')
          .replace(/thickness.*\n/, ''),
      ),
    )
    expect(rows.find((r) => r.key === 'heat.after.web')?.problem).toEqual({
      input: 'grammage',
      reason: expect.stringMatching(/^the stock gives neither its grammage/),
    })
    expect(rows.find((r) => r.key === 'heat.platen.web')?.problem).toEqual({
      input: 'heat.platen',
      reason: 'heat.platen is not given',
    })
  })
})

describe('reckoning', () => {
  test('a reading is given back: the coupling found from it leads to the temperature that was read', async () => {
    const { zones } = heatOf(await setupOf(PROFILE))
    const after = zones.find((z) => z.zone === 'after')!
    expect(after.coupling.origin).toBe('readings')
    expect(after.web.ok && after.web.value.leave.typical).toBeCloseTo(46, 6)
  })

  // The lumped heat balance by hand: air 23 °C, T_inf = (120 · 42 + 15 · 23) / 135, and the web has settled.
  test('a settled web on the platen', async () => {
    const { zones } = heatOf(await setupOf(PROFILE))
    const platen = zones.find((z) => z.zone === 'platen')!.web
    expect(platen.ok && platen.value.leave.typical).toBeCloseTo((120 * 42 + 15 * 23) / 135, 4)
  })

  // By hand: tau = 0.112 kg/m² · 950 J/(kg K) / (120 + 15) W/(m² K), and 99 % of the way takes tau · ln 100 (lumped capacity, Incropera).
  test('how soon a web is as warm as it gets, and not where it is too thick for one temperature', async () => {
    const settling = async (text: string) =>
      reckonArea(quantities, await setupOf(text)).find((r) => r.key === 'heat.platen.settling')!
    const { typical } = (await settling(PROFILE)).value as { typical: number }
    expect(typical).toBeCloseTo(((0.112 * 950) / 135) * Math.log(100), 9)
    const read = PROFILE.replace('80 µm', '600 µm').replace(
      'zone: after, set: 50 °C, web: 46',
      'zone: platen, set: 42 °C, web: 40',
    )
    expect((await settling(read)).problem?.reason).toMatch(/^the media is too thick for its coupling/)
  })

  test('every quantity has formula, inputs with origin, and source', async () => {
    const rows = reckonArea(quantities, await setupOf(PROFILE))
    expect(rows.map((r) => r.key)).toEqual([
      'heat.before.dwell',
      'heat.before.web',
      'heat.before.settling',
      'heat.before.power',
      'heat.platen.dwell',
      'heat.platen.web',
      'heat.platen.settling',
      'heat.platen.power',
      'heat.after.dwell',
      'heat.after.web',
      'heat.after.settling',
      'heat.after.power',
      'heat.winding.web',
      'heat.margin',
      'heat.growth',
    ])
    for (const row of rows) {
      expect(row.formula).not.toBe('')
      expect(row.source).not.toBe('')
      expect(row.inputs.length).toBeGreaterThan(0)
      expect(row.problem).toBeUndefined()
    }
    expect(rows.find((r) => r.key === 'heat.platen.web')?.inputs.find((i) => i.name === 'heat capacity')?.origin).toBe('given')
  })
})

const US = PROFILE.replace('before: 36 °C', 'before: 96.8 °F')
  .replace('platen: 42 °C', 'platen: 107.6 °F')
  .replace('after: 50 °C', 'after: 122 °F')
  .replace('set: 50 °C, web: 46 °C', 'set: 122 °F, web: 114.8 °F')
  .replace('max-web-temperature: 50 °C', 'max-web-temperature: 122 °F')
  .replace('thickness: 80 µm', 'thickness: 0.00314960629921 in')
  .replace('[1372 mm]', '[54.0157480315 in]')
  .replace('length: 250 mm', 'length: 9.84251968504 in')
  .replace('path-to-winding: 1.4 m', 'path-to-winding: 55.1181102362 in')

test('the same profile in inches and °F gives the same results', async () => {
  expectAlike(factsIn(heatOf(await setupOf(PROFILE))), factsIn(heatOf(await setupOf(US))))
})

test('half-filled and hostile documents: no throw, no number that is none', async () => {
  await fc.assert(
    fc.asyncProperty(halfFilled(PROFILE), async (source) => {
      const setup = await setupOf(source).catch(() => undefined)
      if (!setup) return
      const found = [heatOf(setup), reckonArea(quantities, setup)]
      expect(numbersIn(found).filter((n) => !Number.isFinite(n))).toEqual([])
    }),
    { numRuns: runs(150) },
  )
})

const factsIn = ({ zones, margins, growth, power, free }: ReturnType<typeof heatOf>) => [
  zones.map(({ web, coupling }) => [web, coupling.range]),
  margins,
  growth,
  power,
  free,
]
