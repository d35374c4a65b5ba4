// Heat and drying as causes: the web's temperature against its limit, its growth over the platen, and whether it is dry when it is wound.
import { ok } from '../../base/outcome.ts'
import { mapRange } from '../../calc/range.ts'
import { webText } from '../../model/heat-words.ts'
import { rangeText, strainWords, valueText } from '../../model/range-words.ts'
import { writeSetting } from '../../rules/support/setting.ts'
import {
  type AreaAdvice,
  type Asked,
  type Assess,
  type Assessment,
  bySize,
  LIKELY,
  POSSIBLE,
  PROVEN,
  ruledOut,
} from '../advice.ts'
import { dryingOf } from '../drying/facts.ts'
import { dryingPause, timeLike } from '../drying/shared.ts'
import { feedOf } from '../feed/facts.ts'
import { checksText } from '../feed/words.ts'
import { climateOf } from '../room/facts.ts'
import { heatOf } from './facts.ts'
import { HEATER } from './path.ts'
import type { ZoneName } from './readings.ts'
import { highestSafe, onStep, setHeat } from './shared.ts'

/** One step to try on a heater, K: less is not felt, more is not one step (common practice). */
const TRY = 2

const heat =
  (name: ZoneName): Assess =>
  (asked) => {
    const { setup, fault, way } = asked
    const facts = heatOf(setup)
    const zone = facts.zones.find((z) => z.zone === name)
    if (!zone?.set || !way) return undefined
    if (way === 'up') return fault === 'sticking' || fault === 'wet-at-winding' ? wetness(asked) : undefined
    const { units } = setup.shop
    const cooler = onStep(zone, zone.set.value.si - Math.max(TRY, zone.step ?? 0), 'down')
    const inside = (celsius: number): boolean => !zone.range || celsius >= zone.range[0]
    const step = inside(cooler) ? setHeat(asked.document, zone, cooler) : undefined
    const margin = facts.margins.get(name)
    if (margin && facts.limit && margin.verdict !== 'within') {
      const web = zone.web.ok ? webText(zone.web.value.hottest, units) : ''
      const safe = highestSafe(facts, zone, facts.limit)
      const reason = `the web reaches ${web} over ${HEATER[name]}, and its ${facts.limit.origin === 'typical' ? 'typical ' : ''}limit is ${webText(facts.limit.range, units)}`
      return {
        weight: margin.verdict === 'over' ? PROVEN : LIKELY,
        reason,
        step: safe === undefined ? step : setHeat(asked.document, zone, safe),
      }
    }
    if (name === 'platen' && (fault === 'length-short' || fault === 'length-long')) return changeOnPlaten(asked, step)
    // Below its limit by reckoning, and spoilt by what is seen: a reckoned web is worth less than the web.
    return fault === 'overheated-web' && margin
      ? {
          weight: POSSIBLE,
          reason: `reckoned, the web stays below its limit by ${rangeText(margin.margin, 'temperature-difference', { units })}: measure what it reaches`,
          step,
        }
      : undefined
  }

/** A web that is printed warm and measured cold has changed by then, unless a check of the cold print has found the correction that takes it up. */
function changeOnPlaten({ setup, fault }: Asked, step: Assessment['step']): Assessment | undefined {
  const { units, tolerance } = setup.shop
  const { growth } = heatOf(setup)
  const { atPlaten } = climateOf(setup)
  const lengthened = fault === 'length-short' ? growth : atPlaten.ok ? ok(atPlaten.value.growth) : atPlaten
  if (!lengthened.ok) return undefined
  const shrunk = fault === 'length-long'
  const change = shrunk ? mapRange(lengthened.value, (g) => -g) : lengthened.value
  if (change.typical <= 0)
    return ruledOut(`over the platen the web ${shrunk ? 'has not shrunk' : 'has not grown'} by what is reckoned`)
  const { reckoning, stale } = feedOf(setup)
  const found = `over the platen the web ${shrunk ? 'has shrunk by up to' : 'has grown by'} ${rangeText(change, 'relative', strainWords(units))}`
  if (reckoning?.combined && !stale)
    return ruledOut(`${found}, which ${checksText(reckoning.combined.n)} of the cold print took up`)
  const allowed = valueText(tolerance.length.value, 'relative', strainWords(units))
  return bySize(change.typical / tolerance.length.value, `${found}, and the shop allows ${allowed}`, step)
}

const pause: Assess = (asked) => (asked.way === 'up' ? wetness(asked) : undefined)

/** Whether the print is dry when it is wound, and the pause that would make it so. */
function wetness({ document, setup, fault }: Asked): Assessment | undefined {
  if (fault !== 'wet-at-winding' && fault !== 'sticking') return undefined
  const facts = dryingOf(setup)
  const { margin, winding, dry } = facts
  if (!margin || !winding.ok || !dry.ok) return undefined
  const { units } = setup.shop
  const reason = `the print is wound ${valueText(winding.value.running, 'time', { units })} after it is printed, and needs ${rangeText(dry.value, 'time', { units })} to be touch-dry`
  if (margin.verdict === 'dry') return ruledOut(reason)
  const seconds = dryingPause(facts)
  const text = seconds === undefined ? undefined : timeLike(seconds, setup.profile.drying?.pause?.value)
  return {
    weight: margin.verdict === 'wet' ? PROVEN : POSSIBLE + 0.2,
    reason,
    step: text === undefined ? undefined : writeSetting(document, ['drying', 'pause'], text, `Set the pause to ${text}`),
  }
}

const runOut: Assess = ({ setup, way }) => {
  const { last } = dryingOf(setup)
  if (!last || way !== 'up') return undefined
  const { units } = setup.shop
  const reason = `the last print is held ${valueText(last.available, 'time', { units })}, and needs ${rangeText(last.needed, 'time', { units })}`
  if (last.available >= last.needed.high) return ruledOut(reason)
  return { weight: last.available < last.needed.typical ? LIKELY : POSSIBLE, reason }
}

export const advice: AreaAdvice = {
  'heat.before': heat('before'),
  'heat.platen': heat('platen'),
  'heat.after': heat('after'),
  'drying.pause': pause,
  'drying.run-out': runOut,
}
