// The grammar's pattern of a quantity is made from the table of units, so a new unit has its colour at once.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { UNITS } from '../../server/src/quantities/units.ts'
import { GRAMMAR, withUnits } from '../../server/tools/grammar.ts'

const grammar = readFileSync(join(import.meta.dirname, '..', '..', GRAMMAR), 'utf8')
// The editor's engine begins a match with \G where the one of JavaScript has ^.
const quantity = new RegExp(JSON.parse(grammar).repository.quantity.match.replace('\\G', '^'))

test('it is as the table of units makes it', () => {
  expect(grammar).toBe(withUnits(grammar))
})

test.each(UNITS.flatMap(({ spellings }) => spellings))('%s is taken whole behind a number', (spelling) => {
  expect(quantity.exec(`1.5 ${spelling}`)?.slice(1)).toEqual(['1.5', undefined, undefined, spelling])
  expect(quantity.exec(`1.5 ±0.3 ${spelling} }`)?.slice(1)).toEqual(['1.5', '±', '0.3', spelling])
})

test.each(['1.5 mmm', '1.5 furlong', '1.5 m m', '1.5'])('%s is no quantity', (text) => {
  expect(quantity.exec(text)).toBeNull()
})

test('only the pattern changes where a unit comes', () => {
  const stale = grammar.replace('|psi|', '|')
  expect(stale).not.toBe(grammar)
  expect(withUnits(stale)).toBe(grammar)
})
