// `rollbook history`: one profile's by real git, and a shop's by its checks.
import { expect, test } from 'vitest'
import { historyOf, type StandThen } from '../../server/src/areas/feed/timeline/history.ts'
import type { ProfileHistory } from '../../server/src/areas/feed/timeline/result.ts'
import { historyPage } from '../../server/src/areas/feed/timeline/text.ts'
import { pageText } from '../../server/src/report/page.ts'
import { setupFrom } from '../support/setups.ts'
import { rollbook } from './repository.ts'
import { run } from './shell.ts'
import { story } from './story.ts'

test('of a profile, by git', async () => {
  const { out, err, code } = await rollbook(story(), 'history', 'banner', '--today', '2026-02-15', '--json')
  expect([err, code]).toEqual(['', 0])
  const told: ProfileHistory = JSON.parse(out)
  expect(
    told.moments.map(({ date, by, feed, subject }) => `${date} ${feed}, by ${by === 'days' ? 'the days alone' : subject}`),
  ).toMatchInlineSnapshot(`
    [
      "2026-01-08 unknown, by the shop",
      "2026-01-13 off, by four checks",
      "2026-01-14 proven, by keyed in",
      "2026-01-20 proven, by a better name",
      "2026-02-03 carried, by more suction for all",
      "2026-02-04 doubtful, by the days alone",
      "2026-02-10 doubtful, by read back",
    ]
  `)
  expect(told.marks.map(({ date, kind, text }) => `${date} ${kind}: ${text}`)).toMatchInlineSnapshot(`
    [
      "2026-01-09 lot: lot B-1",
      "2026-01-14 setting: feed.correction: 0 %, then +0.21 %",
      "2026-02-03 setting: suction: 1 (100 Pa), then 2 (150 Pa)",
    ]
  `)
  expect(told.checks).toHaveLength(4)
  expect(told.moments.at(-1)).toMatchObject({ set: 0.0021, held: 0.001, heldBy: 'machine' })
})

const STAND = `#- film.media.yaml
profile: film
stock: banner
printer: bay-1
mode: four
suction: 1
alignment: { date: 2026-01-10, one-way: { cyan: 0, black: 1 }, two-way: { cyan: 1 } }
feed:
  correction: +0.10 %
  checks:
    - { date: 2026-01-10, commanded: 2000 mm, measured: 1998 mm, applied: 0 %, with: rule-2m, lot: B-1, climate: { humidity: 50 %RH } }
    - { date: 2026-02-10, commanded: 2000 mm, measured: 1998 mm, applied: 0 %, with: tape, lot: B-2, climate: { humidity: 28 %RH }, skip: it slipped }
heat: { platen: 40 °C, readings: [{ date: 2026-01-12, zone: platen, set: 40 °C, web: 37 °C }] }
#- bay-1.printer.yaml
printer: bay-1
modes: { four: { passes: 4 } }
suction: { levels: { 1: 100 Pa, 2: 150 Pa } }
heaters: { platen: { range: [30 °C, 50 °C] } }
events: [{ date: 2026-02-20, what: head-changed, note: the yellow one }]
#- banner.stock.yaml
stock: banner
family: banner-pvc
thickness: 0.4 mm
lots: [{ lot: B-3, opened: 2026-03-01 }]
#- rollbook.yaml
shop: Tern Quay Print Works
instruments:
  rule-2m: { kind: rule, division: 0.5 mm, limit-of-error: class-1, length: 2 m }
  tape: { kind: tape, division: 1 mm, suspect: [{ from: 2026-03-05, why: stretched }] }
`

