// Pitches, interlace, coverage and throughput. No published worked example was found for this topic: the cases are independent
// computations, and coverage is checked against a simulation that prints line by line.
import fc from 'fast-check'
import { evaluate } from 'mathjs'
import { describe, expect, it } from 'vitest'
import { advancePlan, type Coverage, coverage, passTime, throughput } from '../../server/src/calc/advance.ts'
import { runs } from '../support/counts.ts'
import { answer, withstand } from './hostile.ts'

const INCH = 0.0254
const perInch = (count: number) => count / INCH
const HOUR = 3600
const cover = (nozzles: number, interlace: number, linesPerAdvance: number) =>
  answer(coverage({ nozzles, interlace, linesPerAdvance }))

/** Prints passes line by line and counts how often each line of the settled middle is met. */
function printed(nozzles: number, interlace: number, lines: number): { fewest: number; most: number; missed: number } {
  const reach = (nozzles - 1) * interlace
  const period = interlace * lines
  const start = reach + period
  const counts = new Array<number>(period).fill(0)
  for (let pass = 0; pass * lines <= start + period; pass++) {
    for (let nozzle = 0; nozzle < nozzles; nozzle++) {
      const line = pass * lines + nozzle * interlace - start
      if (line >= 0 && line < period) counts[line]!++
    }
  }
  return { fewest: Math.min(...counts), most: Math.max(...counts), missed: counts.filter((n) => n === 0).length / period }
}

describe('pitches', () => {
  it.each([
    // Independent computation: 25.4 mm / resolution in µm.
    [300, 84.667],
    [360, 70.556],
    [540, 47.037],
    [600, 42.333],
    [720, 35.278],
    [1200, 21.167],
    [1440, 17.639],
    [150, 169.333],
    [180, 141.111],
  ])('of %d to the inch', (count, micrometre) => {
    const plan = answer(advancePlan({ nozzlePitch: INCH / 90, nozzles: 90, resolutionAlong: perInch(count), passes: 4 }))
    expect(plan.rasterPitch * 1e6).toBeCloseTo(micrometre, 3)
    expect(plan.rasterPitch).toBeCloseTo(evaluate(`1 inch / ${count}`).toNumber('m'), 12)
  })

  it('takes a rounded nozzle pitch as the whole interlace it stands for', () => {
    // 180 to the inch is 0.14111 mm; a technician types 0.141 mm.
    const plan = answer(advancePlan({ nozzlePitch: 0.141e-3, nozzles: 180, resolutionAlong: perInch(720), passes: 8 }))
    expect(plan.interlace).toBe(4)
    expect(plan.swath).toBeCloseTo(INCH, 9)
    expect(plan.nozzlePitch).toBeCloseTo(INCH / 180, 12)
  })

  it('takes one for whole within half a percent', () => {
    const interlace = (share: number) =>
      answer(advancePlan({ nozzlePitch: (share * INCH) / 180, nozzles: 180, resolutionAlong: perInch(720), passes: 8 })).interlace
    expect([0.99501, 1.00499].map(interlace)).toEqual([4, 4])
    expect([0.99499, 1.00501].map(interlace)).toEqual([3.97996, 4.02004].map((k) => expect.closeTo(k, 9)))
  })

  it('counts the lines of an advance as whole but for what arithmetic leaves', () => {
    // A billionth of a line in each is rounding; more is not.
    expect(cover(1e5, 1, 1e5 * (1 + 0.9999e-9))).toEqual({ kind: 'every-line', times: 1 })
    expect(cover(1e5, 1, 1e5 * (1 + 1.005e-9)).kind).toBe('part-line')
  })
})

