// The texts that are measured: realistic profiles of a given length, the keystrokes of a person at work in one, and a shop of ten thousand.
// All of it is made from plain arithmetic on the index, so that every run measures the same bytes (dates count back from today).

/** One change of a text as an editor sends it: `insert` typed at `at`, after `remove` characters were taken out. */
export interface Keystroke {
  readonly at: number
  readonly remove: number
  readonly insert: string
}

/** What was typed where; keystrokes of one place follow each other. */
export const PLACES = ['check in the middle', 'end of the text', 'top-level scalar', 'new line'] as const
export type PlaceName = (typeof PLACES)[number]

const DAY = 86_400_000

/** A date so many days before `today`, YYYY-MM-DD. */
export const dayBefore = (today: Date, days: number): string => new Date(today.getTime() - days * DAY).toISOString().slice(0, 10)

export interface ProfileOptions {
  readonly id: string
  readonly stock: string
  readonly printer: string
  /** How many checks of the feed; one every other day, the newest yesterday. */
  readonly checks: number
  readonly readings: number
  readonly observed: number
  readonly today: Date
  readonly slot?: number
  readonly mode?: string
  readonly lot?: string
}

/** A profile with every setting given and a long history. Valid for the sample shop's stocks and printers. */
export function profile(options: ProfileOptions): string {
  const { id, stock, printer, today, slot = 29, mode = 'standard-8-pass', lot = 'C-2610' } = options
  const checks = times(options.checks, (i) => {
    const date = dayBefore(today, 1 + 2 * (options.checks - 1 - i))
    const measured = (999.5 + ((i * 7) % 11) / 10).toFixed(1)
    const web = 22 + ((i * 5) % 4)
    return `    - { date: ${date}, commanded: 1000 mm, measured: ${measured} mm, applied: +0.18 %, with: steel-rule-1m, web: ${web} °C, lot: ${lot} }`
  })
  const zones = [
    ['before', 36, 34],
    ['platen', 40, 38.5],
    ['after', 44, 41],
  ] as const
  const readings = times(options.readings, (i) => {
    const [zone, set, web] = zones[i % 3]!
    const date = dayBefore(today, 3 + 20 * Math.floor((options.readings - 1 - i) / 3))
    return `    - { date: ${date}, zone: ${zone}, set: ${set} °C, web: ${web + ((i * 3) % 5) / 10} °C }`
  })
  const faults = ['bands-dark', 'bands-light', 'grain', 'skew', 'creases']
  const observed = times(options.observed, (i) => {
    const date = dayBefore(today, 5 + 9 * (options.observed - 1 - i))
    return `  - { date: ${date}, fault: ${faults[i % 5]}, note: "left third of the web, from ${1 + (i % 9)} m on", settled: ${date} }`
  })
  const recent = dayBefore(today, 9)
  return `# Kept by the day shift; ask before you change a number.
profile: ${id}
title: Gloss cast film, the long history
stock: ${stock}
printer: ${printer}
mode: ${mode}
slot: ${slot}
gap: 1.5 mm

feed:
  correction: +0.18 %
  checks:
${checks.join('\n')}
  fine:
    date: ${recent}
    applied: +0.18 %
    mode: ${mode}
    picks: [0, 0, 0]

alignment:
  date: ${recent}
  gap: 1.5 mm
  thickness: 215 µm
  mode: ${mode}
  one-way: { cyan: 0, magenta: 0, yellow: -1, black: 0 }
  two-way: { cyan: 1, magenta: 0, yellow: 1, black: 1 }

heat:
  before: 36 °C
  platen: 40 °C
  after: 44 °C
  fan: true
  readings:
${readings.join('\n')}

drying:
  pause: 0 s
  run-out: 8 min

suction: 2

carriage: { travel: image, strikes: 1 }

web: { wound: out, tension: 2, slack-watch: at-intervals, speed: 60 mm/s }

colour: { ink-limit: 260 % }

observed:
${observed.join('\n')}

notes: Vehicle work goes through the fine profile that builds on this one.
`
}

