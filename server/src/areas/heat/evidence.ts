// What the readings of a zone prove today, in one of the five words: its law is linear, so they hold at other settings of the heater, and at another
// speed of the web where it had settled when it was read. Never `off`: nothing is keyed in from a reading.
import { escapeMarkdown } from '../../base/markdown.ts'
import { DAY } from '../../model/dates.ts'
import type { EvidenceWord } from '../../model/evidence-word.ts'
import type { Setup } from '../../model/setup.ts'
import { plainNumber } from '../../model/shown.ts'
import { unsettledText } from '../../model/unsettled.ts'
import { heatOf } from './facts.ts'
import { SETTLED, type Zone } from './path.ts'
import { type FullReading, SAME_SETTING, used } from './readings.ts'

export interface HeatEvidence {
  readonly word: Exclude<EvidenceWord, 'off'>
  /** Behind "it was"; undefined where nothing was read. */
  readonly reason: string | undefined
}

/** The word of a zone. */
export function heatEvidence(setup: Setup, zone: Zone): HeatEvidence {
  if (zone.coupling.origin !== 'readings') return { word: 'unknown', reason: undefined }
  const readings = used(zone.readings)
  if (setup.unsettled.length > 0)
    return { word: 'doubtful', reason: `read from a text that may not stay: ${unsettledText(setup)}` }
  const doubt = readings.find((reading) => reading.doubt !== undefined)?.doubt
  if (doubt !== undefined) return { word: 'doubtful', reason: doubt }
  const unsettled = readings.find((reading) => !hadSettled(setup, zone, reading))
  if (unsettled) return { word: 'doubtful', reason: 'made at another speed, where the web had not settled over the heater' }
  const age = Math.min(...readings.map((reading) => reading.age ?? Number.POSITIVE_INFINITY))
  const days = setup.shop.recheck.feed.value / DAY
  if (!Number.isFinite(age)) return { word: 'doubtful', reason: 'made on a day that is not written down' }
  if (age > days)
    return { word: 'doubtful', reason: `made ${age} days ago, and the shop trusts a check for ${plainNumber(days, 4)}` }
  const now = zone.set?.value.si
  const same = readings.some(
    (reading) => reading.webSpeed === undefined && now !== undefined && Math.abs(reading.set - now) <= SAME_SETTING,
  )
  return same
    ? { word: 'proven', reason: 'made at this setting' }
    : { word: 'carried', reason: 'made at another setting or speed, and the web follows its heater in proportion' }
}

/** Whether a web that ran at another speed was over the heater long enough; true at today's, where path.ts reckons with it. */
function hadSettled(setup: Setup, zone: Zone, { webSpeed }: FullReading): boolean {
  if (webSpeed === undefined) return true
  const { body } = heatOf(setup)
  const length = zone.heater?.length?.value.si
  if (!body.ok || length === undefined) return false
  const { grammage, heatCapacity } = body.value
  const capacity = grammage * (typeof heatCapacity === 'number' ? heatCapacity : heatCapacity.high)
  const slowest = capacity / (zone.coupling.range.low + zone.coupling.airLoss.low)
  return length / webSpeed >= SETTLED * slowest
}

const WORDS = { doubtful: 'Doubtful', carried: 'Carried', proven: 'Proven' } as const

const whatFirst = ({ unsettled }: Setup): string =>
  unsettled.length > 0 ? 'Settle the merge first. ' : 'Read the web here again. '

/** The word with its reason, and what to do, for a hover. Nothing where nothing was read. */
export function heatSentence(setup: Setup, zone: Zone): string | undefined {
  const { word, reason } = heatEvidence(setup, zone)
  if (word === 'unknown' || reason === undefined) return undefined
  const what = zone.coupling.fit?.readings === 1 ? 'the reading here was' : 'the readings here were'
  return escapeMarkdown(`${word === 'doubtful' ? whatFirst(setup) : ''}${WORDS[word]}: ${what} ${reason}.`)
}
