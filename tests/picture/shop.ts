// A profile in which a feed check stands in each way there is: it counts, is brought here, stands apart, proves nothing of today, is left out or cannot be reckoned.

export const TODAY = '2026-11-26'

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
tolerance: {length: 0.05 %, risk: 5 %}
recheck: {feed: 60 d}
instruments:
  rule-2m: {kind: rule, division: 0.5 mm, limit-of-error: class-1, length: 2 m}
`
const STOCK = `#- banner.stock.yaml
stock: banner
family: banner-pvc
thickness: 0.4 mm
modulus: 0.5 GPa
expansion: 20 ppm/K
friction: 0.3
lot-spread: {value: 0.01 %, freedom: 10, date: 2026-09-30}
dry-touch: {time: 3 min, at: 45 °C}
`
const PRINTER = `#- bay-1.printer.yaml
printer: bay-1
heads: {nozzle-pitch: 1/360 in, nozzles: 360, rows: 1, drop-speed: 7 m/s, channels: [cyan, magenta, yellow, black]}
modes:
  four: {resolution: 720 x 360 dpi, passes: 4, carriage-speed: 1 m/s, directions: two-way}
carriage: {bed-width: 1600 mm, gaps: [2 mm], overrun: 120 mm, turnaround: 0.35 s}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent, pattern-lengths: [2000 mm], repeatability: {value: 0.012 %, freedom: 14, date: 2026-09-30}}
suction: {levels: {1: 100 Pa, 2: 150 Pa, 3: 300 Pa}, depth: 120 mm, open-area: 3 %, hole: 2 mm}
alignment: {patches: 11, step: 18 µm}
heaters:
  before: {length: 250 mm, range: [30 °C, 50 °C], step: 1 K}
  platen: {length: 200 mm, range: [30 °C, 50 °C], step: 1 K}
  after: {length: 450 mm, range: [30 °C, 60 °C], step: 1 K}
drying: {pause-range: [0 s, 10 s], path-to-winding: 1.4 m}
web: {tension-levels: {1: 10 N/m, 2: 20 N/m}, speed-range: [20 mm/s, 120 mm/s]}
events:
  - {date: 2026-09-20, what: feed-roller-cleaned}
`
const SETTINGS =
  'from: profile, stock: banner, printer: bay-1, mode: four, gap: 2 mm, web.tension: 1, heat.before: 40 °C, heat.platen: 42 °C, heat.after: 48 °C, web.speed: 60 mm/s, drying.pause: 0 s, drying.run-out: 5 min'

/** The last words of each line say how it stands. */
export const CHECKS = [
  '{date: 2026-09-10, commanded: 2000 mm, measured: 1994 mm, applied: 0 %, with: rule-2m, web: 23 ±1 °C, lot: B-1, under: here}', // before the roller was cleaned
  '{date: 2026-10-05, commanded: 2000 mm, measured: 1995.6 mm, applied: 0 %, with: rule-2m, web: 23 ±1 °C, lot: B-1, under: then}', // brought here
  '{date: 2026-10-19, commanded: 2000 mm, measured: 1995.9 mm, applied: 0 %, with: rule-2m, web: 23 ±1 °C, lot: B-1, under: here}', // counts
  '{date: 2026-10-20, commanded: 2000 mm, measured: 1900 mm, applied: 0 %, with: rule-2m, lot: B-1, under: here, skip: "the web slipped <b>twice</b> & \\"fell\\""}', // left out
  '{date: 2026-11-02, commanded: 2000 mm, measured: 1995.8 mm, applied: 0 %, with: rule-2m, web: 23 ±1 °C, lot: B-2, under: here}', // counts
  '{date: 2026-11-09, commanded: 2000 mm, applied: 0 %, with: rule-2m, lot: B-2, under: here}', // incomplete
  '{date: 2026-11-12, commanded: 2000 mm, measured: 1990.5 mm, applied: 0 %, with: rule-2m, web: 23 ±1 °C, lot: B-2, under: here}', // far from the others
  '{date: 2026-11-23, commanded: 2000 mm, measured: 1995.8 mm, applied: 0 %, with: rule-2m, web: 23 ±1 °C, lot: B-2, under: here}', // counts
  '{date: 2026-11-24, commanded: 2000 mm, measured: 1995.9 mm, applied: 0 %, with: rule-2m, web: 23 ±1 °C, lot: B-2, under: here}', // counts
]

export const profile = (checks: readonly string[] = CHECKS): string => `#- e.media.yaml
profile: e
title: Banner
stock: banner
printer: bay-1
mode: four
gap: 2 mm
suction: 1
web: {tension: 1, speed: 60 mm/s}
heat: {before: 40 °C, platen: 42 °C, after: 48 °C}
drying: {pause: 0 s, run-out: 5 min}
alignment:
  date: 2026-10-29
  under: here
  one-way: {cyan: 0, magenta: 0, yellow: 1, black: 0}
  two-way: {cyan: 1, magenta: 1, yellow: 1, black: 3}
feed:
  correction: +0.17 %
  checks:
${checks.map((check) => `    - ${check}\n`).join('')}conditions:
  here: {${SETTINGS}, suction: 1}
  then: {${SETTINGS}, suction: 3}
`

export const shopWith = (own: string = profile()): string => own + SHOP + STOCK + PRINTER
