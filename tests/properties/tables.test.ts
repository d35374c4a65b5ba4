// Tables of evidence: what is exported and imported again is the same, into whatever profile; and no table, however broken, crashes or takes anything away.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { LiveDocument } from '../../server/src/model/document.ts'
import { type Entry, EVIDENCE, type EvidenceKind, evidenceIn, meaningOf } from '../../server/src/model/evidence.ts'
import { fromSi } from '../../server/src/quantities/convert.ts'
import { parseQuantity } from '../../server/src/quantities/parse.ts'
import { unitsOf } from '../../server/src/quantities/units.ts'
import type { LeafType, QuantityType, SchemaNode } from '../../server/src/schema/schema.ts'
import { type Ran, ran } from '../cli/shell.ts'
import { runs } from '../support/counts.ts'
import { seed } from '../support/seed.ts'
import { samples } from '../support/texts.ts'

const FILE = 'p.media.yaml'
const HEAD = 'profile: p\nstock: s\nprinter: b\nmode: m\n'

const document = (text: string): LiveDocument<'media'> => new LiveDocument(FILE, 'media', text)

const told = (entries: readonly Entry[]): readonly string[] =>
  entries.map(({ kind, cells }) => `${kind.name}: ${meaningOf(cells)}`).sort()

const evidenceOf = (text: string): readonly string[] => told(evidenceIn(document(text)))

async function exported(text: string): Promise<string> {
  const { out, err } = await ran(['export', FILE, '--what', 'evidence'], `#- ${FILE}\n${text}`)
  expect(err.replace('There are no evidence to export.\n', '')).toBe('')
  return out
}

const imported = (text: string, table: string | Uint8Array, ...more: readonly string[]): Promise<Ran> =>
  ran(['import', 't.csv', '--into', FILE, ...more], `#- rollbook.yaml\nshop: Tern Quay\n#- ${FILE}\n${text}`, {
    bytes: { 't.csv': typeof table === 'string' ? new TextEncoder().encode(table) : table },
  })

/** A sample as the profile of these tests. */
const asP = (text: string): string => text.replace(/^profile: .*$/m, 'profile: p')

/** Whether a text is another with lines put between its own. */
function onlyAdded(before: string, after: string): boolean {
  const eol = before.includes('\r') ? '\r\n' : '\n'
  const lines = before.trimEnd().split(eol)
  let at = 0
  for (const line of after.split(eol)) if (line === lines[at]) at++
  return at === lines.length
}

/** Profiles that have no evidence, each written in another way. */
const BARE = [
  HEAD,
  `${HEAD}\n# the feed\nfeed:\n  correction: 0 %   # as measured\n\nheat:\n    platen: 40 °C\n\ncolour:\n  ink-limit: 200 %\n# end\n`,
  `${HEAD}feed: { correction: 0 % }\nheat: { platen: 40 °C }\ncolour: {}\n`,
  HEAD.replaceAll('\n', '\r\n'),
]

/** Evidence by the schema: whatever may stand there. */
const entryText = (kind: EvidenceKind): fc.Arbitrary<string> => yamlOf(kind.entry)

function yamlOf(schema: SchemaNode): fc.Arbitrary<string> {
  switch (schema.kind) {
    case 'leaf':
      return fc.oneof(...schema.accepts.map(leafOf))
    case 'list':
      return fc
        .array(yamlOf(schema.items), { minLength: schema.minItems ?? 1, maxLength: 4 })
        .map((items) => `[${items.join(', ')}]`)
    case 'table':
      return fc
        .uniqueArray(fc.tuple(NAME, yamlOf(schema.values)), { minLength: 1, maxLength: 3, selector: ([name]) => name })
        .map((pairs) => `{ ${pairs.map(([name, value]) => `${name}: ${value}`).join(', ')} }`)
    case 'map': {
      const keys = Object.fromEntries([...schema.properties].map(([key, node]) => [key, yamlOf(node)]))
      return fc
        .tuple(fc.record(keys, { requiredKeys: [...schema.required] }), fc.option(TEXT, { freq: 4 }))
        .map(([given, free]) => {
          const pairs = Object.entries(given).map(([key, value]) => `${key}: ${value}`)
          return `{ ${[...pairs, ...(free === null ? [] : [`x-note: ${free}`])].join(', ')} }`
        })
        .filter((text) => text !== '{  }')
    }
    case 'any':
      return fc.constant("'free'")
  }
}

