// A loader of YAML 1.1, as many scripts around a shop still are, reads our documents as we do: only days become dates, of the same day. The loader is
// the `yaml` package with its version set to 1.1 (https://yaml.org/type/: bool, float, int with sexagesimals, timestamp).
import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import { parse } from 'yaml'
import { plainOrQuoted } from '../../server/src/model/edit.ts'
import { contentOf, nameOf } from '../../server/src/model/states.ts'
import { DOCUMENT_KINDS, kindOfFile, schemaOf, walk } from '../../server/src/schema/schema.ts'
import { SyntaxTree } from '../../server/src/syntax/parse.ts'
import { PlainReader } from '../../server/src/syntax/plain.ts'

const SAMPLES = fileURLToPath(new URL('../../samples/', import.meta.url))

const by11 = (text: string): unknown => parse(text, { version: '1.1', logLevel: 'silent' })
const byUs = (text: string): unknown => new PlainReader().read(SyntaxTree.parse(text).root)

/** Where the two differ, as 'feed.checks.0.date: ours, theirs'. A day that is the same one at midnight in Greenwich is no difference. */
function differences(ours: unknown, theirs: unknown, path = ''): readonly string[] {
  if (theirs instanceof Date && typeof ours === 'string')
    return theirs.toISOString() === `${ours}T00:00:00.000Z` ? [] : [`${path}: ${ours}, ${theirs.toISOString()}`]
  if (typeof ours !== 'object' || ours === null || typeof theirs !== 'object' || theirs === null)
    return Object.is(ours, theirs) ? [] : [`${path}: ${JSON.stringify(ours)}, ${JSON.stringify(theirs)}`]
  const keys = new Set([...Object.keys(ours), ...Object.keys(theirs)])
  const at = (of: object, key: string): unknown => (of as Readonly<Record<string, unknown>>)[key]
  return [...keys].flatMap((key) => differences(at(ours, key), at(theirs, key), path === '' ? key : `${path}.${key}`))
}

const documentsIn = (folder: string): readonly string[] =>
  readdirSync(SAMPLES + folder, { recursive: true, encoding: 'utf8' })
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`)
    .filter((name) => kindOfFile(name))
    .sort()

const read = (name: string): string => readFileSync(SAMPLES + name, 'utf8')

/** How many dates a loader has made. */
const datesIn = (value: unknown): number =>
  value instanceof Date
    ? 1
    : typeof value === 'object' && value !== null
      ? Object.values(value).reduce((sum: number, one) => sum + datesIn(one), 0)
      : 0

describe('the documents of the sample shop', () => {
  const names = documentsIn('tern-quay')

  test.each(names)('%s', (name) => {
    const text = read(name)
    expect(differences(byUs(text), by11(text))).toEqual([])
  })

  test('hold days, which become dates', () => {
    expect(names.length).toBeGreaterThan(25)
    expect(names.reduce((sum, name) => sum + datesIn(by11(read(name))), 0)).toBeGreaterThan(100)
  })

  test('a difference would be seen', () => {
    const told = (text: string): readonly string[] => differences(byUs(text), by11(text))
    expect(told('heat: { fan: yes }\n')).toEqual(['heat.fan: "yes", true'])
    expect(told('feed: [{ lot: 12:30 }]\n')).toEqual(['feed.0.lot: "12:30", 750'])
    expect(told('lot: 1_000\n')).toEqual(['lot: "1_000", 1000'])
    expect(told('day: 2026-03-14 10:00:00\n')).toHaveLength(1)
    expect(told('days: [2026-03-14]\n')).toEqual([])
  })
})

test('of the broken documents those differ that show such a mistake', () => {
  const told = documentsIn('broken').flatMap((name) => {
    const text = read(name)
    if (SyntaxTree.parse(text).problems.length > 0) return []
    let theirs: unknown
    try {
      theirs = by11(text)
    } catch {
      return [`${name} is not read`]
    }
    return differences(byUs(text), theirs).map((line) => `${name} ${line}`)
  })
  expect(told).toMatchInlineSnapshot(`
    [
      "broken/alias-limit.media.yaml is not read",
      "broken/bad-date.media.yaml feed.checks.0.date: 2026-02-30, 2026-03-02T00:00:00.000Z",
      "broken/yes-for-true.media.yaml heat.fan: "yes", true",
    ]
  `)
})

describe('the words of the format', () => {
  /** What the loader makes of a word. */
  const same = (word: string): boolean =>
    by11(`key: ${word}\n`) !== undefined && Object.is((by11(`key: ${word}\n`) as { key: unknown }).key, word)

  test('keys and choices are texts', () => {
    const words = DOCUMENT_KINDS.flatMap((kind) =>
      [...walk(schemaOf(kind))].flatMap((node) => [
        ...(node.kind === 'map' ? node.properties.keys() : []),
        ...(node.kind === 'leaf'
          ? node.accepts.flatMap((type) => (type.type === 'choice' ? type.values.map(({ value }) => value) : []))
          : []),
      ]),
    )
    expect(words.length).toBeGreaterThan(250)
    expect(words.filter((word) => !same(word))).toEqual([])
    expect(['on', 'no', 'y', '1:30'].filter(same)).toEqual([])
  })

  test('names of states are texts, whatever digits and letters they are made of', () => {
    const names = Array.from({ length: 5000 }, (_, i) => nameOf(contentOf(new Map([['gap', i]]), 'said')))
    expect(names.filter((name) => /^s\de/.test(name) || /^s\d\d+$/.test(name)).length).toBeGreaterThan(20)
    expect([...names, 's03e1', 's1e10'].filter((name) => !same(name))).toEqual([])
  })

  test.each([
    '1/32 in',
    '19 11/16 in',
    '+0.12 %',
    '-0.04 %',
    '720 x 360 dpi',
    '998.8 ±0.3 mm',
    '60 s',
    '1:30 min',
    '0.1 in',
    '1_000 mm',
    '0x10 mm',
  ])('%s is a text', (value) => {
    expect(byUs(`key: ${value}\n`)).toEqual({ key: value })
    expect(same(value)).toBe(true)
  })
})

describe('what we write', () => {
  test.each([
    'B-4502',
    '12:30',
    '1_000',
    '010',
    '0b11',
    '0o17',
    '0x1F',
    'y',
    'No',
    'ON',
    '~',
    'null',
    '2026-03-14 10:00',
    '1,000',
    '.5',
    '=',
    '<<',
    '1e3',
    '190:20:30.15',
    '+12',
    '.inf',
    '-.INF',
    '.nan',
    '0_1.5',
    '4.',
  ])('%s is read alike', (value) => {
    const text = `key: ${plainOrQuoted(value)}\n`
    expect(differences(byUs(text), by11(text))).toEqual([])
  })
})
