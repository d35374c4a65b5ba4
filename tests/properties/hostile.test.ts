// Texts that are meant to hurt are answered: with a finding where they are refused, without a stack, without a page of digits.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Span } from '../../server/src/base/span.ts'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { MAX_MISTAKES } from '../../server/src/syntax/compose.ts'
import { MAX_LINES, MAX_TEXT, SyntaxTree } from '../../server/src/syntax/parse.ts'
import type { Node } from '../../server/src/syntax/tree.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { runs, some } from '../support/counts.ts'
import { samples } from '../support/texts.ts'
import { showTree } from '../syntax/show.ts'
import { hostile, megabytes } from './hostile.ts'
import { askAt, askEverything, askWhole, type Bench, openBench } from './shop.ts'

const FILE = 'file:///shop/example.media.yaml'

/** How long a message may be: one that repeats a page of the document helps nobody. */
const LONGEST_MESSAGE = 600

function open(text: string): Bench {
  const workspace = new Workspace(new MemoryHost(new Map(), '2026-03-31'))
  workspace.update(FILE, text)
  return { workspace, analysis: new Analysis(workspace, true), put: async () => FILE }
}

describe.each(some(Object.entries(hostile), 8))('%s', (_, make) => {
  test('is answered, whole and after an edit', () => {
    const text = make()
    const bench = open(text)
    const middle = Math.floor(text.length / 2)
    askWhole(bench, FILE)
    for (const offset of [0, middle, text.length]) askAt(bench, FILE, offset)
    bench.workspace.update(FILE, `${text.slice(0, middle)}x${text.slice(middle)}`)
    askEverything(bench, FILE, middle)
    for (const { code, message } of bench.analysis.findings(FILE)) {
      expect(message.length, code).toBeLessThan(LONGEST_MESSAGE)
      expect(message).not.toMatch(/RangeError|stack|\bat .*:\d+:\d+|__proto__.*native code/)
    }
  })
})

test.each(some(megabytes, 4).map((text) => [JSON.stringify(text.slice(0, 8)), text]))(
  'a megabyte of %s is left early',
  (_, text) => {
    const { workspace, analysis } = open(text)
    const { problems } = workspace.document(FILE)!.tree
    expect(problems.length).toBeLessThanOrEqual(MAX_MISTAKES + 3)
    expect(analysis.findings(FILE).length).toBeLessThanOrEqual(100)
    expect(size(analysis.outline(FILE))).toBeLessThanOrEqual(2000)
  },
)

const size = (items: ReturnType<Analysis['outline']>): number => items.reduce((sum, item) => sum + 1 + size(item.children), 0)

test('the outline of very many keys is bounded, in one group and in all', () => {
  const many = open(`profile: example\n${Array.from({ length: 50_000 }, (_, i) => `x-${i}: {a: 1, b: {c: 1, d: 1}}\n`).join('')}`)
  expect(many.analysis.outline(FILE)).toHaveLength(200)
  const deep = (width: number, depth: number): string =>
    depth === 0 ? '1' : `{${Array.from({ length: width }, (_, i) => `k${i}: ${deep(width, depth - 1)}`).join(', ')}}`
  expect(size(open(`notes: ${deep(20, 3)}\n`).analysis.outline(FILE))).toBe(2000)
})

test('a text that is too large, or has too many lines, is not given to the parser', () => {
  for (const text of ['x'.repeat(MAX_TEXT + 1), 'gap: 2 mm\n'.repeat(MAX_LINES)]) {
    const tree = SyntaxTree.parse(text)
    expect([tree.problems.map((p) => p.code), tree.parsedCharacters, tree.root]).toEqual([['too-large'], 0, undefined])
  }
})

