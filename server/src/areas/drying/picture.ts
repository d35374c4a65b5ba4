// The web's path as a picture: how warm it is from the first heater to the roll, how long it stays where, and where the print is dry.
import { plainText } from '../../base/plain-text.ts'
import type { Range } from '../../calc/range.ts'
import { degrees, duration, durationText, kelvins, webText } from '../../model/heat-words.ts'
import type { Setup } from '../../model/setup.ts'
import type { Band, Line, Picture, PictureRow, Point, Stretch, Upright } from '../../picture/picture.ts'
import { fromSi } from '../../quantities/convert.ts'
import { findUnit } from '../../quantities/units.ts'
import { webAlong } from '../heat/along.ts'
import { type HeatFacts, heatOf } from '../heat/facts.ts'
import { dryingLengths, WHERE, type Zone, type ZoneWeb } from '../heat/path.ts'
import { hottestSentence, limitText } from '../heat/words.ts'
import type { AreaPicture } from '../picture.ts'
import { dryingOf } from './facts.ts'
import { neededSentence, pauseSentence, windingSentence } from './words.ts'

export const picture: AreaPicture = (setup) => {
  const heat = heatOf(setup)
  if (heat.zones.length === 0) return undefined
  const { margin } = dryingOf(setup)
  const parts = partsOf(setup, heat)
  const drawn = parts.filter(({ web }) => web)
  const missing = [...new Set(heat.zones.flatMap(({ heater, web }) => (heater && !web.ok ? [web.problem.reason] : [])))]
  const told = [windingSentence(setup), neededSentence(setup), pauseSentence(setup)].filter((line) => line !== undefined)
  return {
    id: 'path',
    title: 'The web from the first heater to the roll',
    said: [hottestSentence(setup), margin && VERDICT[margin.verdict]].filter((line) => line !== undefined).map(plainText),
    chart:
      drawn.length === 0
        ? undefined
        : {
            x: { kind: 'number', label: `${metric(setup) ? 'm' : 'in'} of web, counted from the end of the platen` },
            y: { label: unitOf(setup) },
            bands: limitsOf(setup, heat),
            lines: linesOf(setup, heat, drawn),
            uprights: dryAt(setup),
            spans: parts.map((part): Stretch => ({ from: along(setup, part.from), to: along(setup, part.to), name: part.name })),
            points: drawn.map((part) => pointOf(setup, part)),
          },
    table: {
      header: ['the web', 'set', 'reaches', 'stays', 'margin'],
      rows: parts.map((part) => rowOf(setup, heat, part)),
    },
    notes: [...(missing.length > 0 ? [`Not told: ${missing.join('; ')}.`] : []), ...told.map(plainText)],
    at: setup.profile.heat?.$ ?? setup.profile.drying?.$,
  } satisfies Picture
}

const VERDICT = {
  dry: 'The print is dry when it is wound.',
  uncertain: 'Whether the print is dry when it is wound only a touch tells, gloved and with the machine stopped.',
  wet: 'The print is wound wet.',
} as const

/** One stretch of the web's way, in metres from the end of the platen. */
interface Part {
  readonly id: string
  readonly name: string
  readonly from: number
  readonly to: number
  readonly zone: Zone | undefined
  readonly web: ZoneWeb | undefined
}

/** The heaters whose length is known lie one behind the other; what lies free follows to the roll. */
function partsOf(setup: Setup, { zones, free }: HeatFacts): readonly Part[] {
  const length = ({ heater }: Zone): number => Math.max(0, heater?.length?.value.si ?? 0)
  const heated = zones.filter(({ heater }) => heater)
  let at = -heated.reduce((sum, zone) => sum + (zone.zone === 'after' ? 0 : length(zone)), 0)
  const parts = heated.map((zone): Part => {
    const from = at
    at += length(zone)
    return { id: zone.zone, name: SHORT[zone.zone], from, to: at, zone, web: zone.web.ok ? zone.web.value : undefined }
  })
  const lengths = dryingLengths(setup)
  if (!free || !lengths.ok) return parts
  const to = at + lengths.value.free
  return [...parts, { id: 'free', name: 'to the roll', from: at, to, zone: undefined, web: free.ok ? free.value : undefined }]
}

const SHORT = { before: 'before', platen: 'platen', after: 'after' } as const

const metric = ({ shop }: Setup): boolean => shop.units === 'metric'

