// The smallest edits: a value replaced, a key or an item added, each keeping every other byte and reading back as what was meant.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { applyEdits } from '../../server/src/base/text-edit.ts'
import {
  addItem,
  addItems,
  addKey,
  type Edit,
  listOfOne,
  plainOrQuoted,
  replaceValue,
  sortItems,
} from '../../server/src/model/edit.ts'
import { SyntaxTree } from '../../server/src/syntax/parse.ts'
import { type Plain, PlainReader } from '../../server/src/syntax/plain.ts'
import { type Node, nodeAt, type Pair } from '../../server/src/syntax/tree.ts'
import { runs } from '../support/counts.ts'
import { readTexts } from '../support/yaml-texts.ts'

const at = (text: string, ...path: (string | number)[]): Node => nodeAt(SyntaxTree.parse(text).root, path)!

const shown = (text: string, edit: Edit): string => (edit.ok ? applyEdits(text, edit.edits) : `refused: ${edit.refused}`)

function withKey(text: string, path: readonly (string | number)[], after?: string): string {
  const map = at(text, ...path)
  if (map.kind !== 'map') throw new Error('no mapping there')
  return shown(text, addKey(text, map, 'k', '1', after))
}

function withItem(text: string, ...path: (string | number)[]): string {
  const list = at(text, ...path)
  if (list.kind !== 'seq') throw new Error('no list there')
  return shown(text, addItem(text, list, '{x: 1}'))
}

describe('a key is added', () => {
  test.each([
    ['a: {b: 1}', 'a: {b: 1, k: 1}'],
    ['a: {b: 1, }', 'a: {b: 1, k: 1, }'],
    ['a: { }', 'a: {k: 1 }'],
    ['a: {b: 1 # c\n  }', 'a: {b: 1, k: 1 # c\n  }'],
    ["a: {b: 1, c: {d: '}'}}", "a: {b: 1, k: 1, c: {d: '}'}}"],
    ['a:\n  b: 1 # c\n', 'a:\n  b: 1 # c\n  k: 1\n'],
    ['a:\n  b: 1', 'a:\n  b: 1\n  k: 1'],
    ['a:\n  b: |\n    x\n\n\nc: 1\n', 'a:\n  b: |\n    x\n  k: 1\n\n\nc: 1\n'],
    ['a:\r\n  b: # c\r\n', 'a:\r\n  b: # c\r\n  k: 1\r\n'],
    ['a:\n  b:\n    - 1\n# c\nd: 1\n', 'a:\n  b:\n    - 1\n  k: 1\n# c\nd: 1\n'],
  ])('behind the one named: %j', (text, after) => expect(withKey(text, ['a'], 'b')).toBe(after))

  test.each([
    ['# c\na: 1\n', '# c\nk: 1\na: 1\n'],
    ['\ufeffa: 1\n', '\ufeffk: 1\na: 1\n'],
    ['&x a: 1\n', 'refused: An anchor (&), a tag (!) or a question mark stands before the first key here; add the line by hand.'],
  ])('before the first: %j', (text, after) => expect(withKey(text, [])).toBe(after))

  test('to an item of a list, under its first key', () => {
    expect(withKey('a:\n  - b: 2\n    c: 3\nd: 1\n', ['a', 0], 'c')).toBe('a:\n  - b: 2\n    c: 3\n    k: 1\nd: 1\n')
    expect(withKey('a:\n  - b: 2\n', ['a', 0])).toBe('a:\n  - k: 1\n    b: 2\n')
  })
})

/** Sorts list `a` by the texts of its items. */
function sorted(text: string): string {
  const list = at(text, 'a')
  if (list.kind !== 'seq') throw new Error('no list there')
  return shown(
    text,
    sortItems(
      text,
      list,
      list.items.map((item) => (item.kind === 'scalar' ? item.text : '')),
    ),
  )
}

