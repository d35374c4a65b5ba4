// Suction as a technician meets it: the levels of the printer in this profile's numbers, what is missing, other units, half-filled documents.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { reckonArea } from '../../server/src/areas/reckon.ts'
import { SOFT_FILM, SPRINGY_FILM, SUCTION_PRINTER } from '../../server/src/areas/suction/examples.ts'
import { suctionNeeded, suctionOf } from '../../server/src/areas/suction/facts.ts'
import { quantities } from '../../server/src/areas/suction/quantities.ts'
import { applyEdits, editsOf } from '../../server/src/base/text-edit.ts'
import { runRules } from '../../server/src/rules/run.ts'
import { runs } from '../support/counts.ts'
import { openFixture, parseFixture } from '../support/fixture.ts'
import { inInches } from '../support/inches.ts'
import { actionTitles, findings, numbersAt } from '../support/render.ts'
import { everyNumber, setupFrom, withoutLines } from '../support/setups.ts'
import { sampleFiles } from './samples.ts'

const PROFILE = `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
gap: 2.0 mm
suction: 2
`
const ALL = `${PROFILE}${SOFT_FILM}${SUCTION_PRINTER}`

const marked = (source: string): string => source.replace('suction: ', 'suction: $0')

describe('hovers', () => {
  test('a table of levels, the set one marked, and what one level does to the length', async () => {
    expect(await numbersAt(marked(ALL))).toMatchInlineSnapshot(`
      "**Levels 1 to 2 hold it without harm.**

      |      Level | Suction | Stretches               | Dimples | Curl                              |
      | ---------: | ------: | ----------------------- | ------: | --------------------------------- |
      |          1 |  100 Pa | 0.11 mm/m (0.02 to 0.2) | 0.24 µm | held, below 1 µm (up to 1.8) left |
      | **2, set** |  400 Pa | 0.44 mm/m (0.08 to 0.8) | 0.97 µm | held, below 1 µm left             |
      |          3 |  800 Pa | 0.88 mm/m (0.16 to 1.6) |  1.9 µm | held, below 1 µm left             |
      |          4 | 1.6 kPa | 1.8 mm/m (0.32 to 3.2)  |  3.9 µm | held, below 1 µm left             |

      Now it drags 7.9 N/m (1.4 to 14). Prints come out 0.44 mm/m (0.08 to 0.8) shorter at level 3, 0.33 mm/m (0.06 to 0.6) longer at level 1: a new suction asks for a new length check.

      Typical figures, with their range: 0.5 mm/m of stretch and 105 µm of curl are allowed.

      How far suction reaches under the web is an assumption: from the openings alone to the whole platen."
    `)
  })

  test('a profile of the shop: layers, levels, a tolerance of its own', async () => {
    expect(await numbersAt(marked(sampleFiles('profiles/cast-film-gloss-50-bay-1.media.yaml')))).toMatchInlineSnapshot(`
      "**Levels 1 to 4 hold it without harm.**

      |      Level | Suction | Stretches                     | Dimples      | Curl                           |
      | ---------: | ------: | ----------------------------- | ------------ | ------------------------------ |
      |          1 |  100 Pa | below 0.01 mm/m (up to 0.013) | below 0.1 µm | held, 72 µm (15 to 2400) left  |
      | **2, set** |  200 Pa | below 0.01 mm/m (up to 0.025) | below 0.1 µm | held, 36 µm (7.3 to 1200) left |
      |          3 |  320 Pa | 0.01 mm/m (up to 0.04)        | below 0.1 µm | held, 23 µm (4.5 to 740) left  |
      |          4 |  480 Pa | 0.015 mm/m (up to 0.061)      | below 0.1 µm | held, 15 µm (3 to 490) left    |

      Now it drags 3.7 N/m (0.22 to 7.2). One level up or down changes the length by 0.015 mm/m at most.

      Typical figures, with their range: 0.5 mm/m of stretch and 140 µm of curl are allowed.

      How far suction reaches under the web is an assumption: from the openings alone to the whole platen."
    `)
  })

  test('a printer set by pressure: half and twice as much beside it', async () => {
    expect(await numbersAt(marked(sampleFiles('profiles/pp-film-180-bay-2.media.yaml')))).toMatchInlineSnapshot(`
      "**Now it drags 5.5 N/m (0.42 to 11).**

      |         Suction | Stretches                     | Dimples      | Curl                          |
      | --------------: | ----------------------------- | ------------ | ----------------------------- |
      |          125 Pa | below 0.01 mm/m (up to 0.018) | below 0.1 µm | held, 70 µm (35 to 960) left  |
      | **250 Pa, set** | 0.019 mm/m (up to 0.036)      | below 0.1 µm | held, 35 µm (18 to 480) left  |
      |          500 Pa | 0.038 mm/m (up to 0.073)      | below 0.1 µm | held, 18 µm (8.8 to 240) left |

      Half or twice as much changes the length by 0.036 mm/m at most.

      Typical figures, with their range: 0.5 mm/m of stretch and 133 µm of curl are allowed.

      How far suction reaches under the web is an assumption: from the openings alone to the whole platen."
    `)
  })

  test('a shop that thinks in inches reads mils and percent', async () => {
    const us = `${ALL}#- rollbook.yaml\nshop: Tern Quay Print Works\nunits: us\n`
    expect(await numbersAt(marked(us))).toMatchInlineSnapshot(`
      "**Levels 1 to 2 hold it without harm.**

      |      Level |     Suction | Stretches               |    Dimples | Curl                                    |
      | ---------: | ----------: | ----------------------- | ---------: | --------------------------------------- |
      |          1 | 0.401 inH2O | 0.011 % (0.002 to 0.02) | 0.0096 mil | held, below 0.039 mil (up to 0.07) left |
      | **2, set** |  1.61 inH2O | 0.044 % (0.008 to 0.08) |  0.038 mil | held, below 0.039 mil left              |
      |          3 |  3.21 inH2O | 0.088 % (0.016 to 0.16) |  0.077 mil | held, below 0.039 mil left              |
      |          4 |  6.42 inH2O | 0.18 % (0.032 to 0.32)  |   0.15 mil | held, below 0.039 mil left              |

      Now it drags 0.045 lbf/in (0.0082 to 0.082). Prints come out 0.044 % (0.008 to 0.08) shorter at level 3, 0.033 % (0.006 to 0.06) longer at level 1: a new suction asks for a new length check.

      Typical figures, with their range: 0.05 % of stretch and 4.13 mil of curl are allowed.

      How far suction reaches under the web is an assumption: from the openings alone to the whole platen."
    `)
  })

  test('no level holds: the suction that the curl needs, beside the strongest there is', async () => {
    const limp = ALL.replace('friction: 0.3', 'friction: 0.8').replace('thickness: 60 µm', 'thickness: 100 µm')
    const windowOf = async (radius: string, levels: string): Promise<string | undefined> =>
      (await numbersAt(marked(limp.replace('600 mm', radius).replace(/levels: .*/, `levels: {${levels}}`))))
        .split('\n')
        .find((line) => line.includes('No level'))
        ?.trimEnd()
    expect(await windowOf('38 mm', '2: 400 Pa, 3: 800 Pa')).toMatchInlineSnapshot(`"**No level holds it without harm.**"`)
    expect(await windowOf('38 mm', '1: 20 Pa, 2: 40 Pa')).toMatchInlineSnapshot(`"**No level holds it without harm.**"`)
    expect(await windowOf('600 mm', '1: 20 Pa, 2: 400 Pa')).toBeUndefined()
  })

  test('cloth: why there are no numbers', async () => {
    expect(await numbersAt(marked(sampleFiles('profiles/knit-polyester-220-bay-3.media.yaml')))).toBe(
      '**Air goes through cloth, so its drag and stretch cannot be reckoned: watch it, and measure.**',
    )
  })

  test('what is missing is named by its key', async () => {
    expect(await numbersAt(marked(ALL.replace('  depth: 120 mm\n', '')))).toBe('**The printer does not give suction.depth.**')
    expect(await numbersAt(marked(ALL.replace(/family: .*\n/, '').replace(/friction: .*\n/, '')))).toBe(
      '**The stock gives neither its friction nor a family that has a typical one.**',
    )
  })
})

