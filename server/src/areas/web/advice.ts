// Tension as a cause: the stretch it makes, its ceiling by the material, and the pull below which the web hangs.
import { rangeText, strainWords, valueText } from '../../model/range-words.ts'
import type { Setup } from '../../model/setup.ts'
import { type AreaAdvice, type Assess, type Assessment, bySize, LIKELY, POSSIBLE, ruledOut } from '../advice.ts'
import { webOf } from './facts.ts'
import { pullAtLeast, pullAtMost } from './shared.ts'

/** How much the next lower pull is of the present one, for a printer without levels. */
const ONE_STEP = 0.8

const tension: Assess = ({ document, setup, fault, way }) => {
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
    if (guard.ok && set.value > guard.value.high)
      return ruledOut(`${pull} is more than the ${rangeText(guard.value, 'line-tension', { units })} this material takes`)
    // A pull that carries the web by reckoning may still hang where the path is longer than taken: what is seen counts for more.
    if (fault === 'slack') return { weight: POSSIBLE, reason: `${pull} should carry the web, and it hangs`, step }
    if (least.ok && (fault === 'creases' || fault === 'head-touch'))
      return ruledOut(`${pull} carries the web, which needs ${rangeText(least.value, 'line-tension', { units })}`)
    return undefined
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
  if (least.ok && set.value < floor)
    return ruledOut(`${pull} already lets the web hang; it needs ${rangeText(least.value, 'line-tension', { units })}`)
  if (fault === 'creases') return foldsThin(setup, set.value, pull, floor, step)
  if (!strain.ok || fault !== 'length-short') return undefined
  const allowed = valueText(tolerance.length.value, 'relative', strainWords(units))
  return bySize(
    strain.value.typical / tolerance.length.value,
    `${pull} stretches the web by ${rangeText(strain.value, 'relative', strainWords(units))}, and the shop allows ${allowed}`,
    step,
  )
}

/** A film this thin folds along the web where it is pulled harder than it must be, m (from memory). */
const THIN = 100e-6

function foldsThin(
  { material, shop }: Setup,
  set: number,
  pull: string,
  floor: number,
  step: Assessment['step'],
): Assessment | undefined {
  const { thickness } = material
  if (thickness === undefined || thickness > THIN || set <= floor) return undefined
  const thin = valueText(thickness, 'length', { units: shop.units })
  const needs = floor > 0 ? `, where ${valueText(floor, 'line-tension', { units: shop.units, digits: 2 })} carry it` : ''
  return { weight: set > 2 * floor ? LIKELY : POSSIBLE, reason: `${pull} pull on a web of ${thin}${needs}`, step }
}

export const advice: AreaAdvice = { 'web.tension': tension }
