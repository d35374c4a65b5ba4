// npx tsx tests/simulation/feed.ts [--series 2000] [--seed 1] [--only coverage]: feed reckonings against a simulated truth, all through `reckonFeed`.
// Tables: coverage, everything, carries, suspects, verdicts, forecasts, beyond (truths outside the tool's own ranges; no target) and speed.
// Heavy tables take a part of the series. ± is two standard errors of so many series.
import { parseArgs } from 'node:util'
import { reckonFeed } from '../../server/src/calc/feed.ts'
import { must } from '../calculations/must.ts'
import { Chance } from '../support/chance.ts'
import { type Coverage, coverageOf, forecastsOf, foundOf, noise, type Share, verdictsOf } from './feed-counts.ts'
import { drawSeries, type Rule, type World } from './feed-series.ts'

const { values } = parseArgs({
  options: {
    series: { type: 'string', default: '2000' },
    seed: { type: 'string', default: '1' },
    only: { type: 'string' },
  },
})
const [series, seed] = [Number(values.series), Number(values.seed)]
const part = (share: number): number => Math.max(50, Math.round(series * share))

type Kind = Omit<World, 'checks'>
const I: readonly Rule[] = ['I']
const IS: readonly Rule[] = ['I', 'S']
const MIXED: readonly Rule[] = ['II', 'S', 'I']
const EVERYTHING = { days: true, lots: true, drift: 'walk', forgets: 0.3, moisture: true } as const
const COUNTS = [1, 2, 4, 12]

const percent = (x: number, digits = 1): string => (x * 100).toFixed(digits)
const ofShare = ({ hits, of }: Share): string => (of === 0 ? '-' : percent(hits / of))
const withNoise = (share: Share): string => `${ofShare(share)} ±${percent(2 * noise(share.hits / share.of, share.of))}`
const row = (cells: readonly (string | number)[]): void => console.log(`| ${cells.join(' | ')} |`)
function head(title: string, cells: readonly string[]): void {
  console.log(`\n${title}\n`)
  row(cells)
  row(cells.map(() => '---'))
}

function coverage(rows: readonly (readonly [string, Kind])[], of: number): void {
  head(`coverage of the stated 95 %, ${of} series a cell; in brackets by scatter below 0.01, 0.02, 0.05 % and above`, [
    'checks by',
    ...COUNTS.map((n) => `n = ${n}`),
    'mean U, %',
    'suspected, n = 4, 12',
  ])
  for (const [name, world] of rows) {
    const cells: Coverage[] = COUNTS.map((checks) => coverageOf({ ...world, checks }, of, seed + checks))
    row([
      name,
      ...cells.map(
        ({ all, byScatter }) =>
          `${withNoise(all)} (${byScatter.map(({ hits, of: n }) => (n ? percent(hits / n, 0) : '-')).join(' ')})`,
      ),
      cells.map(({ width }) => percent(width, 3)).join(' '),
      cells
        .slice(2)
        .map(({ suspected }) => withNoise(suspected))
        .join(', '),
    ])
  }
}

