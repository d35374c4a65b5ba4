// The order and the measure of a hover: over every setting of every sample, in Markdown and as plain text.
import { describe, expect, test } from 'vitest'
import { columns, table } from '../../server/src/base/markdown.ts'
import { plainText } from '../../server/src/base/plain-text.ts'
import { hoverPage, linesOf, MAX_LINES } from '../../server/src/features/hover-page.ts'
import type { Node } from '../../server/src/syntax/tree.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { sampleWorkspace } from '../../server/tools/samples.ts'

/** A row of a table, in Markdown. */
const isRow = (line: string): boolean => /^\|.*\|$/.test(line)

function placesOf(node: Node | undefined): number[] {
  if (node?.kind === 'map') return node.pairs.flatMap(({ key, value }) => [...placesOf(key), ...placesOf(value)])
  if (node?.kind === 'seq') return node.items.flatMap(placesOf)
  return node === undefined ? [] : [node.start]
}

/** Every hover of every document of a folder of samples, each text once. */
async function hoversOf(shop: 'tern-quay' | 'broken'): Promise<ReadonlyMap<string, string>> {
  const { workspace } = await sampleWorkspace(shop)
  const analysis = new Analysis(workspace)
  const found = new Map<string, string>()
  for (const { file } of workspace.everything()) {
    const document = await workspace.load(file)
    await workspace.prepare(file)
    for (const offset of placesOf(document?.tree.root)) {
      const markdown = analysis.hover(file, offset)?.markdown
      if (markdown !== undefined && !found.has(markdown)) found.set(markdown, `${file}:${offset}`)
    }
  }
  return found
}

describe.each(['tern-quay', 'broken'] as const)('every hover of %s', async (shop) => {
  const hovers = await hoversOf(shop)

  test('is no longer than two screens of the widget', () => {
    expect(hovers.size).toBeGreaterThan(500)
    const long = [...hovers].filter(([markdown]) => linesOf(markdown) > MAX_LINES).map(([, at]) => at)
    expect(long).toEqual([])
  })

  test('has one caution at most, one verdict at most and in the second place, and its sources behind all else', () => {
    const wrong = [...hovers].filter(([markdown]) => {
      const blocks = markdown.split('\n\n')
      const cautions = blocks.filter((block) => /^Caution: /.test(block))
      const sources = blocks.findIndex((block) => block.startsWith('*Source: '))
      const bold = blocks.flatMap((block, i) => (/^\*\*[^*]+\*\*$/.test(block) && i > 0 ? [i] : []))
      return cautions.length > 1 || bold.some((i) => i !== 1) || (sources >= 0 && sources < blocks.length - 2)
    })
    expect(wrong.map(([markdown]) => markdown)).toEqual([])
  })

  test('has a table whose columns stand below one another, as Markdown and as plain text', () => {
    let tables = 0
    for (const [markdown, at] of hovers) {
      for (const block of markdown.split('\n\n')) {
        const rows = block.split('\n')
        if (!isRow(rows[0]!)) continue
        tables++
        expect([at, new Set(rows.map((row) => row.length)).size]).toEqual([at, 1])
      }
      expect([at, plainText(markdown)]).toEqual([at, expect.not.stringMatching(/\*\*|^\||`|\]\(|\\|<[a-z/]|&\w+;/m)])
    }
    expect(tables).toBeGreaterThan(10)
  })
})

test('a table reads as plain text: words to the left, numbers to the right', () => {
  const markdown = table(
    ['zone', 'margin'],
    [
      ['**on the platen**', '12 K'],
      ['a \\| b', '9 K'],
      ['to the roll', '—'],
    ],
  )
  expect(plainText(markdown)).toBe(
    ['zone            margin', 'on the platen     12 K', 'a | b              9 K', 'to the roll          —'].join('\n'),
  )
  expect(columns([['a'], []], [true])).toEqual([['  a'], ['   ']])
})

const WORDS = 'A sentence of words that takes about a line of the widget, no more and no less. '
const explanation = {
  what: WORDS.repeat(3),
  parts: [
    ['Raise when', WORDS],
    ['Costs', WORDS.repeat(3)],
  ],
  caution: 'hot.',
  source: 'common practice; computed: much',
} as const

test('what does not fit is left out from the least needed on, and where it is read is said', () => {
  const numbers = {
    verdict: 'Key in **nothing**.',
    told: [table(['a'], [['1']]), ...Array.from({ length: 30 }, (_, i) => `Note ${i}.`)],
  }
  const page = hoverPage({ heading: '**gap**', meaning: ['= 2 mm'], numbers, explanation, more: 'More: elsewhere' })
  expect(linesOf(page)).toBeLessThanOrEqual(MAX_LINES)
  const blocks = page.split('\n\n')
  expect(blocks.slice(0, 3)).toEqual(['**gap**', '**Key in nothing.**', '= 2 mm'])
  expect(blocks.at(-1)).toBe('*More: elsewhere*')
  expect(page).toContain('Note 0.')
  expect(page).not.toContain('Note 29.')
  for (const kept of ['| 1 |'.replace('1', '  1'), '**Raise when:**', '**Costs:**', 'Caution: hot.', '*Source: common practice'])
    expect(page).toContain(kept)
})

test('what fits is told whole, and nothing is said of more', () => {
  const page = hoverPage({ heading: '**gap**', meaning: [], numbers: undefined, explanation, more: 'More: elsewhere' })
  expect(page).toContain('*Source: common practice; computed: much*')
  expect(page).not.toContain('More:')
})

test('a caution for all that is told gives way to the brief one where some of it is left out', () => {
  const numbers = {
    told: Array.from({ length: 30 }, (_, i) => `Note ${i}.`),
    caution: 'Caution: long.',
    briefCaution: 'Caution: brief.',
  }
  const page = (count: number): string =>
    hoverPage({
      heading: '**gap**',
      meaning: [],
      numbers: { ...numbers, told: numbers.told.slice(0, count) },
      explanation,
      more: 'More.',
    })
  expect(page(1)).toContain('Caution: long.')
  expect(page(30)).toContain('Caution: brief.')
  expect(page(30)).not.toContain('hot.')
})
