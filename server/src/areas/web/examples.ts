// What the web rules' examples print on, as further files of an example.

/** A printer with four tension levels. */
export const LEVEL_PRINTER = `#- p.printer.yaml
printer: p
drying: {path-to-winding: 1.4 m}
web:
  tension-levels: {1: 8 N/m, 2: 15 N/m, 3: 25 N/m, 4: 40 N/m}
  speed-range: [20 mm/s, 120 mm/s]
  slack-watch: [never, start-of-job, at-intervals]
  slack-interval: 2 m
`

/** A printer that pulls anything between two ends. */
export const RANGE_PRINTER = `#- p.printer.yaml
printer: p
drying: {path-to-winding: 1.4 m}
web:
  tension-range: [5 N/m, 60 N/m]
  speed-range: [20 mm/s, 120 mm/s]
  slack-watch: [never]
`

/** Stretch cloth that takes little. */
export const KNIT = `#- s.stock.yaml
stock: s
family: textile-knit
thickness: 300 µm
grammage: 150 g/m²
modulus: 15 MPa
`

/** A heavy banner. */
export const BANNER = `#- s.stock.yaml
stock: s
family: banner-pvc
thickness: 400 µm
grammage: 510 g/m²
modulus: 0.4 GPa
`
