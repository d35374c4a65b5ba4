// A shop of our own invention, made from an empty folder by commands alone, and what a technician does in the course of its year: by commands wherever there is one.
import { expect } from 'vitest'
import { ran } from '../cli/shell.ts'

/** How the shop began, on the day of each: what `rollbook new` is told, and what `rollbook set` adds that no question asks for. */
const LANTERN_LANE: readonly (readonly [today: string, ...line: readonly string[]])[] = [
  [
    '2026-01-05',
    ...['new', 'shop', '--shop', 'Lantern Lane Signs', '--units', 'metric', '--length-tolerance', '0.05 %'],
    ...['--feed-recheck', '45 d', '--room-temperature', '18 °C, 27 °C', '--room-humidity', '40 %RH, 60 %RH'],
    ...['--reference-temperature', '23 °C'],
  ],
  [
    '2026-01-05',
    ...['set', 'rollbook.yaml', 'tolerance.registration=60 µm', 'tolerance.risk=5 %', 'recheck.alignment=365 d'],
    ...['rules.not-judged=ignore', 'rules.setting-missing=ignore'],
  ],
  [
    '2026-01-05',
    ...['new', 'instrument', '--instrument', 'long-rule', '--kind', 'rule', '--division', '0.5 mm', '--length', '2 m'],
    ...['--limit-of-error', 'class-1', '--expansion', '11.5 ppm/K'],
  ],
  [
    '2026-01-05',
    ...['new', 'instrument', '--instrument', 'yard-rule', '--kind', 'rule', '--division', '1/64 in', '--length', '48 in'],
    ...['--limit-of-error', 'class-1'],
  ],
  [
    '2026-01-05',
    ...['new', 'stock', '--stock', 'banner-450', '--family', 'banner-pvc', '--thickness', '350 µm', '--grammage', '450 g/m²'],
    ...['--modulus', '0.5 GPa', '--expansion', '70 ppm/K', '--widths', '1370 mm', '--friction', '0.35', '--wound', 'out'],
    ...['--lot', 'L-31', '--received', '2026-01-05'],
  ],
  [
    '2026-01-05',
    ...['new', 'stock', '--stock', 'film-60', '--family', 'film-pvc-cast', '--thickness', '220 µm', '--modulus', '0.9 GPa'],
    ...['--expansion', '70 ppm/K', '--widths', '1370 mm', '--friction', '0.3', '--wound', 'out'],
  ],
  [
    '2026-01-05',
    ...['new', 'stock', '--stock', 'paper-190', '--family', 'paper-coated', '--thickness', '180 µm', '--modulus', '4 GPa'],
    ...['--expansion', '8 ppm/K', '--widths', '50 in', '--friction', '0.35', '--wound', 'out'],
  ],
  ['2026-01-05', 'set', 'paper-190', 'moisture-expansion=0.004 %/%RH'],
  ['2026-01-09', ...printerLike('till')],
  ['2026-01-09', ...moreOf('till')],
  [
    '2026-01-09',
    ...['new', 'printer', '--printer', 'weir', '--mode', 'posters', '--resolution', '600 x 300 dpi', '--passes', '4'],
    ...[
      '--carriage-speed',
      '30 in/s',
      '--directions',
      'one-way',
      '--nozzle-pitch',
      '1/150 in',
      '--nozzles',
      '180',
      '--rows',
      '2',
    ],
    ...['--channels', 'cyan, magenta, yellow, black', '--drop-speed', '6 m/s', '--bed-width', '54 in', '--overrun', '4 in'],
    ...['--turnaround', '0.5 s', '--gaps', '0.07 in, 0.09 in', '--feed-range', '-2 %, 2 %', '--feed-step', '0.01 in'],
    ...['--feed-entry', 'measured-length', '--pattern-lengths', '40 in', '--suction-levels', '1: 80 Pa, 2: 160 Pa'],
    ...['--suction-depth', '5 in', '--open-area', '3 %', '--hole', '2 mm', '--tension-range', '5 N/m, 40 N/m'],
    ...['--web-speed', '1 in/s, 4 in/s'],
  ],
  [
    '2026-01-09',
    ...['set', 'weir', 'feed.repeatability.value=0.01 %', 'feed.repeatability.freedom=12', 'feed.repeatability.date=today'],
  ],
  ['2026-01-08', 'set', 'banner-450', 'lots.L-31.opened=today'],
  ['2026-01-11', 'new', 'profile', '--stock', 'banner-450', '--printer', 'till', '--mode', 'brisk'],
  [
    '2026-01-11',
    ...['set', 'banner-450-till', 'gap=2.0 mm', 'heat.platen=40 °C', 'heat.after=46 °C', 'drying.pause=0 s'],
    ...['drying.run-out=6 min', 'suction=2', 'web.wound=out', 'web.tension=2', 'web.speed=60 mm/s'],
  ],
  ['2026-01-12', ...strip('banner-450-till', '1896.0 mm', '0 %', 'L-31')],
  ['2026-01-12', 'set', 'banner-450-till', 'feed.correction=+0.21 %'],
  ['2026-01-13', ...strip('banner-450-till', '1900.0 mm', '+0.21 %', 'L-31', '22 °C')],
  ['2026-01-15', ...strip('banner-450-till', '1899.9 mm', '+0.21 %', 'L-31')],
  ['2026-01-19', ...strip('banner-450-till', '1900.1 mm', '+0.21 %', 'L-31', '22 °C')],
]