describe('facts', () => {
  test('drag, stretch and curl of the set level by hand', async () => {
    // Coulomb: 400 Pa over 120 mm; with 10 % open, half of the lands: 0.55 of it, from 0.1 to 1; friction 0.3: 7.92 N/m. Over 60 µm x 0.3 GPa: 0.44 mm/m.
    const { current } = suctionOf(await setupFrom(ALL))
    expect(current?.holding.typical).toBeCloseTo(400 * 0.12 * 0.55, 9)
    expect(current?.drag.typical).toBeCloseTo(7.92, 9)
    expect(current?.drag.high).toBeCloseTo(14.4, 9)
    expect(current?.strain.typical).toBeCloseTo(0.44e-3, 12)
    // D = 0.3e9 x (60e-6)^3 / 12 / (1 - 0.4^2); rise D / (R^2 p share).
    const D = (0.3e9 * 60e-6 ** 3) / 12 / (1 - 0.16)
    expect(current?.curl.rise.typical).toBeCloseTo(D / (0.6 ** 2 * 400 * 0.55), 15)
  })

  test('the suction that lays the curl down by hand', async () => {
    // D / (R^2 x rise x share) over 30 µm x 7 m/s / 1 m/s / 2; the openings alone want 5.5 times the typical, the whole platen 0.55 of it.
    const needed = suctionNeeded(suctionOf(await setupFrom(ALL)))
    const D = (0.3e9 * 60e-6 ** 3) / 12 / (1 - 0.16)
    expect(needed.ok && needed.value.typical).toBeCloseTo(D / (0.6 ** 2 * 105e-6 * 0.55), 9)
    expect(needed.ok && needed.value.high / needed.value.typical).toBeCloseTo(5.5, 9)
    expect(needed.ok && needed.value.low / needed.value.typical).toBeCloseTo(0.55, 9)
  })

  test('the rise allowed is what the registration tolerance allows, or the room below the heads', async () => {
    // 30 µm (the documented default) x 7 m/s / 1 m/s, halved because out and back differ twice: 105 µm.
    const two = suctionOf(await setupFrom(ALL)).riseLimit
    expect(two).toMatchObject({ from: 'landing' })
    expect(two.value).toBeCloseTo(105e-6, 12)
    const one = suctionOf(await setupFrom(ALL.replace('two-way', 'one-way'))).riseLimit
    expect(one.value).toBeCloseTo(210e-6, 12)
    const low = suctionOf(await setupFrom(ALL.replace('gap: 2.0 mm', 'gap: 0.1 mm'))).riseLimit
    expect(low).toMatchObject({ from: 'clearance' })
    expect(low.value).toBeCloseTo(40e-6, 12)
    expect(suctionOf(await setupFrom(ALL.replace('mode: m\n', ''))).riseLimit.from).toBe('assumed')
  })

  test('a pressure that is a level’s is that level', async () => {
    expect(suctionOf(await setupFrom(ALL.replace('suction: 2', 'suction: 4 hPa'))).set).toEqual({
      level: 2,
      name: '2',
      pressure: 400,
    })
    expect(suctionOf(await setupFrom(ALL.replace('suction: 2', 'suction: 300 Pa')))).toMatchObject({
      set: undefined,
      misfit: 'between-levels',
      current: undefined,
    })
  })

  test('layers carry the pull together and bend as one', async () => {
    const setup = await setupFrom(sampleFiles('profiles/cast-film-gloss-50-bay-1.media.yaml'))
    const { current } = suctionOf(setup)
    // 50 µm of 0.3 GPa, 25 µm of 0.3 MPa and 140 µm of 4 GPa carry 575 kN/m; typical drag 0.3 x 200 Pa x 0.515 x 0.12 m = 3.708 N/m.
    expect(current?.strain.typical).toBeCloseTo(3.708 / (0.3e9 * 50e-6 + 0.3e6 * 25e-6 + 4e9 * 140e-6), 12)
    // An even sheet of the mean modulus would stand twice as high.
    const even = ((575007.5 / 215e-6) * (215e-6 ** 3 / 12 / (1 - 0.4 ** 2))) / (0.6 ** 2 * 200 * 0.515)
    expect(current!.curl.rise.typical).toBeLessThan(0.6 * even)
  })
})

