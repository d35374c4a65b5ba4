// The printer and the stock that the examples of throughput, landing and completeness rules print with, as further files of an example.

export const MACHINE = `#- p.printer.yaml
printer: p
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2, channels: [cyan, magenta, yellow, black], drop-speed: 7 m/s}
modes:
  one-pass: {resolution: 720 x 360 dpi, passes: 1, carriage-speed: 1000 mm/s, directions: two-way}
  standard: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
  slow: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 500 mm/s, directions: two-way}
  one-way: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: one-way}
  half: {resolution: 720 x 720 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
  seven: {resolution: 720 x 360 dpi, passes: 7, carriage-speed: 1000 mm/s, directions: two-way}
carriage: {bed-width: 1600 mm, overrun: 120 mm, turnaround: 0.35 s, gaps: [1.5 mm, 2.0 mm, 0.1 in]}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
alignment: {patches: 11, step: 18 µm}
web: {speed-range: [2 mm/s, 120 mm/s]}
slots: 30
`

export const FILM = `#- s.stock.yaml
stock: s
family: film-pvc-cast
thickness: 215 µm
widths: [914 mm, 1372 mm, 1800 mm]
`
