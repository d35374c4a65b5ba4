// The printer that the feed rules' examples print on, as further files of an example.

/** Percent entry in steps of 0.01 %, at most 2 % either way. */
export const PERCENT_PRINTER = `#- p.printer.yaml
printer: p
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
`

/** Four passes of 6.35 mm in its one mode, and a fine pattern in which a patch is 2 µm, 0.0315 % of that. */
export const FINE_PRINTER = `#- p.printer.yaml
printer: p
heads: {nozzle-pitch: 1/360 in, nozzles: 360, rows: 1}
modes:
  m: {resolution: 720 x 360 dpi, passes: 4}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent, fine: {rows: [left, middle, right], patches: 11, step: 2 µm}}
`

/** What the checks of an example were made in, which is what its profile sets: stock s on printer p in mode m. */
export const HERE = 'conditions: {here: {from: profile, stock: s, printer: p, mode: m}}\n'

/** A banner that hardly minds warmth, and a printer with one mode, which says how it is told its correction and no more. */
export const PLAIN_PAIR = `#- s.stock.yaml
stock: s
family: banner-pvc
thickness: 0.4 mm
expansion: 10 ppm/K
#- p.printer.yaml
printer: p
modes:
  m: {resolution: 720 x 360 dpi, passes: 4}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
`

/** A shop with two rules and the usual limits. */
export const EXAMPLE_SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
tolerance: {length: 0.05 %}
recheck: {feed: 30 d}
instruments:
  rule-1m: {kind: rule, division: 0.5 mm, limit-of-error: [0.3 mm, 0.2 mm/m], due: 2027-01-31}
  rule-2m: {kind: rule, division: 0.5 mm, limit-of-error: class-1, due: 2027-01-31}
`

/** The end of a profile of `s` on that printer whose fine picks were made under what it sets today. */
export const AS_NOW = `conditions:
  as-now: {from: profile, stock: s, printer: p, mode: m}
${FINE_PRINTER}`

/**
 * A shop with a sensor, and profiles on one printer and stock with a check a day: of each profile the lengths that came out, in mm of a metre, and the lot of
 * each. The first file is the one that is looked at.
 */
export function historyShop(first: string, profiles: readonly (readonly (readonly [length: number, lot: string])[])[]): string {
  const files = profiles.map((checks, p) => {
    const lines = checks.map(
      ([length, lot], i) =>
        `    - {date: 2026-03-${10 + i}, commanded: 1000 mm, measured: ${length} mm, applied: 0 %, with: sensor, web: 23 °C, lot: ${lot}, under: here}\n`,
    )
    return `#- e${p}.media.yaml
profile: e${p}
stock: s
printer: p
mode: m
feed:
  checks:
${lines.join('')}conditions: {here: {from: profile, stock: s, printer: p, mode: m}}
`
  })
  const others = ['#- s.stock.yaml\nstock: s\n', '#- p.printer.yaml\nprinter: p\n'].filter(
    (text) => text.slice(0, 8) !== first.slice(0, 8),
  )
  return `${first}${others.join('')}${files.join('')}#- rollbook.yaml
shop: S
instruments: {sensor: {kind: sensor, division: 0.01 mm, limit-of-error: [0.05 mm, 0.1 mm/m]}}
`
}
