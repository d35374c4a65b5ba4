// The suction in words, for rules and hovers alike.
import type { SuctionRow } from '../../calc/suction-window.ts'
import { rangeText, strainWords, valueText } from '../../model/range-words.ts'
import type { UnitSystem } from '../../quantities/display-unit.ts'
import type { SuctionStep } from './facts.ts'

/** "level 3 (320 Pa)", or the pressure where the printer has no levels. */
export function stepText({ level, pressure }: SuctionStep, units: UnitSystem): string {
  const pascals = valueText(pressure, 'pressure', { units, digits: 3 })
  return level === undefined ? pascals : `level ${level} (${pascals})`
}

export const dragText = (row: SuctionRow<SuctionStep>, units: UnitSystem): string =>
  rangeText(row.drag, 'line-tension', { units })

export const stretchText = (row: SuctionRow<SuctionStep>, units: UnitSystem): string =>
  rangeText(row.strain, 'relative', strainWords(units))

export const dimpleText = (row: SuctionRow<SuctionStep>, units: UnitSystem): string =>
  rangeText(row.dimple, 'length', { units, unit: smallUnit(units), least: 1e-7 })

export const riseText = (row: SuctionRow<SuctionStep>, units: UnitSystem): string =>
  rangeText(row.curl.rise, 'length', { units, unit: row.curl.rise.typical < 1e-3 ? smallUnit(units) : undefined, least: 1e-6 })

/** A height or depth of the order of a dot. */
export const smallText = (value: number, units: UnitSystem): string => valueText(value, 'length', { units })

const smallUnit = (units: UnitSystem): string => (units === 'us' ? 'mil' : 'µm')
