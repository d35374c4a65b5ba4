// The schemas themselves: valid JSON Schema, complete in words, sound in their limits, and read alike by every YAML.
import { Ajv2020 } from 'ajv/dist/2020.js'
import { describe, expect, test } from 'vitest'
import { parse } from 'yaml'
import { isLevelName } from '../../server/src/model/read.ts'
import { parseQuantity } from '../../server/src/quantities/parse.ts'
import { DIMENSIONS, unitsOf } from '../../server/src/quantities/units.ts'
import {
  DOCUMENT_KINDS,
  keysOf,
  type LeafType,
  type SchemaNode,
  schemaAt,
  schemaOf,
  walk,
} from '../../server/src/schema/schema.ts'
import { type JsonObject, readSchema } from '../../server/tools/schema/load.ts'

const nodes = DOCUMENT_KINDS.flatMap((kind) =>
  [...walk(schemaOf(kind))].map((node) => ({ kind, node, name: `${kind} ${node.path}` })),
)
const typesOf = (node: SchemaNode): readonly LeafType[] =>
  node.kind === 'leaf' ? node.accepts : node.kind === 'list' ? (node.single?.accepts ?? []) : []
const leaves = nodes.flatMap(({ name, node }) => typesOf(node).map((type) => ({ name, node, type })))
const defs = readSchema('common').$defs as { readonly [name: string]: JsonObject }

describe('the schema files', () => {
  test.each(['common', ...DOCUMENT_KINDS] as const)('%s is valid JSON Schema 2020-12', (name) => {
    const ajv = new Ajv2020()
    expect(ajv.validateSchema(readSchema(name)), ajv.errorsText()).toBe(true)
  })

  test('every key is described in a sentence', () => {
    const wrong = nodes.filter(({ node }) => !/^[A-Z].*\.$/.test(node.description)).map(({ name }) => name)
    expect(wrong).toEqual([])
  })

  test('no description names a keyword of the schema language', () => {
    const wrong = nodes.filter(({ node }) =>
      /\b(string|object|array|integer|boolean|enum|schema|JSON|YAML)\b/.test(node.description),
    )
    expect(wrong.map(({ name }) => name)).toEqual([])
  })

  test('every word of a choice has a meaning, and every meaning a word', () => {
    const wrong: string[] = []
    const visit = (value: unknown): void => {
      if (typeof value !== 'object' || value === null) return
      const schema = value as { readonly enum?: readonly string[]; readonly 'x-meaning'?: object }
      if (Array.isArray(schema.enum) && schema.enum.join() !== Object.keys(schema['x-meaning'] ?? {}).join())
        wrong.push(schema.enum.join())
      for (const child of Object.values(value)) visit(child)
    }
    for (const name of ['common', ...DOCUMENT_KINDS] as const) visit(readSchema(name))
    const short = leaves.filter(
      ({ type }) => type.type === 'choice' && type.values.some((one) => !/^[A-Z].*\.$/.test(one.meaning)),
    )
    expect([wrong, short.map(({ name }) => name)]).toEqual([[], []])
  })

  test('every key and word is lower case with hyphens', () => {
    const words = [
      ...DOCUMENT_KINDS.flatMap((kind) => keysOf(kind)).map((key) => key.split('.').at(-1)!),
      ...leaves.flatMap(({ type }) => (type.type === 'choice' ? type.values.map((one) => one.value) : [])),
    ]
    expect(words.filter((word) => !/^[a-z]+(-([a-z]+|\d))*$/.test(word))).toEqual([])
  })
})

