// A shop of our own invention, as it stands when its year begins, and what a technician does to its documents in the course of it.
import { expect } from 'vitest'
import { ran } from '../cli/shell.ts'

/** The documents by path. */
const LANTERN_LANE: Readonly<Record<string, string>> = {
  'rollbook.yaml': `shop: Lantern Lane Signs
units: metric
tolerance: { length: 0.05 %, registration: 60 µm, risk: 5 % }
recheck: { feed: 45 d, alignment: 365 d }
climate: { temperature: [18 °C, 27 °C], humidity: [40 %RH, 60 %RH] }
reference-temperature: 23 °C
instruments:
  long-rule: { kind: rule, division: 0.5 mm, length: 2 m, limit-of-error: class-1, expansion: 11.5 ppm/K }
  yard-rule: { kind: rule, division: 1/64 in, length: 48 in, limit-of-error: class-1 }
rules:
  not-judged: ignore
  setting-missing: ignore
`,
  'printers/till.printer.yaml': `printer: till
heads: { nozzle-pitch: 1/180 in, nozzles: 180, rows: 2, channels: [cyan, magenta, yellow, black], drop-speed: 7 m/s }
modes:
  brisk: { resolution: 720 x 360 dpi, passes: 4, carriage-speed: 1000 mm/s, directions: one-way }
  dense: { resolution: 720 x 720 dpi, passes: 16, carriage-speed: 1000 mm/s, directions: one-way }
carriage: { bed-width: 1600 mm, overrun: 110 mm, turnaround: 0.4 s, gaps: [1.5 mm, 2.0 mm, 2.5 mm] }
feed: { range: [-2 %, 2 %], step: 0.01 %, entry: percent, pattern-lengths: [1900 mm], repeatability: { value: 0.01 %, freedom: 12, date: 2026-01-09 } }
heaters:
  platen: { length: 200 mm, range: [30 °C, 50 °C], step: 1 K, coupling: 110 W/m²K }
  after: { length: 420 mm, range: [30 °C, 60 °C], step: 1 K, coupling: 40 W/m²K }
drying: { pause-range: [0 s, 8 s], run-out-range: [0 min, 30 min], path-to-winding: 1.3 m }
suction: { levels: { 1: 80 Pa, 2: 160 Pa, 3: 240 Pa, 4: 320 Pa }, depth: 120 mm, open-area: 3 %, hole: 2 mm }
web: { tension-levels: { 1: 10 N/m, 2: 20 N/m, 3: 30 N/m }, speed-range: [20 mm/s, 100 mm/s] }
slots: 10
events: []
room: []
`,
  'printers/weir.printer.yaml': `printer: weir
heads: { nozzle-pitch: 1/150 in, nozzles: 180, rows: 2, channels: [cyan, magenta, yellow, black], drop-speed: 6 m/s }
modes:
  posters: { resolution: 600 x 300 dpi, passes: 4, carriage-speed: 30 in/s, directions: one-way }
carriage: { bed-width: 54 in, overrun: 4 in, turnaround: 0.5 s, gaps: [0.07 in, 0.09 in] }
feed: { range: [-2 %, 2 %], step: 0.01 in, entry: measured-length, pattern-lengths: [40 in], repeatability: { value: 0.01 %, freedom: 12, date: 2026-01-09 } }
suction: { levels: { 1: 80 Pa, 2: 160 Pa }, depth: 5 in, open-area: 3 %, hole: 2 mm }
web: { tension-range: [5 N/m, 40 N/m], speed-range: [1 in/s, 4 in/s] }
room: []
`,
  'stocks/banner-450.stock.yaml': `stock: banner-450
family: banner-pvc
thickness: 350 µm
grammage: 450 g/m²
modulus: 0.5 GPa
expansion: 70 ppm/K
widths: [1370 mm]
friction: 0.35
wound: out
lots:
  - { lot: L-31, received: 2026-01-05, opened: 2026-01-08 }
`,
  'stocks/film-60.stock.yaml': `stock: film-60
family: film-pvc-cast
thickness: 220 µm
modulus: 0.9 GPa
expansion: 70 ppm/K
widths: [1370 mm]
friction: 0.3
wound: out
`,
  'stocks/paper-190.stock.yaml': `stock: paper-190
family: paper-coated
thickness: 180 µm
modulus: 4 GPa
expansion: 8 ppm/K
moisture-expansion: 0.004 %/%RH
widths: [50 in]
friction: 0.35
wound: out
`,
  'profiles/banner-450-till.media.yaml': `profile: banner-450-till
stock: banner-450
printer: till
mode: brisk
gap: 2.0 mm
feed:
  correction: +0.21 %
  checks:
    - { date: 2026-01-12, commanded: 1900 mm, measured: 1896.0 mm, applied: 0 %, with: long-rule, web: 23 °C, lot: L-31, under: winter }
    - { date: 2026-01-13, commanded: 1900 mm, measured: 1900.0 mm, applied: +0.21 %, with: long-rule, web: 22 °C, lot: L-31, under: winter }
    - { date: 2026-01-15, commanded: 1900 mm, measured: 1899.9 mm, applied: +0.21 %, with: long-rule, web: 23 °C, lot: L-31, under: winter }
    - { date: 2026-01-19, commanded: 1900 mm, measured: 1900.1 mm, applied: +0.21 %, with: long-rule, web: 22 °C, lot: L-31, under: winter }
heat: { platen: 40 °C, after: 46 °C }
drying: { pause: 0 s, run-out: 6 min }
suction: 2
web: { wound: out, tension: 2, speed: 60 mm/s }
observed: []
keyed: []
conditions:
  winter: { from: profile, stock: banner-450, printer: till, mode: brisk, gap: 2.0 mm, suction: 2, web.tension: 2, web.speed: 60 mm/s, heat.platen: 40 °C, heat.after: 46 °C, drying.pause: 0 s, drying.run-out: 6 min }
`,
  'profiles/film-60-till.media.yaml': `profile: film-60-till
stock: film-60
printer: till
mode: brisk
gap: 1.5 mm
feed:
  correction: +0.15 %
  checks:
    - { date: 2026-03-17, commanded: 1900 mm, measured: 1900.0 mm, applied: +0.15 %, with: long-rule, web: 23 °C, under: full }
    - { date: 2026-03-18, commanded: 1900 mm, measured: 1900.1 mm, applied: +0.15 %, with: long-rule, web: 23 °C, under: full }
    - { date: 2026-03-20, commanded: 1900 mm, measured: 1899.9 mm, applied: +0.15 %, with: long-rule, web: 23 °C, under: full }
    - { date: 2026-03-23, commanded: 1900 mm, measured: 1900.0 mm, applied: +0.15 %, with: long-rule, web: 23 °C, under: full }
heat: { platen: 38 °C, after: 42 °C }
drying: { pause: 0 s, run-out: 8 min }
suction: 4
web: { wound: out, tension: 2, speed: 60 mm/s }
observed: []
keyed: []
conditions:
  full: { from: profile, stock: film-60, printer: till, mode: brisk, gap: 1.5 mm, suction: 4, web.tension: 2, web.speed: 60 mm/s, heat.platen: 38 °C, heat.after: 42 °C, drying.pause: 0 s, drying.run-out: 8 min }
`,
  'profiles/paper-190-weir.media.yaml': `profile: paper-190-weir
stock: paper-190
printer: weir
mode: posters
gap: 0.07 in
feed:
  correction: 0 %
  checks: []
suction: 2
web: { wound: out, tension: 20 N/m, speed: 2 in/s }
observed: []
keyed: []
conditions:
  first: { from: profile, stock: paper-190, printer: weir, mode: posters, gap: 0.07 in, suction: 2, web.tension: 20 N/m, web.speed: 2 in/s }
`,
}

