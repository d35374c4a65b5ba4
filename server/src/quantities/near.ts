// Finds the unit that was meant: common names, case slips, and the nearest spelling, most likely first.
import { type Dimension, findUnit, type Unit, unitsOf } from './units.ts'

export interface NearUnit {
  readonly unit: Unit
  /** Whether no other reading is likely. */
  readonly sure: boolean
}

/** What people write for a unit, in lower case; each is looked up in the dimension that is due, so one name may stand for several units. */
const NAMES: Readonly<Record<string, readonly string[]>> = {
  '"': ['in'],
  '″': ['in'],
  "''": ['in'],
  inch: ['in'],
  inches: ['in'],
  "'": ['ft'],
  '′': ['ft'],
  foot: ['ft'],
  feet: ['ft'],
  mils: ['mil'],
  thou: ['mil'],
  micron: ['µm'],
  microns: ['µm'],
  µ: ['µm'],
  millimetre: ['mm'],
  millimetres: ['mm'],
  millimeter: ['mm'],
  millimeters: ['mm'],
  metre: ['m'],
  metres: ['m'],
  meter: ['m'],
  meters: ['m'],
  c: ['°C'],
  f: ['°F'],
  celsius: ['°C'],
  fahrenheit: ['°F'],
  kelvin: ['K'],
  deg: ['°C', '°F'],
  '°': ['°C', '°F'],
  '°k': ['K'],
  percent: ['%'],
  pct: ['%'],
  rh: ['%RH'],
  'rh%': ['%RH'],
  '%rh.': ['%RH'],
  'r.h.': ['%RH'],
  '%r.h.': ['%RH'],
  pascal: ['Pa'],
  inwc: ['inH2O'],
  inwg: ['inH2O'],
  mmwc: ['mmH2O'],
  n: ['N/m', 'N/cm'],
  'lb/in': ['lbf/in'],
  'n/mm²': ['MPa'],
  'n/mm2': ['MPa'],
  g: ['g/m²', 'g/mol'],
  'g/mole': ['g/mol'],
  u: ['g/mol'],
  gm2: ['g/m²'],
  grams: ['g/m²'],
  oz: ['oz/yd²'],
  fpm: ['ft/min'],
  mpm: ['m/min'],
  'ft/m': ['ft/min'],
  'sqm/h': ['m²/h'],
  'sqm/hr': ['m²/h'],
  'm2/hr': ['m²/h'],
  'm²/hr': ['m²/h'],
  'sqft/h': ['ft²/h'],
  'sqft/hr': ['ft²/h'],
  'ft2/hr': ['ft²/h'],
  'ft²/hr': ['ft²/h'],
  sec: ['s'],
  secs: ['s'],
  second: ['s'],
  seconds: ['s'],
  mins: ['min'],
  minute: ['min'],
  minutes: ['min'],
  hr: ['h'],
  hrs: ['h'],
  hour: ['h'],
  hours: ['h'],
  day: ['d'],
  days: ['d'],
  '/°c': ['/K'],
  'ppm/°c': ['ppm/K'],
  'µm/m/°c': ['µm/m/K'],
  '%/%': ['%/%RH'],
  'w/m²/°c': ['W/m²K'],
  'j/kg/°c': ['J/kgK'],
}

/** A longer word than this is text, not a slip. */
const LONGEST_SLIP = 24
const MAX_SUGGESTED = 3

/** Up to three units of the dimension that an unknown spelling may have meant, the likeliest first. */
export function nearUnits(spelling: string, dimension: Dimension): readonly NearUnit[] {
  if (spelling.length > LONGEST_SLIP) return []
  const folded = fold(spelling)
  const named = (NAMES[folded] ?? []).flatMap((id) => findUnit(id, dimension) ?? [])
  if (named.length > 0) return named.map((unit) => ({ unit, sure: named.length === 1 }))
  const same = unitsOf(dimension).filter((unit) => unit.spellings.some((s) => bare(s) === bare(spelling)))
  if (same.length > 0) return same.map((unit) => ({ unit, sure: same.length === 1 }))
  return nearest(spelling, dimension)
}

/** Slips of the finger. None is sure: one letter more or less may be a prefix, and a thousandfold value. */
function nearest(spelling: string, dimension: Dimension): readonly NearUnit[] {
  const wanted = bare(spelling)
  const allowed = wanted.length >= 5 ? 2 : 1
  return unitsOf(dimension)
    .map((unit) => ({ unit, steps: Math.min(...unit.spellings.map((s) => slipSteps(wanted, bare(s)))) }))
    .filter(({ unit, steps }) => steps <= allowed && steps < unit.id.length)
    .sort((a, b) => a.steps - b.steps)
    .filter(({ steps }, _, found) => steps === found[0]!.steps)
    .slice(0, MAX_SUGGESTED)
    .map(({ unit }) => ({ unit, sure: false }))
}

/** Another first letter is another prefix (km, nm, kg/m²), not a slip. */
const slipSteps = (a: string, b: string): number => (a[0] === b[0] ? editSteps(a, b) : Number.POSITIVE_INFINITY)

const fold = (s: string): string => s.trim().toLowerCase().replaceAll('μ', 'µ').replaceAll('º', '°').replaceAll('˚', '°')

/** A spelling without what the eye skips: case, powers' form, points, brackets, blanks, the sign of micro. */
const bare = (s: string): string =>
  fold(s)
    .replaceAll('²', '2')
    .replaceAll('³', '3')
    .replaceAll('₂', '2')
    .replaceAll('µ', 'u')
    .replace(/[\s.·*^()]/g, '')

/** Edits between two short words: insert, delete, replace, or swap of neighbours (optimal string alignment). */
function editSteps(a: string, b: string): number {
  let before: number[] = []
  let last = Array.from({ length: b.length + 1 }, (_, j) => j)
  for (let i = 1; i <= a.length; i++) {
    const row = [i]
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1]
      let best = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + (same ? 0 : 1))
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) best = Math.min(best, before[j - 2]! + 1)
      row.push(best)
    }
    before = last
    last = row
  }
  return last[b.length]!
}