describe('YAML 1.1 and YAML 1.2 read alike', () => {
  const read = (text: string) => [parse(text, { version: '1.1' }), parse(text, { version: '1.2' })]

  test('the check below can tell', () => {
    for (const word of ['on', 'off', 'yes', 'no', 'y', 'n', '012', '1:30']) {
      const [older, newer] = read(`k: ${word}`)
      expect(older, word).not.toEqual(newer)
    }
  })

  test('every key and every word', () => {
    const words = new Set([
      ...DOCUMENT_KINDS.flatMap((kind) => keysOf(kind)).flatMap((key) => key.split('.').filter((part) => part !== '*')),
      ...leaves.flatMap(({ type }) => (type.type === 'choice' ? type.values.map((one) => one.value) : [])),
    ])
    for (const word of words) expect(read(`${word}: ${word}`), word).toEqual([{ [word]: word }, { [word]: word }])
  })

  test('every example and default', () => {
    for (const { name, node } of nodes) {
      for (const text of [...node.examples, ...(node.default === undefined ? [] : [node.default])]) {
        const [older, newer] = read(`k: ${text}`)
        expect(older, `${name}: ${text}`).toEqual(newer)
      }
    }
  })

  test('every quantity is plain text, in a list too', () => {
    for (const def of Object.values(defs)) {
      for (const example of def['x-dimension'] === undefined ? [] : (def.examples as readonly string[])) {
        expect(read(`[${example}, x]`), example).toEqual([
          [example, 'x'],
          [example, 'x'],
        ])
      }
    }
  })
})

describe('limits', () => {
  const quantities = leaves.flatMap(({ name, node, type }) => (type.type === 'quantity' ? [{ name, node, type }] : []))
  const numbers = leaves.flatMap(({ name, type }) => (type.type === 'integer' || type.type === 'number' ? [{ name, type }] : []))
  const si = (text: string, type: LeafType & { type: 'quantity' }, name: string): number => {
    const read = parseQuantity(text, type.dimension)
    if (!read.ok) throw new Error(`${name}: '${text}' is no ${type.dimension}`)
    return read.value.si
  }

  test('there are as many as the format has keys for', () => {
    expect(quantities.length).toBeGreaterThan(80)
    expect(numbers.length).toBeGreaterThan(10)
  })

  test('every quantity has a lower limit, and lies within its limits where it is plausible', () => {
    for (const { name, type } of quantities) {
      const low = type.min ?? type.above
      expect(low, name).toBeDefined()
      expect(type.min === undefined || type.above === undefined, name).toBe(true)
      const [from, to] = (type.plausible ?? [low!, type.max ?? low!]).map((text) => si(text, type, name)) as [number, number]
      if (type.plausible !== undefined) expect(from, name).toBeLessThan(to)
      expect(from, name).toBeGreaterThanOrEqual(si(low!, type, name))
      if (type.max !== undefined) expect(to, name).toBeLessThanOrEqual(si(type.max, type, name))
    }
  })

  test('every plain number lies within its limits where it is plausible', () => {
    for (const { name, type } of numbers) {
      const [from, to] = type.plausible ?? [type.min ?? type.above!, type.max!]
      expect(from, name).toBeLessThan(to)
      expect(from, name).toBeGreaterThanOrEqual(type.min ?? type.above!)
      expect(to, name).toBeLessThanOrEqual(type.max!)
    }
  })

  test('every key that takes a quantity alone has an example', () => {
    const keys = quantities.filter(({ name, node }) => node.kind === 'leaf' && !name.endsWith('*') && !/\.\d$/.test(name))
    expect(keys.filter(({ node }) => node.examples.length === 0).map(({ name }) => name)).toEqual([])
  })

  test('defaults and examples of quantities are plausible', () => {
    for (const { name, node } of nodes) {
      for (const text of [...node.examples, ...(node.default === undefined ? [] : [node.default])]) {
        const plain = parse(text) as unknown
        const values = typeof plain === 'object' && plain !== null ? Object.values(plain) : [plain]
        values.forEach((value, n) => {
          const holder =
            node.kind === 'table'
              ? node.values
              : node.kind === 'list' && typeof plain === 'object'
                ? (node.tuple?.[n] ?? node.items)
                : node
          const wanted = typesOf(holder).filter((type) => type.type === 'quantity')
          if (wanted.length === 0 || typeof value !== 'string') return
          if (typesOf(holder).some((type) => type.type === 'choice' && type.values.some((one) => one.value === value))) return
          if (isLevelName(value) && typesOf(holder).some((type) => type.type === 'text' && type.form === 'level')) return
          const fits = wanted.some((type) => {
            const read = parseQuantity(value, type.dimension)
            if (!read.ok) return false
            const [low, high] = (type.plausible ?? [type.min!, type.max!]).map((bound) => si(bound, type, name)) as [
              number,
              number,
            ]
            return read.value.si >= low && read.value.si <= high
          })
          expect(fits, `${name}: ${value}`).toBe(true)
        })
      }
    }
  })
})

