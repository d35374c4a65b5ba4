// Heat and drying as causes: the web's temperature against its limit, its growth over the platen, and whether it is dry when it is wound.
import { dryingOf } from '../../../model/drying.ts'
import { heatOf } from '../../../model/heat.ts'
import { HEATER, type ZoneName } from '../../../model/heat-path.ts'
import { rangeText, strainWords, valueText } from '../../../model/range-words.ts'
import { dryingPause, timeLike } from '../drying.ts'
import { highestSafe, onStep, setHeat } from '../heat.ts'
import { writeSetting } from '../setting.ts'
import { type Asked, type Assess, type Assessment, LIKELY, POSSIBLE, PROVEN, UNLIKELY } from './assessment.ts'
import { bySize } from './suction.ts'

/** One step to try on a heater, K: less is not felt, more is not one step (common practice). */
const TRY = 2

export const heat =
  (name: ZoneName): Assess =>
  (asked) => {
    const { setup, fault, way } = asked
    const facts = heatOf(setup)
    const zone = facts.zones.find((z) => z.zone === name)
    if (!zone?.set || !way) return undefined
    if (way === 'up') return fault === 'sticking' || fault === 'wet-at-winding' ? wetness(asked) : undefined
    const { units, tolerance } = setup.shop
    const cooler = onStep(zone, zone.set.value.si - Math.max(TRY, zone.step ?? 0), 'down')
    const inside = (celsius: number): boolean => !zone.range || celsius >= zone.range[0]
    const step = inside(cooler) ? setHeat(asked.document, zone, cooler) : undefined
    const margin = facts.margins.get(name)
    if (margin && facts.limit && margin.verdict !== 'within' && fault !== 'length-long') {
      const web = zone.web.ok ? rangeText(zone.web.value.hottest, 'temperature', { units }) : ''
      const safe = highestSafe(facts, zone, facts.limit)
      const reason = `the web reaches ${web} over ${HEATER[name]}, and its ${facts.limit.origin === 'typical' ? 'typical ' : ''}limit is ${rangeText(facts.limit.range, 'temperature', { units })}`
      return {
        weight: margin.verdict === 'over' ? PROVEN : LIKELY,
        reason,
        step: safe === undefined ? step : setHeat(asked.document, zone, safe),
      }
    }
    if (name === 'platen' && facts.growth.ok && (fault === 'length-short' || fault === 'length-long')) {
      const allowed = valueText(tolerance.length.value, 'relative', strainWords(units))
      const grown = rangeText(facts.growth.value, 'relative', strainWords(units))
      // A web that is printed warm and measured cold is short by what it had grown, unless the correction was found that way too.
      return {
        ...bySize(
          Math.min(facts.growth.value.typical / tolerance.length.value, 1) * 0.9,
          `over the platen the web has grown by ${grown}, and the shop allows ${allowed}; checks on the cold print take it up`,
          step,
        ),
      }
    }
    return margin?.verdict === 'within'
      ? {
          weight: fault === 'overheated-web' ? POSSIBLE : UNLIKELY + 0.1,
          reason: `the web stays below its limit by ${rangeText(margin.margin, 'temperature-difference', { units })}`,
        }
      : undefined
  }

export const pause: Assess = (asked) => (asked.way === 'up' ? wetness(asked) : undefined)

/** Whether the print is dry when it is wound, and the pause that would make it so. */
function wetness({ document, setup, fault }: Asked): Assessment | undefined {
  if (fault !== 'wet-at-winding' && fault !== 'sticking') return undefined
  const facts = dryingOf(setup)
  const { margin, winding, needed } = facts
  if (!margin || !winding.ok || !needed.ok) return undefined
  const { units } = setup.shop
  const reason = `the print is wound ${valueText(winding.value.running, 'time', { units })} after it is printed, and needs ${rangeText(needed.value.time, 'time', { units })} to be touch-dry`
  if (margin.verdict === 'dry') return { weight: UNLIKELY + 0.1, reason }
  const seconds = dryingPause(facts)
  const text = seconds === undefined ? undefined : timeLike(seconds, setup.profile.drying?.pause?.value)
  return {
    weight: margin.verdict === 'wet' ? PROVEN : POSSIBLE + 0.2,
    reason,
    step: text === undefined ? undefined : writeSetting(document, ['drying', 'pause'], text, `Set the pause to ${text}`),
  }
}

export const runOut: Assess = ({ setup, way }) => {
  const { last } = dryingOf(setup)
  if (!last || way !== 'up') return undefined
  const { units } = setup.shop
  const reason = `the last print is held ${valueText(last.available, 'time', { units })}, and needs ${rangeText(last.needed, 'time', { units })}`
  return last.available < last.needed.typical ? { weight: LIKELY, reason } : { weight: UNLIKELY + 0.1, reason }
}
