// The feed as a cause: by its checks, their age, and the fine picks.

import { type AreaAdvice, type Assess, LIKELY, PROVEN, ruledOut, UNLIKELY } from '../advice.ts'
import { feedOf } from './facts.ts'
import { setFromAllChecks } from './shared.ts'
import { askerText, checksText, longOrShort, plusMinus } from './words.ts'

const feedCorrection: Assess = ({ document, setup, way }) => {
  const facts = feedOf(setup)
  const { reckoning, newest, stale, applied, recheckDays, tolerance } = facts
  const { combined, agreement, wanted } = reckoning ?? {}
  if (combined && reckoning?.fine?.use === 'disagrees')
    return { weight: UNLIKELY, reason: 'the ruler and the fine picks disagree: the cause is not the feed', look: true }
  if (!combined || !wanted)
    return { weight: LIKELY + 0.05, reason: 'no check stands behind the correction: print the feed pattern first', look: true }
  const off = agreement && !agreement.asKeyedIn && (!agreement.withinU || Math.abs(agreement.lengthError) > tolerance)
  if (agreement && off) {
    const fits = agreement.lengthError < 0 === (way === 'up')
    const reason = `by ${askerText(reckoning!)} prints come out ${longOrShort(setup, agreement.lengthError)} ${plusMinus(wanted.U)}`
    if (!fits) return ruledOut(`${reason}, which is the other way round`)
    return { weight: PROVEN, reason, step: setFromAllChecks(document, setup, facts) }
  }
  if (stale && newest)
    return {
      weight: LIKELY + 0.1,
      reason: `the newest check is ${newest.age} days old, and one proves the feed for ${Number(recheckDays.toFixed(1))}: check again first`,
      look: true,
    }
  const agree = `agree${combined.n === 1 ? 's' : ''} with ${applied ? 'the correction set' : 'one another'}`
  return {
    weight: UNLIKELY,
    reason: `${checksText(combined.n)}, the newest ${newest?.age ?? 0} days old, ${agree} within ${plusMinus(combined.U)}`,
    look: true,
  }
}

const finePicks: Assess = ({ setup }) => {
  const fine = feedOf(setup).reckoning?.fine
  if (!fine) return { weight: LIKELY - 0.1, reason: 'there are no fine picks: print the fine pattern' }
  if (fine.use !== 'used')
    return { weight: LIKELY, reason: fine.use === 'stale' ? `print the fine pattern again: ${fine.reason}` : fine.reason! }
  return { weight: UNLIKELY + 0.1, reason: `the fine picks (mean ${fine.meanPick.toFixed(1)}) are counted in already` }
}

export const advice: AreaAdvice = { 'feed.correction': feedCorrection, 'feed.fine.picks': finePicks }