describe('findings', () => {
  test('the gravest trouble is told, and only that', async () => {
    // Strong suction on springy film wound in: by turns head strike, too weak, held.
    const at = (suction: string, gap: string, film: string): Promise<string> =>
      findings(`${PROFILE.replace('suction: 2', `suction: ${suction}`).replace('2.0 mm', gap)}${film}${SUCTION_PRINTER}`)
    const codes = async (suction: string, gap: string, film = SPRINGY_FILM): Promise<string[]> =>
      [...(await at(suction, gap, film)).matchAll(/\[((?:suction|wound)[a-z-]*)\]/g)].map((match) => match[1]!)
    expect(await codes('1', '1.5 mm')).toEqual(['wound-in-strikes'])
    expect(await codes('1', '4 mm')).toEqual(['suction-too-weak'])
    // Less curl: the whole range blurs the print, and typically the edges come up to the heads.
    const milder = SPRINGY_FILM.replace('90 mm', '130 mm')
    expect(await codes('1', '1.5 mm', milder)).toEqual(['wound-in-lifts'])
    expect(await codes('1', '4 mm', milder)).toEqual(['suction-too-weak'])
    expect(await codes('9', '4 mm')).toEqual(['suction-level-unknown'])
  })

  test('a curl as high as the heads is measured by the heads, whichever way it is wound', async () => {
    const bowed = `${PROFILE.replace('suction: 2', 'suction: 1').replace('2.0 mm', '1.5 mm')}${SPRINGY_FILM.replace('wound: in', 'wound: out')}${SUCTION_PRINTER}`
    expect(await findings(bowed)).toContain('more than the 1.3 mm left below the heads')
  })

  test('what is offered against a head strike leaves room at the far end of the curl, or is refused with the reason', async () => {
    for (const gaps of ['[1.5 mm, 4 mm]', '[6 mm, 2 mm, 1.5 mm, 3 mm]', '[1.5 mm, 1.6 mm]', '[9 mm, 20 mm, 30 mm]'])
      for (const radius of [60, 90, 110, 130, 150])
        for (const gap of ['0.3 mm', '1.5 mm', '1.6 mm'])
          for (const rule of ['wound-in-strikes', 'wound-in-lifts', 'gap-below-thickness', 'unknown-gap']) {
            const source = `${PROFILE.replace('suction: 2', 'suction: 1').replace('2.0 mm', gap)}${SPRINGY_FILM.replace('90 mm', `${radius} mm`)}${SUCTION_PRINTER}carriage: {gaps: ${gaps}}\n`
            for (const { after, refused } of await fixesOf(source, rule)) {
              if (refused !== undefined)
                expect(refused).toMatch(/^The widest gap of p is .* does not leave 500 µm below the heads/)
              else {
                const { clearance, current } = suctionOf(await setupFrom(after))
                expect(clearance! - current!.curl.rise.high, `${rule}: ${after}`).toBeGreaterThanOrEqual(0.5e-3 - 1e-9)
              }
            }
          }
  })

  test('less suction is not offered where a curl may then come up to the heads', async () => {
    const source = `${PROFILE.replace('suction: 2', 'suction: $03').replace('2.0 mm', '1.0 mm')}${SOFT_FILM.replace('600 mm', '18 mm')}${SUCTION_PRINTER}`
    expect(await actionTitles(source)).toContain(
      'Set suction 2 [refused: At level 2 (400 Pa) a curl may stand 496 µm high, and of the 940 µm below the heads at least 500 µm should stay free.]',
    )
  })
})

