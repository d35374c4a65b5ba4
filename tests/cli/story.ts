// A shop's spring in git, for what looks back: a profile that is set up, renamed, read back, changed through its base and its printer, and merged into.
// Its days are told in Helsinki, so that what was committed late in the evening by universal time is of the next day.
import { renameSync } from 'node:fs'
import { join } from 'node:path'
import { commit, git, gitOn, newFolder } from './repository.ts'

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
time-zone: Europe/Helsinki
tolerance: {length: 0.05 %, risk: 5 %}
recheck: {feed: 60 d}
instruments:
  rule-2m: {kind: rule, division: 0.5 mm, limit-of-error: class-1, length: 2 m}
#- stocks/banner.stock.yaml
stock: banner
family: banner-pvc
thickness: 0.4 mm
modulus: 0.5 GPa
expansion: 20 ppm/K
friction: 0.3
`

const printer = (level2 = '150 Pa', events = ''): string => `#- printers/bay-1.printer.yaml
printer: bay-1
heads: {nozzle-pitch: 1/360 in, nozzles: 360, rows: 1}
modes:
  four: {resolution: 720 x 360 dpi, passes: 4, carriage-speed: 1 m/s}
carriage: {bed-width: 1600 mm, gaps: [2 mm]}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent, pattern-lengths: [2000 mm]}
suction: {levels: {1: 100 Pa, 2: ${level2}, 3: 300 Pa}, depth: 120 mm, open-area: 3 %, hole: 2 mm}
web: {tension-levels: {1: 10 N/m, 2: 20 N/m}}
${events}`

const house = (suction: number): string => `#- profiles/house.media.yaml
profile: house
stock: banner
printer: bay-1
mode: four
gap: 2 mm
suction: ${suction}
`

interface Profile {
  readonly id?: string
  readonly correction?: string
  readonly tension?: number
  readonly checks?: number
  readonly keyed?: string
  readonly more?: string
}

const DAYS = ['2026-01-09', '2026-01-10', '2026-01-12', '2026-01-13']
const READ = ['1995.9', '1995.8', '1995.9', '1995.8']

export function profile({ id = 'banner', correction = '0 %', tension = 1, checks = 0, keyed = '', more = '' }: Profile): string {
  const lines = DAYS.slice(0, checks).map(
    (date, i) =>
      `    - { date: ${date}, commanded: 2000 mm, measured: ${READ[i]} mm, applied: 0 %, with: rule-2m, web: 23 ±1 °C, lot: B-1, under: here }\n`,
  )
  return `#- profiles/${id}.media.yaml
profile: ${id}
base: house
web: { tension: ${tension} }
feed:
  correction: ${correction}
${checks > 0 ? `  checks:\n${lines.join('')}` : ''}${keyed}${more}${
  checks > 0
    ? `conditions:
  here: { from: profile, stock: banner, printer: bay-1, mode: four, gap: 2 mm, suction: 1, web.tension: 1 }
`
    : ''
}`
}

export const KEYED = `keyed:
  - { date: 2026-02-10, correction: +0.10 % }
`

/** The repository, made once a test file; nothing may be written into it. */
export function story(): string {
  const folder = newFolder()
  git(folder, 'init', '-q', '-b', 'main')
  const set = { id: 'banner-old', checks: 4, correction: '+0.21 %' }
  commit(folder, SHOP + printer() + house(1) + profile({ id: 'banner-old' }), 'the shop', '2026-01-08T09:00:00Z')
  commit(folder, profile({ ...set, correction: '0 %' }), 'four checks', '2026-01-13T15:00:00Z')
  commit(folder, profile(set), 'keyed in', '2026-01-14T08:00:00Z')
  renameSync(join(folder, 'profiles/banner-old.media.yaml'), join(folder, 'profiles/banner.media.yaml'))
  const named = { ...set, id: 'banner' }
  commit(folder, profile(named), 'a better name', '2026-01-20T08:00:00Z')
  commit(folder, house(2), 'more suction for all', '2026-02-02T22:30:00Z')
  const read = { ...named, keyed: KEYED }
  commit(folder, profile(read), 'read back', '2026-02-10T12:00:00Z')
  git(folder, 'checkout', '-q', '-b', 'trial')
  commit(folder, profile({ ...read, tension: 2 }), 'more tension', '2026-02-12T12:00:00Z')
  git(folder, 'checkout', '-q', 'main')
  commit(folder, '#- notes.txt\nnothing of ours\n', 'notes', '2026-02-13T12:00:00Z')
  gitOn('2026-02-20T12:00:00Z', folder, 'merge', '-q', '--no-ff', '-m', 'take the trial', 'trial')
  commit(folder, printer('180 Pa'), 'level 2 was measured anew', '2026-03-05T12:00:00Z')
  const rewritten = `# the banner\n${profile({ ...read, tension: 2, correction: '+0.2100 %' }).replace(/^#-.*\n/, '')}`
  commit(folder, `#- profiles/banner.media.yaml\n${rewritten}`, 'tidied', '2026-03-10T12:00:00Z')
  return folder
}
