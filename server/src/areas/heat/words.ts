// Heat in words: the web's way from heater to heater, what its temperature rests on, what the stock bears, and how hot a touch is.
import { escapeMarkdown, table } from '../../base/markdown.ts'
import { HEAT_CAUTION } from '../../calc/heat.ts'
import { burnsFrom, SHORTEST_TOUCH, TOUCH_SOURCE } from '../../calc/touch.ts'
import { degrees, duration, durationText, kelvins, webText } from '../../model/heat-words.ts'
import { changeText } from '../../model/range-words.ts'
import type { Setup } from '../../model/setup.ts'
import type { Shop } from '../../model/shop.ts'
import { type HeatLimit, heatOf, settlingTime } from './facts.ts'
import { WHERE, type Zone } from './path.ts'
import type { ZoneName } from './readings.ts'

/** `2 readings` */
export const readingsText = ({ fit }: Zone['coupling']): string =>
  `${fit?.readings ?? 0} reading${fit?.readings === 1 ? '' : 's'}`

/** `by 2 readings`, `reckoned with the printer's coupling`, `reckoned with a typical coupling`. */
export function basisText({ coupling }: Zone): string {
  if (coupling.origin === 'readings') return `by ${readingsText(coupling)}`
  return coupling.origin === 'printer' ? 'reckoned with typical losses to the air' : 'reckoned with a typical coupling'
}

/** What the stock bears, in words that stand behind "and": `the stock bears 50 °C`. */
export function limitText({ key, origin, range }: HeatLimit, units: Shop['units']): string {
  const bears = key === 'softens-at' ? 'softens at' : 'bears'
  if (origin === 'given') return `the stock ${bears} ${degrees(range.typical, units)}`
  return `stock of this family typically ${bears} ${webText(range, units)}`
}

/** Zone by zone what is set and what the web makes of it, this one marked; and why it is not told where it is not. */
export function pathTable(setup: Setup, here: ZoneName | undefined): string {
  const facts = heatOf(setup)
  const { units } = setup.shop
  const heated = facts.zones.filter(({ heater }) => heater)
  const rows = heated.map((zone) => {
    const { set, web } = zone
    const margin = facts.margins.get(zone.zone)?.margin
    const settling = settlingTime(facts, zone)
    return [
      zone.zone === here ? `**${WHERE[zone.zone]}**` : WHERE[zone.zone],
      set ? degrees(set.value.si, units) : '—',
      web.ok ? webText(web.value.leave, units) : '—',
      web.ok ? duration(web.value.dwell) : '—',
      settling.ok ? durationText(settling.value) : '—',
      margin ? kelvins(margin.typical, units) : '—',
    ]
  })
  const { free } = facts
  if (free?.ok) rows.push(['to the roll', '', webText(free.value.leave, units), duration(free.value.dwell), '', ''])
  const told = table(['the web', 'set', 'reaches', 'stays', 'settles in', 'margin'], rows)
  const missing = [...new Set(heated.flatMap(({ web }) => (web.ok ? [] : [web.problem.reason])))]
  return missing.length > 0 ? `${told}\n\nNot told: ${escapeMarkdown(missing.join('; '))}.` : told
}

/** What is left to say where no printer tells of its heaters. */
export function undescribedSentence(setup: Setup, { zone }: Zone): string {
  const { shop, printer } = setup
  const { settled, limit } = heatOf(setup)
  const web = settled.get(zone)?.web
  const why = printer ? 'The printer does not give its heaters' : 'The printer is not known'
  const stays = web ? `: a web that stays there settles at ${webText(web, shop.units)}` : ''
  const bears = limit ? `, and ${limitText(limit, shop.units)}` : ''
  return escapeMarkdown(`${why}, so the web cannot be followed${stays}${bears}.`)
}

/** What the temperature over one heater rests on, and how far it may be trusted. */
export const webSentence = (setup: Setup, { coupling, web }: Zone): string =>
  [
    `In a room of ${degrees(heatOf(setup).air, setup.shop.units)}, ${couplingText(coupling)}.`,
    ...(web.ok ? TRUST[web.value.trust] : []),
  ].join(' ')

