// Feed checks and fine picks that prove nothing of today, or are older than the shop trusts. What has still to come, or is not written whole, is not old.
// Nothing is reckoned for it: it is asked at every keystroke.
import type { AreaStale } from '../stale.ts'
import { weigh } from './evidence.ts'
import { fineDoubt } from './fine-state.ts'

export const stale: AreaStale = (setup) => {
  const old = weigh(setup).evidence.filter(
    ({ leftOut, doubt, recent }) => leftOut === 'skipped' || leftOut === 'instrument' || (!leftOut && (doubt || !recent)),
  )
  return [...old.map(({ check }) => check.date), fineDoubt(setup) ? setup.own.feed?.fine?.date : undefined]
}
