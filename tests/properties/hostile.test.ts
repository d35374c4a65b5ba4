// Texts that are meant to hurt are answered: with a finding where they are refused, without a stack, without a page of digits.
import { describe, expect, test } from 'vitest'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { hostile } from './hostile.ts'
import { askEverything, type Bench } from './shop.ts'

const FILE = 'file:///shop/example.media.yaml'

/** How long a message may be: one that repeats a page of the document helps nobody. */
const LONGEST_MESSAGE = 600

function open(text: string): Bench {
  const workspace = new Workspace(new MemoryHost(new Map(), '2026-03-31'))
  workspace.update(FILE, text)
  return { workspace, analysis: new Analysis(workspace, true), put: async () => FILE }
}

describe.each(Object.entries(hostile))('%s', (_, make) => {
  test('is answered, whole and after an edit', () => {
    const text = make()
    const bench = open(text)
    const middle = Math.floor(text.length / 2)
    for (const offset of [0, middle, text.length]) askEverything(bench, FILE, offset)
    bench.workspace.update(FILE, `${text.slice(0, middle)}x${text.slice(middle)}`)
    askEverything(bench, FILE, middle)
    for (const { code, message } of bench.analysis.findings(FILE)) {
      expect(message.length, code).toBeLessThan(LONGEST_MESSAGE)
      expect(message).not.toMatch(/RangeError|stack|\bat .*:\d+:\d+|__proto__.*native code/)
    }
  })
})

const codes = (name: keyof typeof hostile): readonly string[] => [
  ...new Set(
    open(hostile[name]!())
      .analysis.findings(FILE)
      .map((f) => f.code),
  ),
]

test('what is too large is refused with one finding, and nothing else is said', () => {
  const found = open(hostile['five megabytes of checks']!()).analysis.findings(FILE)
  expect(found.map((f) => f.code)).toEqual(['too-large'])
})

test.each([
  'fifty thousand open brackets',
  'fifty thousand brackets closed',
  'ten thousand nested mappings',
  'five thousand dashes in a row',
])('%s are too deep', (name) => expect(codes(name)).toContain('too-deep'))

test('more merging than the bound allows is said to be so', () => {
  expect(codes('eight thousand merge keys')).toContain('alias-limit')
})

test('names that a program keeps for itself are keys like any other', () => {
  const found = open(hostile['names that a program keeps for itself']!()).analysis.findings(FILE)
  const unknown = found.filter((f) => f.code === 'unknown-key').map((f) => f.message)
  for (const name of ['__proto__', 'constructor', 'toString', 'hasOwnProperty'])
    expect(
      unknown.some((m) => m.includes(`'${name}'`)),
      name,
    ).toBe(true)
})
