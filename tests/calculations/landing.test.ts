// The two-way offset against worked cases and a simulation of drag, and the picks of an alignment print.
import fc from 'fast-check'
import { evaluate } from 'mathjs'
import { describe, expect, it } from 'vitest'
import { channelOffsets, DRAG_CAUTION, offsetChange, offsetInPixels, twoWayOffset } from '../../server/src/calc/landing.ts'
import { answer, withstand } from './hostile.ts'

const offset = (carriageSpeed: number, gap: number, dropSpeed: number) => answer(twoWayOffset({ carriageSpeed, gap, dropSpeed }))

describe('two-way offset', () => {
  it.each([
    // Independent computation: carriage m/s, gap mm, drop m/s, offset µm, µm per 0.1 mm of gap.
    [1, 2, 7, 571.43, 28.571],
    [0.5, 1.5, 6, 250, 16.667],
  ])('at %d m/s, %d mm and %d m/s', (carriage, millimetre, drop, micrometre, perTenth) => {
    const found = offset(carriage, millimetre / 1000, drop)
    expect(found.offset.typical * 1e6).toBeCloseTo(micrometre, 2)
    expect(found.perGap.typical * 1e-4 * 1e6).toBeCloseTo(perTenth, 3)
    expect(found.early.typical).toBeCloseTo(millimetre / 1000 / drop, 12)
    const byUnits = evaluate(`2 * ${carriage} m/s * ${millimetre} mm / (${drop} m/s)`)
    expect(found.offset.typical).toBeCloseTo(byUnits.toNumber('m'), 12)
  })

  it('is twice the offset of one direction, which is speed times the time to fire early', () => {
    const found = offset(1, 0.002, 7)
    expect(found.offset.typical).toBeCloseTo(2 * 1 * found.early.typical, 12)
    expect(found.offset.typical).not.toBeCloseTo((1 * 0.002) / 7, 6)
  })

  it('turns into pixels by the resolution of the scan, not of the feed', () => {
    // At 720 dpi across x 360 dpi along, 571.43 µm is 16.2 scan pixels; by the feed pitch it would seem 8.1.
    const pixels = answer(offsetInPixels({ offset: offset(1, 0.002, 7).offset, resolutionAcross: 720 / 0.0254 }))
    expect(pixels.typical).toBeCloseTo(16.198, 3)
    expect(pixels.typical).not.toBeCloseTo(571.43e-6 * (360 / 0.0254), 0)
  })

  it('has the slopes that its differences have', () => {
    const some = fc.double({ min: 0.2, max: 3, noNaN: true })
    fc.assert(
      fc.property(some, some, fc.double({ min: 3, max: 10, noNaN: true }), (carriage, millimetre, drop) => {
        const gap = millimetre / 1000
        const at = offset(carriage, gap, drop)
        const slope = (f: (d: number) => number, d: number) => (f(d) - f(-d)) / (2 * d)
        const near = (a: number, b: number) => Math.abs(a - b) <= 1e-5 * Math.abs(b)
        return (
          near(
            slope((d) => offset(carriage, gap + d, drop).offset.typical, 1e-6),
            at.perGap.typical,
          ) &&
          near(
            slope((d) => offset(carriage + d, gap, drop).offset.typical, 1e-4),
            at.perCarriageSpeed.typical,
          ) &&
          near(
            slope((d) => offset(carriage, gap, drop + d).offset.typical, 1e-3),
            at.perDropSpeed.typical,
          )
        )
      }),
    )
  })

  it('is a range for a drop speed that is one', () => {
    const found = answer(twoWayOffset({ carriageSpeed: 1, gap: 0.002, dropSpeed: { low: 5, typical: 7, high: 8 } }))
    expect(found.offset).toEqual({ low: 0.0005, typical: 0.004 / 7, high: 0.0008 })
  })
})

