// The shop that the editor tests work on: written into a temporary folder, with today's date in the check so that it is never stale.
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

export const PROFILE = 'film-pet-bay-1.media.yaml'

/** A folder of its own for one test run. */
export function temporaryFolder(): string {
  return mkdtempSync(join(tmpdir(), 'rollbook-editor-'))
}

/** Writes the shop below `folder` and returns its folder. `step` is the printer's step of the feed correction. */
export function writeShop(folder: string, name: string, step = '0.01 %'): string {
  const shop = join(folder, name)
  mkdirSync(shop, { recursive: true })
  for (const [file, text] of Object.entries(documents(step))) writeFileSync(join(shop, file), text)
  return shop
}

/** The profile's text. The comments, the odd spacing and the quotes are there to be kept by every edit. */
export function profile(correction: string): string {
  return `# Kept by the day shift.
profile:   film-pet-bay-1
title: "PET film, 'display' quality"   # µ and ° and – survive
stock: film-pet
printer: bay-1
mode: display
gap: 1.6 mm

feed:
  correction: ${correction}   # keyed in after the last roll
  checks:
    - { date: ${today()}, commanded: 500 mm, measured: 499.4 mm, applied: 0 %, with: steel-rule-1m, web: 23 °C, under: here }

heat: { platen: 42 °C }   

conditions:
  here: { from: profile, stock: film-pet, printer: bay-1, mode: display, gap: 1.6 mm, heat.platen: 42 °C }
`
}

function documents(step: string): Record<string, string> {
  return {
    [PROFILE]: profile('0 %'),
    'rollbook.yaml': `shop: Tern Quay Print Works
instruments:
  steel-rule-1m: { kind: rule, division: 0.5 mm }
`,
    'film-pet.stock.yaml': `stock: film-pet
title: PET film
family: film-pet
thickness: 100 µm
`,
    'bay-1.printer.yaml': `printer: bay-1
title: The printer by the window
heads: { nozzle-pitch: 70.5 µm, nozzles: 360, rows: 2, channels: [c, m, y, k] }
modes:
  display: { resolution: 720 x 720 dpi, passes: 4, carriage-speed: 1 m/s, directions: two-way }
carriage: { bed-width: 1600 mm, overrun: 100 mm, turnaround: 0.3 s, gaps: [1.6 mm, 2.4 mm] }
feed: { range: [-2 %, 2 %], step: ${step}, entry: percent, pattern-lengths: [500 mm] }
heaters:
  platen: { length: 300 mm, range: [20 °C, 60 °C], step: 1 K, coupling: 30 W/m²K }
`,
  }
}

function today(): string {
  const now = new Date()
  const two = (n: number): string => String(n).padStart(2, '0')
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`
}
