// What the suction rules share: the settings a finding rests on, and the fix that goes one level up or down.
import { curlDirection } from '../../calc/curl.ts'
import type { SuctionRow } from '../../calc/suction-window.ts'
import type { RollDocument } from '../../model/document.ts'
import type { Place } from '../../model/field.ts'
import type { Setup } from '../../model/setup.ts'
import type { SuctionFacts, SuctionStep } from '../../model/suction.ts'
import { formatQuantity } from '../../quantities/format.ts'
import type { Fix } from '../rule.ts'
import { writeSetting } from './setting.ts'

/** The settings of a profile that decide what a suction does, besides itself. */
export const suctionPlaces = ({ profile }: Setup): readonly ({ readonly place: Place } | undefined)[] => [
  profile.stock,
  profile.printer,
  profile.mode,
  profile.gap,
]

/** Sets the level beside the current one, where it holds. */
export function nextLevel(document: RollDocument, row: SuctionRow<SuctionStep> | undefined): Fix | undefined {
  if (row?.verdict !== 'holds' || row.level.level === undefined) return undefined
  const level = String(row.level.level)
  return writeSetting(document, ['suction'], level, `Set suction ${level}`)
}

/** What the curl of this stock lifts: by its winding where that is known. */
export function curlWords({ stock }: Setup): string {
  const lifts = stock?.wound && curlDirection(stock.wound.value)?.lifts
  return lifts === 'middle' ? 'a bow' : lifts === 'edges' ? 'the edges' : 'a curl'
}

/** Why a curl may stand no higher: behind the height itself. */
export function riseLimitWords({ riseLimit }: SuctionFacts): string {
  if (riseLimit.from === 'clearance') return 'left below the heads'
  return riseLimit.from === 'landing' ? 'that the registration tolerance allows' : 'taken as the most (from memory)'
}

/** What keeps lifted edges off the heads: one level more, or the lowest gap that clears them typically. Neither is right beyond doubt. */
export function liftFixes(document: RollDocument, setup: Setup, { up, current }: SuctionFacts): readonly (Fix | undefined)[] {
  const { thickness } = setup.material
  const needed = current && thickness !== undefined ? thickness + current.curl.rise.typical : undefined
  const gaps = setup.printer?.carriage?.gaps?.items ?? []
  const gap =
    needed === undefined ? undefined : gaps.filter(({ value }) => value.si > needed).sort((a, b) => a.value.si - b.value.si)[0]
  const text = gap && formatQuantity(gap.value)
  return [
    nextLevel(document, up),
    text === undefined ? undefined : writeSetting(document, ['gap'], text, `Set the gap to ${text}, and align again`),
  ]
}
