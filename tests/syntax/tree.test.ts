// The tree: a tree brought up to date, and what is read from it, equals one made afresh, a document in pieces equals the document in one, and an edit costs its entry.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { LiveDocument } from '../../server/src/model/document.ts'
import { type DocumentKind, kindOfFile } from '../../server/src/schema/schema.ts'
import { composeAll } from '../../server/src/syntax/compose.ts'
import { readable } from '../../server/src/syntax/forbidden.ts'
import { SyntaxTree } from '../../server/src/syntax/parse.ts'
import { cutBlock } from '../../server/src/syntax/split.ts'
import { nodeAt } from '../../server/src/syntax/tree.ts'
import { runs } from '../support/counts.ts'
import {
  edited,
  longProfile,
  longStock,
  type RandomEdit,
  type Renaming,
  randomEdit,
  renamed,
  renaming,
  samples,
} from '../support/texts.ts'
import { replaced, showModel, showNode, showProblems, showTree } from './show.ts'

const withCrlf = (text: string): string => text.replace(/\r?\n/g, '\r\n')

interface Text {
  readonly kind: DocumentKind
  readonly text: string
}

const TEXTS: readonly Text[] = [
  ...samples().map(({ name, text }) => ({ kind: kindOfFile(name)!, text })),
  ...[
    longProfile(40),
    withCrlf(longProfile(40)),
    `\ufeff${longProfile(25)}`,
    longProfile(30).replaceAll('mm', 'mm 🖨️'),
    longProfile(30)
      .replace(/^ {2}checks:\n/m, '  checks:\n  # in date order\n\n')
      .replaceAll(/^ {4}/gm, '  '),
  ].map((text) => ({ kind: 'media' as const, text })),
  { kind: 'stock', text: longStock(30) },
]

function holds({ kind, text }: Text, edits: readonly (RandomEdit | Renaming)[]): void {
  const document = new LiveDocument('x', kind, text)
  showModel(document)
  for (const edit of edits) {
    document.update('key' in edit ? renamed(document.text, edit) : edited(document.text, edit))
    const fresh = new LiveDocument('x', kind, document.text)
    expect(showTree(document.tree)).toBe(showTree(fresh.tree))
    expect(showModel(document)).toBe(showModel(fresh))
  }
}

describe('brought up to date, a tree equals one made afresh', () => {
  test('after any edits of any sample', () => {
    fc.assert(fc.property(fc.constantFrom(...TEXTS), fc.array(randomEdit, { minLength: 1, maxLength: 8 }), holds), {
      numRuns: runs(300),
    })
  })

  test('after a key above a long list is called otherwise, and called back', () => {
    const long = fc.constantFrom(...TEXTS.filter(({ text }) => text.length > 1500))
    const edits = fc.array(fc.oneof({ weight: 3, arbitrary: renaming }, randomEdit), { minLength: 1, maxLength: 5 })
    fc.assert(fc.property(long, edits, holds), { numRuns: runs(200) })
  })

  test('after the layers of a stock turn out to be its lots', () => {
    const layers = { kind: 'stock' as const, text: longStock(30) }
    holds(layers, [{ at: 0, key: 'lots' }])
    holds(layers, [
      { at: 0, key: 'lots' },
      { at: 0, key: 'layers' },
    ])
  })

  test('after what was measured on checks turns out to be readings of the heat', () => {
    // 110 °C is an unlikely web for a check, and a likely one behind a heater.
    const check = (i: number): string => `    - { date: 2026-03-0${(i % 9) + 1}, web: ${i % 2 ? 110 : 40} °C, zone: after }\n`
    const list = Array.from({ length: 30 }, (_, i) => check(i)).join('')
    holds({ kind: 'media', text: `profile: x\nfeed:\n  checks:\n${list}` }, [
      { at: 0, key: 'heat' },
      { at: 0.5, key: 'readings' },
      { at: 0, key: 'feed' },
      { at: 0.5, key: 'checks' },
    ])
  })

  test('after typing a text character by character, and taking it back', () => {
    const text = longProfile(20)
    let tree = SyntaxTree.parse('')
    for (let i = 1; i <= text.length; i++) {
      tree = tree.update(text.slice(0, i))
      if (i % 17 === 0) expect(showTree(tree)).toBe(showTree(SyntaxTree.parse(tree.text)))
    }
    for (let i = text.length; i >= 0; i -= 5) {
      tree = tree.update(text.slice(0, i))
      if (i % 3 === 0) expect(showTree(tree)).toBe(showTree(SyntaxTree.parse(tree.text)))
    }
  })

  test('when an anchor comes and goes, and entries after it were moved meanwhile', () => {
    const text = longProfile(30)
    const base = text.replace('feed:\n', 'feed: \n')
    let tree = SyntaxTree.parse(text)
    for (const next of [
      base,
      base.replace('heat:', 'heat: &h'),
      base,
      `x-new: 1\n${base}`,
      text,
      text.replace('checks:\n', 'checks: *h\n'),
      text,
    ]) {
      tree = tree.update(next)
      expect(showTree(tree)).toBe(showTree(SyntaxTree.parse(next)))
    }
  })
})

