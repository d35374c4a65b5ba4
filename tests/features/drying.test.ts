// Drying in hovers and as reckoned quantities: from print to roll, dry to the touch, the pause that would do, and the ink there is to dry.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { dryingOf } from '../../server/src/areas/drying/facts.ts'
import { quantities } from '../../server/src/areas/drying/quantities.ts'
import { reckonArea } from '../../server/src/areas/reckon.ts'
import type { Range } from '../../server/src/calc/range.ts'
import { runs } from '../support/counts.ts'
import { numbersAt } from '../support/render.ts'
import { expectAlike, halfFilled, numbersIn, setupOf } from './physics.ts'
import { sampleFiles } from './samples.ts'

const FILES = `#- s.stock.yaml
stock: s
family: film-pvc-calendered
thickness: 80 µm
grammage: 112 g/m²
heat-capacity: 950 J/kgK
max-web-temperature: 50 °C
widths: [1372 mm]
dry-touch: {time: 6 min, at: 42 °C}
#- p.printer.yaml
printer: p
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2, drop-volume: 12 pL}
modes:
  m: {resolution: 720 x 360 dpi, passes: 4, carriage-speed: 1000 mm/s, directions: two-way}
carriage:
  bed-width: 1600 mm
  overrun: 120 mm
  turnaround: 0.35 s
heaters:
  platen: {length: 200 mm, range: [30 °C, 60 °C], step: 1 K, coupling: 120 W/m²K}
  after: {length: 450 mm, range: [30 °C, 90 °C], step: 1 K, coupling: 80 W/m²K}
drying:
  pause-range: [0 s, 10 s]
  run-out-range: [0 min, 60 min]
  path-to-winding: 1.4 m
`
const PROFILE = `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
heat:
  platen: 42 °C
  after: 48 °C
drying:
  pause: 0.5 s
  run-out: 7 min
web:
  speed: 60 mm/s
colour:
  ink-limit: 260 %
${FILES}`

