// Which word was meant by a mistyped one.
import { expect, test } from 'vitest'
import { nearest } from '../../server/src/base/nearest.ts'

const KEYS = ['correction', 'checks', 'fine', 'bed-width', 'overrun', 'gap', 'gaps', 'fan', 'at', 'run-out']

test.each([
  ['corection', 'correction'], // a letter less
  ['correcttion', 'correction'], // a letter more
  ['corrextion', 'correction'], // a letter wrong
  ['corretcion', 'correction'], // two letters swapped
  ['Bed_Width', 'bed-width'],
  ['bedwidth', 'bed-width'],
  ['RunOut', 'run-out'],
  ['width_bed', 'bed-width'], // another order
  ['gap', 'gap'],
  ['agp', 'gap'],
  ['fna', 'fan'],
  ['ta', undefined], // too short for a letter wrong
  ['suction', undefined],
  ['', undefined],
  ['--', undefined],
  ['__proto__', undefined],
  [`correction${'n'.repeat(100_000)}`, undefined],
])('%s', (word, meant) => {
  expect(nearest(word, KEYS)).toBe(meant)
})

test('of equals the first', () => {
  expect(nearest('gapz', ['gaps', 'gapt'])).toBe('gaps')
})
