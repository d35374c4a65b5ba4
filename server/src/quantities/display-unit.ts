// Chooses the unit in which a value of some size is shown when nobody asked for one: 180 µm, 914 mm, 50 m; or 7 mil, 36 in, 164 ft.
import { canonicalUnit, type Dimension, findUnit, type Unit } from './units.ts'

export type UnitSystem = 'metric' | 'us'

/** Units with the SI size from which each is used, smallest first. */
type Steps = readonly (readonly [unit: string, from: number])[]

const METRIC: Readonly<Partial<Record<Dimension, Steps>>> = {
  length: [
    ['µm', 0],
    ['mm', 1e-3],
    ['m', 10],
  ],
  relative: [
    ['ppm', 0],
    ['%', 1e-4],
  ],
  pressure: [
    ['Pa', 0],
    ['kPa', 1000],
  ],
  modulus: [
    ['MPa', 0],
    ['GPa', 1e9],
  ],
  speed: [
    ['mm/s', 0],
    ['m/s', 1],
  ],
  time: [
    ['ms', 0],
    ['s', 0.01],
    ['min', 120],
    ['h', 7200],
    ['d', 172800],
  ],
  expansion: [['ppm/K', 0]],
  'moisture-expansion': [
    ['ppm/%RH', 0],
    ['%/%RH', 0.001],
  ],
  volume: [
    ['pL', 0],
    ['nL', 1e-12],
    ['mL', 1e-9],
  ],
}

const US: Readonly<Partial<Record<Dimension, Steps>>> = {
  ...METRIC,
  length: [
    ['mil', 0],
    ['in', 0.00254],
    ['ft', 9.144],
  ],
  temperature: [['°F', 0]],
  pressure: [['inH2O', 0]],
  'line-tension': [['lbf/in', 0]],
  modulus: [['psi', 0]],
  grammage: [['oz/yd²', 0]],
  speed: [['ft/min', 0]],
  'area-rate': [['ft²/h', 0]],
}

/** The unit that suits a value; zero is shown in the canonical unit or the system's first. */
export function displayUnit(si: number, dimension: Dimension, system: UnitSystem): Unit {
  const steps = (system === 'us' ? US : METRIC)[dimension]
  if (steps === undefined) return canonicalUnit(dimension)
  const size = Math.abs(si)
  if (size === 0) return findUnit((system === 'us' ? US_ZERO : METRIC_ZERO)[dimension] ?? steps[0]![0], dimension)!
  // A value a rounding error below a threshold belongs above it.
  const fitting = steps.findLast(([, from]) => size >= from * (1 - 1e-9)) ?? steps[0]!
  return findUnit(fitting[0], dimension)!
}

const METRIC_ZERO: Readonly<Partial<Record<Dimension, string>>> = {
  length: 'mm',
  relative: '%',
  time: 's',
  'moisture-expansion': '%/%RH',
}
const US_ZERO: Readonly<Partial<Record<Dimension, string>>> = { ...METRIC_ZERO, length: 'in' }
