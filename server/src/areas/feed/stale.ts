// Feed checks and fine picks that prove nothing of today, or are older than the shop trusts. What has still to come, or is not written whole, is not old.
import type { AreaStale } from '../stale.ts'
import { feedOf } from './facts.ts'

export const stale: AreaStale = (setup) => {
  const { evidence, reckoning } = feedOf(setup)
  const old = evidence.filter(
    ({ leftOut, doubt, recent }) => leftOut === 'skipped' || leftOut === 'instrument' || (!leftOut && (doubt || !recent)),
  )
  return [...old.map(({ check }) => check.date), reckoning?.fine?.use === 'stale' ? setup.own.feed?.fine?.date : undefined]
}