describe('items of a list are put in order', () => {
  test.each([
    ['a:\n- 2\n- 1\n', 'a:\n- 1\n- 2\n'],
    ['a:\n  - 2\n  - 3\n  - 1', 'a:\n  - 1\n  - 2\n  - 3'],
    ['a:\n  - 3\n  - 1\n  - 2\nb: 1\n', 'a:\n  - 1\n  - 2\n  - 3\nb: 1\n'],
    ['a:\r\n  - 2 # two\r\n  # one\r\n  - 1\r\n\r\nb: 1\r\n', 'a:\r\n  # one\r\n  - 1\r\n  - 2 # two\r\n\r\nb: 1\r\n'],
    ['a:\n  # all\n  - 2\n  - 1\n', 'a:\n  # all\n  - 1\n  - 2\n'],
    [
      'a:\n  # all\n  - 3\n  - 1\n  - 2\n',
      'refused: A comment stands above the first item, and may be meant for the whole list; move the item by hand.',
    ],
    ['a: [2, 1]', 'refused: The list stands between brackets; move the items by hand.'],
  ])('%j', (text, after) => expect(sorted(text)).toBe(after))

  test('each line stays whole, and they rise, whatever the order was', () =>
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: 9 }), fc.boolean(), (values, broken) => {
        const text = `x: 1\na:\n${values.map((v, i) => `  - ${v} # ${i}`).join('\n')}${broken ? '\n' : ''}`
        const after = sorted(text)
        const items = values.map((v, i) => [v, i] as const).sort(([a, i], [b, j]) => a - b || i - j)
        expect(after).toBe(`x: 1\na:\n${items.map(([v, i]) => `  - ${v} # ${i}`).join('\n')}${broken ? '\n' : ''}`)
      }),
    ))
})

describe('an item is added at the end of a list', () => {
  test.each([
    ['a: [1]', 'a: [1, {x: 1}]'],
    ['a: [1,]', 'a: [1, {x: 1},]'],
    ['a: []', 'a: [{x: 1}]'],
    ['a: [1, 2 # c\n  ]', 'a: [1, 2, {x: 1} # c\n  ]'],
    ['a:\n- 1', 'a:\n- 1\n- {x: 1}'],
    ['a:\n  - 1 # x\n# y\nd: 1\n', 'a:\n  - 1 # x\n  - {x: 1}\n# y\nd: 1\n'],
    ['a:\r\n  -\r\n    b: 1\r\n', 'a:\r\n  -\r\n    b: 1\r\n  - {x: 1}\r\n'],
  ])('%j', (text, after) => expect(withItem(text, 'a')).toBe(after))

  test('but not to one that begins on the line of another', () => {
    expect(withItem('a:\n  - - 1\n', 'a', 0)).toBe('refused: The list begins on the line of another list.')
  })
})

describe('items are added between those of a list', () => {
  const between = (text: string, ...added: readonly (readonly [item: string, before: number])[]): string => {
    const list = at(text, 'a')
    if (list.kind !== 'seq') throw new Error('no list there')
    return shown(
      text,
      addItems(
        text,
        list,
        added.map(([item, before]) => ({ item, before })),
      ),
    )
  }

  test.each([
    ['a:\n  - 1 # x\n  # of 3\n  - 3\n# y\nd: 1\n', 'a:\n  - 1 # x\n  - 2\n  - 2b\n  # of 3\n  - 3\n  - 9\n# y\nd: 1\n'],
    ['a:\r\n- b: 1\r\n  c: 2\r\n- 3', 'a:\r\n- b: 1\r\n  c: 2\r\n- 2\r\n- 2b\r\n- 3\r\n- 9'],
    ['a: [1, 3 ] # c', 'a: [1, 2, 2b, 3, 9 ] # c'],
  ])('%j', (text, after) => expect(between(text, ['2', 1], ['2b', 1], ['9', 7])).toBe(after))

  test.each([
    ['a:\n\n  - 1\n', 'a:\n\n  - 0\n  - 1\n'],
    ['a: [1]', 'a: [0, 1]'],
    ['a: []', 'a: [0]'],
    [
      'a:\n  # of 1, or of all\n  - 1\n',
      'refused: A comment stands above the first item, and may be meant for the whole list; add what comes before it by hand.',
    ],
  ])('before the first: %j', (text, after) => expect(between(text, ['0', 0])).toBe(after))
})

