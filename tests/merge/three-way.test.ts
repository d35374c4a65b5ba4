// Three versions of a document made one: each case by its texts, and many generated ones by what the branches meant.
import { describe, expect, test } from 'vitest'
import { auditMerge } from '../../server/src/merge/audit.ts'
import { mergeTexts } from '../../server/src/merge/three-way.ts'
import type { DocumentKind } from '../../server/src/schema/schema.ts'
import { seed } from '../support/seed.ts'
import { mergeMany } from './merges.ts'

function merge(base: string, ours: string, theirs: string, kind: DocumentKind = 'media'): string {
  const made = mergeTexts(kind, { base, ours, theirs })
  return made.ok ? made.value.text : `refused: ${made.problem.input}: ${made.problem.reason}`
}

const BOTH = 'both sides changed it, each in its own way'
const TAKEN = 'one side took it out, and the other changed it'

const HEAD = 'profile: p\n'
const check = (day: number, mm: number, more = ''): string =>
  `    - { date: 2026-03-${day}, commanded: 1000 mm, measured: ${mm} mm, applied: 0 %${more} }\n`
const checks = (...lines: readonly string[]): string => `${HEAD}feed:\n  checks:\n${lines.join('')}`
const [A, B, C] = [check(10, 998), check(12, 998.2), check(11, 998.4)]

describe('settings', () => {
  test.each([
    [
      'each side another',
      'gap: 2 mm\nsuction: 1\n',
      'gap: 3 mm\nsuction: 1\n',
      'gap: 2 mm\nsuction: 2\n',
      'gap: 3 mm\nsuction: 2\n',
    ],
    ['both the same', 'gap: 2 mm\n', 'gap: 3 mm\n', 'gap: 3.0 mm\n', 'gap: 3 mm\n'],
    ['both, each in its own way', 'gap: 2 mm\n', 'gap: 3 mm\n', 'gap: 1 mm\n', `refused: gap: ${BOTH}`],
    ['one in another unit, one changed', 'gap: 2 mm\n', 'gap: 0.2 cm\n', 'gap: 3 mm\n', 'gap: 3 mm\n'],
    [
      'of one line',
      'heat: { before: 40 °C, platen: 42 °C }\n',
      'heat: { before: 41 °C, platen: 42 °C }\n',
      'heat: { before: 40 °C, platen: 44 °C, fan: true }\n',
      'heat: { before: 41 °C, platen: 44 °C, fan: true }\n',
    ],
    [
      'of one line, one value by both',
      'heat: { platen: 42 °C }\n',
      'heat: { platen: 43 °C }\n',
      'heat: { platen: 44 °C }\n',
      `refused: heat.platen: ${BOTH}`,
    ],
    [
      'below one another',
      'heat:\n  before: 40 °C\n  platen: 42 °C\n',
      'heat:\n  before: 41 °C\n  platen: 42 °C\n',
      'heat:\n  before: 40 °C\n  platen: 44 °C\n',
      'heat:\n  before: 41 °C\n  platen: 44 °C\n',
    ],
    [
      'one taken out',
      'gap: 2 mm\nsuction: 1\nslot: 1\n',
      'suction: 1\nslot: 1\n',
      'gap: 2 mm\nsuction: 1\nslot: 2\n',
      'suction: 1\nslot: 2\n',
    ],
    [
      'one taken out by the other',
      'gap: 2 mm\nsuction: 1\nslot: 1\n',
      'gap: 3 mm\nsuction: 1\nslot: 1\n',
      'gap: 2 mm\nslot: 1\n',
      'gap: 3 mm\nslot: 1\n',
    ],
    ['taken out, and changed', 'gap: 2 mm\nslot: 1\n', 'slot: 1\n', 'gap: 3 mm\nslot: 1\n', `refused: gap: ${TAKEN}`],
    ['changed, and taken out', 'gap: 2 mm\nslot: 1\n', 'gap: 3 mm\nslot: 1\n', 'slot: 1\n', `refused: gap: ${TAKEN}`],
    ['added on both sides', 'gap: 2 mm\n', 'gap: 2 mm\nslot: 1\n', 'suction: 2\ngap: 2 mm\n', 'suction: 2\ngap: 2 mm\nslot: 1\n'],
    ['one added by both, otherwise', 'gap: 2 mm\n', 'gap: 2 mm\nslot: 1\n', 'slot: 2\ngap: 2 mm\n', `refused: slot: ${BOTH}`],
    ['of another kind', 'suction: 1\n', 'suction: 2\n', 'suction: { value: 3 }\n', `refused: suction: ${BOTH}`],
  ])('%s', (_, base, ours, theirs, expected) => {
    const whole = expected.startsWith('refused') ? expected : HEAD + expected
    expect(merge(HEAD + base, HEAD + ours, HEAD + theirs)).toBe(whole)
    expect(
      merge(...([base, ours, theirs].map((text) => (HEAD + text).replaceAll('\n', '\r\n')) as [string, string, string])),
    ).toBe(whole.replaceAll('\n', '\r\n'))
  })
})