export class Year {
  private readonly documents = new Map(Object.entries(LANTERN_LANE))

  /** Types `after` over `before`, which stands there once. */
  type(path: string, before: string, after: string): void {
    const text = this.documents.get(path) ?? ''
    expect(text.split(before).length, `${before} stands in ${path} once`).toBe(2)
    this.documents.set(
      path,
      text.replace(before, () => after),
    )
  }

  /** Adds an entry, newest last, to the list of a key that stands alone on its line. */
  add(path: string, key: string, entry: string): void {
    const lines = (this.documents.get(path) ?? '').split('\n')
    const at = lines.findIndex((line) => line.trimStart() === `${key}:` || line.trimStart() === `${key}: []`)
    expect(at, `${path} has ${key}`).toBeGreaterThanOrEqual(0)
    const indent = lines[at]!.search(/\S/)
    lines[at] = `${' '.repeat(indent)}${key}:`
    let end = at + 1
    while (end < lines.length && lines[end]!.startsWith(`${' '.repeat(indent)}  `)) end++
    lines.splice(end, 0, `${' '.repeat(indent)}  ${entry}`)
    this.documents.set(path, lines.join('\n'))
  }

  /** Copies a document, as people do, with some words replaced. */
  copy(from: string, to: string, ...replaced: readonly (readonly [before: string, after: string])[]): void {
    this.documents.set(
      to,
      replaced.reduce((text, [before, after]) => text.replaceAll(before, after), this.documents.get(from)!),
    )
  }

  /** What `rollbook feed` says in short. */
  async feed(profile: string, today: string): Promise<string> {
    const { out, err } = await ran(`feed ${profile} --today ${today}`, this.fixture)
    expect(err).toBe('')
    const said = /\nIn short\n([\s\S]*?)(?:\n\n|$)/.exec(out)?.[1] ?? out
    return said
      .trimEnd()
      .replaceAll(' Here and below, ± is the 95 % interval.', '')
      .replace(/^ {2}- /gm, '')
  }

  /** What `rollbook check` tells of one document, without fixes and places. */
  async check(path: string, today: string): Promise<string> {
    const { out } = await ran(`check ${path} --today ${today}`, this.fixture)
    const told = out.split('\n').flatMap((line) => /^ +\d+:\d+ +((?:error|warning|hint) .*)$/.exec(line)?.[1] ?? [])
    return told.length === 0 ? 'nothing found' : told.join('\n')
  }

  private get fixture(): string {
    return [...this.documents].map(([path, text]) => `#- ${path}\n${text}`).join('')
  }
}
