// Pull, winding and speed of the web as a technician meets them: hovers in this profile's numbers, what is missing, other units, half-filled documents.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { reckonArea } from '../../server/src/areas/reckon.ts'
import { BANNER, KNIT, LEVEL_PRINTER, RANGE_PRINTER } from '../../server/src/areas/web/examples.ts'
import { emptyingOf, massOf, webOf } from '../../server/src/areas/web/facts.ts'
import { quantities } from '../../server/src/areas/web/quantities.ts'
import { runs } from '../support/counts.ts'
import { inInches } from '../support/inches.ts'
import { actionTitles, findings, numbersAt } from '../support/render.ts'
import { everyNumber, setupFrom, withoutLines } from '../support/setups.ts'
import { sampleFiles } from './samples.ts'

const PROFILE = `#- e.media.yaml
profile: e
stock: s
printer: p
web:
  wound: out
  tension: 2
  speed: 60 mm/s
`

const FILM = `#- s.stock.yaml
stock: s
family: film-pp
thickness: 180 µm
grammage: 163 g/m²
modulus: 1.5 GPa
poisson: 0.4
curl-radius: 400 mm
widths: [914 mm, 1270 mm, 2000 mm]
roll: {length: 50 m, core: 76.2 mm, outside: 200 mm}
wound: out
`
const ALL = `${PROFILE}${FILM}${LEVEL_PRINTER}carriage: {bed-width: 1600 mm}\n`