test('as a page: lots, heads, instruments, the air and settings are marked', async () => {
  const stand = async (text: string, day: string, subject: string): Promise<StandThen> => {
    const on = new Map([
      [day, await setupFrom(text, day)],
      ['2026-03-10', await setupFrom(text, '2026-03-10')],
    ])
    return { day, commit: 'a1b2c3d', subject, on: (date) => on.get(date) }
  }
  const stands = [
    await stand(STAND.replace('suction: 1', 'suction: 2'), '2026-01-12', 'the shop'),
    await stand(STAND, '2026-02-21', 'less suction'),
  ]
  const now = await setupFrom(STAND, '2026-03-10')
  expect(pageText(historyPage(historyOf(stands, now), now))).toMatchInlineSnapshot(`
    "History of film, 2026-01-10 to 2026-03-10
    =========================================

    The feed, from its day on
      day         commit   in the file  it ran with  asked for         feed      in tolerance  alignment  heat
      2026-01-12  a1b2c3d  +0.100 %     as the file  +0.100 % ±0.1 %   doubtful  -             doubtful   doubtful  the shop
      2026-02-21  a1b2c3d  +0.100 %     as the file  +0.100 % ±0.12 %  doubtful  -             doubtful   doubtful  less suction

    What changed
      day
      2026-01-10  lot         lot B-1
      2026-02-10  lot         lot B-2 after B-1
      2026-02-10  instrument  measured with tape instead of rule-2m
      2026-02-10  season      the air has 28 %RH, drier than the shop's climate (40 %RH to 60 %RH)
      2026-02-20  head        head-changed at bay-1: the yellow one (alignment, fine, colour measured before proves nothing after it)
      2026-02-21  setting     suction: 2 (150 Pa), then 1 (100 Pa)
      2026-03-01  lot         lot B-3 opened, no check on it
      2026-03-05  instrument  tape in doubt: stretched

    Feed checks, each by itself
      day         printed with  asks for  95 % interval  lot  with
      2026-01-10  0.000 %       +0.100 %  ±0.052 %       B-1  rule-2m
      2026-02-10  0.000 %       +0.096 %  ±0.073 %       B-2  tape     left out: it slipped

    Alignments
      - 2026-01-10 (commit a1b2c3d): one-way cyan 0, black 1; two-way cyan 1

    Readings of the web
      day         zone    set    web
      2026-01-12  platen  40 °C  37 °C
    "
  `)
})

test('without git', async () => {
  expect(await run('history film', '#- film.media.yaml\nprofile: film\n')).toBe('! There is no git here.\nexit 2')
})

const READINGS = ['-01-10', '-02-10', '-03-02', '-04-10', '-05-10', '-05-30']

/** A profile measured three times in either of two quarters, and by how much prints became longer, mm in two metres. */
function measured(bay: number, longer: number, rule = 'rule-2m', days = READINGS): string {
  const checks = days.map((day, i) => {
    const long = (1998 + (day < '-04' ? 0 : longer) + (i % 2) * 0.1).toFixed(1)
    return `    - {date: 2026${day}, commanded: 2000 mm, measured: ${long} mm, applied: 0 %, with: ${rule}, web: 23 °C, lot: B-1, under: here}\n`
  })
  return `#- p-${bay}.media.yaml
profile: p-${bay}
stock: banner
printer: bay-${bay}
mode: four
feed:
  correction: +0.10 %
  checks:
${checks.join('')}conditions:
  here: {from: profile, stock: banner, printer: bay-${bay}, mode: four}
`
}

const shop = (...profiles: readonly string[]): string => `#- rollbook.yaml
shop: Tern Quay Print Works
instruments:
  rule-2m: {kind: rule, division: 0.5 mm, limit-of-error: class-1, length: 2 m}
#- banner.stock.yaml
stock: banner
family: banner-pvc
thickness: 0.4 mm
expansion: 20 ppm/K
${[1, 2, 3].map((bay) => `#- bay-${bay}.printer.yaml\nprinter: bay-${bay}\nmodes: {four: {passes: 4}}\nfeed: {repeatability: {value: 0.01 %, freedom: 20, date: 2026-01-01}}\n${bay === 3 ? 'events: []\n' : ''}`).join('')}${profiles.join('')}`

const moved = async (text: string): Promise<string> => run('history --shop', text, { today: '2026-06-30' })

