// Heat in numbers: the web's temperature along its path, its margin to what the stock bears, its growth, and how hot a touch is.

import { escapeMarkdown, table } from '../../base/markdown.ts'
import { HEAT_CAUTION } from '../../calc/heat.ts'
import { mapRange } from '../../calc/range.ts'
import { burnsFrom, SHORTEST_TOUCH, TOUCH_SOURCE } from '../../calc/touch.ts'
import type { NumbersSection } from '../../features/numbers.ts'
import { degrees, duration, kelvins, webText } from '../../model/heat-words.ts'
import { rangeText, strainWords } from '../../model/range-words.ts'
import type { Setup } from '../../model/setup.ts'
import { nodeAt } from '../../syntax/tree.ts'
import { vapourLines } from '../vapour/words.ts'
import { type HeatFacts, heatOf } from './facts.ts'
import { HEATER, WHERE, ZONES, type Zone, type ZoneName } from './path.ts'
import { limitText } from './words.ts'

export const hover: NumbersSection = {
  paths: ['heat'],
  render(setup, path) {
    const facts = heatOf(setup)
    if (facts.zones.length === 0) return undefined
    const zone = facts.zones.find((z) => z.zone === zoneAt(setup, path))
    if (zone && !zone.heater)
      return setup.printer?.heaters
        ? `The printer has no ${HEATER[zone.zone]}: this setting does nothing.`
        : [undescribed(setup, facts, zone), touchSentence(setup, zone)].filter((line) => line !== undefined).join('\n\n')
    const vapour = path[1] === 'fan' ? vapourLines(setup) : undefined
    const lines = [
      pathTable(setup, facts, zone?.zone),
      zone && path[1] === 'readings' ? readingsSentence(setup, zone) : undefined,
      zone ? zoneSentence(setup, facts, zone) : hottestSentence(setup, facts),
      zone ? touchSentence(setup, zone) : `Caution: ${HEAT_CAUTION}`,
      ...(vapour ?? []),
    ]
    return lines.filter((line) => line !== undefined).join('\n\n')
  },
}

/** What is left to say where no printer tells of its heaters. */
function undescribed({ shop, printer }: Setup, { settled, limit }: HeatFacts, { zone }: Zone): string {
  const web = settled.get(zone)?.web
  const why = printer ? 'The printer does not give its heaters' : 'The printer is not known'
  const stays = web ? `: a web that stays there settles at ${webText(web, shop.units)}` : ''
  const bears = limit ? `, and ${limitText(limit, shop.units)}` : ''
  return escapeMarkdown(`${why}, so the web cannot be followed${stays}${bears}.`)
}

/** The zone a path of `heat` speaks of: by its key, or the zone of a reading. */
function zoneAt({ own }: Setup, path: readonly (string | number)[]): ZoneName | undefined {
  if (path[1] !== 'readings') return ZONES.find((zone) => zone === path[1])
  const list = own.heat?.readings
  const item = nodeAt(list?.$.node, path.slice(2, 3))
  return list?.items.find((reading) => reading.$.node === item)?.zone?.value
}

function pathTable(setup: Setup, facts: HeatFacts, here: ZoneName | undefined): string {
  const { units } = setup.shop
  const rows = facts.zones
    .filter((zone) => zone.heater)
    .map((zone) => {
      const { set, web } = zone
      const margin = facts.margins.get(zone.zone)?.margin
      const name = zone.zone === here ? `**${WHERE[zone.zone]}**` : WHERE[zone.zone]
      return [
        name,
        set ? degrees(set.value.si, units) : '—',
        web.ok ? webText(web.value.leave, units) : '—',
        web.ok ? duration(web.value.dwell) : '—',
        margin ? kelvins(margin.typical, units) : '—',
      ]
    })
  const { free } = facts
  if (free?.ok) rows.push(['to the roll', '', webText(free.value.leave, units), duration(free.value.dwell), ''])
  const told = table(['the web', 'set', 'reaches', 'stays', 'margin'], rows)
  const missing = [...new Set(facts.zones.flatMap(({ heater, web }) => (heater && !web.ok ? [web.problem.reason] : [])))]
  return missing.length > 0 ? `${told}\n\nNot told: ${escapeMarkdown(missing.join('; '))}.` : told
}

/** What the numbers of one zone rest on and lead to. */
function zoneSentence(setup: Setup, facts: HeatFacts, zone: Zone): string {
  const { units } = setup.shop
  const { limit, growth } = facts
  const parts = [`In a room of ${degrees(facts.air, units)}, ${couplingWords(zone)}.`]
  if (zone.web.ok) parts.push(...TRUST[zone.web.value.trust])
  if (limit) parts.push(`${escapeMarkdown(capital(limitText(limit, units)))}.`)
  if (zone.zone === 'platen' && growth.ok) {
    const shrunk = growth.value.typical < 0
    const size = shrunk ? mapRange(growth.value, (g) => -g) : growth.value
    const than = degrees(setup.shop.referenceTemperature.value, units)
    parts.push(
      `Here the web is ${rangeText(size, 'relative', strainWords(units))} ${shrunk ? 'shorter' : 'longer'} than at ${than}.`,
    )
  }
  const watts = facts.power.get(zone.zone)
  if (watts && watts.typical >= 0.5) parts.push(`It takes ${Math.round(watts.typical)} W from the heater.`)
  return parts.join(' ')
}

function couplingWords({ coupling }: Zone): string {
  const { origin, range, fit, unfitted } = coupling
  const number = `${Number(range.typical.toPrecision(2))} W/m²K`
  const why = unfitted ? ` (the readings are of no use: ${escapeMarkdown(unfitted)})` : ''
  if (origin === 'printer') return `with the printer's coupling of ${number} and typical losses to the air${why}`
  if (origin === 'typical') return `with a typical coupling (${range.low} to ${range.high} W/m²K, from memory)${why}`
  const n = fit?.readings ?? 0
  return `as ${n} reading${n === 1 ? '' : 's'} of the web tell${n === 1 ? 's' : ''}: it takes on ${Math.round((fit?.share.typical ?? 0) * 100)} % of the heater's rise above the room`
}

const TRUST = {
  good: [],
  approximate: ['An estimate: for this heater the media is thick enough to lag inside.'],
  unchecked: ['Thickness or conductivity is not known, so the media is taken as warm throughout.'],
  face: ['The media is too thick for one temperature: this is its face, as it was read.'],
} as const

function hottestSentence({ shop }: Setup, { hottest, limit, margins }: HeatFacts): string | undefined {
  if (!hottest?.web.ok) return undefined
  const margin = margins.get(hottest.zone)
  const verdict = margin && VERDICT[margin.verdict]
  const bears = limit && verdict ? `, ${verdict}: ${limitText(limit, shop.units)}` : ''
  return `Hottest ${WHERE[hottest.zone]}: ${webText(hottest.web.value.leave, shop.units)}${bears}.`
}

const VERDICT = {
  within: 'within the limit',
  uncertain: 'too near the limit to tell without a reading',
  over: 'above the limit',
} as const

function readingsSentence(setup: Setup, { readings }: Zone): string | undefined {
  const { units } = setup.shop
  if (readings.length === 0) return undefined
  const below = readings.map((r) => `${kelvins(r.set - r.web, units)} below ${degrees(r.set, units)}`)
  return `Read here: ${below.join(', ')}.`
}

/** The set-point is what is known; a control overshoots it, and a touch shorter than the one that is told is no promise. */
function touchSentence({ shop }: Setup, { set }: Zone): string | undefined {
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

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1)