describe('coverage', () => {
  it.each([
    // One pass a line, a = nozzles: gcd(nozzles, interlace) = 1 covers exactly once (independent computation by brute force).
    [7, 2, 'every-line'],
    [7, 3, 'every-line'],
    [11, 4, 'every-line'],
    [8, 2, 'gaps'],
    [9, 3, 'gaps'],
    [12, 4, 'gaps'],
  ])('of %d nozzles at interlace %d', (nozzles, interlace, kind) => {
    expect(cover(nozzles, interlace, nozzles).kind).toBe(kind)
  })

  it('says the same as printing line by line', () => {
    const small = fc.integer({ min: 1, max: 14 })
    fc.assert(
      fc.property(small, fc.integer({ min: 1, max: 9 }), small, (nozzles, interlace, lines) => {
        const truth = printed(nozzles, interlace, lines)
        const told: Coverage = cover(nozzles, interlace, lines)
        if (told.kind === 'every-line') return truth.fewest === told.times && truth.most === told.times
        if (told.kind === 'gaps') return truth.fewest === 0 && Math.abs(truth.missed - told.missed) < 1e-12
        return told.kind === 'uneven' && truth.fewest === told.fewest && truth.most === told.most
      }),
      { numRuns: runs(600) },
    )
  })

  it('is refused to an advance or a nozzle pitch that is no whole number of lines', () => {
    expect(cover(10, 2, 3.5)).toEqual({ kind: 'part-line', lines: 3.5 })
    expect(cover(10, 2.4, 3)).toEqual({ kind: 'off-grid', interlace: 2.4 })
    expect(cover(10, 0.5, 3)).toEqual({ kind: 'off-grid', interlace: 0.5 })
  })

  it('offers the most nozzles that cover evenly, and they do', () => {
    const plan = (nozzles: number, passes: number, strikes = 1) =>
      answer(advancePlan({ nozzlePitch: INCH / 360, nozzles, resolutionAlong: perInch(720), passes, strikes }))
    // 360 nozzles at interlace 2 in 4 passes advance 180 lines: 2 divides both, so every other line is missed; 358 nozzles
    // advance 179.
    expect(plan(360, 4).coverage).toEqual({ kind: 'gaps', missed: 0.5 })
    expect(plan(360, 4).evenNozzles).toBe(358)
    expect(plan(358, 4).coverage).toEqual({ kind: 'every-line', times: 2 })
    expect(plan(358, 4, 2).passes).toBe(8)
    // Three passes cannot share two interlaced rows evenly, whatever the nozzles.
    expect(plan(360, 3).evenNozzles).toBeUndefined()
    fc.assert(
      fc.property(fc.integer({ min: 4, max: 60 }), fc.integer({ min: 1, max: 12 }), (nozzles, passes) => {
        const even = plan(nozzles, passes).evenNozzles
        return even === undefined || (even <= nozzles && plan(even, passes).coverage.kind === 'every-line')
      }),
    )
    // 361 nozzles are shared by two prints of each line as 180 and a half: 362 would do, and there are not as many.
    expect(plan(361, 4).evenNozzles).toBe(358)
  })
})

describe('advance', () => {
  it('is the swath over the passes, and strikes multiply the passes', () => {
    // Independent computation: 360 nozzles at 360 to the inch, swath 25.4 mm; 4, 8, 16 passes advance 6.35, 3.175, 1.5875 mm.
    const advance = (passes: number, strikes = 1) =>
      answer(advancePlan({ nozzlePitch: INCH / 360, nozzles: 360, resolutionAlong: perInch(360), passes, strikes })).advance
    expect(advance(4)).toBeCloseTo(6.35e-3, 12)
    expect(advance(8)).toBeCloseTo(3.175e-3, 12)
    expect(advance(16)).toBeCloseTo(1.5875e-3, 12)
    expect(advance(4, 2)).toBeCloseTo(advance(8), 12)
  })
})

type PassInput = Parameters<typeof passTime>[0]

/** 360 nozzles at 360 to the inch, 1 m/s, overrun 50 mm, 5 m/s2, settle 0.1 s, bed 1.6 m. */
const motion = (imageWidth: number, turnAt: PassInput['turnAt'], webWidth?: number): PassInput => ({
  imageWidth,
  bedWidth: 1.6,
  turnAt,
  ...(webWidth !== undefined && { webWidth }),
  overrun: 0.05,
  carriageSpeed: 1,
  acceleration: 5,
  settle: 0.1,
  directions: 'two-way',
})
const make = (passes: number, imageWidth: number, turnAt: PassInput['turnAt'], webWidth?: number) => {
  const time = answer(passTime(motion(imageWidth, turnAt, webWidth)))
  return { time, ...answer(throughput({ advance: INCH / passes, imageWidth, passTime: time })) }
}

