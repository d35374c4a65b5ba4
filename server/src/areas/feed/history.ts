// What the checks of a shop's profiles say together of a scatter: of a printer from print to print, of a stock from lot to lot. Asked where the printer's or the
// stock's own document is judged; no verdict of a profile rests on another's.

import type { FeedCheckInput } from '../../calc/feed-check.ts'
import { asPrint } from '../../calc/feed-combine.ts'
import { type ScatterHistory, scatterHistory } from '../../calc/scatter-history.ts'
import type { ScatterValue } from '../../calc/scatter-model.ts'
import { scatterSuspects } from '../../calc/scatter-suspects.ts'
import { daysBetween } from '../../model/dates.ts'
import { openedSince } from '../../model/events.ts'
import { tellingOf } from '../../model/facts.ts'
import type { Check, MediaDocument, PrinterDocument, StockDocument } from '../../model/generated/documents.ts'
import { suspectOn } from '../../model/instrument-history.ts'
import { Material } from '../../model/material.ts'
import { roomOn } from '../../model/room.ts'
import type { Shelf } from '../../model/shelf.ts'
import { resolveShop, type Shop } from '../../model/shop.ts'
import { ruleErrorOn, ruleFacts } from './facts.ts'

export interface History {
  readonly scatter: ScatterHistory
  readonly profiles: number
  readonly prints: number
  /** Lots that were printed on, of a stock. */
  readonly lots: number
}

/** As many of the newest prints of one profile and state as are reckoned with. */
const MOST_PRINTS = 24
const LEAST_PRINTS = 3

/**
 * The history of a printer (`print`: the scatter from print to print, by two profiles or more of three prints or more) or of a stock (`lot`: that from lot to lot, by
 * three lots or more). Only prints of one profile in one and the same state are compared, so that nothing has to be carried. Undefined where there are too few.
 */
export function historyOf(kind: 'printer' | 'stock', id: string, shelf: Shelf, today: string): History | undefined {
  const of = kind === 'printer' ? 'print' : 'lot'
  const shop = resolveShop(shelf.shop()?.content)
  const groups = tellingOf(shelf.all('media'), kind, id).flatMap(({ values }, profile) => {
    const media = shelf.document('media', values.profile!.text)?.content
    const stock = values.stock && shelf.document('stock', values.stock.text)?.content
    const printer = values.printer && shelf.document('printer', values.printer.text)?.content
    if (!media || !stock || !printer) return []
    return groupsOf({ media, stock, printer, shop, today }).flatMap((prints) => (tells(prints, of) ? [{ profile, prints }] : []))
  })
  const prints = of === 'print' ? groups.map((group) => group.prints) : lotsOnce(groups.map((group) => group.prints))
  const profiles = new Set(groups.map(({ profile }) => profile)).size
  const lots = lotsOf(prints.flat()).size
  if (of === 'print' ? profiles < 2 : lots < 3) return undefined
  const scatter = scatterHistory({ profiles: prints, of })
  return scatter.ok ? { scatter: scatter.value, profiles, prints: prints.flat().length, lots } : undefined
}

const tells = (prints: readonly ScatterValue[], of: 'print' | 'lot'): boolean =>
  of === 'print' ? prints.length >= LEAST_PRINTS : lotsOf(prints).size > 1 && prints.every(({ lot }) => lot !== undefined)

const lotsOf = (prints: readonly ScatterValue[]): ReadonlySet<string> => new Set(prints.flatMap(({ lot }) => lot ?? []))

/** Those that tell of most lots, none of which another tells of: a lot that two profiles measured is one lot. */
function lotsOnce(groups: readonly (readonly ScatterValue[])[]): readonly (readonly ScatterValue[])[] {
  const seen = new Set<string>()
  return [...groups]
    .sort((a, b) => lotsOf(b).size - lotsOf(a).size)
    .filter((prints) => {
      const lots = [...lotsOf(prints)]
      const fresh = lots.every((lot) => !seen.has(lot))
      if (fresh) for (const lot of lots) seen.add(lot)
      return fresh
    })
}

export interface Joined {
  readonly media: MediaDocument
  readonly stock: StockDocument
  readonly printer: PrinterDocument
  readonly shop: Shop
  readonly today: string
}

/** The prints of each state, suspects left out. */
function groupsOf(joined: Joined): readonly (readonly ScatterValue[])[] {
  const groups = new Map<string, ScatterValue[]>()
  const material = new Material(joined.stock)
  for (const check of joined.media.feed?.checks?.items ?? []) {
    const state = check.under?.value
    const print = state === undefined ? undefined : printOf(check, joined, material)
    if (state === undefined || !print) continue
    groups.set(state, [...(groups.get(state) ?? []), print])
  }
  return [...groups.values()].map((all) => {
    const prints = all.slice(-MOST_PRINTS)
    const found = prints.length > 2 ? scatterSuspects({ values: prints, lotNow: prints.at(-1)!.lot }) : undefined
    const suspects = found?.ok ? found.value.suspects : []
    return prints.filter((_, i) => !suspects.includes(i))
  })
}

/**
 * A check as a print; undefined for one that a person left out, that cannot be reckoned, or that says nothing of the machine as it is. `ever`: also of the
 * machine as it was.
 */
export function printOf(
  check: Check,
  { printer, shop, today }: Joined,
  material: Material,
  ever = false,
): ScatterValue | undefined {
  const { date, commanded, measured, applied, web, climate, lot, under } = check
  const instrument = check.with && shop.instruments.get(check.with.value)
  if (!date || !commanded || !measured || !applied || check.skip || date.value > today) return undefined
  if (check['same-print']?.value === true || check.tensioned?.value === true || (check.with && !instrument)) return undefined
  if (suspectOn(instrument, date.value) || (!ever && openedSince(printer, 'feed', date.value, today))) return undefined
  const room = roomOn(printer, date.value)
  const temperature = climate?.temperature ?? room?.temperature
  const humidity = climate?.humidity ?? room?.humidity
  const [dry, damp] = shop.climate.humidity.value
  const input: FeedCheckInput = {
    id: '',
    commanded: commanded.value.si,
    measured: measured.value.si,
    applied: applied.value.si,
    statedUncertainty: measured.value.uncertainty,
    instrument: check.with?.value,
    ...ruleFacts(instrument),
    ruleError: ruleErrorOn(instrument, date.value),
    ruleTemperature: temperature?.value.si,
    webExpansion: material.property('expansion')?.range,
    webTemperature: (web ?? temperature)?.value.si,
    webTemperatureUncertainty: (web ?? temperature)?.value.uncertainty,
    ...(humidity && {
      moistureExpansion: material.property('moisture-expansion')?.range,
      humidity: humidity.value.si,
      humidityUncertainty: humidity.value.uncertainty,
      referenceHumidity: (dry + damp) / 2,
    }),
    day: `${date.value} ${under?.value}`,
    lot: lot && String(lot.value),
    age: daysBetween(date.value, today),
  }
  const print = asPrint(input, shop.referenceTemperature.value)
  return print.ok ? print.value : undefined
}
