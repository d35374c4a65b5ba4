// The sheet as text, for a terminal: the same words in the same order as on paper.
import { wrapped } from '../wrap.ts'
import type { Sheet, SheetKey } from './sheet.ts'

const WIDTH = 110

export function sheetText(sheet: Sheet): string {
  const { profile, title, on, place, today, old, first, load, keys, notes, watch, evidence, forms, mark } = sheet
  const names = Math.max(0, ...keys.map(({ key }) => key.length))
  const values = Math.max(0, ...keys.map(({ text }) => (text ?? '').length))
  const out = [
    title === undefined ? profile : `${title} (${profile})`,
    `${on} · ${place} · as of ${today}`,
    ...old.flatMap((sentence) => item('! ', sentence)),
    ...first.flatMap((sentence) => item('! ', sentence)),
    '',
    'LOAD',
    ...load.map(({ name, text, missing }) => `  ${name.padEnd(10)}  ${missing ? '! ' : ''}${text}`),
    '',
    'KEY IN',
    ...(keys.length === 0 ? ['  Nothing.'] : []),
    ...keys.map((key) =>
      `  ${box(key)} ${key.key.padEnd(names)}  ${(key.text ?? '').padEnd(values)}  ${asideOf(key).join(' · ')}`.trimEnd(),
    ),
    ...notes.flatMap((note, i) => item(`  !${i + 1} `, note)),
    '',
    'WATCH',
    ...watch.flatMap((sentence) => item('  - ', sentence)),
    '',
    'EVIDENCE',
    ...evidence.flatMap(({ what, word, text }) => item(`  ${what}: `, `${word === undefined ? '' : `${word}. `}${text}`)),
    '',
    'WRITE DOWN NEXT',
    ...forms.flatMap(({ title: name, columns, rows }) =>
      item(
        '  ',
        `${name}: ${columns.filter((c) => c !== '').join(' | ')}${rows.some((row) => row !== '') ? ` (${rows.join(', ')})` : ''}`,
      ),
    ),
    '',
    mark,
  ]
  return `${out.join('\n')}\n`
}

const item = (first: string, text: string): readonly string[] => wrapped(text, WIDTH, first, ' '.repeat(first.length))

/** As wide as the widest, for the column. */
const box = ({ mark, note }: SheetKey): string =>
  (mark === 'in-doubt' ? `[!${note}]` : mark === 'missing' ? '[?]' : mark === 'has-it' ? '[x]' : '[ ]').padEnd(4)

/** What stands behind a value: what is proven of it, what is to be known, how it is reached. */
export const asideOf = ({ mark, word, beside, where }: SheetKey): readonly string[] =>
  [mark === 'missing' ? 'missing in the file' : undefined, word, beside, where].filter((text) => text !== undefined)
