// Due dates in simulated shops of ten profiles that learn from one another: a seeded part of what `npx tsx tests/simulation/due.ts` counts in full.
import { describe, expect, it } from 'vitest'
import { equalRisk, jackknife, type Shares, shares } from './due-shares.ts'
import { type Count, makeShop, type Policy, runShop } from './due-shops.ts'

const SHOPS = 8
const run = (policy: Policy): Count[] =>
  Array.from({ length: SHOPS }, (_, i) => runShop(makeShop(41 + i * 7919, { profiles: 10 }), policy, 365))

const due = run({ risk: 0.08 })
const calendars = [{ every: 20 }, { every: 30 }].map(run)
const error = (of: (s: Shares) => number): number => jackknife(due, (some) => of(shares(some)))

describe('checks at a risk of 8 %', () => {
  // Over 60 shops stated and known differ by 0.9 points from shop to shop: three standard errors of the mean of eight are one point.
  it('state the risk that one who knew the true rates would state, within one point on average', () => {
    const { stated, known } = shares(due)
    expect(error((s) => s.stated - s.known)).toBeLessThan(0.005)
    expect(Math.abs(stated - known)).toBeLessThan(0.01)
  })

  it('are outside as often as that, within the noise of so few shops', () => {
    const noise = error((s) => s.outside - s.known)
    const { outside, known } = shares(due)
    expect(noise).toBeLessThan(0.01)
    expect(Math.abs(outside - known)).toBeLessThan(3 * noise)
  })

  // Over 60 shops 8 ± 3 % fewer, here 12; eight shops are uncertain by 3.
  it('are fewer than by the calendar of the same average risk', () => {
    expect(equalRisk(shares(due), calendars.map(shares))).toBeLessThan(0)
  })
})

// Waiting longer by a factor a where all was well and shorter by b where it was not settles where a^p b^(1 − p) = 1: with 1.2 and 0.6 a quarter of the checks
// find prints out (the reaction methods of NCSLI RP-1 are of this kind; nothing here reacts so).
it('reacting to what was found alone settles where a quarter of the checks come too late', () => {
  const reacting = run({ every: 30, react: { found: 1.2, out: 0.6 } })
  const share = (some: readonly Count[]): number => shares(some).dueOutside
  const settled = Math.log(1.2) / (Math.log(1.2) - Math.log(0.6))
  expect(Math.abs(share(reacting) - settled)).toBeLessThan(0.04 + 3 * jackknife(reacting, share))
  expect(shares(reacting).outside).toBeGreaterThan(shares(due).outside)
})

// The same law by the calendar, by a program of another hand: 3.8 and 6.1 % outside at 20 and 30 days.
it('the calendar is outside as often as another program finds', () => {
  for (const [i, published] of [0.038, 0.061].entries()) {
    const noise = jackknife(calendars[i]!, (some) => shares(some).known)
    expect(noise).toBeLessThan(0.012)
    expect(Math.abs(shares(calendars[i]!).known - published)).toBeLessThan(3 * noise)
  }
})
