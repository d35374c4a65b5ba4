// The facts of a document are read without parsing the rest of it, and mostly without the YAML library: they must be what the library reads.

import { readdirSync, readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { parseDocument } from 'yaml'
import { type FactKey, readFacts } from '../../server/src/model/facts.ts'
import { kindOfFile } from '../../server/src/schema/schema.ts'

const SAMPLES = new URL('../../samples/', import.meta.url)

/** What the `yaml` library reads at the root, as text and place; undefined where it reads no scalar. */
function byLibrary(text: string, key: string): { text: string; start: number; end: number } | undefined {
  const document = parseDocument(text, { schema: 'failsafe', uniqueKeys: false })
  const node = document.get(key, true) as { value?: unknown; range?: [number, number, number] } | undefined
  if (!node?.range || typeof node.value !== 'string' || node.range[0] === node.range[1]) return undefined
  return { text: node.value, start: node.range[0], end: node.range[1] }
}

describe('the samples', () => {
  const names = readdirSync(SAMPLES, { recursive: true, encoding: 'utf8' }).filter((name) => kindOfFile(name) !== undefined)
  test.each(names)('%s', (name) => {
    const text = readFileSync(new URL(name, SAMPLES), 'utf8')
    if (parseDocument(text, { uniqueKeys: false }).errors.length > 0) return
    const { values } = readFacts(name, kindOfFile(name)!, text)
    for (const [key, fact] of Object.entries(values)) expect(fact, key).toEqual(byLibrary(text, key))
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
    { numRuns: 3000 },
  )
})