/** A profile of exactly `lines` lines for the sample shop: seven checks in eight lines of history, the rest readings and observations. */
export function profileOfLines(lines: number, today: Date): string {
  const fixed = profile({ ...GLOSS, checks: 1, readings: 1, observed: 1, today }).split('\n').length - 1 - 3
  const history = lines - fixed
  const readings = Math.max(3, Math.round(history * 0.08))
  const observed = Math.max(2, Math.round(history * 0.05))
  return profile({ ...GLOSS, checks: history - readings - observed, readings, observed, today })
}

/** The file that `profileOfLines` belongs in, below the sample shop. */
export const LONG_PROFILE = 'profiles/long-history-bay-1.media.yaml'
const GLOSS = { id: 'long-history-bay-1', stock: 'cast-film-gloss-50', printer: 'bay-1' }

/**
 * `count` keystrokes over the four places in turn, a burst at each: a digit typed and taken back in a check, in the last note and in the gap,
 * and a new check typed letter by letter, then rubbed out. The text is what it was after every whole round of four bursts.
 */
export function keystrokes(text: string, count: number): { place: PlaceName; stroke: Keystroke }[] {
  const out: { place: PlaceName; stroke: Keystroke }[] = []
  const round = (): void => {
    for (const place of PLACES) for (const stroke of burst(text, place)) out.push({ place, stroke })
  }
  while (out.length < count) round()
  return out.slice(0, count)
}

/** Half the keystrokes of a burst; the other half takes them back. */
const HALF = 12
const NEW_CHECK = '    - { date: 2026-1'

function burst(text: string, place: PlaceName): Keystroke[] {
  if (place === 'new line') {
    const line = text.indexOf('\n  fine:') + 1
    const typed = [...`\n${NEW_CHECK}`.slice(0, HALF)].map((insert, i) => ({ at: line - 1 + i, remove: 0, insert }))
    const rubbed = typed.map(({ at }) => ({ at, remove: 1, insert: '' })).reverse()
    return [...typed, ...rubbed]
  }
  const at = placeOf(text, place)
  return times(HALF, (i) => [
    { at, remove: 0, insert: String(1 + (i % 9)) },
    { at, remove: 1, insert: '' },
  ]).flat()
}

/** Where a digit is typed. */
export function placeOf(text: string, place: PlaceName): number {
  if (place === 'top-level scalar') return text.indexOf('gap: 1.5') + 'gap: 1.'.length
  if (place === 'end of the text') return text.lastIndexOf('.')
  const checks = [...text.matchAll(/measured: \d+\.\d/g)]
  const middle = checks[checks.length >> 1]!
  return middle.index + middle[0].length
}

export const applied = (text: string, { at, remove, insert }: Keystroke): string =>
  text.slice(0, at) + insert + text.slice(at + remove)

/** A shop of `count` profiles of about 2.6 kB with 50 stocks and 10 printers, by path. `read` gives the sample's texts. */
export function bigShop(count: number, today: Date, read: (path: string) => string): Map<string, string> {
  const files = new Map<string, string>([['rollbook.yaml', read('rollbook.yaml')]])
  const stock = read('stocks/cast-film-gloss-50.stock.yaml')
  const printer = read('printers/bay-1.printer.yaml').replace('slots: 30', `slots: ${count}`)
  for (let i = 1; i <= 50; i++)
    files.set(`stocks/film-${i}.stock.yaml`, stock.replaceAll('stock: cast-film-gloss-50', `stock: film-${i}`))
  for (let i = 1; i <= 10; i++)
    files.set(`printers/press-${i}.printer.yaml`, printer.replace('printer: bay-1', `printer: press-${i}`))
  for (let i = 1; i <= count; i++) {
    const id = `film-${1 + (i % 50)}-${i}`
    const where = { stock: `film-${1 + (i % 50)}`, printer: `press-${1 + (i % 10)}`, slot: i }
    files.set(`profiles/${i % 100}/${id}.media.yaml`, profile({ id, ...where, checks: 9, readings: 3, observed: 2, today }))
  }
  return files
}

const times = <T>(count: number, make: (index: number) => T): T[] => Array.from({ length: Math.max(0, count) }, (_, i) => make(i))