describe('a mapping is made a list with it as the one item', () => {
  const listed = (text: string): string => {
    const root = SyntaxTree.parse(text).root
    const pair = root?.kind === 'map' ? root.pair('a') : undefined
    if (!pair) throw new Error('no mapping there')
    return shown(text, listOfOne(text, pair))
  }

  test.each([
    ['a:\n  b: 1\n', 'a:\n  - b: 1\n'],
    [
      'a: # x\n  # y\n  b: 1 # z\n\n  # c\n  c: 2\n  # d\n\nd: 1\n',
      'a: # x\n  # y\n  - b: 1 # z\n\n    # c\n    c: 2\n  # d\n\nd: 1\n',
    ],
    ['a:\r\n  b: 1\r\n\r\n  c:\r\n    d: 2', 'a:\r\n  - b: 1\r\n\r\n    c:\r\n      d: 2'],
    ['a:\n  b: |\n    one\n\n      two\n  c: "x\n   y"\n', 'a:\n  - b: |\n      one\n\n        two\n    c: "x\n     y"\n'],
    ['a:\n  b: |+2\n    one\n      \n\nc: 1\n', 'a:\n  - b: |+2\n      one\n        \n\nc: 1\n'],
    ['a:\n    b:\n    - 1\n    c: 2\n', 'a:\n    - b:\n      - 1\n      c: 2\n'],
    ['a: {b: 1, c: 2} # x\n', 'a: [{b: 1, c: 2}] # x\n'],
    ['a: {b: 1,\n  c: 2\n  } # x\n', 'a: [{b: 1,\n  c: 2\n  }] # x\n'],
    ['a: {b: 1\n', 'refused: The { is not closed yet.'],
    ['a: &x # all\n  b: 1\n', 'refused: An anchor (&) or a tag (!) stands before it; write the dash by hand.'],
    ['a: !!map {b: 1}\n', 'refused: An anchor (&) or a tag (!) stands before it; write the dash by hand.'],
    ['a:\n  &x b: 1\n', 'refused: An anchor (&) or a tag (!) stands before it; write the dash by hand.'],
    [
      'a: &x\n  b: 1\nc: *x\n',
      'refused: The value is shared through an anchor (&) and an alias (*): changing it here would change it elsewhere. Write it out first.',
    ],
    [
      'a:\n  b: 1\n<<<<<<< ours\n  c: 1\n=======\n  c: 2\n>>>>>>> theirs\n',
      'refused: There is an open conflict in it: settle it first.',
    ],
  ])('%j', (text, after) => expect(listed(text)).toBe(after))

  test('and nothing else changes, in any text: each mapping under a key, alone', () => {
    const read = (root: Node | undefined): Plain => new PlainReader().read(root)
    let made = 0
    for (const text of readTexts().filter(({ length }) => length < 4000)) {
      const { root, problems } = SyntaxTree.parse(text)
      if (problems.length > 0) continue
      for (const { path, pair } of mappingsBelow(root, [])) {
        const edit = listOfOne(text, pair)
        if (!edit.ok) continue
        made++
        // Nothing but spaces, a dash and brackets is put in, and nothing taken out.
        expect(edit.edits.every(({ start, end, newText }) => start === end && ['- ', '  ', '[', ']'].includes(newText))).toBe(
          true,
        )
        const after = SyntaxTree.parse(applyEdits(text, edit.edits))
        expect(after.problems, text).toEqual([])
        expect(read(after.root), text).toEqual(wrappedAt(read(root), path))
      }
    }
    expect(made).toBeGreaterThan(500)
  })
})

