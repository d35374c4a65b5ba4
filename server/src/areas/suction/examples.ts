// What the suction rules' examples print on and with, as further files of an example.

/** Four levels over 120 mm of platen, 60 µm of soft film known outright. */
export const SUCTION_PRINTER = `#- p.printer.yaml
printer: p
heads: {drop-speed: 7 m/s}
modes:
  m: {carriage-speed: 1000 mm/s, directions: two-way}
suction:
  levels: {1: 100 Pa, 2: 400 Pa, 3: 800 Pa, 4: 1600 Pa}
  depth: 120 mm
  open-area: 10 %
  hole: 2 mm
`

/** A printer whose suction is set by pressure. */
export const PRESSURE_PRINTER = `#- p.printer.yaml
printer: p
suction: {depth: 120 mm, open-area: 10 %, hole: 2 mm}
`

export const SOFT_FILM = `#- s.stock.yaml
stock: s
family: film-pvc-cast
thickness: 60 µm
modulus: 0.3 GPa
poisson: 0.4
friction: 0.3
curl-radius: 600 mm
wound: out
`

/** Thick, springy film with a strong set from its core. */
export const SPRINGY_FILM = `#- s.stock.yaml
stock: s
family: film-pp
thickness: 200 µm
modulus: 1.6 GPa
poisson: 0.4
friction: 0.3
curl-radius: 90 mm
wound: in
`