test('printers that move together', async () =>
  expect(await moved(shop(measured(1, 2), measured(2, 2.1), measured(3, 1.9)))).toMatchInlineSnapshot(`
    "How the printers of Tern Quay Print Works moved
    ===============================================

    How it is judged
      By feed checks of one profile, state and lot, two days or more in each quarter. Whether printers moved by one amount is judged by Cochran’s Q, all quarters together at 5 %.

    2026-Q1 to 2026-Q2
      bay-1  1 mm per metre longer     ±0.3 mm per metre  6 prints of 1 profile
      bay-2  1.1 mm per metre longer   ±0.3 mm per metre  6 prints of 1 profile
      bay-3  0.97 mm per metre longer  ±0.3 mm per metre  6 prints of 1 profile
      Look for one cause: bay-1, bay-2 and bay-3 moved together, by 1 mm per metre longer. What they share is the room, the instrument and the delivery.
    exit 0"
  `))
test('one that moves alone', async () =>
  expect(await moved(shop(measured(1, 0), measured(2, 0.1), measured(3, 2.5)))).toMatchInlineSnapshot(`
    "How the printers of Tern Quay Print Works moved
    ===============================================

    How it is judged
      By feed checks of one profile, state and lot, two days or more in each quarter. Whether printers moved by one amount is judged by Cochran’s Q, all quarters together at 5 %.

    2026-Q1 to 2026-Q2
      bay-1  0.021 mm per metre longer  ±0.3 mm per metre  6 prints of 1 profile
      bay-2  0.071 mm per metre longer  ±0.3 mm per metre  6 prints of 1 profile
      bay-3  1.3 mm per metre longer    ±0.3 mm per metre  6 prints of 1 profile
      Look at bay-3: it moved alone, by 1.3 mm per metre longer. Its roller, belt, tension, or what was keyed in.
    exit 0"
  `))
test('nothing is said of too few', async () => {
  const few = ['-01-10', '-04-10']
  expect(await moved(shop(measured(1, 2, 'rule-2m', few), measured(2, 2, 'rule-2m', few)))).toMatchInlineSnapshot(`
    "How the printers of Tern Quay Print Works moved
    ===============================================

    How it is judged
      By feed checks of one profile, state and lot, two days or more in each quarter. Whether printers moved by one amount is judged by Cochran’s Q, all quarters together at 5 %.

    2026-Q1 to 2026-Q2
      Too few checks in both quarters to say anything of bay-1 and bay-2.
    exit 1"
  `)
  expect(await moved(shop(measured(1, 2), measured(2, 2, 'rule-2m', few)))).toMatchInlineSnapshot(`
    "How the printers of Tern Quay Print Works moved
    ===============================================

    How it is judged
      By feed checks of one profile, state and lot, two days or more in each quarter. Whether printers moved by one amount is judged by Cochran’s Q, all quarters together at 5 %.

    2026-Q1 to 2026-Q2
      bay-1  1 mm per metre longer  ±0.3 mm per metre  6 prints of 1 profile
      Of bay-1 alone nobody can tell whether others moved with it.
      Too few checks in both quarters to say anything of bay-2.
    exit 1"
  `)
})
test('what was done to a printer is its cause', async () => {
  const done = shop(measured(1, 2), measured(2, 2), measured(3, 2)).replace(
    'events: []',
    'events: [{date: 2026-03-20, what: feed-roller-changed}]',
  )
  expect(await moved(done)).toContain('bay-3 is not compared: feed-roller-changed on 2026-03-20.')
})
test('a shop for programs', async () => {
  const told = JSON.parse(
    (await run('history --shop --json', shop(measured(1, 2), measured(2, 2)), { today: '2026-06-30' })).replace(/exit 0$/, ''),
  )
  expect(told.steps).toMatchObject([
    { from: '2026-Q1', to: '2026-Q2', together: ['bay-1', 'bay-2'], alone: [], tooFew: [], opened: [] },
  ])
  expect(told.steps[0].printers[0].longerPercent).toBeCloseTo(0.1, 2)
})