describe('hovers', () => {
  const at = (key: string, text = PROFILE): Promise<string> => numbersAt(text.replace(`${key}:`, `$0${key}:`))

  test('the pause: time to the roll, time to dry, the pause that would do', async () => {
    expect(await told(at('pause'))).toMatchInlineSnapshot(`
      "****A pause of** 0.98 s (0.52 to 1.6) after each pass would just make it dry.**

      **From print to roll:** 9 min at 2.6 mm/s (220 passes, 1.8 min of it pauses) while the job goes on.

      A pass 1372 mm wide takes 1.96 s; pass to pass 2.46 s, 12.7 m²/h.

      **Dry to the touch** on this way: typically 11 min (9.1 to 13), from the stock's 6 min at 42 °C, halved by 10 K more (8 to 15, common practice); 32 % of the way behind the platen at 44 °C (42 to 45), 68 % of the way free at 23.2 °C. It is wound wet.

      Caution: ventilate, and keep ignition sources and static away. The safety data sheet of the ink, the machine’s safety documents, local codes and licensed practice come first."
    `)
  })

  test('the run-out: the last print', async () => {
    expect(await told(at('run-out'))).toMatchInlineSnapshot(`
      "**The last print waits 7 min: perhaps long enough; only a touch tells, gloved and with the machine stopped.**

      It is on the roll 23 s later (at 60 mm/s). At the warmest place of its way it would typically need 5.2 min (4.6 to 6); held on the platen at 40 °C (38 to 41) it typically needs 6.9 min (6.3 to 8.6).

      **Dry to the touch** on this way: typically 11 min (9.1 to 13), from the stock's 6 min at 42 °C, halved by 10 K more (8 to 15, common practice); 32 % of the way behind the platen at 44 °C (42 to 45), 68 % of the way free at 23.2 °C. It is wound wet.

      **Ink** at the limit of 260 %: about 13 mL on a square metre, 160 mL an hour where all of the width is printed so (estimate: every dot one full drop). Air to thin its vapour cannot be told: the printer does not give its \`ink\`. How much of it is water or solvent, its molar mass, its limit for breathing and its lower explosive limit stand in the ink's safety data sheet. Those are two answers, air to breathe and air against explosion; the first is often hundreds of times the second.

      Caution: ventilate, and keep ignition sources and static away. The safety data sheet of the ink, the machine’s safety documents, local codes and licensed practice come first."
    `)
  })

  test('the ink limit: the ink to dry, and that the air to thin its vapour cannot be told', async () => {
    expect(await told(at('ink-limit'))).toMatchInlineSnapshot(
      `
      "****Ink** at the limit of 260 %: about 13 mL on a square metre, 160 mL an hour where all of the width is printed so (estimate: every dot one full drop).**

      Air to thin its vapour cannot be told: the printer does not give its \`ink\`. How much of it is water or solvent, its molar mass, its limit for breathing and its lower explosive limit stand in the ink's safety data sheet. Those are two answers, air to breathe and air against explosion; the first is often hundreds of times the second.

      Caution: ventilate, and keep ignition sources and static away. The safety data sheet of the ink, the machine’s safety documents, local codes and licensed practice come first."
    `,
    )
  })

  test('a sample profile', async () => {
    const files = sampleFiles('profiles/banner-510-bay-1.media.yaml')
    expect(await told(numbersAt(files.replace('  pause: 0 s', '  $0pause: 0 s'), '2026-11-25'))).toMatchInlineSnapshot(`
      "****A pause of** 0 s (0 to 0.31) after each pass would just make it dry.**

      **From print to roll:** 7.4 min at 3.1 mm/s (220 passes) while the job goes on.

      A pass 1600 mm wide takes 2.02 s; pass to pass 2.02 s, 18.1 m²/h.

      **Dry to the touch** on this way: typically 5.9 min (3.8 to 8.6), from the stock's 3 min at 45 °C, halved by 10 K more (8 to 15, common practice); 32 % of the way behind the platen at 44 °C (42 to 46), 68 % of the way free at 23.9 °C. Whether it is dry when it is wound only a touch tells, gloved and with the machine stopped.

      At most 11 g/m² (11 to 12) of ink evaporate; that is 200 g/h (200 to 210) with all of the width at the ink limit.

      Caution: ventilate, and keep ignition sources and static away. The safety data sheet of the ink, the machine’s safety documents, local codes and licensed practice come first."
    `)
  })
})