/** Drag of Schiller & Naumann on a sphere of water in air at rest, in shear or moving with the head; two-way offset in m. */
function flown(picolitre: number, nozzleSpeed: number, gap: number, air: (height: number) => number): number {
  const [density, viscosity, drop] = [1.204, 18.2e-6, 1000]
  const d = Math.cbrt((6 * picolitre * 1e-15) / Math.PI)
  const carriage = 1
  let [x, y, vx, vy] = [0, 0, carriage, nozzleSpeed]
  const step = 2e-8
  while (y < gap) {
    const rx = vx - carriage * air(y / gap)
    const speed = Math.hypot(rx, vy)
    const reynolds = (density * speed * d) / viscosity
    const rate = ((18 * viscosity) / (drop * d * d)) * (1 + 0.15 * reynolds ** 0.687)
    vx -= rate * rx * step
    vy -= rate * vy * step
    x += vx * step
    y += vy * step
  }
  return 2 * x
}

describe('air drag', () => {
  it.each([
    // Independent computation (another integrator): pL, m/s, gap mm, two-way offset µm in still air, in linear shear, in air
    // moving with the head.
    [6, 7, 1, 285.7, 302.2, 311.1],
    [6, 7, 2, 571.4, 643.0, 684.8],
    [6, 7, 3, 857.1, 1033.3, 1146.7],
    [10, 7, 2, 571.4, 622.8, 651.5],
    [20, 7, 2, 571.4, 605.0, 623.1],
    [4, 5, 2, 800.0, 983.4, 1105.9],
  ])('on %d pL at %d m/s over %d mm leaves the formula a lower bound', (picolitre, speed, millimetre, still, shear, moving) => {
    const gap = millimetre / 1000
    const formula = offset(1, gap, speed).offset.typical
    const micrometre = (air: (height: number) => number) => flown(picolitre, speed, gap, air) * 1e6
    // In still air the path is straight, so the speed at the nozzle is the one to use although the drop slows down.
    expect(Math.abs(micrometre(() => 0) - still)).toBeLessThan(0.5)
    expect(Math.abs(formula * 1e6 - still)).toBeLessThan(0.1)
    expect(Math.abs(micrometre((h) => 1 - h) / shear - 1)).toBeLessThan(0.002)
    expect(Math.abs(micrometre(() => 1) / moving - 1)).toBeLessThan(0.002)
    expect(formula * 1e6).toBeLessThan(shear)
  })

  it('is told in words', () => {
    expect(DRAG_CAUTION).toMatch(/starting value.*not a calibration/)
    expect(DRAG_CAUTION).toMatch(/up to a fifth more/)
  })
})

describe('a change since the alignment', () => {
  const made = { carriageSpeed: 1, gap: 0.002, dropSpeed: 7 }

  it('shrinks the offset on thicker media and at a raised edge', () => {
    // 28.571 µm for 0.1 mm of gap (worked case above).
    expect(answer(offsetChange({ ...made, thicknessChange: 1e-4 })).change.typical * 1e6).toBeCloseTo(-28.571, 3)
    expect(answer(offsetChange({ ...made, edgeRise: 1e-4 })).change.typical * 1e6).toBeCloseTo(-28.571, 3)
    expect(answer(offsetChange({ ...made, gapChange: 1e-4 })).change.typical * 1e6).toBeCloseTo(28.571, 3)
    expect(answer(offsetChange({ ...made, gapChange: 1e-4, thicknessChange: 1e-4 })).change.typical).toBeCloseTo(0, 15)
  })

  it('grows with the carriage speed', () => {
    expect(answer(offsetChange({ ...made, carriageSpeedChange: 0.5 })).change.typical * 1e6).toBeCloseTo(571.43 / 2, 2)
  })

  it('is the difference of the two offsets, however large', () => {
    const change = fc.double({ min: -0.0005, max: 0.0005, noNaN: true })
    fc.assert(
      fc.property(
        change,
        change,
        fc.double({ min: -0.5, max: 1, noNaN: true }),
        (gapChange, thicknessChange, carriageSpeedChange) => {
          const found = answer(offsetChange({ ...made, gapChange, thicknessChange, carriageSpeedChange }))
          const after = offset(1 + carriageSpeedChange, found.gap, 7).offset.typical
          return Math.abs(found.change.typical - (after - offset(1, 0.002, 7).offset.typical)) < 1e-12
        },
      ),
    )
  })

  it('is refused when the head would touch', () => {
    expect(offsetChange({ ...made, thicknessChange: 0.003 })).toMatchObject({ problem: { input: 'gap', reason: /would touch/ } })
  })
})