describe('what was measured', () => {
  test.each([
    ['both recorded: by their days', [A], [A, B], [A, C], [A, C, B]],
    ['ours is the older', [A], [A, C], [A, B], [A, C, B]],
    ['one for both', [A], [A, B], [A, B], [A, B]],
    ['one taken out', [A, B], [B], [A, B, check(13, 999)], [B, check(13, 999)]],
    ['a remark on one side', [A], [check(10, 998, ', note: warm')], [A, B], [check(10, 998, ', note: warm'), B]],
    [
      'remarks on both',
      [A],
      [check(10, 998, ', note: warm')],
      [check(10, 998, ', lot: A-1')],
      [check(10, 998, ', lot: A-1, note: warm')],
    ],
    ['one put right', [A, B], [check(10, 997), B], [A, B, check(13, 999)], [check(10, 997), B, check(13, 999)]],
    [
      'a strip goes with its print',
      [A],
      [A, B],
      [A, check(12, 998.6), check(12, 998.7, ', same-print: true')],
      [A, B, check(12, 998.6), check(12, 998.7, ', same-print: true')],
    ],
    [
      'comments go with what they stand above',
      [A],
      ['    # new lot\n', A, B],
      [A, '    # by night\n', C],
      ['    # new lot\n', A, '    # by night\n', C, B],
    ],
    ['both put a comment there', [A], ['    # one\n', A], ['    # two\n', A], ['    # one\n', '    # two\n', A]],
    ['the first ones', [], [A], [B], [A, B]],
  ])('%s', (_, base, ours, theirs, expected) => {
    const empty = base.length === 0 ? HEAD : checks(...base)
    expect(merge(empty, checks(...ours), checks(...theirs))).toBe(checks(...expected))
  })

  test.each([
    [
      'one reading put right on both',
      [A],
      [check(10, 997)],
      [check(10, 996)],
      'feed.checks: both sides put one reading right, each in its own way',
    ],
    [
      'two states of one check',
      [A],
      [check(10, 998, ', under: a')],
      [check(10, 998, ', under: b')],
      `feed.checks.under: ${BOTH}`,
    ],
    ['two remarks', [A], [check(10, 998, ', note: a')], [check(10, 998, ', note: b')], `feed.checks.note: ${BOTH}`],
    ['taken out, and changed', [A, B], [B], [check(10, 998, ', note: warm'), B], `feed.checks: ${TAKEN}`],
    [
      'one reading of both, under two states',
      [A],
      [A, check(12, 998.2, ', under: a')],
      [A, B],
      'feed.checks: both sides have feed.checks of 2026-03-12: commanded 1000 mm, measured 998.2 mm, and say different things of it',
    ],
  ])('refused: %s', (_, base, ours, theirs, why) => {
    expect(merge(checks(...base), checks(...ours), checks(...theirs))).toBe(`refused: ${why}`)
  })

  test('what a state says under its name is not changed beneath a check of the other side', () => {
    const states = (suction: number): string => `conditions:\n  winter: { from: said, suction: ${suction} }\n`
    expect(
      merge(checks(A) + states(1), checks(A, check(12, 998.2, ', under: winter')) + states(1), checks(A) + states(2)),
    ).toMatch(/^refused: : a measurement would be put under another state: feed\.checks of 2026-03-12/)
  })

  test('states by their names, and the sections between them stay where they are', () => {
    const text = (...names: readonly string[]): string =>
      `${HEAD}conditions:\n${names.map((name) => `  ${name}: { from: said }\n`).join('')}\n# the end\nslot: 1\n`
    expect(merge(text('b'), text('b', 'd'), text('a', 'b', 'c'))).toBe(text('a', 'b', 'c', 'd'))
  })

  test('what nobody can tell is said', () => {
    const remarks = (ours: string, theirs: string): readonly string[] => {
      const made = mergeTexts('media', { base: checks(A), ours: checks(A, ours), theirs: checks(A, theirs) })
      return made.ok ? made.value.remarks : ['refused']
    }
    expect(remarks(B, check(12, 998.2))).toEqual([])
    expect(remarks(B, check(12, 998.2, ', note: read twice'))).toEqual([expect.stringContaining('it is kept once')])
    expect(remarks(B, check(12, 999))).toEqual([expect.stringContaining('differs in its reading alone')])
    expect(remarks(B, check(13, 999))).toEqual([])
  })
})