function couplingText(coupling: Zone['coupling']): string {
  const { origin, range, fit, unfitted } = coupling
  const number = `${Number(range.typical.toPrecision(2))} W/m²K`
  const why = unfitted ? ` (the readings are of no use: ${escapeMarkdown(unfitted)})` : ''
  if (origin === 'printer') return `with the printer's coupling of ${number} and typical losses to the air${why}`
  if (origin === 'typical') return `with a typical coupling (${range.low} to ${range.high} W/m²K, from memory)${why}`
  const share = Math.round((fit?.share.typical ?? 0) * 100)
  return `as ${readingsText(coupling)} of the web tell${fit?.readings === 1 ? 's' : ''}: it takes on ${share} % of the heater's rise above the room`
}

const TRUST = {
  good: [],
  approximate: ['An estimate: for this heater the media is thick enough to lag inside.'],
  unchecked: ['Thickness or conductivity is not known, so the media is taken as warm throughout.'],
  face: ['The media is too thick for one temperature: this is its face, as it was read.'],
} as const

export function limitSentence(setup: Setup): string | undefined {
  const { limit } = heatOf(setup)
  if (!limit) return undefined
  const text = limitText(limit, setup.shop.units)
  return `${escapeMarkdown(text.slice(0, 1).toUpperCase() + text.slice(1))}.`
}

export function growthSentence(setup: Setup): string | undefined {
  const { growth } = heatOf(setup)
  const { units, referenceTemperature } = setup.shop
  if (!growth.ok) return undefined
  return `Here the web is ${changeText(growth.value, units)} than at ${degrees(referenceTemperature.value, units)}.`
}

/** W below which nobody asks. */
const NO_POWER = 0.5

export function powerSentence(setup: Setup, { zone }: Zone): string | undefined {
  const power = heatOf(setup).power.get(zone)
  return power && power.typical >= NO_POWER ? `It takes ${Math.round(power.typical)} W from the heater.` : undefined
}

/** Where the web is hottest, and how that stands to what the stock bears. */
export function hottestSentence(setup: Setup): string | undefined {
  const { hottest, limit, margins } = heatOf(setup)
  const { units } = setup.shop
  if (!hottest?.web.ok) return undefined
  const margin = margins.get(hottest.zone)
  const bears = limit && margin ? `, ${VERDICT[margin.verdict]}: ${limitText(limit, units)}` : ''
  return `Hottest ${WHERE[hottest.zone]}: ${webText(hottest.web.value.leave, units)}${bears}.`
}

const VERDICT = {
  within: 'within the limit',
  uncertain: 'too near the limit to tell without a reading',
  over: 'above the limit',
} as const

export function readingsSentence({ shop: { units } }: Setup, { readings }: Zone): string | undefined {
  if (readings.length === 0) return undefined
  const below = readings.map((r) => `${kelvins(r.set - r.web, units)} below ${degrees(r.set, units)}`)
  return `Read here: ${below.join(', ')}.`
}

/** The set-point is what is known; a control overshoots it, and a touch shorter than the one that is told is no promise. */
export function touchSentence({ shop }: Setup, { set }: Zone): string | undefined {
  if (!set) return undefined
  const from = burnsFrom({ temperature: set.value.si, surface: 'metal' })
  if (!from.ok || from.value === undefined) return `Caution: ${HEAT_CAUTION}`
  const surface = degrees(set.value.si, shop.units)
  const time =
    from.value > SHORTEST_TOUCH
      ? `from about ${duration(roundedDown(from.value))} of touch on`
      : 'at a touch of half a second or less'
  return `Caution: bare metal of ${surface} burns ${time}, and sooner where the control overshoots. ${TOUCH_SOURCE}`
}

/** Two digits of the unit it is told in, never more than it is. */
function roundedDown(seconds: number): number {
  const unit = seconds >= 5400 ? 3600 : seconds >= 100 ? 60 : 1
  const step = unit * 10 ** (Math.floor(Math.log10(seconds / unit)) - 1)
  return Math.floor(seconds / step + 1e-9) * step
}
