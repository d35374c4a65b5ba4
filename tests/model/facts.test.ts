// The facts of a document are read without parsing the rest of it, and mostly without the YAML library: they must be what the library reads, and
// what is read of the same document when it is open.

import { readdirSync, readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { parseDocument } from 'yaml'
import { LiveDocument } from '../../server/src/model/document.ts'
import { type FactKey, factsOf, readFacts } from '../../server/src/model/facts.ts'
import { type DocumentKind, kindOfFile } from '../../server/src/schema/schema.ts'
import { readable } from '../../server/src/syntax/forbidden.ts'
import { runs } from '../support/counts.ts'
import { findings } from '../support/render.ts'
import { edited, longProfile, longStock, randomEdit } from '../support/texts.ts'

const SAMPLES = new URL('../../samples/', import.meta.url)

/** What the `yaml` library reads at the root, as text and place; undefined where it reads no scalar, nothing, or a truth. */
function byLibrary(text: string, key: string): { text: string; start: number; end: number } | undefined {
  const document = parseDocument(text, { schema: 'failsafe', uniqueKeys: false })
  const node = document.get(key, true) as { value?: unknown; range?: [number, number, number] } | undefined
  if (!node?.range || typeof node.value !== 'string' || node.range[0] === node.range[1]) return undefined
  const plain = parseDocument(text, { uniqueKeys: false, logLevel: 'silent' }).get(key, true) as { value?: unknown } | undefined
  if (plain?.value === null || typeof plain?.value === 'boolean') return undefined
  return { text: node.value, start: node.range[0], end: node.range[1] }
}

const names = readdirSync(SAMPLES, { recursive: true, encoding: 'utf8' }).filter((name) => kindOfFile(name) !== undefined)

describe('the samples', () => {
  test.each(names)('%s', (name) => {
    const text = readFileSync(new URL(name, SAMPLES), 'utf8')
    if (parseDocument(text, { uniqueKeys: false }).errors.length > 0) return
    const { values } = readFacts(name, kindOfFile(name)!, text)
    for (const [key, fact] of Object.entries(values)) expect(fact, key).toEqual(byLibrary(readable(text), key))
  })
})

function same(kind: DocumentKind, text: string): void {
  expect(readFacts('x', kind, text), JSON.stringify(text)).toEqual(factsOf(new LiveDocument('x', kind, text)))
}

describe('of a closed document and of the same one open, the facts are the same', () => {
  const PROFILE = 'profile: p\nstock: s\nprinter: q\n'

  test.each([
    ['base: ~\n', { base: undefined }],
    ['base: null\n', { base: undefined }],
    ['title: true\n', { title: undefined }],
    ["title: 'true'\n", { title: 'true' }],
    ['slot: 007\n', { slot: '7' }],
    ['slot: 0x10\n', { slot: '16' }],
    ['slot: 1e2\n', { slot: '100' }],
    ['slot: 4.5\n', { slot: undefined }],
    ['slot: four\n', { slot: undefined }],
    ['x-s: &s everyday\nbase: *s\n', { base: 'everyday' }],
    ['x-s: &s {base: everyday}\n<<: *s\n', { base: 'everyday' }],
    ['title: one\rbase: two\n', { title: 'one', base: 'two' }],
    ['title: a\u0007b\n', { title: 'a\ufffdb' }],
    ['title: a\n  \u00a0\n', { title: 'a \u00a0' }],
    ['<<<<<<< ours\nbase: a\n=======\nbase: b\n>>>>>>> theirs\n', { base: 'a' }],
  ] as const)('%j', (line, values) => {
    const text = PROFILE + line
    same('media', text)
    const read = readFacts('x', 'media', text).values
    for (const [key, value] of Object.entries(values)) expect(read[key as FactKey]?.text, key).toBe(value)
    expect(read.stock?.text).toBe('s')
  })

  test('where so many mistakes stand above them that the document is not read so far', () => {
    const text = `${'x: [\n'.repeat(150)}${PROFILE}`
    same('media', text)
    expect(readFacts('x', 'media', text).values.stock?.text).toBe('s')
  })

  test('where there are too many lines to be read', () => {
    const text = `${PROFILE}${'# more\n'.repeat(100_000)}`
    same('media', text)
    expect(readFacts('x', 'media', text).values).toEqual({})
  })

  test('where two sides each made the document', () => {
    const text = '<<<<<<< ours\nstock: film\nthickness: 50 µm\n=======\nstock: film\nthickness: 60 µm\n>>>>>>> theirs\n'
    same('stock', text)
    expect(readFacts('x', 'stock', text).values.stock?.text).toBe('film')
  })

  test('so that a profile finds its stock while two sides of it are in conflict', async () => {
    const told = await findings(`profile: example
stock: film
#- film.stock.yaml
<<<<<<< ours
stock: film
thickness: 50 µm
=======
stock: film
thickness: 60 µm
>>>>>>> theirs
`)
    expect(told).not.toContain('missing-stock')
  })

  test('where a line falls out of the lines of a text', () => {
    const text = 'notes: |\n  text\n printer: bay-2\nprinter: bay-1\n'
    same('printer', text)
    same('printer', text.replaceAll('\n', '\r\n'))
    same('printer', text.replace('printer: bay-2', ' printer: bay-2'))
    same('printer', text.replace('  text', '\n\n    text'))
    expect(readFacts('x', 'printer', text).values.printer?.text).toBe('bay-2')
  })

  test('whatever is typed, pasted or merged', () => {
    const texts = [
      ...names.map((name) => ({ kind: kindOfFile(name)!, text: readFileSync(new URL(name, SAMPLES), 'utf8') })),
      ...[longProfile(30), `${PROFILE}slot: 007\nmode: fine\nbase: ~\ntitle: "A: b"\n`].map((text) => ({
        kind: 'media' as const,
        text,
      })),
      { kind: 'stock' as const, text: longStock(20) },
    ]
    fc.assert(
      fc.property(fc.constantFrom(...texts), fc.array(randomEdit, { maxLength: 4 }), ({ kind, text }, edits) => {
        same(kind, edits.reduce(edited, text))
      }),
      { numRuns: runs(3000) },
    )
  })

  test('whatever stands in one of its values', () => {
    const scrap = fc.constantFrom(
      'a',
      '4',
      ' ',
      '#',
      ' # x',
      ':',
      ': ',
      "'",
      '"',
      ',',
      '[',
      '{',
      '-',
      '&a',
      '*a',
      '|',
      '>',
      '\t',
      '\n',
      '\n  b',
      '~',
      'true',
      '\r',
      '\u0000',
      '!',
      '<<: *a',
      '\u00a0',
      '---',
      '...',
    )
    fc.assert(
      fc.property(fc.array(scrap, { maxLength: 7 }), (parts) => same('media', `profile: p\nslot: ${parts.join('')}\nstock: s\n`)),
      { numRuns: runs(3000) },
    )
  })
})

test('any value, quoted, commented, continued or odd, is what the library reads', () => {
  const piece = fc.constantFrom(
    'a',
    '4',
    'film-50',
    ' ',
    '  ',
    '#',
    ' # x',
    ':',
    ': ',
    "'",
    '"',
    ',',
    '[',
    '{',
    '-',
    '&a',
    '*a',
    '|',
    '>',
    '\t',
    '\n',
    '\n  b',
    '\n# c\n',
    '\r\n',
    '!',
    '%',
    '@',
    '~',
    'ö',
    '🙂',
  )
  const value = fc.array(piece, { maxLength: 6 }).map((parts) => parts.join(''))
  fc.assert(
    fc.property(value, (written) => {
      const text = `profile: p\ntitle: ${written}\nstock: s\n`
      const document = parseDocument(text, { schema: 'failsafe', uniqueKeys: false, logLevel: 'silent' })
      fc.pre(document.errors.length === 0 && document.warnings.length === 0 && document.get('stock') === 's')
      const { values } = readFacts('p.media.yaml', 'media', text)
      for (const key of ['profile', 'title', 'stock'] as readonly FactKey[])
        expect(values[key], key).toEqual(byLibrary(text, key))
    }),
    { numRuns: runs(3000) },
  )
})
