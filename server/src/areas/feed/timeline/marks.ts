// What may have moved a profile's numbers: another lot, what was done to the machine, another instrument or one in doubt, the air at the machine.
import { openingOf } from '../../../model/events.ts'
import type { Setup } from '../../../model/setup.ts'
import { shown } from '../../../model/shown.ts'
import type { HistoryMark } from './result.ts'

/** By the documents as they are now, up to today; in no order. */
export function marksOf(setup: Setup): readonly HistoryMark[] {
  return [...lots(setup), ...events(setup), ...instruments(setup), ...air(setup)].filter(({ date }) => date <= setup.today)
}

/** Lots by the checks; those that nobody measured on, by the day that the stock's document says they were opened. */
function* lots({ own, stock }: Setup): Generator<HistoryMark> {
  let last: string | undefined
  const measured = new Set<string>()
  for (const { date, lot } of inOrder(own.feed?.checks?.items)) {
    if (!lot) continue
    const name = String(lot.value)
    if (name !== last && !measured.has(name))
      yield { date, kind: 'lot', text: `lot ${name}${last === undefined ? '' : ` after ${last}`}` }
    else if (name !== last) yield { date, kind: 'lot', text: `lot ${name} again` }
    measured.add(name)
    last = name
  }
  for (const { lot, opened } of stock?.lots?.items ?? [])
    if (lot && opened && !measured.has(String(lot.value)))
      yield { date: opened.value, kind: 'lot', text: `lot ${lot.value} opened, no check on it` }
}

function* events({ printer }: Setup): Generator<HistoryMark> {
  for (const item of printer?.events?.items ?? []) {
    const opening = openingOf(item)
    if (!opening) continue
    const { date, what, opens } = opening
    const note = item.note ? `: ${item.note.value}` : ''
    const open = opens.length > 0 ? ` (${opens.join(', ')} measured before proves nothing after it)` : ''
    yield {
      date,
      kind: what.startsWith('head-') ? 'head' : 'event',
      text: `${what} at ${printer?.printer?.value ?? 'the printer'}${note}${open}`,
    }
  }
}

function* instruments({ own, shop }: Setup): Generator<HistoryMark> {
  let last: string | undefined
  const used = new Set<string>()
  for (const check of inOrder(own.feed?.checks?.items)) {
    const name = check.with?.value
    if (name === undefined) continue
    if (last !== undefined && name !== last)
      yield { date: check.date, kind: 'instrument', text: `measured with ${name} instead of ${last}` }
    used.add(name)
    last = name
  }
  for (const name of used) {
    for (const { from, why } of shop.instruments.get(name)?.suspect?.items ?? [])
      if (from) yield { date: from.value, kind: 'instrument', text: `${name} in doubt${why ? `: ${why.value}` : ''}` }
    for (const { from } of shop.instruments.get(name)?.errors?.items ?? [])
      if (from)
        yield { date: from.value, kind: 'instrument', text: `${name} reads wrong from here on, which is known and put right` }
  }
}

/** The air leaves what the shop calls its climate, or comes back: what summer and winter do to a web, by what was read and by no calendar. */
function* air(setup: Setup): Generator<HistoryMark> {
  const { own, printer, shop } = setup
  const [dry, damp] = shop.climate.humidity.value
  const readings = [
    ...inOrder(printer?.room?.items).map(({ date, humidity }) => ({ date, humidity })),
    ...inOrder(own.feed?.checks?.items).map(({ date, climate }) => ({ date, humidity: climate?.humidity })),
  ].flatMap(({ date, humidity }) => (humidity ? [{ date, at: humidity.value.si }] : []))
  let last: 'drier' | 'damper' | 'within' = 'within'
  for (const { date, at } of readings.sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0))) {
    const is = at < dry ? 'drier' : at > damp ? 'damper' : 'within'
    if (is === last) continue
    last = is
    const than = is === 'within' ? 'back within' : `${is} than`
    yield {
      date,
      kind: 'season',
      text: `the air has ${shown(setup, at, 'humidity')}, ${than} the shop's climate (${shown(setup, dry, 'humidity')} to ${shown(setup, damp, 'humidity')})`,
    }
  }
}

/** Entries with a day, the oldest first. */
const inOrder = <T extends { readonly date?: { readonly value: string } }>(
  entries: readonly T[] | undefined,
): readonly (Omit<T, 'date'> & { readonly date: string })[] =>
  (entries ?? [])
    .flatMap((entry) => (entry.date ? [{ ...entry, date: entry.date.value }] : []))
    .sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0))