const NAME = fc
  .stringMatching(/^[a-z]{2,6}(-[a-z0-9]{1,3})?$/)
  .filter((name) => !/^(?:null|true|false|yes|no|on|off)$/.test(name))

/** Signs that a table, a spreadsheet or YAML takes for something else are likely. */
const TEXT = fc
  .oneof(
    fc.string({
      unit: fc.constantFrom(
        '=',
        '+',
        '-',
        '@',
        "'",
        '"',
        ',',
        ';',
        '\t',
        '\n',
        '\r',
        ' ',
        '#',
        ':',
        '1',
        '.',
        'a',
        '±',
        '＝',
        '\u2028',
      ),
      maxLength: 8,
    }),
    fc.string({ unit: 'grapheme', maxLength: 12 }),
  )
  .filter((text) => text.trim() !== '' && !text.includes('\0'))
  .map((text) =>
    JSON.stringify(text).replace(
      /[\u007f-\u009f\u2028\u2029\ufeff]/g,
      (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`,
    ),
  )

function leafOf(type: LeafType): fc.Arbitrary<string> {
  switch (type.type) {
    case 'quantity':
      return quantityOf(type)
    case 'integer':
      return fc.integer({ min: type.min ?? 0, max: Math.min(type.max ?? 9, 999) }).map(String)
    case 'number':
      return fc.integer({ min: -40, max: 40 }).map((n) => String(n / 2))
    case 'boolean':
      return fc.boolean().map(String)
    case 'choice':
      return fc.constantFrom(...type.values.map(({ value }) => value))
    case 'date':
      return fc.integer({ min: 0, max: 400 }).map((days) => new Date(Date.UTC(2026, 0, 1 + days)).toISOString().slice(0, 10))
    case 'text':
      return type.form === 'id'
        ? NAME
        : type.form === 'label'
          ? fc.oneof(TEXT, fc.integer({ min: 1, max: 1e9 }).map(String))
          : TEXT
  }
}

/** Within what is plausible, in any unit, with any sign and spread that can be written. */
function quantityOf({ dimension, plausible }: QuantityType): fc.Arbitrary<string> {
  const [low, high] = (plausible ?? ['0 %', '1 %']).map((bound) => {
    const read = parseQuantity(bound, dimension)
    return read.ok ? read.value.si : 0
  })
  return fc
    .tuple(
      fc.integer({ min: 5, max: 95 }),
      fc.constantFrom(...unitsOf(dimension)),
      fc.integer({ min: 0, max: 5 }),
      fc.boolean(),
      fc.boolean(),
    )
    .map(([percent, unit, decimals, spread, sign]) => {
      const number = fromSi(low! + ((high! - low!) * percent) / 100, unit)
      const written = number.toFixed(Math.abs(number) < 1 ? 6 : decimals)
      const inches = unit.id === 'in' && number > 1 && sign ? `${Math.floor(number)} ${percent}/128` : written
      return `${sign && number > 0 && inches === written ? '+' : ''}${inches}${spread && inches === written ? ` ±0.${percent + 10}` : ''} ${unit.id}`
    })
}

/** A profile with evidence of all kinds in it. */
const PROFILE = fc
  .tuple(...EVIDENCE.map((kind) => fc.array(entryText(kind), { maxLength: kind.form === 'list' ? 4 : 1 })))
  .map((all) => {
    const flow = (path: readonly string[], value: string): [string, string] => [
      path[0]!,
      path.length > 1 ? `  ${path[1]}: ${value}` : value,
    ]
    const sections = new Map<string, string[]>()
    for (const [i, kind] of EVIDENCE.entries()) {
      const entries = all[i]!
      if (entries.length === 0) continue
      const [section, line] = flow(kind.path, kind.form === 'list' ? `[${entries.join(', ')}]` : entries[0]!)
      sections.set(section, [...(sections.get(section) ?? []), line])
    }
    return `${HEAD}${[...sections].map(([key, lines]) => (lines[0]!.startsWith('  ') ? `${key}:\n${lines.join('\n')}\n` : `${key}: ${lines[0]}\n`)).join('')}`
  })
  // What a document cannot hold as evidence is no example of it.
  .filter((text) => {
    const made = document(text)
    return (
      made.tree.problems.length === 0 &&
      made.structure().length === 0 &&
      made.read().bad.every(({ problem }) => problem.code === 'implausible')
    )
  })

async function comesBack(text: string): Promise<void> {
  const table = await exported(text)
  const wanted = evidenceOf(text)
  if (wanted.length === 0) return
  for (const bare of BARE) {
    const done = await imported(bare, table, '--repeats', '--write')
    const after = done.files.get(FILE)!
    expect([done.err, evidenceOf(after)]).toEqual(['', wanted])
    expect(onlyAdded(bare, after) || bare.includes('{')).toBe(true)
    // And once more, nothing is new.
    const again = await imported(after, table, '--repeats', '--write')
    expect([again.code, again.files.get(FILE)]).toEqual([0, after])
  }
}

describe('export and import give back the same', () => {
  const profiles = samples()
    .filter(({ name }) => name.endsWith('.media.yaml') && !name.includes('broken'))
    .map(({ name, text }) => ({ name, text: asP(text) }))

  test('of the samples', async () => {
    expect(profiles.length).toBeGreaterThan(10)
    for (const { text } of profiles) await comesBack(text)
  })

  test('of whatever the schema lets a profile hold', () =>
    fc.assert(
      fc.asyncProperty(PROFILE, (text) => comesBack(text)),
      { numRuns: runs(60) },
    ))

  test('into a profile that has a part of it', async () => {
    for (const { text } of profiles) {
      const [header = '', ...rows] = (await exported(text)).split('\r\n').filter((row) => row !== '')
      const part = await imported(BARE[1]!, [header, ...rows.filter((_, i) => i % 2 === seed % 2)].join('\r\n'), '--write')
      const whole = await imported(part.files.get(FILE)!, [header, ...rows].join('\r\n'), '--write')
      expect(evidenceOf(whole.files.get(FILE)!)).toEqual(evidenceOf(text))
    }
  })
})

describe('a table of anything', () => {
  const BEFORE = asP(samples().find(({ name }) => name.endsWith('profiles/banner-510-bay-1.media.yaml'))!.text)

  async function survives(table: Uint8Array): Promise<Ran> {
    const dry = await imported(BEFORE, table)
    expect(dry.err).not.toContain('went wrong inside')
    expect(dry.files.get(FILE)).toBe(BEFORE)
    const done = await imported(BEFORE, table, '--write')
    const after = done.files.get(FILE)!
    expect(document(after).tree.problems).toEqual([])
    const left = [...evidenceOf(after)]
    for (const entry of evidenceOf(BEFORE)) {
      expect(left).toContain(entry)
      left.splice(left.indexOf(entry), 1)
    }
    expect(onlyAdded(BEFORE, after)).toBe(true)
    expect(done.out.includes('0 rows added') || done.out === '').toBe(after === BEFORE)
    return done
  }

  test('bytes of any kind write nothing', () =>
    fc.assert(
      fc.asyncProperty(fc.uint8Array({ maxLength: 200 }), async (bytes) => {
        expect((await survives(bytes)).files.get(FILE)).toBe(BEFORE)
      }),
      { numRuns: runs(200) },
    ))

  test('a good table with bytes changed, lost and doubled takes nothing away', async () => {
    const good = new TextEncoder().encode((await exported(BEFORE)).replaceAll('2026-1', '2026-0'))
    const change = fc.tuple(
      fc.nat(good.length - 1),
      fc.nat(6),
      fc.oneof(fc.constantFrom(...'",;=\n\r\t\'-±'), fc.string({ maxLength: 3 })),
    )
    await fc.assert(
      fc.asyncProperty(fc.array(change, { minLength: 1, maxLength: 5 }), async (changes) => {
        let bytes = [...good]
        for (const [at, lost, text] of changes)
          bytes = [...bytes.slice(0, at), ...new TextEncoder().encode(text), ...bytes.slice(at + lost)]
        await survives(new Uint8Array(bytes))
      }),
      { numRuns: runs(200) },
    )
  })
})
