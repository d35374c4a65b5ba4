// `rollbook work-out`: the pages with their cautions, and the arithmetic with what was typed.
import { describe, expect, test } from 'vitest'
import { ran } from './shell.ts'

describe('rollbook work-out', () => {
  test.each(['nozzle-pitch', 'suction-pressure', 'heater-coupling'])('%s: how, with the cautions first', async (way) => {
    const { out, code } = await ran(['work-out', way])
    expect(code).toBe(0)
    expect(out.indexOf('\nCaution\n')).toBeLessThan(out.indexOf('\nHow\n'))
    expect(out).toContain("The machine's and the material's own safety documents, local codes and licensed practice come first.")
    expect(out).toContain(`Then type it: rollbook work-out ${way}`)
  })

  test('a pitch, and the whole number of nozzles to the inch it may be', async () => {
    // 179 spaces of 25.4 mm / 180 are 25.259 mm.
    const { out } = await ran(['work-out', 'nozzle-pitch', '--length', '25.26 ±0.1 mm', '--lines', '180'])
    expect(out).toMatch(/^.*: 0\.14112 ±0\.00056 mm\n/)
    expect(out).toMatch(/179\.99 ±0\.71 nozzles to the inch/)
    expect(out).toMatch(/180 is within what was measured.*write 1\/180 in/)
    const bare = await ran(['work-out', 'nozzle-pitch', '--length', '25.26 mm', '--lines', '180'])
    expect(bare.out).not.toContain('is within what was measured')
  })

  test('inches of water are pascals by the table', async () => {
    // NIST SP 811, Appendix B.8: 1 inch of water (conventional) is 249.0889 Pa.
    const { out } = await ran(['work-out', 'suction-pressure', '--difference', '1 in'])
    expect(out).toMatch(/^.*: 249 Pa\n/)
  })

  test('a coupling from two readings, against the balance of heat', async () => {
    // By hand: with 120 W/m²K from a heater at 50 °C and 15 W/m²K to air at 20 °C a web settles at (120 · 50 + 15 · 20) / 135 = 46.67 °C,
    // and at (120 · 40 + 15 · 20) / 135 = 37.78 °C over one of 40 °C.
    const { out } = await ran([
      'work-out',
      'heater-coupling',
      '--reading',
      '50 °C, 46.67 °C',
      '--reading',
      '40 °C, 37.78 °C',
      '--air',
      '20 °C',
    ])
    expect(out).toMatch(/^.*: 120 W\/m²K\n/)
    expect(out).toMatch(/89 %/)
    expect(out).toMatch(/burn skin/)
  })

  test.each([
    [['work-out'], /takes one of nozzle-pitch, suction-pressure, heater-coupling/],
    [['work-out', 'nozle-pitch'], /Do you mean 'nozzle-pitch'\?/],
    [['work-out', 'nozzle-pitch', '--length', '25,3 mm', '--lines', '180'], /'25,3' has a decimal comma/],
    [['work-out', 'nozzle-pitch', '--length', '25.3 mm'], /--lines is missing/],
    [['work-out', 'nozzle-pitch', '--length', '25.3 mm', '--lines', '1'], /cannot be worked out: the spaces must be/],
    [['work-out', 'nozzle-pitch', '--length', '25.3 mm', '--lines', 'many'], /'many' is no whole number/],
    [['work-out', 'nozzle-pitch', '--difference', '3 mm'], /not worked out from --difference/],
    [['work-out', 'suction-pressure', '--difference', '-3 mm'], /must not be below zero/],
    [['work-out', 'suction-pressure', '--difference', '3 Pa'], /length/],
    [['work-out', 'heater-coupling', '--reading', '50 °C', '--air', '20 °C'], /does not hold 2 values/],
    [['work-out', 'heater-coupling', '--reading', '50 °C, 51 °C', '--air', '20 °C'], /reads as hot as its heater/],
  ])('refused: %j', async (line, told) => {
    const { out, err, code } = await ran(line)
    expect([out, code]).toEqual(['', 2])
    expect(err).toMatch(told)
  })
})
