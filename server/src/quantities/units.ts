// Every unit a document may use: its spellings, its exact ratio to the SI inside, and where the ratio is published.

export type Dimension =
  | 'length'
  | 'temperature'
  | 'temperature-difference'
  | 'relative'
  | 'humidity'
  | 'pressure'
  | 'line-tension'
  | 'modulus'
  | 'grammage'
  | 'speed'
  | 'area-rate'
  | 'time'
  | 'density'
  | 'molar-mass'
  | 'expansion'
  | 'moisture-expansion'
  | 'resolution'
  | 'coupling'
  | 'heat-capacity'
  | 'volume'

export interface Unit {
  /** The canonical spelling, the one that is written out. */
  readonly id: string
  readonly dimension: Dimension
  /** SI per unit: si = (number + offset) × factor. For resolution, dots per metre; for temperature, degrees Celsius. */
  readonly factor: number
  /** The factor as whole numbers, numerator and denominator, so that conversions carry no binary dust. */
  readonly ratio: readonly [number, number]
  /** Added to the number before the factor (temperatures only); at most two decimals. */
  readonly offset?: number
  /** Whether the ratio is exact by definition rather than rounded. */
  readonly exact: boolean
  /** Every accepted spelling, the canonical one first. */
  readonly spellings: readonly string[]
  readonly title: string
  readonly source: string
}

const SI = 'SI Brochure, 9th edition'
const SI_ACCEPTED = 'SI Brochure, 9th edition, Table 8'
const SP811 = 'NIST SP 811, Appendix B.8'
const CONVENTIONAL = 'NIST SP 811, Appendix B.8: conventional column of water at standard gravity, 9.80665 Pa per millimetre'
const TRADE = 'common practice'