const tables: Readonly<Record<string, () => void>> = {
  coverage: () =>
    coverage(
      [
        ['class I rule', { rules: I }],
        ['class II rule', { rules: ['II'] }],
        ['sensor', { rules: ['S'] }],
        ['class I rule and sensor', { rules: IS }],
        ['class II rule, sensor, class I rule', { rules: MIXED }],
      ],
      series,
    ),
  everything: () =>
    coverage(
      [
        ['days', { rules: I, days: true }],
        ['lots', { rules: IS, lots: true }],
        ['random walk', { rules: IS, drift: 'walk' }],
        ['web never written down', { rules: IS, forgets: 1 }],
        ['moisture', { rules: IS, moisture: true }],
        ['everything at once, class I rule', { rules: I, ...EVERYTHING }],
        ['everything at once, sensor', { rules: ['S'], ...EVERYTHING }],
        ['everything at once, three instruments', { rules: MIXED, ...EVERYTHING }],
      ],
      part(0.25),
    ),
  carries: () => {
    const carry = (range: number, off: number, shift = 0.1e-2) =>
      ({ rules: ['S'], carry: { share: 1, range, off, shift } }) as const
    coverage(
      [
        ['shift 0.1 %, range ±10 %, right', carry(0.1, 1)],
        ['shift 0.1 %, range ±10 %, 30 % less', carry(0.1, 0.7)],
        ['shift 0.1 %, range ±10 %, 30 % more', carry(0.1, 1.3)],
        ['shift 0.1 %, range ±50 %, right', carry(0.5, 1)],
        ['shift 0.02 %, range ±50 %, 30 % more', carry(0.5, 1.3, 0.02e-2)],
        [
          'half of them, shift 0.05 %, range ±30 %, right',
          { rules: IS, carry: { share: 0.5, range: 0.3, off: 1, shift: 0.05e-2 } },
        ],
      ],
      part(0.5),
    )
  },
  suspects: () => {
    head(`suspects, ${series} series a cell`, [
      'checks by',
      'good ones named, n = 3, 4, 6, 12',
      '5 mm in one found, n = 3, 4, 6, 12',
      'at 1 m, n = 12',
    ])
    const rows: readonly (readonly [string, Kind])[] = [
      ['class I rule', { rules: I }],
      ['sensor', { rules: ['S'] }],
      ['class I rule and sensor', { rules: IS }],
      ['class II rule, sensor, class I rule', { rules: MIXED }],
    ]
    for (const [name, world] of rows)
      row([
        name,
        [3, 4, 6, 12].map((checks) => withNoise(coverageOf({ ...world, checks }, series, seed + checks).suspected)).join(', '),
        [3, 4, 6, 12].map((checks) => withNoise(foundOf({ ...world, checks }, series, seed + checks, [5e-3]).all)).join(', '),
        withNoise(foundOf({ ...world, checks: 12, lengths: [1] }, series, seed, [5e-3]).all),
      ])
    head(`two of 5 mm in twelve, both named, ${series} series a cell`, [
      'checks by',
      'one sign, 0.5 to 1.5 m',
      'two signs',
      'one sign, 1 m',
      'two signs, 1 m',
    ])
    for (const [name, world] of rows)
      row([
        name,
        ...[undefined, [1]].flatMap((lengths) =>
          [5e-3, -5e-3].map((second) => {
            const twelve = { ...world, checks: 12, ...(lengths && { lengths }) }
            return withNoise(foundOf(twelve, series, seed, [5e-3, second]).all)
          }),
        ),
      ])
  },
  verdicts: () => {
    const of = part(0.5)
    head(`prints out of tolerance among the proven, risk 5 %, ${of} series a cell, n = 1, 2, 4, 12`, [
      'checks by',
      'tolerance',
      'scatter stated',
      'out, % (stated)',
      'good ones proven, %',
    ])
    const rows: readonly (readonly [string, Kind])[] = [
      ['class II rule, 1 m', { rules: ['II'], lengths: [1] }],
      ['class I rule, 1 m', { rules: I, lengths: [1] }],
      ['class I rule, 2 m', { rules: I, lengths: [2] }],
      ['sensor, 1 m', { rules: ['S'], lengths: [1] }],
      [
        'sensor, 1 m, carried by 0.05 % ±30 %',
        { rules: ['S'], lengths: [1], carry: { share: 1, range: 0.3, off: 1, shift: 0.05e-2 } },
      ],
    ]
    for (const [name, world] of rows)
      for (const tolerance of [0.05e-2, 0.1e-2])
        for (const stated of [undefined, 12]) {
          const cells = COUNTS.map((checks) =>
            verdictsOf({ ...world, checks, ...(stated && { stated }) }, tolerance, of, seed + checks),
          )
          row([
            name,
            `${percent(tolerance, 2)} %`,
            stated ? `${stated} degrees of freedom` : 'no',
            cells
              .map(({ out, stated, error, proven }) =>
                proven.hits < 20 ? '-' : `${percent(out)} ±${percent(2 * error)} (${percent(stated)})`,
              )
              .join(', '),
            cells.map(({ goodProven }) => ofShare(goodProven)).join(', '),
          ])
        }
  },
  forecasts: () => {
    const of = part(0.1)
    head(`further prints and a verdict not reached, ${of} series a row`, [
      'checks by',
      'tolerance',
      'now',
      'more',
      'predicted',
      'happened',
      'predicted/happened by fifths of the prediction (series)',
    ])
    const rows: readonly (readonly [string, Rule, number, number, number, number, Pick<World, 'stated' | 'scatter'>])[] = [
      ['sensor, 1 m', 'S', 1, 0.05e-2, 3, 1, {}],
      ['sensor, 1 m', 'S', 1, 0.05e-2, 3, 3, {}],
      ['class I rule, 2 m', 'I', 2, 0.05e-2, 3, 4, {}],
      ['class I rule, 1 m', 'I', 1, 0.1e-2, 1, 2, { stated: 12 }],
      ['class II rule, 1 m', 'II', 1, 0.1e-2, 2, 1, {}],
      ['class I rule, 1 m', 'I', 1, 0.1e-2, 2, 4, {}],
      ['class I rule, 1 m, scatter drawn as expected', 'I', 1, 0.1e-2, 2, 4, { scatter: 'expected' }],
    ]
    for (const [name, rule, length, tolerance, checks, more, kind] of rows) {
      const world = { rules: [rule], lengths: [length], checks, ...kind } as const
      const { predicted, happened, error, fifths } = forecastsOf(world, { tolerance, more, series: of, seed })
      row([
        name,
        `${percent(tolerance, 2)} %`,
        checks,
        more,
        percent(predicted),
        `${percent(happened)} ±${percent(2 * error)}`,
        fifths.map((f) => (f.of === 0 ? '-' : `${percent(f.predicted, 0)}/${percent(f.happened, 0)} (${f.of})`)).join(', '),
      ])
    }
  },
  beyond: () =>
    coverage(
      [
        ['scatter 0.2 %', { rules: IS, scatter: 0.2e-2 }],
        ['scatter 0.1 %', { rules: IS, scatter: 0.1e-2 }],
        ['scatter with heavy tails (t of 4)', { rules: IS, tails: true }],
        ['drift that bends', { rules: IS, drift: 'bent' }],
        ['a change of 0.05 to 0.15 % that nobody wrote down', { rules: IS, drift: 'step' }],
        ['carries twice of what was said', { rules: ['S'], carry: { share: 1, range: 0.3, off: 2, shift: 0.05e-2 } }],
        ['carries half of what was said', { rules: ['S'], carry: { share: 1, range: 0.3, off: 0.5, shift: 0.05e-2 } }],
      ],
      part(0.25),
    ),
  speed: () => {
    head('milliseconds of processor time a reckoning, nothing kept and the program warm: median and nine tenths', [
      'checks',
      'scatter alone',
      'random walk',
      'days and random walk',
      'everything',
    ])
    const kinds: readonly Kind[] = [
      { rules: IS },
      { rules: IS, drift: 'walk' },
      { rules: IS, days: true, drift: 'walk' },
      { rules: MIXED, ...EVERYTHING },
    ]
    for (const checks of [12, 60])
      row([
        checks,
        ...kinds.map((kind) => {
          const chance = new Chance(seed)
          const times = Array.from({ length: 120 }, () => {
            const { input } = drawSeries({ ...kind, checks }, chance)
            const from = process.cpuUsage()
            must(reckonFeed(input))
            const { user, system } = process.cpuUsage(from)
            return (user + system) / 1000
          })
          const sorted = times.slice(20).sort((a, b) => a - b)
          return `${sorted[50]!.toFixed(1)}, ${sorted[90]!.toFixed(1)}`
        }),
      ])
  },
}

if (values.only !== undefined && !(values.only in tables))
  throw new Error(`--only takes one of ${Object.keys(tables).join(', ')}`)
console.log(`seed ${seed}, ${series} series; ± is two standard errors`)
for (const [name, table] of Object.entries(tables)) if (values.only === undefined || values.only === name) table()
