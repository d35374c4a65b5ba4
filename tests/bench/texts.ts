// The texts that are measured: realistic profiles of a given length.
// All of it is made from plain arithmetic on the index, so that every run measures the same bytes (dates count back from today).

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
    return `    - { date: ${date}, commanded: 1000 mm, measured: ${measured} mm, applied: +0.18 %, with: steel-rule-1m, web: ${web} °C, lot: ${lot}, under: as-set }`
  })
  const zones = [
    ['before', 36, 34],
    ['platen', 40, 38.5],
    ['after', 44, 41],
  ] as const
  const readings = times(options.readings, (i) => {
    const [zone, set, web] = zones[i % 3]!
    const date = dayBefore(today, 3 + 20 * Math.floor((options.readings - 1 - i) / 3))
    return `    - { date: ${date}, zone: ${zone}, set: ${set} °C, web: ${web + ((i * 3) % 5) / 10} °C, under: as-set }`
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
    under: as-set
    picks: [0, 0, 0]

alignment:
  date: ${recent}
  under: as-set
  thickness: 215 µm
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

carriage: { turn-at: print-edge, strikes: 1 }

web: { wound: out, tension: 2, slack-watch: at-intervals, speed: 60 mm/s }

colour: { ink-limit: 260 % }

observed:
${observed.join('\n')}

conditions:
  as-set: { from: profile, stock: ${stock}, printer: ${printer}, mode: ${mode}, gap: 1.5 mm, suction: 2, web.tension: 2, web.speed: 60 mm/s, heat.before: 36 °C, heat.platen: 40 °C, heat.after: 44 °C, drying.pause: 0 s, drying.run-out: 8 min }

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

/** Settings of the states beside today's, and of the days before. */
const BEFORE: readonly (readonly [id: string, set: string, was: string])[] = [
  ['more-suction', 'suction: 2', 'suction: 3'],
  ['less-suction', 'suction: 2', 'suction: 1'],
  ['more-tension', 'web.tension: 2', 'web.tension: 3'],
  ['colder', 'heat.platen: 40 °C', 'heat.platen: 38 °C'],
  ['warmer', 'heat.before: 36 °C', 'heat.before: 38 °C'],
]

/** What a profile looks like after some years of use: 60 checks in 6 states, ten in each, the newest under today's settings. */
export function seasonedProfile(today: Date): string {
  const text = profile({ ...GLOSS, checks: 60, readings: 3, observed: 2, today })
  const [state] = /^ {2}as-set: .*\n/m.exec(text)!
  const states = BEFORE.map(([id, set, was]) => state.replace('as-set', id).replace(set, was))
  let check = 0
  return text
    .replace(/^ +- \{ date: [^\n]*commanded[^\n]*\n/gm, (line) => {
      const id = BEFORE[Math.floor(check++ / 10)]?.[0]
      return id === undefined ? line : line.replace('under: as-set', `under: ${id}`)
    })
    .replace(state, `${state}${states.join('')}`)
}

/** A profile of 120 lines: a short history, every list written in block style. */
export function blockProfile(today: Date): string {
  const text = profile({ ...GLOSS, checks: 8, readings: 3, observed: 1, today })
  return text.replace(/^( *)- \{ (.*) \}$/gm, (_, indent: string, pairs: string) =>
    pairs
      .split(/, (?=[a-z-]+: )/)
      .map((pair, i) => `${indent}${i === 0 ? '- ' : '  '}${pair}`)
      .join('\n'),
  )
}

export interface Text {
  readonly name: string
  readonly lines: number
  readonly text: string
}

/** What is typed in. */
export function measuredTexts(today: Date): Text[] {
  const texts = [
    ['ordinary, 60 checks in 6 states', seasonedProfile(today)],
    ['short history, block style', blockProfile(today)],
    ...[120, 300, 2000].map((lines) => ['long history', profileOfLines(lines, today)] as const),
  ] as const
  return texts.map(([name, text]) => {
    const lines = text.split('\n').length - 1
    return { name: `${lines} lines, ${name}, ${(text.length / 1000).toFixed(1)} kB`, lines, text }
  })
}

/** The file that `profileOfLines` belongs in, below the sample shop. */
export const LONG_PROFILE = 'profiles/long-history-bay-1.media.yaml'
const GLOSS = { id: 'long-history-bay-1', stock: 'cast-film-gloss-50', printer: 'bay-1' }

export const times = <T>(count: number, make: (index: number) => T): T[] =>
  Array.from({ length: Math.max(0, count) }, (_, i) => make(i))