/** All units, by dimension; within a dimension in order of preference, canonical first. */
export const UNITS: readonly Unit[] = [
  unit('length', 'mm', [1, 1000], 'millimetre', SI),
  unit('length', 'm', [1, 1], 'metre', SI),
  unit('length', 'cm', [1, 100], 'centimetre', SI),
  unit('length', 'µm', [1, 1e6], 'micrometre', SI),
  unit('length', 'in', [254, 1e4], 'inch', SP811),
  unit('length', 'ft', [3048, 1e4], 'foot', SP811),
  unit('length', 'mil', [254, 1e7], 'mil (a thousandth of an inch)', SP811),

  unit('temperature', '°C', [1, 1], 'degree Celsius', SI, ['degC', '℃']),
  unit('temperature', '°F', [5, 9], 'degree Fahrenheit', SP811, ['degF', '℉'], -32),
  unit('temperature', 'K', [1, 1], 'kelvin', SI, [], -273.15),

  unit('temperature-difference', 'K', [1, 1], 'kelvin', SI),
  unit('temperature-difference', '°F', [5, 9], 'degree Fahrenheit, as a difference', SP811, ['degF', '℉']),

  unit('relative', '%', [1, 100], 'percent', SI),
  unit('relative', 'ppm', [1, 1e6], 'part per million', SI),
  unit('relative', 'mm/m', [1, 1000], 'millimetre per metre', SI),

  unit('humidity', '%RH', [1, 100], 'percent relative humidity', TRADE, ['% RH']),

  unit('pressure', 'Pa', [1, 1], 'pascal', SI),
  unit('pressure', 'kPa', [1000, 1], 'kilopascal', SI),
  unit('pressure', 'hPa', [100, 1], 'hectopascal', SI),
  unit('pressure', 'mbar', [100, 1], 'millibar', SP811),
  unit('pressure', 'inH2O', [24908891, 1e5], 'inch of water (conventional)', CONVENTIONAL, ['inH₂O']),
  unit('pressure', 'mmH2O', [980665, 1e5], 'millimetre of water (conventional)', CONVENTIONAL, ['mmH₂O']),

  unit('line-tension', 'N/m', [1, 1], 'newton per metre of width', SI),
  unit('line-tension', 'N/cm', [100, 1], 'newton per centimetre of width', SI),
  unit('line-tension', 'lbf/in', [44482216152605, 254e9], 'pound-force per inch of width', SP811, ['pli']),

  unit('modulus', 'GPa', [1e9, 1], 'gigapascal', SI),
  unit('modulus', 'MPa', [1e6, 1], 'megapascal', SI),
  unit('modulus', 'psi', [44482216152605, 6451600000], 'pound-force per square inch', SP811),
  unit('modulus', 'ksi', [44482216152605, 6451600], 'thousand pounds-force per square inch', SP811),

  unit('grammage', 'g/m²', [1, 1000], 'gram per square metre', SI, ['gsm']),
  unit('grammage', 'oz/yd²', [28349523125, 836127360000], 'ounce per square yard', SP811),

  unit('speed', 'mm/s', [1, 1000], 'millimetre per second', SI),
  unit('speed', 'm/s', [1, 1], 'metre per second', SI),
  unit('speed', 'm/min', [1, 60], 'metre per minute', SI_ACCEPTED),
  unit('speed', 'in/s', [254, 1e4], 'inch per second', SP811, ['ips']),
  unit('speed', 'ft/min', [3048, 6e5], 'foot per minute', SP811),

  unit('area-rate', 'm²/h', [1, 3600], 'square metre per hour', SI_ACCEPTED),
  unit('area-rate', 'ft²/h', [9290304, 36e10], 'square foot per hour', SP811),

  unit('time', 's', [1, 1], 'second', SI),
  unit('time', 'ms', [1, 1000], 'millisecond', SI),
  unit('time', 'min', [60, 1], 'minute', SI_ACCEPTED),
  unit('time', 'h', [3600, 1], 'hour', SI_ACCEPTED),
  unit('time', 'd', [86400, 1], 'day', SI_ACCEPTED),

  unit('density', 'kg/m³', [1, 1], 'kilogram per cubic metre', SI),
  unit('density', 'g/cm³', [1000, 1], 'gram per cubic centimetre', SI),

  unit('molar-mass', 'g/mol', [1, 1000], 'gram per mole', SI),

  unit('expansion', '/K', [1, 1], 'per kelvin', SI, ['1/K']),
  unit('expansion', 'ppm/K', [1, 1e6], 'part per million per kelvin', SI),
  unit('expansion', 'µm/m/K', [1, 1e6], 'micrometre per metre per kelvin', SI),

  unit('moisture-expansion', '%/%RH', [1, 1], 'percent per percent relative humidity', TRADE),
  unit('moisture-expansion', 'ppm/%RH', [1, 1e4], 'part per million per percent relative humidity', TRADE),

  unit('resolution', 'dpi', [1e4, 254], 'dots per inch', SP811),

  unit('coupling', 'W/m²K', [1, 1], 'watt per square metre kelvin', SI, ['W/(m²K)', 'W/(m²·K)', 'W/m²·K', 'W/m²/K']),

  unit('heat-capacity', 'J/kgK', [1, 1], 'joule per kilogram kelvin', SI, ['J/(kgK)', 'J/(kg·K)', 'J/kg·K', 'J/kg/K']),
  unit('heat-capacity', 'kJ/kgK', [1000, 1], 'kilojoule per kilogram kelvin', SI, [
    'kJ/(kgK)',
    'kJ/(kg·K)',
    'kJ/kg·K',
    'kJ/kg/K',
  ]),

  unit('volume', 'pL', [1, 1e15], 'picolitre', SI_ACCEPTED, ['pl']),
  unit('volume', 'nL', [1, 1e12], 'nanolitre', SI_ACCEPTED, ['nl']),
  unit('volume', 'mL', [1, 1e6], 'millilitre', SI_ACCEPTED, ['ml']),
]

const NAMES: Readonly<Record<Dimension, string>> = {
  length: 'a length',
  temperature: 'a temperature',
  'temperature-difference': 'a temperature difference',
  relative: 'a relative amount',
  humidity: 'a relative humidity',
  pressure: 'a pressure',
  'line-tension': 'a line tension',
  modulus: 'a modulus or strength',
  grammage: 'a grammage',
  speed: 'a speed',
  'area-rate': 'a rate of area',
  time: 'a time',
  density: 'a density',
  'molar-mass': 'a molar mass',
  expansion: 'a thermal expansion',
  'moisture-expansion': 'a moisture expansion',
  resolution: 'a resolution',
  coupling: 'a heat coupling',
  'heat-capacity': 'a heat capacity',
  volume: 'a volume',
}

