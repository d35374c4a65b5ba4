// A document's metric quantities written in inch-pound units, by the exact factors of NIST SP 811 App. B: for tests that units change no result.

const INCH = 0.0254
const POUND_FORCE = 4.4482216152605

/** The inch-pound unit for each metric one, and how many SI units the two are: metric first. */
const UNITS: Readonly<Record<string, readonly [string, number, number]>> = {
  µm: ['mil', 1e-6, INCH / 1000],
  mm: ['in', 1e-3, INCH],
  m: ['ft', 1, 12 * INCH],
  Pa: ['inH2O', 1, 249.08891],
  'N/m': ['lbf/in', 1, POUND_FORCE / INCH],
  GPa: ['ksi', 1e9, (1000 * POUND_FORCE) / INCH ** 2],
  MPa: ['psi', 1e6, POUND_FORCE / INCH ** 2],
  'g/m²': ['oz/yd²', 1e-3, 0.028349523125 / (36 * INCH) ** 2],
  'mm/s': ['in/s', 1e-3, INCH],
}

/** Headers, notes and what has no such unit stay as they are. */
export const inInches = (text: string): string =>
  text.replace(/(-?\d+(?:\.\d+)?) (µm|mm\/s|mm|m|Pa|N\/m|GPa|MPa|g\/m²)(?=[,}\]\s])/g, (_, number: string, metric: string) => {
    const [unit, from, to] = UNITS[metric]!
    return `${((Number(number) * from) / to).toFixed(15)} ${unit}`
  })
