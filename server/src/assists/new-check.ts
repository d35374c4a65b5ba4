// A feed check ready to fill in, as snippet text: for the assist that adds one and for completion.
import type { Check, MediaDocument } from '../model/generated/documents.ts'
import { writtenText } from '../model/setting.ts'
import type { Setup } from '../model/setup.ts'
import { displayUnit } from '../quantities/display-unit.ts'

/**
 * A feed check with today's date, and whatever the newest check had that stays the same. Of what is measured only the unit stands there, so
 * that digits alone are typed; no number is made up. Snippet text of one flow mapping.
 */
export function newCheck(own: MediaDocument | undefined, setup: Setup | undefined, today: string): string {
  const last: Check | undefined = own?.feed?.checks?.items.at(-1)
  const system = setup?.shop.units ?? 'metric'
  const commanded = last?.commanded ?? setup?.printer?.feed?.['pattern-lengths']?.items[0]
  const applied = setup?.profile.feed?.correction
  const length = (last?.measured ?? commanded)?.value.unit.id ?? displayUnit(1, 'length', system).id
  const parts = [
    `date: ${today}`,
    `commanded: ${commanded ? stop(1, writtenText(commanded)) : stopBefore(1, length)}`,
    `measured: ${stopBefore(2, length)}`,
    `applied: ${applied ? stop(3, writtenText(applied)) : stopBefore(3, last?.applied?.value.unit.id ?? '%')}`,
    ...(last?.with ? [`with: ${stop(4, last.with.value)}`] : []),
    ...(last?.web ? [`web: ${stopBefore(5, last.web.value.unit.id)}`] : []),
    ...(last?.lot ? [`lot: ${stop(6, String(last.lot.value))}`] : []),
  ]
  return `{ ${parts.join(', ')} }`
}

/** A stop for the number, with its unit behind it. */
export const stopBefore = (n: number, unit: string): string => `${stop(n)} ${escapeSnippet(unit)}`

export const stop = (n: number, text = ''): string => (text === '' ? `\${${n}}` : `\${${n}:${escapeSnippet(text)}}`)

/** Text that a snippet takes literally. */
export const escapeSnippet = (text: string): string => text.replace(/[\\$}]/g, '\\$&')