/** Units that a number most often wants, per dimension; the canonical one alone where none is listed. */
const LIKELY: Readonly<Partial<Record<Dimension, readonly string[]>>> = {
  length: ['mm', 'm', 'µm', 'in'],
  temperature: ['°C', '°F'],
  relative: ['%', 'ppm'],
  pressure: ['Pa', 'kPa', 'inH2O'],
  'line-tension': ['N/m', 'lbf/in'],
  modulus: ['GPa', 'MPa', 'psi'],
  grammage: ['g/m²', 'oz/yd²'],
  speed: ['mm/s', 'm/s', 'in/s'],
  'area-rate': ['m²/h', 'ft²/h'],
  time: ['s', 'min', 'h', 'd'],
  density: ['kg/m³', 'g/cm³'],
  expansion: ['ppm/K', '/K'],
  'moisture-expansion': ['%/%RH', 'ppm/%RH'],
  'heat-capacity': ['J/kgK', 'kJ/kgK'],
}

export const DIMENSIONS: readonly Dimension[] = Object.keys(NAMES) as Dimension[]

/** The dimension in the shop's words, with its article: 'a line tension'. */
export const dimensionName = (dimension: Dimension): string => NAMES[dimension]

/** The units that a number of the dimension most often wants, the likeliest first. */
export const likelyUnits = (dimension: Dimension): readonly string[] => LIKELY[dimension] ?? [canonicalUnit(dimension).id]

/** What is wanted, without any value that somebody could take for theirs: 'a length (mm, m, µm or in)'. */
export function dimensionInUnits(dimension: Dimension): string {
  const units = likelyUnits(dimension)
  const listed = units.length < 2 ? units.join('') : `${units.slice(0, -1).join(', ')} or ${units.at(-1)}`
  return `${dimensionName(dimension)} (${listed})`
}

const BY_DIMENSION: ReadonlyMap<Dimension, readonly Unit[]> = new Map(
  DIMENSIONS.map((dimension) => [dimension, UNITS.filter((u) => u.dimension === dimension)]),
)
const BY_SPELLING: ReadonlyMap<Dimension, ReadonlyMap<string, Unit>> = new Map(
  [...BY_DIMENSION].map(([dimension, units]) => [
    dimension,
    new Map(units.flatMap((u) => u.spellings.map((s) => [s, u] as const))),
  ]),
)

/** Where a spelling means several dimensions, the one it most often means when nothing else says: 'K' alone is a difference. */
const WITHOUT_CONTEXT: ReadonlyMap<string, Unit> = new Map(
  [...UNITS]
    .sort((a, b) => Number(b.dimension === 'temperature') - Number(a.dimension === 'temperature'))
    .flatMap((u) => u.spellings.map((s) => [s, u] as const)),
)

/** The units of a dimension, canonical first. */
export const unitsOf = (dimension: Dimension): readonly Unit[] => BY_DIMENSION.get(dimension)!

export const canonicalUnit = (dimension: Dimension): Unit => unitsOf(dimension)[0]!

/** The unit a spelling means, in one dimension or in the likeliest; undefined when there is none. Spellings are case-sensitive. */
export function findUnit(spelling: string, dimension?: Dimension): Unit | undefined {
  return dimension === undefined ? WITHOUT_CONTEXT.get(spelling) : BY_SPELLING.get(dimension)!.get(spelling)
}

function unit(
  dimension: Dimension,
  id: string,
  ratio: readonly [number, number],
  title: string,
  source: string,
  also: readonly string[] = [],
  offset?: number,
): Unit {
  const spellings = [...new Set([id, ...also].flatMap(typedForms))]
  const common = { id, dimension, factor: ratio[0] / ratio[1], ratio, exact: true, spellings, title, source }
  return offset === undefined ? common : { ...common, offset }
}

/** A spelling and what a keyboard makes of it: both code points of micro, 'u' for it, and plain digits for powers. */
function typedForms(spelling: string): readonly string[] {
  const powers = spelling.replaceAll('²', '2').replaceAll('³', '3')
  return [spelling, powers].flatMap((s) => [s, s.replaceAll('µ', 'μ'), s.replaceAll('µ', 'u')])
}