describe('what keys point to', () => {
  test('a setting that was read back has the type of the setting itself', () => {
    const back = nodes.filter(({ node }) => node.readsBack !== undefined)
    expect(back.length).toBeGreaterThan(10)
    for (const { name, node } of back) {
      const setting = schemaAt('media', node.readsBack!.split('.'))
      expect(setting, name).toBeDefined()
      expect(typesOf(node), name).toEqual(expect.arrayContaining([...typesOf(setting!)]))
    }
  })

  test('labels of items are keys of the item', () => {
    for (const { name, node } of nodes) {
      if (node.kind !== 'list' || node.items.kind !== 'map') continue
      expect([...node.items.properties.keys()], name).toContain(node.items.nameKey)
    }
  })

  test('required keys exist', () => {
    for (const { name, node } of nodes) {
      if (node.kind !== 'map') continue
      const keys = [...node.required, ...(node.requiredUnless?.keys ?? [])]
      expect(
        keys.filter((key) => !node.properties.has(key)),
        name,
      ).toEqual([])
    }
  })
})

describe('patterns for other editors', () => {
  const matcher = (dimension: string) => new RegExp(defs[dimension]!.pattern as string, 'u')

  test('there is one for each dimension and no other', () => {
    const known = Object.values(defs).flatMap((def) => (def['x-dimension'] === undefined ? [] : [def['x-dimension']]))
    expect(known.sort()).toEqual([...DIMENSIONS].sort())
  })

  const numbers = [
    '0',
    '12',
    '-0.5',
    '+0.12',
    '.5',
    '−3',
    '499.4 ±0.3',
    '499.4 ± 0.3',
    '499.4 +/- 0.3',
    '1e3',
    '1,5',
    '5.',
    '1 2',
    'x',
    '',
  ]
  const fractions = ['19 11/16', '1/180', '-1/2', '3/0']
  const spellings = DIMENSIONS.flatMap((dimension) => unitsOf(dimension).flatMap((unit) => unit.spellings))
  const spellable = spellings.filter((spelling) => !/^\d/.test(spelling))
  const texts = [...numbers, ...fractions].flatMap((number) =>
    [...spellable, '', 'furlong'].map((unit) => `${number} ${unit}`.trim()),
  )

  // The reader of quantities is the measure. It is more forgiving where a pattern would grow unreadable (fractions of other units,
  // ranges of size), so the pattern must never accept more, and must accept all that is written with the numbers people write.
  test.each(DIMENSIONS.filter((one) => one !== 'resolution'))('%s: accepts what the reader accepts', (dimension) => {
    const pattern = matcher(dimension)
    for (const text of texts) {
      const read = parseQuantity(text, dimension)
      // What is colder than absolute zero is well written all the same.
      const wanted = read.ok || read.problem.code === 'impossible-temperature'
      const fraction = text.includes('/') && fractions.some((one) => text.startsWith(`${one} `))
      if (!fraction) expect(pattern.test(text), text).toBe(wanted)
      else if (pattern.test(text)) expect(wanted, text).toBe(true)
    }
  })

  test('inches in fractions', () => {
    for (const text of ['19 11/16 in', '1/180 in', '-1/2 in']) expect(matcher('length').test(text), text).toBe(true)
  })

  test('resolution', () => {
    const pattern = matcher('resolution')
    for (const text of [
      '720 x 1440 dpi',
      '720x1440 dpi',
      '720 × 1440 dpi',
      '720 dpi',
      '720 x 1440',
      '720 x 1440 mm',
      '-720 x 1440 dpi',
      '0.5 x 1 dpi',
    ]) {
      if (pattern.test(text)) expect(parseQuantity(text, 'resolution').ok, text).toBe(true)
    }
    expect(['720 x 1440 dpi', '720x1440dpi', '720 × 1440 dpi'].filter((text) => !pattern.test(text))).toEqual([])
    expect(['720 dpi', '720 x 1440', '720 x 1440 mm'].filter((text) => pattern.test(text))).toEqual([])
  })

  test('examples match', () => {
    for (const [name, def] of Object.entries(defs)) {
      if (def.pattern === undefined) continue
      for (const example of (def.examples ?? []) as readonly string[]) expect(matcher(name).test(example), example).toBe(true)
    }
  })
})
