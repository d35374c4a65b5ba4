// A row pasted from a spreadsheet among the feed checks becomes an entry, or is refused with the reason; nothing is guessed.
import { describe, expect, test } from 'vitest'
import { actionTitles, afterAction, findings } from '../support/render.ts'

const TITLE = 'Write this row of a spreadsheet as a feed check'
const LIST = `stock: s
printer: p
feed:
  correction: 0 %
  checks:
    - { date: 2026-03-12, commanded: 1000 mm, measured: 999.1 mm, applied: 0 %, with: rule-1m, web: 22 °C }
`
const END = `alignment: { date: 2026-03-05 }
#- s.stock.yaml
stock: s
lots: [{lot: B-1}, {lot: 0042}]
#- p.printer.yaml
printer: p
feed: {pattern-lengths: [1000 mm, 1500 mm]}
#- rollbook.yaml
shop: Tern Quay Print Works
instruments: {rule-1m: {kind: rule}, rule-2m: {kind: rule}}
`
const pasted = (row: string, list = LIST): string => `${list}${row.replace(/\t/, '$0\t')}\n${END}`

/** What becomes of the row. */
async function became(row: string, list = LIST): Promise<string> {
  const after = await afterAction(pasted(row, list), TITLE)
  expect(after.startsWith(list)).toBe(true)
  const [line, rest] = [after.slice(list.length).split('\n', 1)[0]!, after.slice(after.indexOf('\nalignment'))]
  expect(rest).toMatch(/^\nalignment: { date: 2026-03-05 }/)
  return line
}

const refused = async (row: string): Promise<string | undefined> =>
  (await actionTitles(pasted(row))).find((title) => title.includes(TITLE))

describe('an entry', () => {
  test.each([
    ['as it is pasted at the margin', '2026-03-20\t1000\t999.3\t0 %'],
    ['with the indentation of the list', '    2026-03-20\t1000\t999.3\t0 %'],
    ['behind a dash', '    - 2026-03-20\t1000\t999.3\t0 %'],
    ['in another order', '0 %\t999.3\t2026-03-20\t1000'],
    ['with empty cells between', '2026-03-20\t\t1000\t\t999.3\t0 %'],
  ])('%s', async (_, row) =>
    expect(await became(row)).toBe('    - { date: 2026-03-20, commanded: 1000 mm, measured: 999.3 mm, applied: 0 % }'),
  )

  test('with all that a row can say, the lot as the shop writes it, and a decimal comma', async () =>
    expect(await became('2026-03-20\trule-2m\t1500\t1498,25\t+0,12 %\t23 °C\tB-1')).toBe(
      '    - { date: 2026-03-20, commanded: 1500 mm, measured: 1498.25 mm, applied: +0.12 %, with: rule-2m, web: 23 °C, lot: B-1 }',
    ))
  test('in the unit of the newest check, or in its own', async () => {
    const inches = LIST.replace('1000 mm', '40 in').replace('999.1 mm', '39.96 in')
    expect(await became('2026-03-20\t40\t39.97\t0 %', inches)).toContain('commanded: 40 in, measured: 39.97 in,')
    expect(await became('2026-03-20\t1 m\t999.3 mm\t0 %')).toContain('commanded: 1 m, measured: 999.3 mm,')
  })
  test('the first of a list', async () => {
    const none = 'stock: s\nprinter: p\nfeed:\n  checks:\n'
    expect(await became('2026-03-20\t1000\t999.3\t0 %', none)).toBe(
      '    - { date: 2026-03-20, commanded: 1000 mm, measured: 999.3 mm, applied: 0 % }',
    )
  })
  test('what the row does not say is asked for, and not made up', async () => {
    expect(await became('2026-03-20\t1000\t999.3')).toBe('    - { date: 2026-03-20, commanded: 1000 mm, measured: 999.3 mm }')
    const after = await afterAction(pasted('2026-03-20\t1000\t999.3'), TITLE)
    expect(await findings(after)).toContain('[missing-key]')
  })
})

describe('refused', () => {
  test.each([
    [
      'a number that may be anything',
      '2026-03-20\t1000\t999.3\t0',
      'Which of 1000 mm, 999.3 mm, 0 mm are lengths cannot be told',
    ],
    ['a day in another order', '20/03/2026\t1000\t999.3\t0 %', "What '20/03/2026' is cannot be told"],
    ['thousands or a decimal comma', '2026-03-20\t1000\t999,312\t0 %', "What '999,312' is cannot be told"],
    ['a name that nobody knows', '2026-03-20\t1000\t999.3\t0 %\trule-9m', "What 'rule-9m' is cannot be told"],
    ['two of a kind', '2026-03-20\t1000\t999.3\t0 %\t0.1 %', "Two cells can be 'applied': 0 % and 0.1 %."],
    [
      'no length that was commanded',
      '2026-03-20\t1200\t1198.2\t0 %',
      'Which of 1200 mm and 1198.2 mm was commanded cannot be told',
    ],
    ['two that may have been', '2026-03-20\t1000\t1500\t0 %', 'Which of 1000 mm and 1500 mm was commanded cannot be told'],
    ['too far off', '2026-03-20\t1000\t9993\t0 %', 'Which of 1000 mm and 9993 mm was commanded cannot be told'],
    ['a humidity', '2026-03-20\t1000\t999.3\t0 %\t45 %', "What '45 %' is cannot be told"],
    ['no day', '1000\t999.3\t0 %', 'A row needs a day and two lengths'],
  ])('%s', async (_, row, why) => expect(await refused(row)).toContain(why))
})

test('a temperature is taken for that of the web only where the checks have just that', async () => {
  const row = '2026-03-20\t1000\t999.3\t0 %\t23 °C'
  for (const list of [LIST.replace('web: 22 °C', 'climate: {temperature: 22 °C}'), LIST.replace(', web: 22 °C', '')])
    expect((await actionTitles(pasted(row, list))).join()).toContain("What '23 °C' is cannot be told")
})

test('not offered elsewhere', async () => {
  const row = '2026-03-20\t$01000\t999.3\t0 %\n'
  for (const text of [
    `stock: s\n${row}${LIST}`,
    `${LIST}alignment:\n  note: x\n${row}`,
    `stock: s\nfeed:\n  checks: []\n${row}`,
    `feed:\n  checks:\n    - date: 2026-03-20\n      note:\t$0a\tb\n`,
  ])
    expect((await actionTitles(text)).filter((title) => title.includes(TITLE))).toEqual([])
})
