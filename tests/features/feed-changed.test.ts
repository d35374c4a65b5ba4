// A change of the feed is dated, and told with what was written down of that time: an event, another lot, another instrument, another season, or nothing.
import { expect, test } from 'vitest'
import { EXAMPLE_SHOP, HERE, PLAIN_PAIR } from '../../server/src/areas/feed/examples.ts'
import { findings, hover } from '../support/render.ts'

/** Ten checks in two runs; what stands on those of each run, and the days of the second. */
interface Runs {
  readonly first?: string
  readonly second?: string
  readonly later?: readonly string[]
  readonly printer?: string
  readonly stock?: string
}

const BEFORE = ['2025-10-06', '2025-10-20', '2025-11-03', '2025-11-17', '2025-12-01']
const SINCE = ['2025-12-15', '2026-01-05', '2026-01-19', '2026-02-02', '2026-02-16']
const READ = ['1996.0', '1995.9', '1996.1', '1996.0', '1995.9', '1997.6', '1997.5', '1997.6', '1997.5', '1997.6']
const RULE = ', with: rule-2m'

function shop({ first = RULE, second = RULE, later = SINCE, printer = '', stock = '' }: Runs): string {
  const line = (date: string, i: number): string =>
    `    - {date: ${date}, commanded: 2000 mm, measured: ${READ[i]} mm, applied: 0 %${i < 5 ? first : second}, web: 23 °C, under: here}\n`
  const checks = [...BEFORE, ...later].map(line).join('')
  const pair = PLAIN_PAIR.replace('thickness', `${stock}thickness`)
  return `#- e.media.yaml\nprofile: e\nstock: s\nprinter: p\nmode: m\nfeed:\n  correction: +0.15 %\n  checks:\n${checks}${HERE}${pair}${printer}${EXAMPLE_SHOP}`
}

const told = async (runs: Runs): Promise<string> =>
  (await findings(shop(runs), '2026-02-20')).split('\n').find((line) => line.includes('[feed-changed]')) ?? 'nothing'

const LOOK = 'Look for what changed between 2025-12-01 and 2025-12-15: since then prints need 0.'

test('nothing was written down', async () =>
  expect(await told({})).toMatch(new RegExp(`${LOOK}.* Nothing was written down of that time\\.`)))

test('an event of the machine, and none of another time', async () => {
  const events = (day: string) => ({ printer: `events: [{date: ${day}, what: serviced}]\n` })
  expect(await told(events('2025-12-10'))).toMatch(/ Then: serviced on 2025-12-10\./)
  expect(await told(events('2026-01-10'))).toMatch(/Nothing was written down/)
})

test('another lot', async () => {
  const lots = {
    stock: 'lot-spread: { value: 0.02 %, freedom: 5, date: 2025-09-01 }\n',
    first: `${RULE}, lot: B-1`,
    second: `${RULE}, lot: B-2`,
  }
  expect(await told(lots)).toMatch(/ Then: another lot since: B-2\./)
})

test('another instrument', async () =>
  expect(await told({ second: ', with: rule-1m' })).toMatch(/ Then: another instrument since: rule-1m\./))

test('a season without a check', async () => {
  const late = BEFORE.map((day, i) => (i < 3 ? day.replace('2025', '2024') : `2024-11-${17 + i}`))
  const text = shop({}).replace(/date: (2025-1[01]-\d\d|2025-12-01)/g, () => `date: ${late.shift()}`)
  expect((await findings(text, '2026-02-20')).split('\n').find((line) => line.includes('[feed-changed]'))).toMatch(
    / Then: \d{3} days without a check\./,
  )
})

test('one check far out is no change, and seven are too few to tell', async () => {
  const alone = shop({})
    .replaceAll(/measured: 1997\.[56]/g, 'measured: 1996.0')
    .replace('2026-02-16, commanded: 2000 mm, measured: 1996.0', '2026-02-16, commanded: 2000 mm, measured: 1997.6')
  expect(await findings(alone, '2026-02-20')).not.toContain('[feed-changed]')
  const lines = shop({}).split('\n')
  const seven = lines.filter((line) => !/date: (2025-10|2026-02-16)/.test(line)).join('\n')
  expect(seven.match(/commanded/g)).toHaveLength(7)
  expect(await findings(seven, '2026-02-20')).not.toContain('[feed-changed]')
})

test('hovers on fine picks begin with what they ask for, and with what to print where they are out of date', async () => {
  const fine = (correction: string): string =>
    `#- e.media.yaml\nprofile: e\nstock: s\nprinter: p\nmode: m\nfeed:\n  correction: ${correction}\n  checks:\n    - {date: 2026-02-16, commanded: 2000 mm, measured: 1999.9 mm, applied: ${correction}${RULE}, web: 23 °C, under: here}\n  $0fine: {date: 2026-02-16, applied: +0.12 %, under: here, picks: [1, 0, 1]}\n${HERE}${PLAIN_PAIR.replace('#- p.printer.yaml\n', '#- p.printer.yaml\nheads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2}\n').replace('percent}', 'percent, fine: {rows: [a, b, c], patches: 11, step: 2 µm}}')}${EXAMPLE_SHOP}`
  expect(await hover(fine('+0.12 %'), '2026-02-20')).toMatch(/\n\*\*Fine picks: they ask for \+0\.1\d+ % ±/)
  expect(await hover(fine('+0.30 %'), '2026-02-20')).toContain(
    '**Print the fine pattern again: the picks are left out, since they were printed at +0.12 %',
  )
})