describe('a document in pieces equals the document in one', () => {
  for (const { name, text } of [
    ...samples(),
    { name: 'a long profile', text: longProfile(40) },
    { name: 'CRLF', text: withCrlf(longProfile(40)) },
  ]) {
    test(name, () => {
      const tree = SyntaxTree.parse(text)
      const whole = composeAll(readable(text), { start: 0 })
      // A document with mistakes is read further in pieces than in one: that is what the pieces are for.
      if (whole.problems.length > 0) return expect(tree.problems.length).toBeGreaterThan(0)
      expect(showNode(tree.root)).toBe(showNode(whole.contents))
      expect(tree.problems.filter((p) => !/^A control character/.test(p.detail))).toEqual([])
    })
  }

  test('wherever an edited sample is without a mistake', () => {
    let compared = 0
    fc.assert(
      fc.property(fc.constantFrom(...TEXTS), randomEdit, randomEdit, ({ text }, one, two) => {
        const next = readable(edited(edited(text, one), two))
        if (!cutBlock(next, next.charCodeAt(0) === 0xfeff ? 1 : 0, next.length, 0)) return
        const tree = SyntaxTree.parse(next)
        if (tree.conflicts.length > 0) return
        const whole = composeAll(next, { start: 0 })
        if (whole.problems.length > 0) return
        compared++
        expect(showNode(tree.root)).toBe(showNode(whole.contents))
        expect(showProblems(tree.problems)).toEqual([])
      }),
      { numRuns: runs(1000) },
    )
    expect(compared).toBeGreaterThan(runs(1000) / 20)
  })
})

test('a key whose colon stands on the next line is told, whatever entries stand beside it', () => {
  for (const before of ['', 'gap: 2 mm\n', 'notes: |\n  A line.\n', 'notes: "a\\tb"\n']) {
    const tree = SyntaxTree.parse(`${before}stock\n  : film\nslot: 4\n`)
    expect(tree.problems.map((p) => p.code)).toContain('no-colon')
  }
})

describe('a line that a tab begins', () => {
  const text = longProfile(200).replace('  correction: +0.12 %\n', '\tcorrection: +0.12 %\n')

  test('spoils its own entry, and the rest is read all the same', () => {
    const { root, problems } = SyntaxTree.parse(text)
    expect(problems.map((p) => p.code)).toContain('tab-indent')
    expect(nodeAt(root, ['heat', 'platen'])).toMatchObject({ text: '38 °C' })
  })

  test('does not make an edit elsewhere cost the document', () => {
    const tree = SyntaxTree.parse(text)
    const at = text.indexOf('38 °C')
    expect(tree.update(replaced(text, at, at + 2, '39')).parsedCharacters).toBeLessThan(100)
  })
})

describe('an edit costs its entry, not the document', () => {
  const text = longProfile(2000)

  test('a digit in the middle of a long list', () => {
    const tree = SyntaxTree.parse(text)
    const at = text.indexOf('1996', text.length / 2)
    expect(tree.parsedCharacters).toBeGreaterThan(text.length * 0.9)
    expect(tree.update(replaced(text, at, at + 4, '1997')).parsedCharacters).toBeLessThan(300)
  })

  test('a new line above the list, and a new check below it', () => {
    const tree = SyntaxTree.parse(text)
    const more = tree.update(text.replace('stock: film\n', 'stock: film\nslot: 4\n'))
    expect(more.parsedCharacters).toBeLessThan(60)
    const at = more.text.indexOf('\nheat:')
    const check = '    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996 mm, applied: 0 %}\n'
    expect(more.update(replaced(more.text, at, at, check)).parsedCharacters).toBeLessThan(600)
  })

  test('two digits far apart, typed before anything was asked', () => {
    const tree = SyntaxTree.parse(text)
    const [one, other] = [text.indexOf('1996', text.length / 4), text.indexOf('1996', (text.length / 4) * 3)]
    const both = replaced(replaced(text, other, other + 4, '1997.25'), one, one + 4, '1998')
    expect(tree.update(both).parsedCharacters).toBeLessThan(600)
  })

  test('nothing, where the text is the same', () => {
    const tree = SyntaxTree.parse(text)
    expect(tree.update(text)).toBe(tree)
  })

  test('ten thousand edits leave no more behind than a hundred', () => {
    let tree = SyntaxTree.parse(longProfile(100))
    const at = tree.text.indexOf('1996')
    const edit = (times: number): void => {
      for (let i = 0; i < times; i++) tree = tree.update(replaced(tree.text, at, at + 4, String(1000 + (i % 9000))))
    }
    edit(100)
    const before = reachable(tree)
    edit(10_000)
    expect(reachable(tree)).toBeLessThanOrEqual(before + 2)
  })
})

/** How many objects hang together with a tree: older trees, had they been kept, would be among them. */
function reachable(root: object): number {
  const seen = new Set<object>()
  const todo: object[] = [root]
  for (let at = todo.pop(); at; at = todo.pop()) {
    if (seen.has(at)) continue
    seen.add(at)
    const inner = at instanceof Map ? [...at.keys(), ...at.values()] : Object.values(at)
    for (const value of inner) if (typeof value === 'object' && value !== null) todo.push(value)
  }
  return seen.size
}
