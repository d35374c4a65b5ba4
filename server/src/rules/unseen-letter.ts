// A letter nobody can see in a key or value: it reads rightly on the screen, and is something else to every program.
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { reportText } from './support/syntax-problems.ts'

export const rule = defineRule({
  code: 'unseen-letter',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A letter that cannot be seen stands in a key or value.',
  docs: `Text copied from a web page, a mail or a printed manual brings letters along that have no width: zero-width spaces, soft hyphens, byte order
marks. A key or a number with one in it looks right and is not the one it looks like, so what it sets is not set. Signs that turn the order of
the letters are told in titles, notes and comments too: what is read there is not what shows.`,
  check: (context) => reportText(context, 'unseen-letter'),
  examples: [
    {
      name: 'a zero-width space in a key',
      text: 'ga$0\u200b$0p: 2.0 mm\n',
      message: 'A letter that cannot be seen (U+200B) stands in this key, so it is not what it looks like. Delete it.',
      after: 'gap: 2.0 mm\n',
      fixes: ['Delete the invisible letter [preferred]'],
    },
    {
      name: 'a byte order mark in front of the second key',
      text: 'suction: 2\n$0\ufeff$0gap: 2.0 mm\n',
      message: 'A letter that cannot be seen (U+FEFF) stands in this key, so it is not what it looks like. Delete it.',
      after: 'suction: 2\ngap: 2.0 mm\n',
      fixes: ['Delete the invisible letter [preferred]'],
      testOnly: true,
    },
    {
      name: 'two in one number',
      text: 'gap: 2$0\u200b$0.0\u00ad mm\n',
      message:
        'A letter that cannot be seen (U+200B) stands in this value, and 1 more like it, so it is not what it looks like. Delete them.',
      after: 'gap: 2.0 mm\n',
      fixes: ['Delete the invisible letters [preferred]'],
      testOnly: true,
    },
    {
      name: 'in the key of a check that cannot do without it',
      text: 'feed:\n  checks:\n    - { da$0\u200b$0te: 2026-03-14, commanded: 1000 mm, measured: 1000 mm, applied: 0 % }\n',
      message: 'A letter that cannot be seen (U+200B) stands in this key, so it is not what it looks like. Delete it.',
      after: 'feed:\n  checks:\n    - { date: 2026-03-14, commanded: 1000 mm, measured: 1000 mm, applied: 0 % }\n',
      fixes: ['Delete the invisible letter [preferred]'],
      testOnly: true,
    },
    {
      name: 'a title that shows in another order than it is read',
      text: 'title: Film $0\u202e$050 µm\n',
      message:
        'A sign that turns the order of the letters (U+202E) stands in this value, so it is read otherwise than it shows. Delete it.',
      after: 'title: Film 50 µm\n',
      fixes: ['Delete the invisible letter [preferred]'],
    },
    {
      name: 'the same, written as an escape',
      text: 'title: $0"Film \\u202e50 µm"$0\n',
      message:
        'A sign that turns the order of the letters (U+202E) stands in this value, so it is read otherwise than it shows. Take its escape out.',
      testOnly: true,
    },
    {
      name: 'a comment that shows in another order than it is read',
      text: 'gap: 2.0 mm # $0\u202e$0mm 5\n',
      message:
        'A sign that turns the order of the letters (U+202E) stands in this line, so it is read otherwise than it shows. Delete it.',
      after: 'gap: 2.0 mm # mm 5\n',
      fixes: ['Delete the invisible letter [preferred]'],
      testOnly: true,
    },
    {
      name: 'joiners where a script needs them',
      text: '\ufefftitle: 👩\u200d🔧 film\nnotes: copied\u200b from a page\n',
    },
  ],
})
