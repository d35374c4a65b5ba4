// Numbers worked out at the machine, against published conversion factors and counted examples.
import { describe, expect, test } from 'vitest'
import { nozzlePitch, waterColumn } from '../../server/src/calc/machine.ts'
import { must } from './must.ts'

describe('a column of water', () => {
  test.each([
    // NIST SP 811 (2008), Appendix B.8: millimetre of water, conventional; inch of water, conventional; foot of water, conventional.
    [0.001, 9.80665],
    [0.0254, 249.0889],
    [0.3048, 2989.067],
  ])('%d m', (difference, pascal) => {
    expect(must(waterColumn({ difference })).value / pascal).toBeCloseTo(1, 6)
  })

  test('the uncertainty goes along, and none is made up', () => {
    expect(must(waterColumn({ difference: 0.031, uncertainty: 0.001 })).uncertainty).toBeCloseTo(9.80665, 9)
    expect(must(waterColumn({ difference: 0.031 })).uncertainty).toBeUndefined()
  })

  test('no suction is no difference; less than none is refused', () => {
    expect(must(waterColumn({ difference: 0 })).value).toBe(0)
    for (const difference of [-0.001, Number.NaN, Number.POSITIVE_INFINITY])
      expect(waterColumn({ difference })).toMatchObject({ ok: false, problem: { input: 'difference' } })
    expect(waterColumn({ difference: 0.1, uncertainty: -1 })).toMatchObject({ ok: false, problem: { input: 'uncertainty' } })
  })
})

describe('nozzle pitch', () => {
  test('the lines of 180 nozzles to the inch: 179 spaces', () => {
    // 25.4 mm / 180 by the definition of the inch.
    expect(must(nozzlePitch({ length: (0.0254 * 179) / 180, lines: 180 })).value).toBeCloseTo(25.4e-3 / 180, 12)
  })

  test('two lines have one space, and keep its uncertainty', () => {
    expect(must(nozzlePitch({ length: 0.5e-3, lines: 2, uncertainty: 0.1e-3 }))).toEqual({
      value: 0.5e-3,
      uncertainty: 0.1e-3,
    })
    expect(must(nozzlePitch({ length: 25.3e-3, lines: 180, uncertainty: 0.2e-3 })).uncertainty).toBeCloseTo(0.2e-3 / 179, 12)
  })

  test('one line has no space, and half a line is none', () => {
    expect(nozzlePitch({ length: 0.01, lines: 1 })).toMatchObject({ ok: false, problem: { input: 'spaces' } })
    for (const lines of [0, 2.5, -3, Number.NaN])
      expect(nozzlePitch({ length: 0.01, lines })).toMatchObject({ ok: false, problem: { input: 'lines' } })
    expect(nozzlePitch({ length: 0, lines: 5 })).toMatchObject({ ok: false, problem: { input: 'length' } })
  })
})
