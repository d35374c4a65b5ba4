// Our own reader of YAML: what it reads is what the library's tree is turned into, and what it is not certain of it leaves.
import { describe, expect, test } from 'vitest'
import { readBlock } from '../../server/src/syntax/reader.ts'
import { isWhole, runs } from '../support/counts.ts'
import { compareReaders, describeTally } from '../support/readers.ts'
import { seed } from '../support/seed.ts'
import { showNode } from './show.ts'

const read = (text: string) => readBlock(text, 0, text.length, { start: 0 }, 0)

describe('reads', () => {
  test('blocks, flow, quotes and comments, each node where it stands', () => {
    const text = `# A comment.
title: Gloss cast film  # behind it
feed:
  checks:
  - { date: 2026-03-01, measured: "999.4 ±0.3 mm",
      with: }
  -
    lot: 'L''17'
heat: [36 °C, [40 °C]]
notes:
`
    expect(`\n${showNode(read(text))}`).toMatchInlineSnapshot(`
      "
      mapping [13-180]
        [13-35] plain [13-18] "title": plain [20-35] "Gloss cast film"
        [49-150] plain [49-53] "feed": mapping [57-150]
          [57-150] plain [57-63] "checks": list [67-150]
            - flow mapping [69-129]
              [71-87] plain [71-75] "date": plain [77-87] "2026-03-01"
              [89-114] plain [89-97] "measured": double [99-114] "999.4 ±0.3 mm"
              [122-127] plain [122-126] "with": empty [127-127] ""
            - mapping [138-150]
              [138-150] plain [138-141] "lot": single [143-150] "L'17"
        [151-173] plain [151-155] "heat": flow list [157-173]
          - plain [158-163] "36 °C"
          - flow list [165-172]
            - plain [166-171] "40 °C"
        [174-180] plain [174-179] "notes": empty [180-180] """
    `)
  })

  test.each([
    ['CRLF', 'gap: 2 mm\r\nfeed:\r\n  checks: [1,\r\n    2]\r\n'],
    ['a text that ends within its last line', 'gap: 2 mm\nlist:\n  - 1'],
    ['a list as deep as its key', 'checks:\n- 1\n- a: 1\n  b: 2\ngap: 1\n'],
    ['lists in lists', '- - 1\n  - 2\n- -\n  - - a: 1\n'],
    ['an emoji and a letter of two units', 'title: 🖨️ 𝒳\ngap: 2 mm\n'],
    ['signs within words', 'a: b:c#d {e} [f], & * ! | > % @\n'],
    ['a comma behind the last', 'a: [1, 2, ]\nb: { c: 1, }\n'],
    ['comments of any depth', 'a:\n      # deep\n  b: 1\n# not deep\n  c: 2\n'],
  ])('%s', (_, text) => expect(read(text)).toBeDefined())
})

describe('leaves to the library', () => {
  test.each([
    ['an anchor', 'a: &x 1\n'],
    ['an alias', 'a: *x\n'],
    ['a tag', 'a: !x 1\n'],
    ['a merge key', '<<: {a: 1}\n'],
    ['a text of several lines', 'a: |\n  b\n'],
    ['a word of several lines', 'a: b\n  c\n'],
    ['a word of several lines in brackets', 'a: [b\n  c]\n'],
    ['a quoted text of several lines', 'a: "b\n  c"\n'],
    ['an escape', 'a: "\\t"\n'],
    ['a quoted key', '"a": 1\n'],
    ['a key without a colon', 'a: 1\nb\n'],
    ['a key in braces without a colon', 'a: {b}\n'],
    ['a colon too many', 'a: b: c\n'],
    ['a key given twice', 'a: {b: 1, b: 2}\n'],
    ['a key given twice among many', `a: {${Array.from({ length: 20 }, (_, i) => `k${i % 19}: 1`).join(', ')}}\n`],
    ['a bracket that is not closed', 'a: [1, 2\nb: 3\n'],
    ['a bracket closed by another', 'a: [1, 2}\n'],
    ['two commas', 'a: [1,, 2]\n'],
    ['a flow that goes on as deep as its key', 'a: [1,\n2]\n'],
    ['a comment without a space', 'a: "b"#c\n'],
    ['a comment without a space in brackets', 'a: ["b"#c\n  ]\n'],
    ['a comment that begins a line in brackets', 'a: [b\n# c\n  ]\n'],
    ['a pair in a list', 'a: [b: c]\nd: [e:]\n'],
    ['a tab', 'a:\tb\n'],
    ['a line begun by a tab', 'a:\n\tb: 1\n'],
    ['a lone carriage return', 'a: 1\rb: 2\n'],
    ['a control character', 'a: b\u0007\n'],
    ['a line of another depth', 'a:\n    b: 1\n  c: 2\n'],
    ['a list where a key is due', 'a: 1\n- b\n'],
    ['a list on its key’s line', 'a: - b\n'],
    ['a document’s start', '---\na: 1\n'],
    ['a document’s start before a key', '--- a: 1\n'],
    ['a document’s end', 'a: 1\n...\n'],
    ['a document’s end before a key', '... a: 1\n'],
    ['a directive', '%YAML 1.2\n'],
    ['a byte order mark', '\ufeffa: 1\n'],
    ['nothing', '# nothing\n'],
    ['a nest of a hundred', `a: ${'['.repeat(100)}${']'.repeat(100)}\n`],
    ['more than a hundred thousand letters', `a: [${'1, '.repeat(40_000)}]\n`],
    ['a key of two thousand letters', `${'a'.repeat(2000)}: 1\n`],
  ])('%s', (_, text) => expect(read(text)).toBeUndefined())
})

// `npm run test:long` does the same over many more.
test('reads samples, fixtures, generated and damaged documents as the library does', () => {
  const tally = compareReaders({ seed, documents: runs(1500) })
  expect(tally.differences).toEqual([])
  expect(tally.same, describeTally(tally)).toBeGreaterThan(isWhole ? 4000 : 3000)
  expect(tally.left).toBeGreaterThan(1000)
})
