// Writes the pattern of each dimension in schemas/common.schema.json from the table of units, so that any editor accepts exactly those units.

import { type Dimension, unitsOf } from '../../src/quantities/units.ts'
import type { JsonObject } from './load.ts'

const NUMBER = String.raw`(?:\d+(?:\.\d+)?|\.\d+)`
const SIGN = String.raw`[+\-−]?`
const UNCERTAINTY = String.raw`(?: ?(?:±|\+/-) ?${NUMBER})?`
const FRACTION = String.raw`(?:\d+ )?\d+/[1-9]\d*`

/** The regular expression (with the u flag) that a value of the dimension matches in a general editor. */
export function patternOf(dimension: Dimension): string {
  const spellings = unitsOf(dimension).flatMap((unit) => unit.spellings)
  // '1/K' after a number reads as a fraction.
  const units = alternatives(spellings.filter((spelling) => !/^\d/.test(spelling)))
  if (dimension === 'resolution') return `^${NUMBER} ?[xX×] ?${NUMBER} ?${units}$`
  const decimal = `${SIGN}${NUMBER}${UNCERTAINTY} ?${units}`
  if (dimension !== 'length') return `^${decimal}$`
  const inches = alternatives(
    unitsOf('length')
      .filter((unit) => unit.id === 'in')
      .flatMap((unit) => unit.spellings),
  )
  return `^(?:${decimal}|${SIGN}${FRACTION}(?: ?(?:±|\\+/-) ?(?:${FRACTION}|${NUMBER}))? ?${inches})$`
}

/** The text of common.schema.json with every pattern brought up to date and nothing else touched. */
export function withPatterns(text: string): string {
  const defs = (JSON.parse(text) as { readonly $defs: { readonly [name: string]: JsonObject } }).$defs
  let result = text
  for (const def of Object.values(defs)) {
    if (def['x-dimension'] === undefined) continue
    const dimension = def['x-dimension'] as Dimension
    const from = result.indexOf(`"x-dimension": ${JSON.stringify(dimension)}`)
    const old = `"pattern": ${JSON.stringify(def.pattern)}`
    const at = result.indexOf(old, from)
    result = `${result.slice(0, at)}"pattern": ${JSON.stringify(patternOf(dimension))}${result.slice(at + old.length)}`
  }
  return result
}

const alternatives = (spellings: readonly string[]): string => {
  const escaped = spellings.map((spelling) => spelling.replace(/[\\^$.*+?()[\]{}|]/g, '\\$&'))
  return escaped.length === 1 ? escaped[0]! : `(?:${escaped.join('|')})`
}
