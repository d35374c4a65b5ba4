// A merge conflict: which sides can stand together, which is offered first, and what is lost by taking one.
import { describe, expect, test } from 'vitest'
import { openFixture, parseFixture } from '../support/fixture.ts'
import { actionTitles, afterAction } from '../support/render.ts'

const conflict = (above: string, ours: string, theirs: string, below = ''): string =>
  `profile: example\n${above}$0<<<<<<< HEAD$0\n${ours}=======\n${theirs}>>>>>>> night-shift\n${below}`

const check = (day: string, mm: number): string =>
  `    - { date: 2026-03-${day}, commanded: 1000 mm, measured: ${mm} mm, applied: 0 % }\n`

const keeps = async (source: string): Promise<readonly string[]> =>
  (await actionTitles(source)).filter((title) => title.startsWith('Keep'))

const UPPER = "Keep the upper version ('HEAD')"
const LOWER = "Keep the lower version ('night-shift')"

describe('both sides are offered together', () => {
  test('first for checks, since each was measured, and what one side would lose is told', async () => {
    const source = conflict('feed:\n  checks:\n', check('20', 998), check('22', 998.4) + check('23', 998.2))
    expect(await keeps(source)).toEqual([
      'Keep both, the oldest first',
      `${UPPER} and lose 2 entries of the other`,
      `${LOWER} and lose 1 entry of the other`,
    ])
  })

  test('checks in the order of their days, whichever side they come from', async () => {
    const source = conflict('feed:\n  checks:\n', check('24', 998), check('22', 998.4), 'gap: 2 mm\n')
    expect(await afterAction(source, 'Keep both, the oldest first')).toBe(
      `profile: example\nfeed:\n  checks:\n${check('22', 998.4)}${check('24', 998)}gap: 2 mm\n`,
    )
  })

  test('checks of several lines stay whole', async () => {
    const lines = (day: string): string => `    - date: 2026-03-${day}\n      commanded: 1000 mm\n      measured: 998 mm\n`
    const source = conflict('feed:\n  checks:\n', lines('24'), lines('22'))
    expect(await afterAction(source, 'Keep both, the oldest first')).toBe(
      `profile: example\nfeed:\n  checks:\n${lines('22')}${lines('24')}`,
    )
  })

  test('last for settings of different names', async () => {
    const source = conflict('', 'gap: 2 mm\n', 'suction: 2\n')
    expect(await keeps(source)).toEqual([UPPER, LOWER, 'Keep both, the upper one first'])
    expect(await afterAction(source, /both/)).toBe('profile: example\ngap: 2 mm\nsuction: 2\n')
  })

  test('with carriage returns', async () => {
    const source = conflict('feed:\n  checks:\n', check('24', 998), check('22', 998.4)).replaceAll('\n', '\r\n')
    expect(await afterAction(source, 'Keep both, the oldest first')).toBe(
      `profile: example\nfeed:\n  checks:\n${check('22', 998.4)}${check('24', 998)}`.replaceAll('\n', '\r\n'),
    )
  })
})

test.each([
  ['one setting with two values', 'suction: 1\n', 'suction: 2\n'],
  ['the same section on both sides', 'heat:\n  platen: 40 °C\n', 'heat:\n  after: 50 °C\n'],
  ['a side that has nothing', '', 'suction: 2\n'],
])('both are not offered for %s', async (_, ours, theirs) => {
  expect(await keeps(conflict('', ours, theirs))).toEqual([UPPER, LOWER])
})

test.each([
  ['a part of an item', '      measured: 998 mm\n    - { date: 2026-03-22 }\n', check('23', 998), 1, 2],
  ['an item and a setting', check('20', 998), 'gap: 2 mm\n', 0, 1],
  ['items of two depths', check('20', 998), check('21', 998).slice(2), 1, 1],
  ['a dated section', 'alignment: { date: 2026-03-20 }\n', 'alignment: { date: 2026-03-22 }\n', 1, 1],
  ['a section over several lines', 'alignment:\n  date: 2026-03-20\n  thickness: 80 µm\n', 'gap: 2 mm\n', 0, 1],
])('where both cannot stand, what one side loses is told all the same: %s', async (_, ours, theirs, upper, lower) => {
  const lost = (n: number): string => (n === 0 ? '' : ` and lose ${n} ${n === 1 ? 'entry' : 'entries'} of the other`)
  const titles = await keeps(conflict('', ours, theirs))
  expect(titles.slice(0, 2)).toEqual([UPPER + lost(upper), LOWER + lost(lower)])
})

test('each is the smallest edit: lines that stay are not written anew', async () => {
  const fixture = parseFixture(conflict('', 'gap: 2 mm\n', 'suction: 2\n'))
  const findings = (await openFixture(fixture)).findings(fixture.file)
  const fixes = findings.find(({ code }) => code === 'conflict-markers')!.fixes!()
  const gone = fixes.map((fix) =>
    fix!.edits.map(({ start, end, newText }) => (newText === '' ? fixture.text.slice(start, end) : 'written anew')),
  )
  expect(gone).toEqual([
    ['<<<<<<< HEAD\n', '=======\nsuction: 2\n>>>>>>> night-shift\n'],
    ['<<<<<<< HEAD\ngap: 2 mm\n=======\n', '>>>>>>> night-shift\n'],
    ['<<<<<<< HEAD\n', '=======\n', '>>>>>>> night-shift\n'],
  ])
})