describe('picks of the channels', () => {
  const picks = (of: Record<string, number>, step = 20e-6) => answer(channelOffsets({ picks: of, step }))

  it('are metres, with their median and spread', () => {
    const found = picks({ black: 1, cyan: 2, magenta: 0, yellow: -1 })
    expect(found.channels.map((c) => Math.round(c.offset * 1e6))).toEqual([20, 40, 0, -20])
    expect(found.median * 1e6).toBeCloseTo(10, 9)
    expect(found.spread * 1e6).toBeCloseTo(60, 9)
    expect(found.apart).toEqual([])
  })

  it('name the channel that stands apart', () => {
    expect(picks({ black: 0, cyan: 1, magenta: 0, yellow: 6 }).apart.map((c) => c.channel)).toEqual(['yellow'])
    expect(picks({ black: 2, cyan: 2, magenta: 2, yellow: -3 }).apart.map((c) => c.channel)).toEqual(['yellow'])
    // The mean and its standard deviation cannot see this one: no z-score among four values passes (n - 1) / sqrt(n) = 1.5.
    expect(3 / Math.sqrt(4)).toBe(1.5)
  })

  it('call a channel apart from a modified z-score of 3.5 on', () => {
    // Iglewicz & Hoaglin 1993: M = 0.6745 |x - median| / MAD, apart above 3.5. Median 0 and MAD 1 here: 5 patches are 3.37, 5.5 are 3.71.
    const seven = (pick: number) => picks({ a: -1, b: -1, c: 0, d: 0, e: 1, f: 1, odd: pick }).apart.map((c) => c.channel)
    expect(0.6745 * 5).toBeLessThan(3.5)
    expect(0.6745 * 5.5).toBeGreaterThan(3.5)
    expect(seven(5)).toEqual([])
    expect(seven(5.5)).toEqual(['odd'])
  })

  it('call no channel apart for one patch more or less, nor with fewer than three', () => {
    expect(picks({ black: 2, cyan: 2, magenta: 2, yellow: 3 }).apart).toEqual([])
    expect(picks({ black: 0, yellow: 9 }).apart).toEqual([])
    expect(picks({ black: 4 }).spread).toBe(0)
  })

  it('are judged alike when all are shifted or turned round', () => {
    const pick = fc.integer({ min: -8, max: 8 })
    fc.assert(
      fc.property(fc.tuple(pick, pick, pick, pick), pick, ([k, c, m, y], shift) => {
        const names = (sign: number, by: number) =>
          picks({ k: sign * k + by, c: sign * c + by, m: sign * m + by, y: sign * y + by })
            .apart.map((a) => a.channel)
            .sort()
            .join()
        return names(1, 0) === names(1, shift) && names(1, 0) === names(-1, shift)
      }),
    )
  })

  it('that are no numbers are refused by channel', () => {
    expect(channelOffsets({ picks: { black: Number.NaN }, step: 1e-5 })).toMatchObject({ problem: { input: 'black' } })
    expect(channelOffsets({ picks: {}, step: 1e-5 })).toMatchObject({ problem: { input: 'picks' } })
    expect(channelOffsets({ picks: undefined as never, step: 1e-5 })).toMatchObject({ problem: { input: 'picks' } })
    expect(channelOffsets({ picks: { a: 1e308, b: -1e308, c: 0 }, step: 1e10 })).toMatchObject({ ok: false })
  })
})

it('gives a problem for bad input, never a throw or a NaN', () => {
  const made = { carriageSpeed: 1, gap: 0.002, dropSpeed: { low: 5, typical: 7, high: 8 } }
  expect(withstand(twoWayOffset, made)).toEqual(['carriageSpeed', 'dropSpeed', 'gap'])
  const changed = { ...made, gapChange: 1e-4, thicknessChange: 0, edgeRise: 0, carriageSpeedChange: 0 }
  expect(withstand(offsetChange, changed)).toEqual(
    expect.arrayContaining(['carriageSpeed', 'dropSpeed', 'gap', 'gapChange', 'thicknessChange']),
  )
  expect(withstand(offsetInPixels, { offset: 1e-5, resolutionAcross: 28000 })).toEqual(['offset', 'resolutionAcross'])
  expect(withstand((i: { step: number }) => channelOffsets({ picks: { a: 1, b: 2, c: 9 }, ...i }), { step: 1e-5 })).toEqual([
    'step',
  ])
})
