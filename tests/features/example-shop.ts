// One small shop for the tests of features: a printer with levels and gaps, a stock with lots, two instruments, and a profile to be based on.

export const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
instruments:
  steel-rule-1m: {kind: steel rule, division: 0.5 mm}
  tape-5m: {kind: tape, division: 1 mm}
#- film.stock.yaml
stock: film
title: Gloss cast film
family: film-pvc-cast
thickness: 50 µm
max-web-temperature: 45 °C
wound: out
lots:
  - {lot: L-17, received: 2026-03-02}
  - {lot: L-18, received: 2026-03-20}
#- canvas.stock.yaml
stock: canvas
title: Cotton canvas
family: canvas
thickness: 380 µm
#- bay-1.printer.yaml
printer: bay-1
title: Bay 1, solvent
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2, channels: [cyan, magenta, yellow, black]}
carriage: {gaps: [1.5 mm, 2.0 mm, 2.5 mm]}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
heaters:
  platen: {length: 200 mm, range: [30 °C, 50 °C], step: 1 K}
suction: {levels: {1: 100 Pa, 2: 200 Pa, 3: 320 Pa}}
web: {tension-levels: {1: 8 N/m, 2: 15 N/m}}
modes:
  standard: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
  fine: {resolution: 720 x 720 dpi, passes: 16, carriage-speed: 1000 mm/s, directions: one-way}
#- everyday.media.yaml
profile: everyday
title: Film, everyday
stock: film
printer: bay-1
mode: standard
gap: 2.0 mm
heat: {platen: 40 °C}
`

/** A fixture: the profile that is being worked on first, then its shop. */
export const inShop = (profile: string): string => `#- example.media.yaml\n${profile}${profile.endsWith('\n') ? '' : '\n'}${SHOP}`

/** The same for a profile whose text must not end in a line break: the cursor stands at the very end. */
export const lastInShop = (profile: string): string => `${SHOP}#- example.media.yaml\n${profile}`