const along = (setup: Setup, metres: number): number => (metric(setup) ? metres : fromSi(metres, findUnit('in', 'length')!))

const unitOf = (setup: Setup): string => (metric(setup) ? '°C' : '°F')

const warmth = (setup: Setup, celsius: number): number => fromSi(celsius, findUnit(unitOf(setup), 'temperature')!)

/** How much of a stretch has passed where the web is drawn. */
const SHARES = [0, 0.03, 0.08, 0.15, 0.25, 0.4, 0.65, 1] as const

/** The web from stretch to stretch, with its ends; what the heaters are set to; and the room. */
function linesOf(setup: Setup, heat: HeatFacts, drawn: readonly Part[]): readonly Line[] {
  const runs: Part[][] = []
  for (const part of drawn) {
    const last = runs.at(-1)
    // Where a stretch between is not told, there is no line.
    if (last?.at(-1)?.to === part.from) last.push(part)
    else runs.push([part])
  }
  const way = (run: readonly Part[]): readonly { readonly at: number; readonly web: Range }[] =>
    run.flatMap(({ from, to, zone, web }) =>
      SHARES.flatMap((share) => {
        const here = webAlong(heat, web!, zone, share)
        return here ? [{ at: from + share * (to - from), web: here }] : []
      }),
    )
  const around = ({ low, high }: Range): readonly [number, number] => [warmth(setup, low), warmth(setup, high)]
  const set = drawn.flatMap(({ zone, from, to }) =>
    zone?.set
      ? [
          {
            points: [from, to].map((x) => [along(setup, x), warmth(setup, zone.set!.value.si)] as const),
            look: 'set' as const,
            name: 'heater, set',
          },
        ]
      : [],
  )
  return [
    ...runs.map((run): Line => {
      const places = way(run)
      return {
        points: places.map(({ at, web }) => [along(setup, at), warmth(setup, web.typical)] as const),
        around: places.map(({ web }) => around(web)),
        look: 'asked',
        name: 'the web, with its ends',
      }
    }),
    ...set,
  ]
}

/** What the stock bears. */
function limitsOf(setup: Setup, { limit }: HeatFacts): readonly Band[] {
  if (!limit) return []
  const { low, high } = limit.range
  return [{ low: warmth(setup, low), high: warmth(setup, high), look: 'limit', name: limitText(limit, setup.shop.units) }]
}

/** Where it is dry and where the roll is, by how far the web has come by then. */
function dryAt(setup: Setup): readonly Upright[] {
  const { dry, winding } = dryingOf(setup)
  const lengths = dryingLengths(setup)
  if (!lengths.ok) return []
  const path = lengths.value.heated + lengths.value.free
  const roll: Upright = { x: along(setup, path), look: 'today', mark: 'roll', name: 'wound' }
  if (!dry.ok || !winding.ok || !(winding.value.running > 0)) return [roll]
  const place = (seconds: number): number => Math.min(path, (path * seconds) / winding.value.running)
  const upright = (seconds: number, mark: string): readonly Upright[] =>
    seconds < winding.value.running
      ? [{ x: along(setup, place(seconds)), look: 'event', mark, name: durationText(dry.value) }]
      : []
  const { low, typical, high } = dry.value
  if (low === high) return [...upright(typical, 'dry'), roll]
  return [...upright(low, 'dry at best'), ...upright(typical, 'dry'), ...upright(high, 'dry at worst'), roll]
}

function pointOf(setup: Setup, { id, name, to, web }: Part): Point {
  const { low, typical, high } = web!.leave
  const { units } = setup.shop
  return {
    row: id,
    x: along(setup, to),
    y: warmth(setup, typical),
    low: warmth(setup, low),
    high: warmth(setup, high),
    shape: 'dot',
    kind: 'where it leaves',
    name: `${name}: leaves at ${webText(web!.leave, units)} after ${duration(web!.dwell)}`,
  }
}

function rowOf(setup: Setup, heat: HeatFacts, { id, zone, web }: Part): PictureRow {
  const { units } = setup.shop
  const margin = zone && heat.margins.get(zone.zone)?.margin
  return {
    id,
    cells: [
      zone ? WHERE[zone.zone] : 'to the roll',
      zone?.set ? degrees(zone.set.value.si, units) : '—',
      web ? webText(web.leave, units) : '—',
      web ? duration(web.dwell) : '—',
      margin ? kelvins(margin.typical, units) : '—',
    ],
    at: zone?.set?.place,
  }
}