describe('throughput', () => {
  it.each([
    // Independent computation: passes, image width m, where it turns, width of the web m, pass s, m2/h, web µm/s, dwell s in a zone of 0.30 m.
    [4, 1.6, 'bed-end', 1.6, 2.2, 16.625, 2886, 103.9],
    [8, 1.6, 'bed-end', 1.6, 2.2, 8.313, 1443, 207.9],
    [8, 0.6, 'print-edge', 1.1, 1.2, 5.715, 2646, 113.4],
    [8, 0.6, 'web-edge', 1.1, 1.7, 4.034, 1868, 160.6],
    [8, 0.6, 'bed-end', 1.1, 2.2, 3.117, 1443, 207.9],
    [16, 1.6, 'bed-end', 1.6, 2.2, 4.156, 722, 415.7],
  ] as const)(
    'of %d passes, image %d m, turning at the %s, web %d m',
    (passes, width, turnAt, webWidth, seconds, hourly, web, dwell) => {
      const made = make(passes, width, turnAt, webWidth)
      expect(made.time).toBeCloseTo(seconds, 9)
      expect(Math.abs(made.areaRate * HOUR - hourly)).toBeLessThan(0.0006)
      expect(Math.abs(made.webSpeed * 1e6 - web)).toBeLessThan(0.6)
      expect(Math.abs(0.3 / made.webSpeed - dwell)).toBeLessThan(0.06)
      // mathjs carries the units through the same sum.
      const byUnits = evaluate(`(25.4 mm / ${passes}) * ${width} m / (${seconds} s)`)
      expect(made.areaRate).toBeCloseTo(byUnits.toNumber('m^2/s'), 12)
    },
  )

  it('counts the turnaround, without which 8 passes would seem to make 11.43 m²/h', () => {
    const naive = 3600 * (INCH / 8) * 1
    expect(naive).toBeCloseTo(11.43, 2)
    expect(make(8, 1.6, 'bed-end').areaRate * HOUR).toBeCloseTo(8.313, 3)
  })

  it('counts the image, not the bed it lies on', () => {
    // With the bed's 1.6 m for the width, a 0.6 m job would seem to make 8.31 m²/h while 3.12 are printed.
    expect((INCH / 8 / 2.2) * 1.6 * HOUR).toBeCloseTo(8.313, 3)
    expect(make(8, 0.6, 'bed-end').areaRate * HOUR).toBeCloseTo(3.117, 3)
  })

  it('rises 83 % and leaves 45 % less time to dry when the carriage turns at a narrow image', () => {
    const [image, bed] = [make(8, 0.6, 'print-edge'), make(8, 0.6, 'bed-end')]
    expect(image.areaRate / bed.areaRate).toBeCloseTo(1.83, 2)
    expect(1 - bed.webSpeed / image.webSpeed).toBeCloseTo(0.45, 2)
  })

  it('halves when printing one way, and when the turnaround is told as one time it is that time', () => {
    const twoWay = answer(passTime(motion(1.6, 'bed-end')))
    expect(answer(passTime({ ...motion(1.6, 'bed-end'), directions: 'one-way' }))).toBeCloseTo(2 * twoWay, 12)
    const { acceleration: _, settle: __, ...rest } = motion(1.6, 'bed-end')
    expect(answer(passTime({ ...rest, turnaround: 0.5 }))).toBeCloseTo(2.2, 12)
  })

  it('takes twice the speed over the acceleration to turn', () => {
    // Uniform acceleration (Halliday, Resnick & Walker, equation 2-11, v = v0 + a t): 2 m/s down to rest and up again at 5 m/s2 are 0.4 s + 0.4 s,
    // and 1.7 m at 2 m/s are 0.85 s.
    const { settle: _, ...fast } = { ...motion(1.6, 'print-edge'), carriageSpeed: 2 }
    expect(answer(passTime(fast))).toBeCloseTo(0.85 + 0.8, 12)
    expect(answer(passTime({ ...fast, carriageSpeed: 0.5 }))).toBeCloseTo(3.4 + 0.2, 12)
  })

  it('counts the pause after each pass', () => {
    const made = answer(throughput({ advance: 0.004, imageWidth: 1, passTime: 2, pause: 3 }))
    expect(made).toEqual({ period: 5, areaRate: 0.0008, webSpeed: 0.0008 })
  })

  it('falls with every added pass, pause and width', () => {
    const some = fc.double({ min: 0.01, max: 10, noNaN: true })
    fc.assert(
      fc.property(some, some, some, some, (advance, time, pause, more) => {
        const rate = (t: number, p: number) => answer(throughput({ advance, imageWidth: 1, passTime: t, pause: p })).areaRate
        return rate(time + more, pause) < rate(time, pause) && rate(time, pause + more) < rate(time, pause)
      }),
    )
  })
})

describe('bad input', () => {
  it('gives a problem, never a throw or a NaN', () => {
    const head = { nozzlePitch: INCH / 360, nozzles: 360, resolutionAlong: perInch(720), passes: 4, strikes: 1 }
    expect(withstand(advancePlan, head)).toEqual(['nozzlePitch', 'nozzles', 'passes', 'resolutionAlong', 'strikes'])
    expect(withstand(coverage, { nozzles: 7, interlace: 2, linesPerAdvance: 7 })).toEqual([
      'interlace',
      'linesPerAdvance',
      'nozzles',
    ])
    expect(withstand(passTime, motion(0.6, 'bed-end'))).toEqual(
      expect.arrayContaining(['acceleration', 'bedWidth', 'carriageSpeed', 'imageWidth', 'overrun', 'settle']),
    )
    expect(withstand(throughput, { advance: 0.003, imageWidth: 1, passTime: 2, pause: 1 })).toEqual([
      'advance',
      'imageWidth',
      'passTime',
      'pause',
    ])
  })

  it('refuses an image wider than the bed', () => {
    expect(passTime({ ...motion(2, 'bed-end') })).toMatchObject({
      problem: { input: 'imageWidth', reason: 'the image is wider than the bed' },
    })
  })

  it('refuses an image wider than the web, and a web wider than the bed', () => {
    expect(passTime(motion(1.2, 'web-edge', 1.1))).toMatchObject({
      problem: { input: 'imageWidth', reason: 'the image is wider than the web' },
    })
    expect(passTime(motion(1.2, 'web-edge', 1.7))).toMatchObject({
      problem: { input: 'webWidth', reason: 'the web is wider than the bed' },
    })
  })
})
