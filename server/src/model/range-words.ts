// Ranges in words: "0.9 mm/m (0.05 to 2)", so that a value that rests on typical figures never looks like a single number.
import { mapRange, type Range } from '../calc/range.ts'
import { displayUnit, type UnitSystem } from '../quantities/display-unit.ts'
import { formatSi } from '../quantities/format.ts'
import type { Dimension } from '../quantities/units.ts'
import { kelvinsText, webText } from './heat-words.ts'

export interface RangeWords {
  readonly units?: UnitSystem
  /** A unit's id; one that suits the typical value where not given. */
  readonly unit?: string | undefined
  /** Significant digits; 2 for a range and 3 for one value where not given. */
  readonly digits?: number
  /** SI; what is smaller is told as "below" this: nobody reads a hundredth of a micrometre. */
  readonly least?: number
}

/** The typical value, and behind it in brackets the ends where they differ. Temperatures and their differences go by degrees, not by digits. */
export function rangeText(range: Range, dimension: Dimension, words: RangeWords = {}): string {
  if (dimension === 'temperature') return webText(range, words.units ?? 'metric')
  if (dimension === 'temperature-difference') return kelvinsText(range, words.units ?? 'metric')
  if (isUnknown(range, words.least)) return unknownText(range, dimension, words)
  const unit = words.unit ?? displayUnit(range.typical || range.high, dimension, words.units ?? 'metric').id
  const text = (value: number): string => one(value, dimension, unit, words)
  const number = (value: number): string => text(value).slice(0, -unit.length - 1)
  const [low, high] = [number(range.low), number(range.high)]
  if (low === high) return text(range.typical)
  return `${text(range.typical)} (${Math.abs(range.low) < (words.least ?? 0) ? 'up' : low} to ${high})`
}

/** A range of three decades says no more than that the value is not known: typical figures inside it would look like knowledge. */
const DECADES = 1000

/** Whether a range is so wide that its value counts as not known: from its low end or what is told as nothing, or where both are zero, from its typical value. */
export function isUnknown({ low, typical, high }: Range, least = 0): boolean {
  const from = Math.max(low, least) || typical
  return low >= 0 && from > 0 && high >= DECADES * from
}

/** "anywhere up to 76 mm (not known)". */
function unknownText({ low, high }: Range, dimension: Dimension, { units, unit, least = 0 }: RangeWords): string {
  const end = (value: number): string =>
    valueText(value, dimension, { units: units ?? 'metric', digits: 2, ...(dimension === 'relative' && { unit }) })
  return `anywhere ${low < least || low === 0 ? 'up' : `from ${end(low)}`} to ${end(high)} (not known)`
}

/** One value in the same manner, with three digits. */
export const valueText = (value: number, dimension: Dimension, words: RangeWords = {}): string =>
  one(value, dimension, words.unit ?? displayUnit(value, dimension, words.units ?? 'metric').id, { digits: 3, ...words })

/** A strain as the shop reads it: mm per metre, or percent where it thinks in inches. */
export const strainWords = (units: UnitSystem): RangeWords => ({ units, unit: units === 'us' ? '%' : 'mm/m', least: 1e-5 })

/** A growth as a change of length: "1.2 mm/m (1.1 to 1.3) longer", "1.1 mm/m shorter". */
export function changeText(growth: Range, units: UnitSystem): string {
  const shorter = growth.typical < 0
  const size = shorter ? mapRange(growth, (g) => -g) : growth
  return `${rangeText(size, 'relative', strainWords(units))} ${shorter ? 'shorter' : 'longer'}`
}

function one(value: number, dimension: Dimension, unit: string, { digits = 2, least = 0 }: RangeWords): string {
  const size = Math.abs(value)
  return size > 0 && size < least
    ? `below ${formatSi(least, dimension, { unit, digits })}`
    : formatSi(value, dimension, { unit, digits })
}
