// The suction as a cause: what the level set does to this web, and what the level beside it would do.
import { isUnknown } from '../../model/range-words.ts'
import {
  type AreaAdvice,
  type Asked,
  type Assess,
  type Assessment,
  bySize,
  LIKELY,
  POSSIBLE,
  ruledOut,
  UNLIKELY,
} from '../advice.ts'
import { allowedStretchText } from '../web/words.ts'
import { DIMPLE_SHOWS, type SuctionFacts, suctionOf } from './facts.ts'
import { lowerLevel, nextLevel } from './shared.ts'
import { dimpleText, riseText, smallText, stepText, stretchText } from './words.ts'

/** Faults by which the drag of the suction shows, and not its pull on the holes or the edges. */
const DRAG: ReadonlySet<string> = new Set(['length-short', 'bands-dark', 'creases', 'tears'])

/** Share of the printer's strongest level from which a film is drawn into waves (from memory). */
const STRONG = 0.75

type Row = NonNullable<SuctionFacts['current']>

const suction: Assess = (asked) => {
  const facts = suctionOf(asked.setup)
  const { current, airy } = facts
  if (!current || airy || !asked.way) return undefined
  return asked.way === 'up' ? tooWeak(asked, facts, current) : tooStrong(asked, facts, current)
}

const isStrongest = ({ levels }: SuctionFacts, current: Row): boolean => levels.at(-1) === current.level

function tooWeak({ document, setup }: Asked, facts: SuctionFacts, current: Row): Assessment {
  const { units } = setup.shop
  const at = stepText(current.level, units)
  if (isStrongest(facts, current)) return ruledOut(`${at} is the strongest this printer has`)
  const { rise } = current.curl
  // Nothing is judged by a height that is not known.
  if (isUnknown(rise, 1e-6)) return { weight: POSSIBLE, reason: `how high a curl stands at ${at} is not known` }
  const reason = `at ${at} a curl stands ${riseText(current, units)} from the platen`
  const limit = smallText(facts.riseLimit.value, units)
  if (current.faults.includes('curl'))
    return { weight: LIKELY + 0.1, reason: `${reason}, more than ${limit}`, step: nextLevel(document, facts.up) }
  if (rise.high <= facts.riseLimit.value) return ruledOut(`${reason}, less than ${limit}`)
  return { weight: UNLIKELY + 0.1, reason: `${reason}, typically less than ${limit}` }
}

function tooStrong({ document, setup, fault }: Asked, facts: SuctionFacts, current: Row): Assessment | undefined {
  const { units, tolerance } = setup.shop
  const at = stepText(current.level, units)
  const step = lowerLevel(document, setup, facts)
  if (fault === 'cockle') {
    const strongest = facts.levels.at(-1)
    if (!strongest || current.pressure < STRONG * strongest.pressure) return undefined
    const how = isStrongest(facts, current) ? 'the strongest' : 'near the strongest'
    return { weight: LIKELY, reason: `${at} is ${how} this printer has`, step }
  }
  if (!DRAG.has(fault))
    return bySize(
      current.dimple.typical / DIMPLE_SHOWS.typical,
      `at ${at} the web sinks ${dimpleText(current, units)} into the holes`,
      step,
    )
  return bySize(
    current.strain.typical / tolerance.length.value,
    `at ${at} the drag stretches the web by ${stretchText(current, units)}, and the shop allows ${allowedStretchText(setup)}`,
    step,
  )
}

export const advice: AreaAdvice = { suction }
