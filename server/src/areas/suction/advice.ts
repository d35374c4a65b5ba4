// The suction as a cause: what the level set does to this web, and what the level beside it would do.
import { isUnknown, strainWords, valueText } from '../../model/range-words.ts'
import { type AreaAdvice, type Assess, bySize, LIKELY, POSSIBLE, ruledOut, UNLIKELY } from '../advice.ts'
import { DIMPLE_SHOWS, suctionOf } from './facts.ts'
import { lowerLevel, nextLevel } from './shared.ts'
import { dimpleText, riseText, stepText, stretchText } from './words.ts'

/** Faults by which the drag of the suction shows, and not its pull on the holes or the edges. */
const DRAG: ReadonlySet<string> = new Set(['length-short', 'bands-dark', 'creases', 'tears'])

/** Share of the printer's strongest level from which a film is drawn into waves (from memory). */
const STRONG = 0.75

const suction: Assess = ({ document, setup, fault, way }) => {
  const facts = suctionOf(setup)
  const { current, up, airy, riseLimit, levels } = facts
  if (!current || airy || !way) return undefined
  const { units, tolerance } = setup.shop
  const at = stepText(current.level, units)
  const strongest = levels.at(-1)
  const isStrongest = strongest !== undefined && strongest.level === current.level.level
  if (way === 'up') {
    if (isStrongest) return ruledOut(`${at} is the strongest this printer has`)
    const { rise } = current.curl
    // Nothing is judged by a height that is not known.
    if (isUnknown(rise, 1e-6)) return { weight: POSSIBLE, reason: `how high a curl stands at ${at} is not known` }
    const reason = `at ${at} a curl stands ${riseText(current, units)} from the platen`
    const limit = valueText(riseLimit.value, 'length', { units })
    if (current.faults.includes('curl'))
      return { weight: LIKELY + 0.1, reason: `${reason}, more than ${limit}`, step: nextLevel(document, up) }
    if (rise.high <= riseLimit.value) return ruledOut(`${reason}, less than ${limit}`)
    return { weight: UNLIKELY + 0.1, reason: `${reason}, typically less than ${limit}` }
  }
  const step = lowerLevel(document, setup, facts)
  if (fault === 'cockle') {
    if (!strongest || current.level.pressure < STRONG * strongest.pressure) return undefined
    return { weight: LIKELY, reason: `${at} is ${isStrongest ? 'the strongest' : 'near the strongest'} this printer has`, step }
  }
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

export const advice: AreaAdvice = { suction }
