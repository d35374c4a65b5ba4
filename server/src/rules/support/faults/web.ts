// Tension as a cause: the stretch it makes, its ceiling by the material, and the pull below which the web hangs.
import { rangeText, strainWords, valueText } from '../../../model/range-words.ts'
import { webOf } from '../../../model/web.ts'
import { pullAtLeast, pullAtMost } from '../web.ts'
import { type Assess, LIKELY, POSSIBLE, UNLIKELY } from './assessment.ts'
import { bySize } from './suction.ts'

/** How much the next lower pull is of the present one, for a printer without levels. */
const ONE_STEP = 0.8

export const tension: Assess = ({ document, setup, fault, way }) => {
  const facts = webOf(setup)
  const { tension: set, strain, guard, least, levels } = facts
  if (!set) return undefined
  const { units, tolerance } = setup.shop
  const pull = valueText(set.value, 'line-tension', { units })
  const floor = least.ok ? least.value.typical : 0
  const ceiling = guard.ok ? guard.value.low : Number.POSITIVE_INFINITY
  if (way === 'up') {
    const next = levels.find((l) => l.tension > set.value)?.tension ?? set.value / ONE_STEP
    const step = next <= ceiling ? pullAtLeast(document, facts, Math.max(next, floor), ceiling) : undefined
    if (least.ok && set.value < floor)
      return {
        weight: LIKELY + 0.1,
        reason: `${pull} lets the web hang; it needs ${rangeText(least.value, 'line-tension', { units })}`,
        step,
      }
    return fault === 'slack' || fault === 'head-touch'
      ? { weight: fault === 'slack' ? POSSIBLE : UNLIKELY + 0.2, reason: `${pull} is enough to carry the web`, step }
      : undefined
  }
  if (way !== 'down') return undefined
  const next = levels.findLast((l) => l.tension < set.value)?.tension ?? set.value * ONE_STEP
  const step = next >= floor ? pullAtMost(document, facts, next) : undefined
  if (guard.ok && set.value > guard.value.high)
    return {
      weight: LIKELY + 0.15,
      reason: `${pull} is more than the ${rangeText(guard.value, 'line-tension', { units })} this material takes`,
      step,
    }
  if (!strain.ok || fault !== 'length-short') return undefined
  const allowed = valueText(tolerance.length.value, 'relative', strainWords(units))
  return bySize(
    strain.value.typical / tolerance.length.value,
    `${pull} stretches the web by ${rangeText(strain.value, 'relative', strainWords(units))}, and the shop allows ${allowed}`,
    step,
  )
}