/** The texts that the fixes of a rule make, with the rest of the shop, and the reasons of those that are refused. */
async function fixesOf(source: string, rule: string): Promise<readonly { after: string; refused: string | undefined }[]> {
  const fixture = parseFixture(source)
  const context = (await openFixture(fixture)).context(fixture.file)!
  const found = runRules({ ...context, setup: context.setup, only: new Set([rule]), strict: true })
  return found.flatMap((finding) =>
    (finding.fixes?.() ?? []).flatMap((fix) => {
      if (!fix) return []
      const text = applyEdits(fixture.text, editsOf(fixture.text, fix.edits))
      return [{ after: source.replace(fixture.text, text), refused: fix.refused }]
    }),
  )
}

describe('properties', () => {
  test('inches give what millimetres give', async () => {
    const source = `${PROFILE}${SOFT_FILM}${SUCTION_PRINTER}`
    const [metric, us] = [
      reckonArea(quantities, await setupFrom(source)),
      reckonArea(quantities, await setupFrom(inInches(source))),
    ]
    expect(inInches(source)).toContain('inH2O')
    expect(metric).toHaveLength(6)
    const [a, b] = [metric, us].map((lines) => [...everyNumber(lines.map((line) => [line.value, line.inputs]))])
    expect(b).toHaveLength(a!.length)
    for (const [i, value] of a!.entries()) expect(Math.abs(b![i]! - value)).toBeLessThanOrEqual(1e-7 * Math.abs(value))
    const verdicts = async (text: string) => {
      const { window } = suctionOf(await setupFrom(text))
      return window.ok && window.value.rows.map((row) => row.verdict)
    }
    expect(await verdicts(inInches(source))).toEqual(await verdicts(source))
  })

  test('half-filled documents neither throw nor give a number that is none', async () => {
    await fc.assert(
      fc.asyncProperty(fc.infiniteStream(fc.boolean()), async (keep) => {
        const setup = await setupFrom(withoutLines(ALL, keep))
        const lines = reckonArea(quantities, setup)
        for (const value of everyNumber([suctionOf(setup), lines])) expect(Number.isFinite(value)).toBe(true)
        for (const line of lines) expect(line.value === undefined).toBe(line.problem !== undefined)
      }),
      { numRuns: runs(60) },
    )
  })

  test('numbers that no stock has give a reason and no number', async () => {
    for (const hostile of ['0 µm', '-60 µm', '1e300 µm', '19 mm'])
      for (const value of everyNumber([suctionOf(await setupFrom(ALL.replace('60 µm', hostile)))]))
        expect(Number.isFinite(value)).toBe(true)
  })
})
