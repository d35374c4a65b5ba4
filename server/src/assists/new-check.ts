// A feed check ready to fill in, as snippet text: for the assist that adds one and for completion.

import { RECORDINGS } from '../areas/generated/recordings.ts'
import type { Part } from '../areas/recording.ts'
import type { FeatureContext } from '../features/context.ts'
import { addDays } from '../model/dates.ts'
import type { Check, MediaDocument } from '../model/generated/documents.ts'
import { writtenText } from '../model/setting.ts'
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
  const parts = setup && RECORDINGS.find(({ kind }) => kind === 'feed.checks')?.entries(setup)[0]?.parts
  const [[applied], instruments, lots] = [textsOf(parts?.applied), textsOf(parts?.with), textsOf(parts?.lot)]
  const length = (last?.measured ?? commanded)?.value.unit.id ?? displayUnit(1, 'length', system).id
  const all = [
    `date: ${dateStop(7, today)}`,
    `commanded: ${commanded ? stop(1, writtenText(commanded)) : stopBefore(1, length)}`,
    `measured: ${stopBefore(2, length)}`,
    `applied: ${applied !== undefined ? stop(3, applied) : stopBefore(3, last?.applied?.value.unit.id ?? '%')}`,
    ...(instruments.length > 0 ? [`with: ${choice(4, instruments)}`] : []),
    ...(last?.web ? [`web: ${stopBefore(5, last.web.value.unit.id)}`] : []),
    ...(lots.length > 0 ? [`lot: ${choice(6, lots)}`] : []),
    ...(under === undefined ? [] : [`under: ${choice(8, under)}`]),
  ]
  return `{ ${all.join(', ')} }`
}

/** What is known of a part, the likeliest first. */
const textsOf = (part: Part | undefined): readonly string[] =>
  part && 'known' in part ? [part.known, ...(part.others ?? [])] : []

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
