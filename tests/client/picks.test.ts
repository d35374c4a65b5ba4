// Picks that are typed one key each: how far they got, and the snippet with them.
import { expect, test, vi } from 'vitest'

vi.mock('vscode', async () => ({ l10n: (await import('./l10n.ts')).l10n }))

const { lacking, picksOf, rowsIn, withPicks } = await import('../../client/src/picks.ts')

const ALIGNMENT = `alignment:
  date: \${8|2026-03-31,2026-03-30|}
  thickness: \${7:50 µm}
  one-way: { cyan: \${1}, light-magenta: \${2}, black: \${3} \\}
  two-way: { cyan: \${4}, light-magenta: \${5}, black: \${6} \\}
`

test('rows of picks are found in a snippet, named or numbered', () => {
  expect(rowsIn(ALIGNMENT).map(({ key, names }) => [key, ...names])).toEqual([
    ['one-way', 'cyan', 'light-magenta', 'black'],
    ['two-way', 'cyan', 'light-magenta', 'black'],
  ])
  expect(rowsIn(`picks: [\${1}, \${2}]`)[0]?.names).toEqual(['row 1', 'row 2'])
  expect(rowsIn(`- { measured: \${1} mm, web: \${2} °C }`)).toEqual([])
})

test('a key a pick', () => {
  expect(picksOf('01-12')).toEqual([0, 1, -1, 2])
  expect(picksOf('+1 −2, 0')).toEqual([1, -2, 0])
  expect(picksOf('-0')).toEqual([0])
  expect(picksOf('1-')).toEqual([1])
  for (const typed of ['x', '1.5', '--1', '1/2']) expect(picksOf(typed)).toBeUndefined()
})

test('while they are typed the next one is asked for by name', () => {
  const [row] = rowsIn(ALIGNMENT)
  expect(lacking('', row!)).toBe('cyan?')
  expect(lacking('0-1', row!)).toBe('cyan 0, light-magenta -1, black?')
  expect(lacking('0-12', row!)).toBeUndefined()
  expect(lacking('0-12-', row!)).toBe('A pick is due behind the last sign.')
  expect(lacking('0012', row!)).toBe('Those are 4 picks, and there are 3: cyan, light-magenta, black.')
  expect(lacking('a', row!)).toMatch(/^One digit a pick/)
})

test('a row is filled, and the rest is left to be typed', () => {
  const [row] = rowsIn(ALIGNMENT)
  const filled = withPicks(ALIGNMENT, row!, [0, -1, 2])
  expect(filled).toContain('one-way: { cyan: 0, light-magenta: -1, black: 2 \\}')
  expect(rowsIn(filled).map(({ key }) => key)).toEqual(['two-way'])
})
