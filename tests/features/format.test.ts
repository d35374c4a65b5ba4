// A document put in order: text in, text out.
import { expect, test } from 'vitest'
import { applyEdits } from '../../server/src/base/text-edit.ts'
import { openFixture, parseFixture } from '../support/fixture.ts'

/** The text put in order, blanks at ends of lines shown as ·; with a selection, its lines. */
async function formatted(source: string): Promise<string> {
  const fixture = parseFixture(source)
  const edits = (await openFixture(fixture)).format(fixture.file, fixture.mark)
  return edits ? applyEdits(fixture.text, edits).replace(/ +$/gm, (blanks) => '·'.repeat(blanks.length)) : 'left as it is'
}

test('indentation, one blank behind colons and dashes, no blanks at ends of lines, one line break at the end', async () => {
  expect(
    await formatted(`# Top.
profile:   e${'   '}
feed:
   # What was measured.
   checks:

   # The first.
   -   date:\t2026-03-02    # by Ann
       measured:   1996 mm
       # not done: fine

   - { date:  2026-03-09,   measured: 1997 mm,
       note: "two  blanks" }
   # The last.
   correction: +0.05 %
      # Odd.

observed:
- {fault: skew}
heat:
    platen: 40 °C
    # End of heat.
# Before web.
web: { wound: in }    # aligned
     # by hand


`),
  ).toMatchInlineSnapshot(`
    "# Top.
    profile: e
    feed:
      # What was measured.
      checks:

        # The first.
        - date: 2026-03-02    # by Ann
          measured: 1996 mm
          # not done: fine

        - { date: 2026-03-09,   measured: 1997 mm,
            note: "two  blanks" }
      # The last.
      correction: +0.05 %
          # Odd.

    observed:
      - {fault: skew}
    heat:
      platen: 40 °C
      # End of heat.
    # Before web.
    web: { wound: in }    # aligned
         # by hand
    "
  `)
})

test('texts of several lines move with their key, and keep their own blanks', async () => {
  expect(
    await formatted(`other:
     note: |
         First.
           Second.${'  '}

         Third.
     quoted: 'one
        two'
notes: >
   Kept.${' '}
`),
  ).toMatchInlineSnapshot(`
    "other:
      note: |
          First.
            Second.··

          Third.
      quoted: 'one
         two'
    notes: >
       Kept.·
    "
  `)
})

test('lists in lists, anchors, tags, and an item on its own line', async () => {
  expect(
    await formatted('x-a:\n- - 1\n  -   2\n-\n      k: v\n- &b\n   y: 1\n- !t  z\nheat: &h   \n     platen: 40 °C\nx-h:   *h\n'),
  ).toMatchInlineSnapshot(`
    "x-a:
      - - 1
        - 2
      -
        k: v
      - &b
        y: 1
      - !t  z
    heat: &h
      platen: 40 °C
    x-h: *h
    "
  `)
})

test('line breaks stay what they are', async () => {
  expect(await formatted('\ufeffprofile:  e\r\nheat:\r\n   platen: 40 °C  \r\n\r\n')).toBe(
    '\ufeffprofile: e\r\nheat:\r\n  platen: 40 °C\r\n',
  )
  expect(await formatted('profile: e\r\ngap: 2 mm')).toBe('profile: e\r\ngap: 2 mm\r\n')
  expect(await formatted('notes: |+\n  x\n\n')).toBe('notes: |+\n  x\n\n')
  expect(await formatted('notes: |\n  x')).toBe('notes: |\n  x\n')
  expect(await formatted('')).toBe('')
  expect(await formatted('# only this')).toBe('# only this\n')
})

test('of a selection its lines, or the entries it touches where these alone would not do', async () => {
  const text = 'profile:   e\nheat:\n    platen:   40 °C\n    fan:  true\ngap:  2 mm\n'
  const select = (part: string): string => text.replace(part, `$0${part}$0`)
  expect(await formatted(select('profile:   e\n'))).toBe('profile: e\nheat:\n    platen:   40 °C\n    fan:  true\ngap:  2 mm\n')
  expect(await formatted(select('    fan:  true'))).toBe('profile:   e\nheat:\n  platen: 40 °C\n  fan: true\ngap:  2 mm\n')
})

test('nothing where the text has mistakes, or is written in a way that is not known here', async () => {
  expect(await formatted('profile:  e\nheat: {platen: 40\n')).toBe('left as it is')
  expect(await formatted('profile:  e\nprofile: f\n')).toBe('left as it is')
  expect(await formatted('profile:  e\n<<<<<<< a\ngap: 1 mm\n=======\ngap: 2 mm\n>>>>>>> b\n')).toBe('left as it is')
  expect(await formatted('? profile\n:  e\n')).toBe('left as it is')
})
