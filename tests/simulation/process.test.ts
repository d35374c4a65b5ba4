// Histories judged as processes, simulated: false alarms, what is found, and whether the date and the shift told hold the true ones.
import { describe, expect, it } from 'vitest'
import { judgeProcess } from '../../server/src/calc/process.ts'
import { must } from '../calculations/must.ts'
import { Chance } from '../support/chance.ts'

const HISTORIES = 2000

interface Counted {
  /** Shares of all histories that gave a signal, and of these that held the true place and the true shift. */
  readonly signals: number
  readonly dated: number
  readonly sized: number
}

/** Histories of `n` values with a step of `shift` scatters in the middle; uncertainties alike or, between 0.3 and 1.2 scatters, each its own. */
function count({
  n,
  shift,
  alike = false,
  known = true,
}: {
  n: number
  shift: number
  alike?: boolean
  known?: boolean
}): Counted {
  const chance = new Chance(n * 1000 + shift * 10)
  const changed = n / 2
  let [signals, dated, sized] = [0, 0, 0]
  for (let i = 0; i < HISTORIES; i++) {
    const values = Array.from({ length: n }, (_, day) => {
      const u = alike ? 0 : 0.3 + 0.9 * chance.part()
      return { day, u, value: 7 + (day >= changed ? shift : 0) + Math.hypot(1, u) * chance.normal() }
    })
    const { change } = must(judgeProcess({ values, ...(known ? { scatter: 1 } : {}) }))
    if (!change) continue
    signals++
    if (change.earliest < changed && change.latest >= changed) dated++
    if (Math.abs(change.shift - shift) <= change.U) sized++
  }
  return { signals: signals / HISTORIES, dated: dated / signals, sized: sized / signals }
}

/** Four standard errors of a share in so many histories. */
const noise = (share: number): number => 4 * Math.sqrt((share * (1 - share)) / HISTORIES)

describe('with the scatter known', () => {
  // By a second program (NumPy, 40,000 histories each): shares with a signal.
  it.each([
    [8, 0, 0.015],
    [12, 0, 0.027],
    [20, 0, 0.057],
    [40, 0, 0.119],
    [8, 3, 0.836],
    [12, 2, 0.676],
    [20, 1, 0.342],
    [20, 2, 0.926],
  ])('%d values that step by %d give a signal as often as another program finds', (n, shift, share) => {
    expect(Math.abs(count({ n, shift, alike: true }).signals - share)).toBeLessThan(noise(share))
  })

  it('a change is where it is said to be, and as large, in 95 % or more', () => {
    const { dated, sized } = count({ n: 20, shift: 3 })
    expect(dated).toBeGreaterThan(0.95 - noise(0.95))
    expect(sized).toBeGreaterThan(0.95 - noise(0.95))
    expect(sized).toBeLessThan(0.99)
  })

  it('false alarms do not hang on uncertainties that differ', () => {
    expect(Math.abs(count({ n: 20, shift: 0 }).signals - 0.057)).toBeLessThan(noise(0.057))
  })
})

describe('with the scatter estimated', () => {
  it.each([8, 12, 20, 40])('%d values give no more false alarms than with the scatter known', (n) => {
    const known = { 8: 0.015, 12: 0.027, 20: 0.057, 40: 0.119 }[n]!
    expect(count({ n, shift: 0, known: false }).signals).toBeLessThan(known + noise(known))
  })

  // Few values, whose scatter is open too, hide much; a step of three shows in most histories of 20.
  it('a large change is found in most histories of 20', () => {
    const { signals, dated } = count({ n: 20, shift: 3, known: false })
    expect(signals).toBeGreaterThan(0.7)
    expect(dated).toBeGreaterThan(0.9)
  })
})