/** The mappings that stand under a key, with the way to each. */
function mappingsBelow(
  node: Node | undefined,
  path: readonly (string | number)[],
): { path: readonly (string | number)[]; pair: Pair }[] {
  if (node?.kind === 'seq') return node.items.flatMap((item, i) => mappingsBelow(item, [...path, i]))
  if (node?.kind !== 'map') return []
  return node.pairs.flatMap((pair) => {
    const at = [...path, pair.key?.text ?? '']
    const here = pair.value.kind === 'map' && node.pair(at.at(-1) as string) === pair ? [{ path: at, pair }] : []
    return [...here, ...mappingsBelow(pair.value, at)]
  })
}

function wrappedAt(value: Plain, [step, ...rest]: readonly (string | number)[]): Plain {
  if (step === undefined) return [value]
  if (Array.isArray(value)) return value.map((item, i) => (i === step ? wrappedAt(item, rest) : item))
  return Object.assign(Object.create(null), value, {
    [step]: wrappedAt((value as { readonly [key: string]: Plain })[step]!, rest),
  })
}

describe('a value is replaced', () => {
  const replaced = (text: string, value: string): string => shown(text, replaceValue({ file: '', node: at(text, 'a') }, value))

  test.each([
    ['a: 1 mm # c\n', 'a: 2 mm # c\n'],
    ["a: '1 mm'\n", "a: '2 mm'\n"],
    ['a: "1 mm"\n', 'a: "2 mm"\n'],
    ['a:\nb: 1\n', 'a: 2 mm\nb: 1\n'],
    ['a: # c\n', 'a: 2 mm # c\n'],
    ['{a: 1 mm, b: 2}', '{a: 2 mm, b: 2}'],
    ['a: |\n  x\n', 'refused: The value is a block of text; edit it by hand.'],
    ['a: [1]\n', 'refused: A list or mapping stands where one value is due.'],
  ])('%j', (text, after) => expect(replaced(text, '2 mm')).toBe(after))

  test('and reads back as what was written, in whatever style it stands', () => {
    const values = fc.oneof(
      fc.constantFrom(
        '',
        '- a',
        '%5',
        ' a',
        'a ',
        'a: b',
        'x #y',
        "it's",
        'a\\b "c"',
        'null',
        'Yes',
        'off',
        '.',
        '---',
        '... x',
        '<<',
        '½ in',
        '−1 %',
        '~',
        '*x',
        '12:30',
        '0x1F',
        '=',
        '?',
      ),
      fc.string({ unit: 'grapheme-ascii', maxLength: 12 }),
    )
    fc.assert(
      fc.property(
        values,
        fc.constantFrom('a: 1\nb: 2\n', "a: '1'\nb: 2\n", 'a: "1"\nb: 2\n', '{a: 1, b: 2}\n', 'a:\nb: 2\n'),
        (value, text) => {
          const tree = SyntaxTree.parse(replaced(text, value))
          expect(tree.problems).toEqual([])
          expect(nodeAt(tree.root, ['a'])).toMatchObject({ kind: 'scalar', text: value })
          expect(nodeAt(tree.root, ['b'])).toMatchObject({ text: '2' })
        },
      ),
      { numRuns: runs(500) },
    )
  })

  test('plain where that is safe in YAML 1.1 too', () => {
    expect(['+0.12 %', '19 11/16 in', '499.4 ±0.3 mm', 'bay-1', '2026-03-31', 'off', 'No', 'y', '°C'].map(plainOrQuoted)).toEqual(
      ['+0.12 %', '19 11/16 in', '499.4 ±0.3 mm', 'bay-1', '2026-03-31', "'off'", "'No'", "'y'", "'°C'"],
    )
  })
})
