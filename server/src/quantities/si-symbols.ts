// The SI unit in which each dimension is held inside, as other programs read it. Shares of one (an elongation, a humidity) have the unit 1.
import type { Dimension } from './units.ts'

const SYMBOLS: Readonly<Record<Dimension, string>> = {
  length: 'm',
  temperature: '°C',
  'temperature-difference': 'K',
  relative: '1',
  humidity: '1',
  pressure: 'Pa',
  'line-tension': 'N/m',
  modulus: 'Pa',
  grammage: 'kg/m²',
  speed: 'm/s',
  'area-rate': 'm²/s',
  time: 's',
  density: 'kg/m³',
  'molar-mass': 'kg/mol',
  expansion: '1/K',
  'moisture-expansion': '1',
  resolution: '1/m',
  coupling: 'W/(m²·K)',
  'heat-capacity': 'J/(kg·K)',
  volume: 'm³',
}

/** The symbol of a dimension's SI unit; '1' for a plain number. Source: SI Brochure, 9th edition, 2.3.4 and 5.4. */
export const siSymbol = (dimension: Dimension | 'number'): string => (dimension === 'number' ? '1' : SYMBOLS[dimension])