describe('hovers', () => {
  test('the pull: stretch, ceiling, sag, torque, and the levels beside it', async () => {
    expect(await numbersAt(ALL.replace('tension: 2', 'tension: $02'))).toMatchInlineSnapshot(`
      "**It stretches the web by **0.056 mm/m**; 0.5 mm/m is the length tolerance.**

      | Level 2 (15 N/m)     |                                                                                             |
      | -------------------- | ------------------------------------------------------------------------------------------- |
      | stretches the web by | **0.056 mm/m**; 0.5 mm/m is the length tolerance                                            |
      | the material takes   | 340 N/m (310 to 370), a typical ceiling by trade tables                                     |
      | it hangs below       | 2.8 N/m: over the 1400 mm to the take-up, taken as one free span, it sags by one part in 10 |
      | take-up torque       | 0.73 N·m on the core, 1.9 N·m on the full roll, 1270 mm wide                                |

      The stretch would be 0.093 mm/m at level 3 (25 N/m), and 0.03 mm/m at level 1 (8 N/m). At one torque the pull on the core is 2.6 times that on the full roll. A brake that is set once for this pull on the full roll pulls 39 N/m near the core."
    `)
  })

  test('a profile of the shop, on a printer with a range', async () => {
    expect(
      await numbersAt(
        sampleFiles('profiles/uncoated-paper-120-bay-2.media.yaml').replace('heat:', 'web: {tension: $020 N/m}\nheat:'),
      ),
    ).toMatchInlineSnapshot(`
      "**It stretches the web by **0.044 mm/m (0.027 to 0.067)**; 0.5 mm/m is the length tolerance.**

      | 20 N/m               |                                                                                             |
      | -------------------- | ------------------------------------------------------------------------------------------- |
      | stretches the web by | **0.044 mm/m (0.027 to 0.067)**; 0.5 mm/m is the length tolerance                           |
      | the material takes   | 440 N/m (350 to 530), a typical ceiling by trade tables                                     |
      | it hangs below       | 2.8 N/m: over the 1900 mm to the take-up, taken as one free span, it sags by one part in 10 |
      | take-up torque       | 0.81 N·m on the core, 1.5 N·m on the full roll, 1270 mm wide                                |

      At one torque the pull on the core is 1.8 times that on the full roll. A brake that is set once for this pull on the full roll pulls 37 N/m near the core."
    `)
  })

  test('a brake that pulls too hard near the core is told', async () => {
    const knit = `${PROFILE.replace('tension: 2', 'tension: $010 N/m')}${KNIT}roll: {core: 76.2 mm, outside: 400 mm}\n${RANGE_PRINTER}`
    expect(await numbersAt(knit)).toContain('pulls 52 N/m near the core, more than the material typically takes.')
  })

  test('the roll: what it weighs, with its caution', async () => {
    const heavy = sampleFiles('profiles/banner-510-bay-1.media.yaml').replace('\nweb:', '\n$0web:')
    const roll = async (text: string): Promise<string> =>
      (await numbersAt(text))
        .split('\n\n')
        .filter((part) => /roll\*\*|^Caution/.test(part))
        .join('\n\n')
    expect(await roll(heavy)).toMatchInlineSnapshot(`
      "****A full roll** 1600 mm wide weighs about 41 kg, core and flanges not counted.**

      Caution: rolls hurt backs and crush hands and feet. Lift one with a lifter or with others, in shoes that protect, and keep clear of one that may roll or tip. The safety documents of the machine and the material, and local rules for lifting by hand, come first."
    `)
    expect(await roll(heavy.replaceAll('units: metric', 'units: us'))).toContain(' lb, core')
  })

  test('the winding: strain of the faces, and whether it goes with the set', async () => {
    expect(await numbersAt(ALL.replace('wound: out', 'wound: $0out'))).toMatchInlineSnapshot(`
      "**On a core of 76.2 mm each face of this web is strained by 0.24 %, on the full roll (200 mm) by 0.09 %; taking the core of the stock's own roll.**

      What stays of it grows with time and warmth.

      Run again face up: the lead and the edges turn down, and the middle may bow up. The stock came wound out: it winds up with its own set."
    `)
    expect(await numbersAt(ALL.replace('wound: out', 'wound: $0in'))).toContain(
      'The stock came wound out: it winds up against its own set, which takes',
    )
    expect(
      await numbersAt(sampleFiles('profiles/knit-polyester-220-bay-3.media.yaml').replace('wound: out', 'wound: $0out')),
    ).toMatchInlineSnapshot(`"**Knit rolls in at a cut edge by its stitch and not by the core; hold the edges.**"`)
  })

  test('the speed: how long a step takes', async () => {
    expect(
      await numbersAt(sampleFiles('profiles/banner-510-bay-1.media.yaml').replace('speed: 60', 'speed: $060')),
    ).toMatchInlineSnapshot(
      `
      "**The step of 6.35 mm after each pass takes 0.11 s, a metre of blank web 17 s.**

      The printer moves the web at 20 mm/s to 120 mm/s."
    `,
    )
    expect(await numbersAt(ALL.replace('speed: 60', 'speed: $060'))).toBe('The printer moves the web at 20 mm/s to 120 mm/s.')
  })

  test('the slack watch: how much runs between two looks, else what the printer has', async () => {
    const watch = async (slack: string, printer = LEVEL_PRINTER): Promise<string | undefined> => {
      const profile = PROFILE.replace('tension: 2', `slack-watch: ${slack}`)
      const parts = (
        await numbersAt(`${profile}mode: m\n${FILM}${printer}carriage: {bed-width: 1600 mm, overrun: 120 mm, turnaround: 0.35 s}
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2}
modes: {m: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}}
`)
      ).split('\n\n')
      return parts.find((part) => part.startsWith('p '))
    }
    expect(await watch('at-$0intervals')).toMatchInlineSnapshot(`undefined`)
    expect(await watch('at-$0intervals', LEVEL_PRINTER.replace('2 m\n', '90 s\n'))).toMatchInlineSnapshot(`undefined`)
    expect(await watch('ne$0ver')).toMatchInlineSnapshot(`undefined`)
    expect(await watch('at-$0intervals', LEVEL_PRINTER.replace(/ {2}slack-interval.*\n/, ''))).toMatchInlineSnapshot(`undefined`)
    expect(await watch('never$0', LEVEL_PRINTER.replace(/ {2}slack-.*\n/g, ''))).toBe(undefined)
  })

  test('a shop that thinks in inches reads pounds and inch-pounds', async () => {
    const us = `${ALL.replace('tension: 2', 'tension: $02')}#- rollbook.yaml\nshop: Tern Quay Print Works\nunits: us\n`
    expect(await numbersAt(us)).toMatchInlineSnapshot(`
      "**It stretches the web by **0.0056 %**; 0.05 % is the length tolerance.**

      | Level 2 (0.0857 lbf/in) |                                                                                                  |
      | ----------------------- | ------------------------------------------------------------------------------------------------ |
      | stretches the web by    | **0.0056 %**; 0.05 % is the length tolerance                                                     |
      | the material takes      | 1.9 lbf/in (1.8 to 2.1), a typical ceiling by trade tables                                       |
      | it hangs below          | 0.016 lbf/in: over the 55.1 in to the take-up, taken as one free span, it sags by one part in 10 |
      | take-up torque          | 6.4 lbf·in on the core, 17 lbf·in on the full roll, 50 in wide                                   |

      The stretch would be 0.0093 % at level 3 (0.143 lbf/in), and 0.003 % at level 1 (0.0457 lbf/in). At one torque the pull on the core is 2.6 times that on the full roll. A brake that is set once for this pull on the full roll pulls 0.22 lbf/in near the core."
    `)
  })

  test('what is missing is named', async () => {
    const bare = ALL.replace(/roll: .*\n/, '').replace('wound: out', 'wound: $0out')
    expect(await numbersAt(bare)).toBe('**The stock does not give the core of its roll.**')
  })
})

