// Landing as a cause: what has changed since the alignment, its age, and the height the drops fall.

import { isUnknown, rangeText, valueText } from '../../model/range-words.ts'
import { type AreaAdvice, type Assess, LIKELY, POSSIBLE, PROVEN, ruledOut, UNLIKELY } from '../advice.ts'
import { suctionOf } from '../suction/facts.ts'
import { noRoom, setGap } from '../suction/shared.ts'
import { isVoid, landingOf, SAME_LENGTH } from './facts.ts'
import { gapsWithRoom } from './head-room.ts'
import { perGapStep } from './words.ts'

const alignment =
  (kind: 'one-way' | 'two-way'): Assess =>
  ({ setup }) => {
    const facts = landingOf(setup)
    const { since, recheckDays, twoWay } = facts
    if (kind === 'two-way' && twoWay === false) return ruledOut('the mode prints one way only')
    if (!since) return { weight: LIKELY, reason: 'there is no alignment: print the pattern and pick' }
    const { units } = setup.shop
    const { doubt } = since
    if (doubt) return { weight: LIKELY, reason: `the alignment was ${doubt.reason}: print the pattern and pick` }
    if (kind === 'two-way' && isVoid(facts) && since.total.ok)
      return {
        weight: PROVEN,
        reason: `since the alignment the landing has moved by ${rangeText(since.total.value, 'length', { units })}`,
      }
    const picks = facts.picks[kind]
    const apart = picks?.ok ? picks.value.apart[0] : undefined
    if (apart) return { weight: LIKELY + 0.05, reason: `${apart.channel} stands apart from the other channels` }
    if (since.age !== undefined && since.age > recheckDays)
      return {
        weight: LIKELY - 0.05,
        reason: `the alignment is ${since.age} days old, and the shop aligns again after ${Number(recheckDays.toFixed(1))}`,
      }
    const changed = since.gap || since.thickness || since.speed
    const meanwhile = !changed
      ? 'nothing has changed since'
      : kind === 'one-way'
        ? 'what has changed since moves out and back apart, and all inks alike'
        : 'what has changed since moves the landing by less than the shop allows'
    return { weight: UNLIKELY + 0.15, reason: `the alignment is ${since.age ?? 0} days old, and ${meanwhile}` }
  }

const gap: Assess = ({ document, setup, way }) => {
  const set = setup.profile.gap
  if (!set || !way) return undefined
  const { units } = setup.shop
  const { clearance, current } = suctionOf(setup)
  if (way === 'up') {
    const rise = current?.curl.rise
    const higher = gapsWithRoom(setup, rise).find((g) => g.si > set.value.si + SAME_LENGTH)
    const step = higher ? setGap(document, higher, 'and align again') : noRoom(setup, rise)
    if (clearance === undefined) return undefined
    const left = `${valueText(clearance, 'length', { units })} is left between web and heads`
    if (rise && rise.high >= clearance) {
      const stands = isUnknown(rise, 1e-6)
        ? 'how high an edge stands is not known'
        : `an edge stands ${rangeText(rise, 'length', { units })}`
      return { weight: rise.typical >= clearance ? PROVEN : LIKELY, reason: `${left}, and ${stands}`, step }
    }
    return { weight: clearance < 1e-3 ? POSSIBLE + 0.1 : UNLIKELY + 0.2, reason: left, step }
  }
  const { offset } = landingOf(setup)
  // Lowering the heads is never offered as a fix: what keeps the web off them must be looked at first.
  return offset.ok
    ? {
        weight: UNLIKELY + 0.1,
        reason: `each 0.1 mm of gap moves two-way dots apart by ${rangeText(perGapStep(offset.value.perGap), 'length', { units })}`,
      }
    : undefined
}

export const advice: AreaAdvice = { 'alignment.one-way': alignment('one-way'), 'alignment.two-way': alignment('two-way'), gap }