describe('other documents', () => {
  const lots = (...lines: readonly string[]): string => `stock: s\nlots:\n${lines.map((line) => `  - ${line}\n`).join('')}`
  const [ONE, TWO, THREE] = ['{ lot: A-1 }', '{ lot: A-2, opened: 2026-03-02 }', '{ lot: A-3, opened: 2026-03-01 }']
  test('lots by their names', () => {
    expect(merge(lots(ONE), lots(ONE, TWO), lots(ONE, THREE), 'stock')).toBe(lots(ONE, TWO, THREE))
    expect(merge(lots(ONE), lots('{ lot: A-1, opened: 2026-03-02 }'), lots('{ lot: A-1, opened: 2026-03-03 }'), 'stock')).toBe(
      `refused: lots.opened: ${BOTH}`,
    )
  })
  test('events of a printer', () => {
    const events = (...days: readonly number[]): string =>
      `printer: p\nevents:\n${days.map((day) => `  - { date: 2026-03-0${day}, what: head-changed }\n`).join('')}`
    expect(merge(events(1), events(1, 5), events(1, 3), 'printer')).toBe(events(1, 3, 5))
  })
})

describe('refused, so that git merges the text', () => {
  test.each([
    ['an anchor', 'gap: &g 2 mm\nslot: 1\n', 'gap: &g 3 mm\nslot: 1\n', 'gap: &g 2 mm\nslot: 2\n'],
    [
      'a list between brackets',
      `feed: { checks: [${A.trim().slice(2)}] }\n`,
      `feed: { checks: [${A.trim().slice(2)}, ${B.trim().slice(2)}] }\n`,
      `feed: { checks: [${A.trim().slice(2)}, ${C.trim().slice(2)}] }\n`,
    ],
    ['a key twice', 'gap: 2 mm\n', 'gap: 3 mm\ngap: 4 mm\n', 'gap: 2 mm\nslot: 1\n'],
    [
      'lines of an older conflict',
      'gap: 2 mm\n',
      '<<<<<<< HEAD\ngap: 3 mm\n=======\ngap: 4 mm\n>>>>>>> night\n',
      'gap: 2 mm\nslot: 1\n',
    ],
    ['two documents', 'gap: 2 mm\n', 'gap: 3 mm\n---\nslot: 1\n', 'gap: 2 mm\nslot: 1\n'],
    ['nothing but a word', 'gap: 2 mm\n', 'banner\n', 'gap: 2 mm\nslot: 1\n'],
    ['an empty side', 'gap: 2 mm\n', '', 'gap: 2 mm\nslot: 1\n'],
  ])('%s', (_, base, ours, theirs) => {
    const text = merge(base, ours, theirs)
    expect(text.startsWith('refused') || auditMerge('media', { base, ours, theirs, merged: text }) === undefined).toBe(true)
    if (!text.startsWith('refused')) expect(text).toMatch(/3 mm[\s\S]*slot: 2/)
  })
  test('a side that nobody changed is taken as it is', () => {
    expect(merge('gap: 2 mm', 'gap: 2 mm', 'whatever: [')).toBe('whatever: [')
    expect(merge('gap: 2 mm', 'whatever: [', 'gap: 2 mm')).toBe('whatever: [')
  })
})

test('a text that git merged is looked at as well', () => {
  const audit = (merged: string): string | undefined =>
    auditMerge('media', { base: checks(A), ours: checks(A, B), theirs: checks(A, C), merged })
  expect(audit(checks(A, B, C))).toBeUndefined()
  expect(audit(checks(A, B))).toBe('a measurement would be lost: feed.checks of 2026-03-11: commanded 1000 mm, measured 998.4 mm')
  expect(audit(checks(A, B, B, C))).toMatch(/doubled/)
  expect(audit(`${checks(A, B, C)}<<<<<<< HEAD\n`)).toMatch(/conflict/)
  expect(audit(`${checks(A, B, C)}slot: 1\n`)).toBe('slot would not be what one side made of it')
})

test('of generated merges none loses or doubles a measurement, a state or a comment in silence', () => {
  const { pairs, merged, refused, silent } = mergeMany(seed, 150)
  expect(silent).toEqual([])
  expect(merged).toBeGreaterThan(0.75 * pairs)
  expect(refused).toBeGreaterThan(0)
})