describe('facts', () => {
  test('the worked cases of pull, torque, length and strain', async () => {
    const facts = webOf(await setupFrom(ALL.replace('tension: 2', 'tension: 4')))
    // 40 N/m over 180 µm x 1.5 GPa: 148 ppm; 1.27 m wide, which the bed takes and 2 m is not; on 200 and 76.2 mm (statics).
    expect(facts.strain.ok && facts.strain.value.typical * 1e6).toBeCloseTo(148.148, 3)
    expect(facts.width).toBe(1.27)
    expect(facts.torque.ok && facts.torque.value.full).toBeCloseTo(40 * 1.27 * 0.1, 12)
    expect(facts.torque.ok && facts.torque.value.core).toBeCloseTo(40 * 1.27 * 0.0381, 12)
    // Trade tables: 0.25 to 0.30 lb/in per mil for PP of 180 µm are 310 to 372 N/m.
    expect(facts.guard.ok && facts.guard.value.low).toBeCloseTo(310.26, 1)
    expect(facts.guard.ok && facts.guard.value.high).toBeCloseTo(372.3, 1)
    // Ring area over thickness: pi (200^2 - 76.2^2) / 4 / 0.18 mm.
    expect(facts.metres.ok && facts.metres.value).toBeCloseTo((Math.PI * (0.2 ** 2 - 0.0762 ** 2)) / 4 / 180e-6, 9)
    // Bending geometry: 180 µm on a 3 in core, t / D = 0.236 %.
    expect(facts.faceStrain.ok && facts.faceStrain.value.core * 1.00236).toBeCloseTo(0.00236, 5)
    // Catenary: G g span^2 / (8 x span / 10) over 1.4 m.
    expect(facts.least.ok && facts.least.value.typical).toBeCloseTo((0.163 * 9.80665 * 1.4) / 0.8, 9)
  })

  test('a brake set on a full roll of 200 mm pulls 2.6 times as hard at a core of 76.2 mm', async () => {
    // Statics: 40 N/m x 200 / 76.2, at one torque.
    const pull = emptyingOf(webOf(await setupFrom(ALL.replace('tension: 2', 'tension: 4'))))
    expect(pull.ok && pull.value).toBeCloseTo((40 * 200) / 76.2, 9)
    expect(pull.ok && pull.value / 40).toBeCloseTo(2.6, 1)
  })

  test('a roll weighs grammage x width x length; by its diameters where its length is not given', async () => {
    const mass = async (text: string) => {
      const setup = await setupFrom(text)
      return massOf(setup, webOf(setup))
    }
    // 163 g/m² x 1.27 m x 50 m = 10.35 kg.
    expect(await mass(ALL)).toMatchObject({ ok: true, value: { typical: expect.closeTo(10.3505, 9) } })
    const ring = (Math.PI * (0.2 ** 2 - 0.0762 ** 2)) / 4 / 180e-6
    expect(await mass(ALL.replace('length: 50 m, ', ''))).toMatchObject({
      value: { typical: expect.closeTo(0.163 * 1.27 * ring, 9) },
    })
    expect(await mass(ALL.replace('163 g/m²', '163 ±3 g/m²'))).toMatchObject({
      value: { low: expect.closeTo(0.16 * 63.5, 9), high: expect.closeTo(0.166 * 63.5, 9) },
    })
    expect(await mass(ALL.replace(/roll: .*\n/, ''))).toMatchObject({ ok: false, problem: { input: 'roll.length' } })
  })

  test('a path of any length can hang', async () => {
    // A tenth of the span must not be more than a tenth by a rounding error: 90 in once was.
    for (const path of ['90 in', '1.4 m', '0.7 m', '3 ft', '1.1 m'])
      expect(webOf(await setupFrom(ALL.replace('1.4 m}', `${path}}`))).least.ok, path).toBe(true)
  })

  test('a full roll without its diameter is reckoned from its length', async () => {
    const { takeUp } = webOf(await setupFrom(ALL.replace(', outside: 200 mm', '')))
    // D = sqrt(d^2 + 4 L t / pi).
    expect(takeUp.ok && takeUp.value.full).toBeCloseTo(Math.sqrt(0.0762 ** 2 + (4 * 50 * 180e-6) / Math.PI), 12)
  })

  test.each([
    ['tension: 2', undefined],
    ['tension: 15 N/m', undefined],
    ['tension: 7', 'no-such-level'],
    ['tension: 20 N/m', 'between-levels'],
  ])('%s on a printer with levels: %s', async (written, misfit) => {
    expect(webOf(await setupFrom(ALL.replace('tension: 2', written))).misfit).toBe(misfit)
  })

  test.each([
    ['tension: 2', 'no-levels'],
    ['tension: 60 N/m', undefined],
    ['tension: 4 N/m', 'too-little'],
    ['tension: 0.7 lbf/in', 'too-much'],
  ])('%s on a printer with a range: %s', async (written, misfit) => {
    expect(webOf(await setupFrom(`${PROFILE.replace('tension: 2', written)}${FILM}${RANGE_PRINTER}`)).misfit).toBe(misfit)
  })

  test('a roll thinner than its core is told, and nothing is reckoned from it', async () => {
    const { torque, metres } = webOf(await setupFrom(ALL.replace('outside: 200 mm', 'outside: 50 mm')))
    expect(torque).toMatchObject({ ok: false, problem: { input: 'roll.outside' } })
    expect(metres).toMatchObject({ ok: false, problem: { reason: 'the outside diameter is smaller than the core' } })
  })
})

