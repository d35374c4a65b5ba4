// The suction as a cause: what the level set does to this web, and what the level beside it would do.
import { strainWords, valueText } from '../../../model/range-words.ts'
import { DIMPLE_SHOWS, suctionOf } from '../../../model/suction.ts'
import { dimpleText, riseText, stepText, stretchText } from '../../../model/suction-words.ts'
import { nextLevel } from '../suction.ts'
import { type Assess, type Assessment, LIKELY, POSSIBLE, UNLIKELY } from './assessment.ts'

/** Faults by which the drag of the suction shows, and not its pull on the holes or the edges. */
const DRAG: ReadonlySet<string> = new Set(['length-short', 'bands-dark', 'creases', 'tears'])

export const suction: Assess = ({ document, setup, fault, way }) => {
  const { current, down, up, airy, riseLimit } = suctionOf(setup)
  if (!current || airy) return undefined
  const { units, tolerance } = setup.shop
  const at = stepText(current.level, units)
  if (way === 'up') {
    const reason = `at ${at} a curl stands ${riseText(current, units)} from the platen`
    return current.faults.includes('curl')
      ? {
          weight: LIKELY + 0.1,
          reason: `${reason}, more than ${valueText(riseLimit.value, 'length', { units })}`,
          step: nextLevel(document, up),
        }
      : { weight: UNLIKELY + 0.1, reason: `${reason}, which is held` }
  }
  if (way !== 'down') return undefined
  const step = nextLevel(document, down)
  if (!DRAG.has(fault))
    return bySize(
      current.dimple.typical / DIMPLE_SHOWS.typical,
      `at ${at} the web sinks ${dimpleText(current, units)} into the holes`,
      step,
    )
  const allowed = valueText(tolerance.length.value, 'relative', strainWords(units))
  return bySize(
    current.strain.typical / tolerance.length.value,
    `at ${at} the drag stretches the web by ${stretchText(current, units)}, and the shop allows ${allowed}`,
    step,
  )
}

/** Weight by how large the effect is beside what is allowed. */
export function bySize(ratio: number, reason: string, step: Assessment['step']): Assessment {
  if (ratio > 1) return { weight: Math.min(LIKELY + 0.12, LIKELY + 0.04 * ratio), reason, step }
  return ratio > 0.3 ? { weight: POSSIBLE, reason, step } : { weight: UNLIKELY, reason: `${reason}: too little to matter` }
}
