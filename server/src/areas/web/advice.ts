// Tension as a cause: the stretch it makes, its ceiling by the material, and the pull below which the web hangs.
import { valueText } from '../../model/range-words.ts'
import { type AreaAdvice, type Asked, type Assess, type Assessment, bySize, LIKELY, POSSIBLE, ruledOut } from '../advice.ts'
import { type WebFacts, webOf } from './facts.ts'
import { pullAtLeast, pullAtMost } from './shared.ts'
import type { Tension } from './tension.ts'
import { allowedStretchText, pullRangeText, pullText, strainText } from './words.ts'

/** How much the next lower pull is of the present one, for a printer without levels. */
const ONE_STEP = 0.8

const tension: Assess = (asked) => {
  const facts = webOf(asked.setup)
  const { tension: set } = facts
  if (!set) return undefined
  return asked.way === 'up' ? tooLow(asked, facts, set) : asked.way === 'down' ? tooHigh(asked, facts, set) : undefined
}

const floorOf = ({ least }: WebFacts): number => (least.ok ? least.value.typical : 0)

/** Undefined where the material takes the pull, or nobody knows what it takes. */
function overGuard({ setup }: Asked, { guard }: WebFacts, { value }: Tension): string | undefined {
  const { units } = setup.shop
  return guard.ok && value > guard.value.high
    ? `${pullText(value, units)} is more than the ${pullRangeText(guard.value, units)} this material takes`
    : undefined
}

function tooLow(asked: Asked, facts: WebFacts, set: Tension): Assessment | undefined {
  const { document, setup, fault } = asked
  const { least, guard, levels } = facts
  const { units } = setup.shop
  const pull = pullText(set.value, units)
  const ceiling = guard.ok ? guard.value.low : Number.POSITIVE_INFINITY
  const next = levels.find((l) => l.tension > set.value)?.tension ?? set.value / ONE_STEP
  const step = next <= ceiling ? pullAtLeast(document, facts, Math.max(next, floorOf(facts)), ceiling) : undefined
  if (least.ok && set.value < least.value.typical)
    return {
      weight: LIKELY + 0.1,
      reason: `${pull} lets the web hang; it needs ${pullRangeText(least.value, units)}`,
      step,
    }
  const over = overGuard(asked, facts, set)
  if (over !== undefined) return ruledOut(over)
  // A pull that carries the web by reckoning may still hang where the path is longer than taken: what is seen counts for more.
  if (fault === 'slack') return { weight: POSSIBLE, reason: `${pull} should carry the web, and it hangs`, step }
  if (least.ok && (fault === 'creases' || fault === 'head-touch'))
    return ruledOut(`${pull} carries the web, which needs ${pullRangeText(least.value, units)}`)
  return undefined
}

function tooHigh(asked: Asked, facts: WebFacts, set: Tension): Assessment | undefined {
  const { document, setup, fault } = asked
  const { least, levels, strain } = facts
  const { units, tolerance } = setup.shop
  const pull = pullText(set.value, units)
  const next = levels.findLast((l) => l.tension < set.value)?.tension ?? set.value * ONE_STEP
  const step = next >= floorOf(facts) ? pullAtMost(document, facts, next) : undefined
  const over = overGuard(asked, facts, set)
  if (over !== undefined) return { weight: LIKELY + 0.15, reason: over, step }
  if (least.ok && set.value < least.value.typical)
    return ruledOut(`${pull} already lets the web hang; it needs ${pullRangeText(least.value, units)}`)
  if (fault === 'creases') return foldsThin(asked, set.value, floorOf(facts), step)
  if (!strain.ok || fault !== 'length-short') return undefined
  return bySize(
    strain.value.typical / tolerance.length.value,
    `${pull} stretches the web by ${strainText(strain.value, units)}, and the shop allows ${allowedStretchText(setup)}`,
    step,
  )
}

/** A film this thin folds along the web where it is pulled harder than it must be, m (from memory). */
const THIN = 100e-6

function foldsThin({ setup }: Asked, set: number, floor: number, step: Assessment['step']): Assessment | undefined {
  const { thickness } = setup.material
  const { units } = setup.shop
  if (thickness === undefined || thickness > THIN || set <= floor) return undefined
  const needs = floor > 0 ? `, where ${pullText(floor, units, 2)} carry it` : ''
  const reason = `${pullText(set, units)} pull on a web of ${valueText(thickness, 'length', { units })}${needs}`
  return { weight: set > 2 * floor ? LIKELY : POSSIBLE, reason, step }
}

export const advice: AreaAdvice = { 'web.tension': tension }