describe('the last print where it is held', () => {
  test('as warm as heat in and heat out balance, by Newton’s law of cooling on both faces (from memory: any heat transfer text)', async () => {
    const { held } = dryingOf(await setupOf(PROFILE))
    // 120 W/m2K from 42 °C, 15 W/m2K to the 23 °C of a room of 18 to 28 °C: (120 x 42 + 15 x 23) / 135; 6 min at 42 °C, doubled by 10 K less.
    expect(held.ok && held.value.where).toBe('heated')
    expect(held.ok && held.value.temperature.typical).toBeCloseTo(39.889, 3)
    expect(held.ok && held.value.needed.typical / 60).toBeCloseTo(6.945, 3)
    // 25 W/m2K to 18 °C, and 8 K less for the double.
    expect(held.ok && held.value.temperature.low).toBeCloseTo(37.862, 3)
    expect(held.ok && held.value.needed.high / 60).toBeCloseTo(8.587, 3)
  })

  test('as cold as the room where nothing heats the platen, whatever is hot behind it', async () => {
    const bare = dryingOf(await setupOf(PROFILE.replace(/ {2}platen: \{.*\n/, '').replace('  platen: 42 °C\n', ''))).held
    expect(bare.ok && [bare.value.where, bare.value.temperature, bare.value.stretched]).toEqual([
      'unheated',
      { low: 18, typical: 23, high: 28 },
      true,
    ])
    const unset = dryingOf(await setupOf(PROFILE.replace('  platen: 42 °C\n', ''))).held
    expect(unset.ok && unset.value.where).toBe('unset')
  })
})

describe('what cannot be told', () => {
  test('no dry-touch', async () => {
    const text = plain(await numbersAt(PROFILE.replace(/dry-touch.*\n/, '').replace('pause: 0.5', '$0pause: 0.5')))
    expect(text).toContain('The time to dry cannot be reckoned: the stock does not give its dry-touch')
  })

  test('no way to the roll', async () => {
    const text = plain(await numbersAt(PROFILE.replace(/ {2}path-to-winding.*\n/, '').replace('pause: 0.5', '$0pause: 0.5')))
    expect(text).toContain('The way to the roll cannot be reckoned: the printer does not give its drying.path-to-winding')
  })

  test('a heater behind the platen that is not set: no claim about drying', async () => {
    const { needed, margin } = dryingOf(await setupOf(PROFILE.replace('  after: 48 °C\n', '')))
    expect(needed).toEqual({ ok: false, problem: { input: 'heat.after', reason: 'heat.after is not given' } })
    expect(margin).toBeUndefined()
  })

  test('a way shorter than the heater on it is heated all along', async () => {
    const { stretches } = dryingOf(await setupOf(PROFILE.replace('path-to-winding: 1.4 m', 'path-to-winding: 300 mm')))
    expect(stretches.ok && stretches.value.map((s) => [s.name, s.share])).toEqual([['after', 1]])
  })

  test('reckoned quantities name the key to fill in', async () => {
    const rows = reckonArea(
      quantities,
      await setupOf(PROFILE.replace(/ink-limit.*\n/, 'icc: a.icc\n').replace(/dry-touch.*\n/, '')),
    )
    expect(rows.find((r) => r.key === 'drying.ink')?.problem).toEqual({
      input: 'ink-limit',
      reason: 'the profile does not give its colour.ink-limit',
    })
    expect(rows.find((r) => r.key === 'drying.touch-dry')?.problem?.input).toBe('dry-touch')
  })
})

describe('reckoning', () => {
  // By hand: 25.4 mm / 4 = 6.35 mm an advance; (1372 + 240) mm / (1 m/s) + 0.35 s = 1.962 s a pass; 1.4 m / 6.35 mm passes of 2.462 s.
  test('the time to the roll counts a pause for every pass on the way', async () => {
    const { winding } = dryingOf(await setupOf(PROFILE))
    expect(winding.ok && winding.value.running).toBeCloseTo((1400 / 6.35) * (1.962 + 0.5), 6)
    expect(winding.ok && winding.value.total).toBeCloseTo((1400 / 6.35) * (1.962 + 0.5) + 420, 6)
  })

  // A web that is everywhere as warm as its stock states needs the time its stock states, whatever the rule.
  test('at the stated temperature the stated time', async () => {
    const text = PROFILE.replace('at: 42 °C', 'at: 23 °C')
      .replace(/ {2}after: \{.*\n/, '')
      .replace('  after: 48 °C\n', '')
      .replace('platen: 42 °C', 'platen: 30 °C')
    const { needed } = dryingOf(await setupOf(text))
    expect(needed.ok && needed.value.time.typical / 360).toBeCloseTo(1, 2)
  })

  test('the pause that makes it dry makes it dry', async () => {
    const { pauseToDry, margin } = dryingOf(await setupOf(PROFILE.replace('pause: 0.5 s', 'pause: 0 s')))
    expect(margin?.verdict).toBe('wet')
    const paused = PROFILE.replace('pause: 0.5 s', `pause: ${pauseToDry!.high + 0.05} s`)
    expect(dryingOf(await setupOf(paused)).margin?.verdict).toBe('dry')
  })

  // 720 x 360 dots on a square inch, 12 pL each, at 260 %.
  test('a web that dries over the heater is dry when it has dried there, not at the mean rate of the whole way', async () => {
    const quick = PROFILE.replace('time: 6 min', 'time: 60 s').replace('path-to-winding: 1.4 m', 'path-to-winding: 6 m')
    const facts = dryingOf(await setupOf(quick))
    const [stretches, winding, dry, needed] = [facts.stretches, facts.winding, facts.dry, facts.needed].map((o) => {
      if (!o.ok) throw new Error(o.problem.reason)
      return o.value
    }) as [readonly { share: number; mean: Range }[], { running: number }, Range, { time: Range }]
    // By small steps: a print is dry when 2^((web - 42 °C) / 10 K) / 60 s, added up second by second, is 1.
    let [done, seconds] = [0, 0]
    for (const { share, mean } of stretches)
      for (let t = 0; t < share * winding.running && done < 1; t += 0.01) {
        done += (0.01 * 2 ** ((mean.typical - 42) / 10)) / 60
        seconds += 0.01
      }
    expect(dry.typical).toBeCloseTo(seconds, 0)
    expect(dry.typical).toBeLessThan(needed.time.typical / 2)
    expect(facts.margin?.verdict).toBe('dry')
    expect(facts.margin?.margin.typical).toBeCloseTo(winding.running - seconds, 0)
    expect([dry.low < dry.typical, dry.typical < dry.high]).toEqual([true, true])
  })

  test('one that is wound wet needs what its mean rate says', async () => {
    const facts = dryingOf(await setupOf(PROFILE.replace('time: 6 min', 'time: 60 min')))
    expect(facts.margin?.verdict).toBe('wet')
    expect(facts.dry.ok && facts.needed.ok && facts.dry.value.typical / facts.needed.value.time.typical).toBeCloseTo(1, 9)
    expect(facts.dry.ok && facts.needed.ok && facts.dry.value.high / facts.needed.value.time.high).toBeCloseTo(1, 9)
  })

  test('the ink at its limit', async () => {
    const { ink } = dryingOf(await setupOf(PROFILE))
    expect(ink.ok && ink.value.perArea).toBeCloseTo(((720 * 360) / 0.0254 ** 2) * 12e-15 * 2.6, 12)
  })

  test('every quantity has formula, inputs with origin, and source', async () => {
    for (const row of reckonArea(quantities, await setupOf(PROFILE))) {
      expect(row.formula).not.toBe('')
      expect(row.source).not.toBe('')
      expect(row.inputs.length).toBeGreaterThan(0)
      expect(row.problem).toBeUndefined()
    }
  })
})

const US = PROFILE.replace('platen: 42 °C', 'platen: 107.6 °F')
  .replace('after: 48 °C', 'after: 118.4 °F')
  .replace('pause: 0.5 s', 'pause: 0.00833333333333 min')
  .replace('run-out: 7 min', 'run-out: 420 s')
  .replace('speed: 60 mm/s', 'speed: 2.36220472441 in/s')
  .replace('at: 42 °C', 'at: 107.6 °F')
  .replace('length: 450 mm', 'length: 17.7165354331 in')
  .replace('path-to-winding: 1.4 m', 'path-to-winding: 55.1181102362 in')
  .replace('carriage-speed: 1000 mm/s', 'carriage-speed: 39.3700787402 in/s')

test('the same profile in inches and °F gives the same results', async () => {
  expectAlike(dryingOf(await setupOf(PROFILE)), dryingOf(await setupOf(US)))
})

test('half-filled and hostile documents: no throw, no number that is none', async () => {
  await fc.assert(
    fc.asyncProperty(halfFilled(PROFILE), async (source) => {
      const setup = await setupOf(source).catch(() => undefined)
      if (!setup) return
      expect(numbersIn([dryingOf(setup), reckonArea(quantities, setup)]).filter((n) => !Number.isFinite(n))).toEqual([])
    }),
    { numRuns: runs(150) },
  )
})

/** Without the escapes of Markdown. */
const told = async (markdown: Promise<string>): Promise<string> => plain(await markdown)

/** Markdown without its escapes. */
const plain = (markdown: string): string => markdown.replaceAll('\\', '')
