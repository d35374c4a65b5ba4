// How the reckoning of a feed writes its numbers: corrections to a millionth, lengths to a micrometre, uncertainties to two digits.
import type { Setup } from '../../model/setup.ts'
import { formatSi } from '../../quantities/format.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import { findUnit, type Unit } from '../../quantities/units.ts'

/** Probability that the stated interval covers the value, for every expanded uncertainty of the feed. */
export const COVERAGE = 0.95

export const percent = (fraction: number): string => formatSi(fraction, 'relative', { unit: '%', decimals: 4, sign: true })

export const plainPercent = (fraction: number): string => formatSi(fraction, 'relative', { unit: '%', digits: 4 })

/** A standard uncertainty, two digits and no ±, which stands for the 95 % interval alone. */
export const standard = (u: number): string => formatSi(Math.abs(u), 'relative', { unit: '%', digits: 2 })

/** A quantity as the document has it. */
export const asWritten = ({ written, writtenUncertainty, unit }: Quantity): string =>
  `${written}${writtenUncertainty === undefined ? '' : ` ±${writtenUncertainty}`} ${unit.id}`

/** Lengths in the shop's units, or in the one of a panel, fine enough to follow the reckoning: to about a micrometre. */
export class Lengths {
  private readonly unit: Unit
  private readonly decimals: number

  constructor({ shop }: Setup, unit?: Unit) {
    this.unit = unit ?? findUnit(shop.units === 'metric' ? 'mm' : 'in', 'length')!
    this.decimals = Math.max(0, Math.round(Math.log10(this.unit.factor / 1e-6)))
  }

  text(metres: number): string {
    return formatSi(metres, 'length', { unit: this.unit, decimals: this.decimals })
  }

  change(metres: number): string {
    return formatSi(metres, 'length', { unit: this.unit, decimals: this.decimals, sign: true })
  }

  /** The number alone. */
  bare(metres: number): string {
    return this.text(metres).split(' ')[0]!
  }

  rough(metres: number): string {
    return formatSi(metres, 'length', { unit: this.unit, digits: 4 })
  }

  /** How far something spreads, with two digits. */
  spread(metres: number): string {
    return formatSi(Math.abs(metres), 'length', { unit: this.unit, digits: 2 })
  }
}

export const degrees = (celsius: number): string => formatSi(celsius, 'temperature', { unit: '°C', digits: 4 })

/** "check 3", "checks 3 and 5". */
export function checksByNumber(ids: readonly string[]): string {
  const numbers = ids.map((id) => id.replace(/^check /, ''))
  const last = numbers.at(-1)
  return numbers.length <= 1 ? `check ${last ?? ''}` : `checks ${numbers.slice(0, -1).join(', ')} and ${last}`
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
