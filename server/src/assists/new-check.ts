// A feed check ready to fill in, as snippet text: for the assist that adds one and for completion.
import { RECORDINGS } from '../areas/generated/recordings.ts'
import type { FeatureContext } from '../features/context.ts'
import { addDays } from '../model/dates.ts'
import type { Check, MediaDocument } from '../model/generated/documents.ts'
import { writtenText } from '../model/setting.ts'
import type { Setup } from '../model/setup.ts'
import { displayUnit } from '../quantities/display-unit.ts'

/**
 * A feed check of today, with whatever the newest check had that stays the same. Of what is measured only the unit stands there, so that digits alone
 * are typed; no number is made up. Yesterday, the shop's other instruments and the stock's other lots are there to choose. `under` are the states that
 * may be named, the likeliest first; empty where it has to be asked for. Snippet text of one flow mapping.
 */
export function newCheck({ document, setup, today }: FeatureContext, under: readonly string[] | undefined): string {
  const own = document.content as MediaDocument | undefined
  const last: Check | undefined = own?.feed?.checks?.items.at(-1)
  const system = setup?.shop.units ?? 'metric'
  const commanded = last?.commanded ?? setup?.printer?.feed?.['pattern-lengths']?.items[0]
  const part = setup && RECORDINGS.find(({ kind }) => kind === 'feed.checks')?.entries(setup)[0]?.parts.applied
  const applied = part && 'known' in part ? part.known : undefined
  const length = (last?.measured ?? commanded)?.value.unit.id ?? displayUnit(1, 'length', system).id
  const lots = lotsOf(setup, last)
  const parts = [
    `date: ${dateStop(7, today)}`,
    `commanded: ${commanded ? stop(1, writtenText(commanded)) : stopBefore(1, length)}`,
    `measured: ${stopBefore(2, length)}`,
    `applied: ${applied !== undefined ? stop(3, applied) : stopBefore(3, last?.applied?.value.unit.id ?? '%')}`,
    ...(last?.with ? [`with: ${choice(4, instrumentsOf(setup, last.with.value))}`] : []),
    ...(last?.web ? [`web: ${stopBefore(5, last.web.value.unit.id)}`] : []),
    ...(lots.length > 0 ? [`lot: ${choice(6, lots)}`] : []),
    ...(under === undefined ? [] : [`under: ${choice(8, under)}`]),
  ]
  return `{ ${parts.join(', ')} }`
}

/** What lengths are read with: the one that was used last, then the others of the shop. */
function instrumentsOf(setup: Setup | undefined, last: string): readonly string[] {
  const others = [...(setup?.shop.instruments ?? [])].filter(
    ([id, { kind }]) => id !== last && !NO_LENGTHS.has(kind?.value ?? ''),
  )
  return [last, ...others.map(([id]) => id)]
}

const NO_LENGTHS: ReadonlySet<string> = new Set(['loupe', 'thermometer', 'hygrometer'])

/** The lot of the newest check, or one that was opened since, then the others that are not used up; none where neither check nor stock tells of lots. */
function lotsOf(setup: Setup | undefined, last: Check | undefined): readonly string[] {
  const lots = setup?.stock?.lots?.items ?? []
  const open = lots.flatMap(({ lot, opened, finished }) =>
    lot && !finished ? [{ lot: String(lot.value), opened: opened?.value ?? '' }] : [],
  )
  const since = open
    .filter(({ opened }) => opened !== '' && opened > (last?.date?.value ?? ''))
    .sort((a, b) => (a.opened < b.opened ? 1 : -1))
  if (!last?.lot && since.length === 0) return []
  const first = [...since.map(({ lot }) => lot), ...(last?.lot ? [String(last.lot.value)] : [])]
  return [...new Set([...first, ...open.map(({ lot }) => lot)])].slice(0, MOST)
}

/** More than these are no help in a line. */
const MOST = 8

/** Today, or the day before. */
export const dateStop = (n: number, today: string): string => choice(n, [today, addDays(today, -1)])

/** A stop for the number, with its unit behind it. */
export const stopBefore = (n: number, unit: string): string => `${stop(n)} ${escapeSnippet(unit)}`

export const stop = (n: number, text = ''): string => (text === '' ? `\${${n}}` : `\${${n}:${escapeSnippet(text)}}`)

/** A stop with several texts to choose from; the first stands there. */
export const choice = (n: number, texts: readonly string[]): string =>
  texts.length < 2 ? stop(n, texts[0]) : `\${${n}|${texts.map((text) => text.replace(/[\\,|]/g, '\\$&')).join(',')}|}`

/** Text that a snippet takes literally. */
export const escapeSnippet = (text: string): string => text.replace(/[\\$}]/g, '\\$&')