describe('findings', () => {
  test('the pull of a whole web written for a metre of it is told once', async () => {
    const text = await findings(`${PROFILE.replace('tension: 2', 'tension: 900 N/m')}${FILM}${RANGE_PRINTER}`)
    const codes = [...text.matchAll(/\[(tension[a-z-]*)\]/g)].map((match) => match[1])
    expect(codes).toEqual(['tension-outside-printer'])
  })

  test('no pull is offered that the printer does not reach, nor one that the stock does not take', async () => {
    const tensions = async (source: string): Promise<readonly string[]> =>
      (await actionTitles(source)).filter((title) => /^(?!Accept).*ension/.test(title))
    const slack = `${PROFILE.replace('tension: 2', 'tension: $05 N/m')}${BANNER}`
    expect(await tensions(`${slack}${RANGE_PRINTER}`)).toEqual(['Set the tension to 9 N/m'])
    expect(await tensions(`${slack}${RANGE_PRINTER.replace('60 N/m', '8 N/m')}`)).toEqual([])
    expect(await tensions(`${slack.replace('thickness: 400', 'thickness: 1')}${RANGE_PRINTER}`)).toEqual([])
    const pulled = `${PROFILE.replace('tension: 2', 'tension: $050 N/m')}${KNIT}`
    expect(await tensions(`${pulled}${RANGE_PRINTER}`)).toEqual(['Set the tension to 6 N/m'])
    expect(await tensions(`${pulled}${RANGE_PRINTER.replace('[5 N/m', '[7 N/m')}`)).toEqual([])
  })

  test('a clean profile of the shop stays clean', async () => {
    const text = await findings(sampleFiles('profiles/cast-film-gloss-50-bay-1.media.yaml'), '2026-11-25')
    expect(text).not.toMatch(/\[(?:suction|wound|tension|web|slack|stock)-/)
  })
})

describe('properties', () => {
  test('inches give what millimetres give', async () => {
    const source = ALL.replace('tension: 2', 'tension: 3')
    const [metric, us] = [
      reckonArea(quantities, await setupFrom(source)),
      reckonArea(quantities, await setupFrom(inInches(source))),
    ]
    expect(inInches(source)).toContain('lbf/in')
    expect(metric.length).toBeGreaterThan(7)
    const [a, b] = [metric, us].map((lines) => [...everyNumber(lines.map((line) => [line.value, line.inputs]))])
    expect(b).toHaveLength(a!.length)
    for (const [i, value] of a!.entries()) expect(Math.abs(b![i]! - value)).toBeLessThanOrEqual(1e-7 * Math.abs(value))
  })

  test('half-filled documents neither throw nor give a number that is none', async () => {
    await fc.assert(
      fc.asyncProperty(fc.infiniteStream(fc.boolean()), async (keep) => {
        const setup = await setupFrom(withoutLines(ALL, keep))
        const lines = reckonArea(quantities, setup)
        for (const value of everyNumber([webOf(setup), lines])) expect(Number.isFinite(value)).toBe(true)
        for (const line of lines) expect(line.value === undefined).toBe(line.problem !== undefined)
      }),
      { numRuns: runs(60) },
    )
  })

  test('numbers that no web has give a reason and no number', async () => {
    for (const hostile of ['0 µm', '-180 µm', '1e300 µm', '19 mm'])
      for (const value of everyNumber([webOf(await setupFrom(ALL.replace('180 µm', hostile)))]))
        expect(Number.isFinite(value)).toBe(true)
    for (const hostile of ['0 N/m', '-5 N/m', '1e300 N/m'])
      for (const value of everyNumber([webOf(await setupFrom(ALL.replace('tension: 2', `tension: ${hostile}`)))]))
        expect(Number.isFinite(value)).toBe(true)
  })
})
