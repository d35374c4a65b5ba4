// The fixes of the web rules: another level, or another pull, within what the printer and the material take.
import type { RollDocument } from '../../model/document.ts'
import { formatSi } from '../../quantities/format.ts'
import type { Fix } from '../../rules/rule.ts'
import { writeSetting } from '../../rules/support/setting.ts'
import type { WebFacts } from './facts.ts'

/** Sets the level whose pull is nearest; undefined for a printer without levels. */
export function nearestLevel(
  document: RollDocument,
  { levels }: WebFacts,
  distance: (level: WebFacts['levels'][number]) => number,
): Fix | undefined {
  const near = nearestOf(levels, distance)
  return near && setLevel(document, near.name)
}

export const nearestOf = <T>(list: readonly T[], distance: (item: T) => number): T | undefined =>
  list.reduce<T | undefined>((best, item) => (best === undefined || distance(item) < distance(best) ? item : best), undefined)

/** The strongest setting of the printer that pulls no more than so many N/m, in whole N/m where it is free. */
export function pullAtMost(document: RollDocument, { levels, range }: WebFacts, most: number): Fix | undefined {
  const level = levels.findLast(({ tension }) => tension <= most)
  if (level) return setLevel(document, level.name)
  const pull = Math.floor(most + DUST)
  return range && pull >= range[0] && pull > 0 ? setPull(document, pull) : undefined
}

/** The weakest setting of the printer that pulls at least so many N/m and no more than the most, in whole N/m where it is free. */
export function pullAtLeast(
  document: RollDocument,

  { levels, range }: WebFacts,
  least: number,
  most: number,
): Fix | undefined {
  const level = levels.find(({ tension }) => tension >= least && tension <= most)
  if (level) return setLevel(document, level.name)
  const pull = Math.ceil(least - DUST)
  return range && pull <= Math.min(range[1], most) ? setPull(document, pull) : undefined
}

export const setPull = (document: RollDocument, pull: number): Fix =>
  setPullText(document, formatSi(pull, 'line-tension', { unit: 'N/m' }))

/** Sets a pull as it is written elsewhere, unit and all. */
export const setPullText = (document: RollDocument, text: string): Fix =>
  writeSetting(document, ['web', 'tension'], text, `Set the tension to ${text}`)

/** What binary numbers may lack of a whole one. */
const DUST = 1e-9

const setLevel = (document: RollDocument, level: string): Fix =>
  writeSetting(document, ['web', 'tension'], level, `Set tension level ${level}`)