/** What the makers of till say of it, as its owner is asked for it. */
function printerLike(name: string): readonly string[] {
  return [
    ...['new', 'printer', '--printer', name, '--mode', 'brisk', '--resolution', '720 x 360 dpi', '--passes', '4'],
    ...[
      '--carriage-speed',
      '1000 mm/s',
      '--directions',
      'one-way',
      '--nozzle-pitch',
      '1/180 in',
      '--nozzles',
      '180',
      '--rows',
      '2',
    ],
    ...['--channels', 'cyan, magenta, yellow, black', '--drop-speed', '7 m/s', '--bed-width', '1600 mm', '--overrun', '110 mm'],
    ...['--turnaround', '0.4 s', '--gaps', '1.5 mm, 2.0 mm, 2.5 mm', '--feed-range', '-2 %, 2 %', '--feed-step', '0.01 %'],
    ...['--feed-entry', 'percent', '--pattern-lengths', '1900 mm', '--heated-zones', 'platen, after'],
    ...['--platen-length', '200 mm', '--platen-range', '30 °C, 50 °C', '--platen-step', '1 K', '--platen-coupling', '110 W/m²K'],
    ...['--after-length', '420 mm', '--after-range', '30 °C, 60 °C', '--after-step', '1 K', '--after-coupling', '40 W/m²K'],
    ...['--pause-range', '0 s, 8 s', '--run-out-range', '0 min, 30 min', '--path-to-winding', '1.3 m'],
    ...['--suction-levels', '1: 80 Pa, 2: 160 Pa, 3: 240 Pa, 4: 320 Pa', '--suction-depth', '120 mm', '--open-area', '3 %'],
    ...[
      '--hole',
      '2 mm',
      '--tension-levels',
      '1: 10 N/m, 2: 20 N/m, 3: 30 N/m',
      '--web-speed',
      '20 mm/s, 100 mm/s',
      '--slots',
      '10',
    ],
  ]
}

/** What no question asks for: a second mode, and how well it repeats. */
function moreOf(name: string): readonly string[] {
  return [
    ...['set', name, 'modes.dense.resolution=720 x 720 dpi', 'modes.dense.passes=16', 'modes.dense.carriage-speed=1000 mm/s'],
    ...['modes.dense.directions=one-way', 'feed.repeatability.value=0.01 %', 'feed.repeatability.freedom=12'],
    'feed.repeatability.date=2026-01-09',
  ]
}

/** A strip of 1900 mm of today, printed under what the profile has. */
export function strip(profile: string, measured: string, applied: string, lot?: string, web = '23 °C'): readonly string[] {
  return [
    ...['record', profile, 'feed.checks', 'date=today', 'commanded=1900 mm', `measured=${measured}`, `applied=${applied}`],
    ...['with=long-rule', `web=${web}`, ...(lot === undefined ? [] : [`lot=${lot}`]), '--under', 'settings'],
  ]
}

/** Two printers of one make, so that the second is told what the first was. */
export const SISTER: readonly (readonly string[])[] = [printerLike('till-two'), moreOf('till-two')]

export class Year {
  private documents: ReadonlyMap<string, string> = new Map()

  /** Makes the shop, from nothing. */
  async begin(): Promise<void> {
    for (const [today, ...line] of LANTERN_LANE) await this.does(today, ...line)
  }

  /** Gives a command that writes. It has to be taken; what it tells to look at is told by the checks as well. */
  async does(today: string, ...line: readonly string[]): Promise<void> {
    const { err, code, created, files } = await ran([...line, '--today', today], this.fixture)
    expect([line.join(' '), code === 2 ? err : '']).toEqual([line.join(' '), ''])
    const made = [...created].map(([path, text]) => [path.replace(/^\/shop\//, ''), text] as const)
    const kept = [...files].filter(([path]) => this.documents.has(path) || path.endsWith('.yaml'))
    this.documents = new Map([...kept, ...made].filter(([path]) => path.endsWith('.yaml')))
  }

  /** Types `after` over `before`, which stands there once: where no command does it. */
  byHand(path: string, before: string, after: string): void {
    const text = this.documents.get(path) ?? ''
    expect(text.split(before).length, `${before} stands in ${path} once`).toBe(2)
    this.documents = new Map(this.documents).set(
      path,
      text.replace(before, () => after),
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
