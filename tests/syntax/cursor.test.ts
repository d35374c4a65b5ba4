// Where a cursor stands in text that may be half typed: path, what is being typed, and the word that a completion replaces.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { cursorAt } from '../../server/src/syntax/cursor.ts'
import { runs } from '../support/counts.ts'
import { edited, longProfile, randomEdit, samples } from '../support/texts.ts'

/** `path role «word»`, with 'flow' inside brackets and ': follows' where a colon stands behind the word. */
function at(source: string): string {
  const offset = source.indexOf('$0')
  if (offset < 0) throw new Error('no $0')
  const text = source.replace('$0', '')
  const cursor = cursorAt(text, offset)
  if (!cursor) return 'none'
  const { path, role, flow, start, end, colonFollows } = cursor
  return `${path.join('.') || '(root)'} ${role}${flow ? ' flow' : ''} «${text.slice(start, end)}»${colonFollows ? ' : follows' : ''}`
}

const TABLE: Readonly<Record<string, readonly (readonly [source: string, expected: string])[]>> = {
  'keys of the root': [
    ['$0', '(root) key «»'],
    ['pro$0', '(root) key «pro»'],
    ['pro$0file: e', '(root) key «profile» : follows'],
    ['profile: e\nst$0', '(root) key «st»'],
    ['profile: e\r\n$0\r\nfeed:\r\n', '(root) key «»'],
    ['feed:\n$0  correction: 1\n', '(root) key «»'],
    ['\ufeff$0', '(root) key «»'],
    ['$0\nfeed:\n', '(root) key «»'],
    ['\n$0', '(root) key «»'],
    ['\n  $0', '(root) key «»'],
    ['title: a # b\nfe$0', '(root) key «fe»'],
  ],
  values: [
    ['profile: $0', 'profile value «»'],
    ['profile:$0', 'profile value «»'],
    ['\ufeffprofile: $0', 'profile value «»'],
    ['profile: ban$0ner', 'profile value «banner»'],
    ['profile: "ban$0ner"', 'profile value «"banner"»'],
    ['"profile": $0', 'profile value «»'],
    ['feed:\n  correction: +0.1$0 %', 'feed.correction value «+0.1 %»'],
    ['feed:\n  correction: +0.1 $0% # as keyed in', 'feed.correction value «+0.1 %»'],
    ['feed:\r\n  correction: $0\r\n', 'feed.correction value «»'],
    ['title: Bay: $0', 'title value «Bay: »'],
    ['title: No#1$0 roll # note', 'title value «No#1 roll»'],
    ['mode: $0\nslot: 3', 'mode value «»'],
    ['url: http://x$0', 'url value «http://x»'],
  ],
  'keys of a section': [
    ['feed:\n  $0', 'feed key «»'],
    ['feed:\n  corr$0', 'feed key «corr»'],
    ['feed: # of the web\n  $0', 'feed key «»'],
    ['feed: &f\n  $0', 'feed key «»'],
    ["'feed':\n  corr$0", 'feed key «corr»'],
    ['feed:\n  correction: 1\n\n  # then\n  $0\n  checks:\n    - {a: 1}\n', 'feed key «»'],
    ['feed:\n  checks:\n    - {a: 1}\n  $0', 'feed key «»'],
    ['a:\n    b:\n        c:\n            $0', 'a.b.c key «»'],
    ['a:\n    b:\n        c: 1\n    $0', 'a key «»'],
    ['\n  a:\n    $0', 'a key «»'],
  ],
  'items of a list': [
    ['feed:\n  checks:\n    $0', 'feed.checks key «»'],
    ['feed:\n  checks:\n    -$0', 'feed.checks key «-»'],
    ['feed:\n  checks:\n    - $0', 'feed.checks.0 key «»'],
    ['feed:\n  checks:\n  - $0', 'feed.checks.0 key «»'],
    ['feed:\n  checks:\n    - {a: 1}\n    $0\n    - {b: 2}\n', 'feed.checks key «»'],
    ['feed:\n  checks:\n    - date: 1\n      meas$0', 'feed.checks.0 key «meas»'],
    ['feed:\n  checks:\n    - date: 1\n    - date: 2\n      measured: $0', 'feed.checks.1.measured value «»'],
    ['feed:\n  checks:\n  - date: 1\n  # again\n  - date: $0', 'feed.checks.1.date value «»'],
    ['feed:\r\n  checks:\r\n    - date: 1\r\n      $0\r\n', 'feed.checks.0 key «»'],
    ['carriage:\n  gaps:\n    - 1 mm\n    - 2$0', 'carriage.gaps.1 key «2»'],
    ['observed:\n- $0fault: x', 'observed.0 key «fault» : follows'],
    ['observed:\n  -\n    fault: $0', 'observed.0.fault value «»'],
    ['observed:\n  -\n    $0', 'observed.0 key «»'],
    ['observed:\n  - a: 1\n    b:\n    - x\n    - $0\n', 'observed.0.b.1 key «»'],
    ['a:\n- b:\n  - c: $0', 'a.0.b.0.c value «»'],
  ],
  'inside brackets': [
    ['heat: {$0', 'heat key flow «»'],
    ['heat: {platen:$0', 'heat.platen value flow «»'],
    ['heat: {platen: 38 °C, $0', 'heat key flow «»'],
    ['heat: {platen: 38 °C, fan$0}', 'heat key flow «fan»'],
    ['heat: {\n  platen: 38 °C,\n  $0\n}\n', 'heat key flow «»'],
    ['heat:\n  {\n    pl$0', 'heat key flow «pl»'],
    ['feed:\n  checks:\n    - {date: 2026-03-30, com$0: 3}', 'feed.checks.0 key flow «com» : follows'],
    ['feed:\n  checks:\n    - {date: 2026-03-30, commanded: 20$0 mm}', 'feed.checks.0.commanded value flow «20 mm»'],
    ['feed:\n  checks:\n    - {a: 1}\n    - {date: 2026-03-30, commanded:$0', 'feed.checks.1.commanded value flow «»'],
    ['carriage:\n  gaps: [1 mm, 2$0', 'carriage.gaps.1 value flow «2»'],
    ['a: [x, {b: $0}]', 'a.1.b value flow «»'],
    ['a: {b: [1, 2], c: $0}', 'a.c value flow «»'],
    ['a: {b: "x, y", $0}', 'a key flow «»'],
    ["a: {b: it's, $0}", 'a key flow «»'],
  ],
  'after what is broken': [
    ['x: "unclosed\nfeed:\n  $0', 'feed key «»'],
    ['x: {unclosed\nfeed:\n  $0', 'feed key «»'],
    ['x: [1,\nfeed: $0', 'feed value «»'],
    ["x: 'it''s'\nfeed:\n  $0", 'feed key «»'],
    ['feed:\n<<<<<<< ours\n  $0\n=======\n>>>>>>> theirs\n', 'feed key «»'],
  ],
  'where nothing can be offered': [
    ['# comm$0ent\na: 1', 'none'],
    ['a: 1 # co$0', 'none'],
    ['feed:\n  checks:\n    - {date: 1} # $0', 'none'],
    ['notes: |\n  te$0xt\n', 'none'],
    ['notes: >-\n  text\n\n  mo$0re\nfeed: 1\n', 'none'],
    ['feed:\n\t$0', 'none'],
    ['mode: standard\n  $0', 'none'],
    ['x:\n  z: 2\n     $0', 'none'],
  ],
}

for (const [name, rows] of Object.entries(TABLE)) {
  describe(name, () => {
    for (const [source, expected] of rows) test(JSON.stringify(source), () => expect(at(source)).toBe(expected))
  })
}

test('in any text, the word lies about the cursor', () => {
  const texts = [...samples().map(({ text }) => text), longProfile(3), '', '\n\n  a:\n']
  fc.assert(
    fc.property(
      fc.constantFrom(...texts),
      randomEdit,
      randomEdit,
      fc.double({ min: 0, max: 1, noNaN: true }),
      (text, one, two, where) => {
        const next = edited(edited(text, one), two)
        const offset = Math.floor(where * next.length)
        const cursor = cursorAt(next, offset)
        if (!cursor) return
        expect(cursor.start).toBeLessThanOrEqual(offset)
        expect(cursor.end).toBeGreaterThanOrEqual(offset)
        expect(cursor.end).toBeLessThanOrEqual(next.length)
        if (!cursor.flow) expect(next.slice(cursor.start, cursor.end)).not.toMatch(/\n/)
      },
    ),
    { numRuns: runs(1000) },
  )
})
