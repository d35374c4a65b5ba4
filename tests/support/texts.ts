// Texts to try things on: every sample of the shop, long made-up profiles, and the edits that people and accidents make to them.
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'

export interface Sample {
  /** Relative to samples/, with '/'. */
  readonly name: string
  readonly text: string
}

const SAMPLES = join(import.meta.dirname, '..', '..', 'samples')

/** Every document of the sample folders, read as they stand. */
export function samples(): readonly Sample[] {
  return readdirSync(SAMPLES, { recursive: true, encoding: 'utf8' })
    .map((name) => name.replaceAll('\\', '/'))
    .filter((name) => name.endsWith('.yaml'))
    .sort()
    .map((name) => ({ name, text: readFileSync(join(SAMPLES, name), 'utf8') }))
}

/** A profile with a list of checks long enough to be cut into its items. */
export function longProfile(checks: number): string {
  const list = Array.from({ length: checks }, (_, i) =>
    i % 7 === 3
      ? `    - date: 2026-03-${String((i % 28) + 1).padStart(2, '0')} # measured twice\n      commanded: 2000 mm\n      measured: 1996.${i % 10} mm\n      applied: +0.05 %\n`
      : `    - {date: 2026-03-${String((i % 28) + 1).padStart(2, '0')}, commanded: 2000 mm, measured: 199${i % 8}.5 mm, applied: +0.05 %, lot: "L-${i}"}\n`,
  )
  return `# Long-running profile.\nprofile: example\nstock: film\nprinter: bay-1\n\nfeed:\n  correction: +0.12 %\n  checks:\n${list.join('')}\nheat:\n  platen: 38 °C\nnotes: |\n  A line.\n\n  Another.\n`
}

/** A stock with lists long enough to be cut into their items. */
export function longStock(layers: number): string {
  const list = Array.from({ length: layers }, (_, i) => `  - { name: film ${i}, thickness: ${50 + (i % 9)} µm, lot: L-${i} }\n`)
  return `stock: film\nfamily: film-pvc-cast\nlayers:\n${list.join('')}lots:\n  - { lot: L-1, received: 2026-03-01 }\nwound: in\n`
}

/** What a hand, a paste or a merge may put into a text. */
export const SCRAPS: readonly string[] = [
  ...[
    '\n',
    '\r\n',
    '\r',
    '\t',
    ' ',
    '  ',
    '- ',
    ': ',
    ':',
    '{',
    '}',
    '[',
    ']',
    ',',
    '"',
    "'",
    '#',
    ' # note',
    '|',
    '>',
    '\\',
    '?',
    '%',
    '@',
  ],
  ...[
    'key: value\n',
    'feed:\n',
    '  nested: 1\n',
    '    - {date: 2026-03-30, commanded: 2000 mm}\n',
    'half',
    'notes: |\n  text\n',
    '\n\n',
  ],
  ...[
    '&a ',
    '*a',
    '<<: *a\n',
    '!tag ',
    '--- ',
    '---\n',
    '...\n',
    '%YAML 1.2\n',
    '? x\n',
    '🖨️',
    '𝒳',
    'µ',
    '½',
    '\ufeff',
    '\u0007',
    '\u0000',
    '\ud800',
    '\u2028',
  ],
  ...[
    '<<<<<<< ours\n',
    '||||||| base\n',
    '=======\n',
    '>>>>>>> theirs\n',
    '- - - ',
    '[[',
    '{{',
    '__proto__: 1\n',
    'constructor: {}\n',
  ],
]

/** One edit as fractions of the text it meets, so that it fits any text. */
export interface RandomEdit {
  readonly at: number
  readonly length: number
  readonly insert: string
}

export const randomEdit: fc.Arbitrary<RandomEdit> = fc.record({
  at: fc.double({ min: 0, max: 1, noNaN: true }),
  length: fc.oneof(
    { weight: 4, arbitrary: fc.constant(0) },
    { weight: 3, arbitrary: fc.nat(4) },
    { weight: 1, arbitrary: fc.nat(120) },
  ),
  insert: fc.oneof({ weight: 1, arbitrary: fc.constant('') }, { weight: 5, arbitrary: fc.constantFrom(...SCRAPS) }),
})

/** The text after an edit; edits at line starts are as likely as elsewhere, for that is where indentation stands. */
export function edited(text: string, { at, length, insert }: RandomEdit): string {
  const offset = Math.floor(at * text.length)
  return text.slice(0, offset) + insert + text.slice(Math.min(text.length, offset + length))
}

/** Keys that lead lists and groups in some document: what stands below is read otherwise under another of them. */
const LEADING = ['layers', 'lots', 'checks', 'readings', 'feed', 'heat', 'observed', 'instruments', 'modes', 'notes', 'other']

/** A key that leads a block, by where it stands as a fraction of all such, called otherwise. */
export interface Renaming {
  readonly at: number
  readonly key: string
}

export const renaming: fc.Arbitrary<Renaming> = fc.record({
  at: fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true }),
  key: fc.constantFrom(...LEADING),
})

export function renamed(text: string, { at, key }: Renaming): string {
  const leading = [...text.matchAll(/^([ \t]*)([\w-]+)(?=:[ \t]*\r?$)/gm)]
  const found = leading[Math.floor(at * leading.length)]
  if (!found) return text
  const start = found.index + found[1]!.length
  return text.slice(0, start) + key + text.slice(start + found[2]!.length)
}