describe('after a hundred mistakes the rest is not read, and that is said', () => {
  const told = (text: string): string => {
    const found = open(text)
      .analysis.findings(FILE)
      .filter((f) => /nothing is read from here on/.test(f.message))
    expect(found.map((f) => f.message)).toEqual([
      'More than 100 mistakes stand above this place, and nothing is read from here on.',
    ])
    return text.slice(found[0]!.span.start).split('\n', 1)[0]!
  }

  test('in one entry after another', () => {
    const text = Array.from({ length: 300 }, (_, i) => `x-${i}: [\n`).join('')
    expect(told(text)).toBe('x-100: [')
    expect(SyntaxTree.parse(text).parsedCharacters).toBeLessThan(text.length)
  })

  test('in one text that cannot be read apart', () => {
    expect(told('---\na: 1\n'.repeat(300))).toBe('---')
  })

  test('and nothing that stands below is called missing', () => {
    const codes = open(`${'x: [\n'.repeat(150)}stock: film\nprinter: bay-1\nprofile: example\n`)
      .analysis.findings(FILE)
      .map((f) => f.code)
    expect([...new Set(codes)]).toEqual(['syntax'])
  })

  test('whether the text was read at once or edit by edit', () => {
    const good = Array.from({ length: 300 }, (_, i) => `x-${i}: 1\n`)
    const bad = good.map((_, i) => `x-${i}: [\n`)
    let tree = SyntaxTree.parse(good.join(''))
    for (const [broken, anchors] of [
      [60, 0],
      [99, 0],
      [99, 1],
      [100, 0],
      [130, 1],
      [101, 0],
      [99, 0],
      [0, 1],
      [0, 0],
      [160, 0],
      [20, 0],
    ] as const) {
      for (const from of [0, 120]) {
        const lines = [
          ...good.slice(0, from),
          ...bad.slice(0, broken),
          ...good.slice(from + broken),
          anchors ? 'x-a: &a 1\n' : '',
        ]
        tree = tree.update(lines.join(''))
        expect(showTree(tree)).toBe(showTree(SyntaxTree.parse(tree.text)))
      }
    }
  })
})

test('a name or a text of any length is told cut short, in findings, related places and fixes', async () => {
  const bench = await openBench()
  const places = samples().flatMap(({ name, text }) =>
    text.length > 6000 ? [] : scalarsOf(SyntaxTree.parse(text).root).map((span) => ({ name, text, span })),
  )
  const long = ['-'.padEnd(3000, 'ab'), 'é word'.repeat(500), ',5-'.padEnd(3000, '7')]
  await fc.assert(
    fc.asyncProperty(fc.constantFrom(...places), fc.constantFrom(...long), async ({ name, text, span }, more) => {
      const file = await bench.put(name, `${text.slice(0, span.end)}${more}${text.slice(span.end)}`)
      const told = bench.analysis.findings(file).flatMap((f) => [f.message, ...(f.related ?? []).map((r) => r.message)])
      const offered = bench.analysis.actions(file, span).map((a) => a.title)
      await bench.put(name, text)
      // Half of what was put in: it is not repeated.
      for (const one of [...told, ...offered]) expect(one.length, one).toBeLessThan(1500)
    }),
    { numRuns: runs(400) },
  )
})

const scalarsOf = (node: Node | undefined): readonly Span[] => {
  if (node?.kind === 'scalar') return node.end > node.start ? [{ start: node.start, end: node.end }] : []
  if (node?.kind === 'map') return node.pairs.flatMap(({ key, value }) => [...scalarsOf(key), ...scalarsOf(value)])
  return node?.kind === 'seq' ? node.items.flatMap(scalarsOf) : []
}

test('names that lead nowhere are told cut short', () => {
  const text = `profile: ${'a'.repeat(200_000)}\nstock: ${'b'.repeat(450_000)}\n`
  const found = open(text).analysis.findings(FILE)
  expect(found.map((f) => f.message)).toContain(
    `This file is example.media.yaml, so the profile in it is named 'example', not '${'a'.repeat(80)}…'.`,
  )
  expect(found.every((f) => f.message.length < LONGEST_MESSAGE)).toBe(true)
})

test('of one kind of finding two hundred are told, and how many more there are', () => {
  const seen = '  - {date: 2026-03-30, fault: skew}\n'
  const found = open(`profile: example\nobserved:\n${seen.repeat(5000)}`).analysis.findings(FILE)
  const faults = found.filter((f) => f.code === 'open-fault').map((f) => f.message)
  expect(faults).toHaveLength(200)
  expect(faults.filter((m) => m.endsWith(' And 4800 more of this kind.'))).toEqual(faults.slice(-1))
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
