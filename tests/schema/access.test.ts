// Looking up what is known about a key.
import { describe, expect, test } from 'vitest'
import {
  DOCUMENT_KINDS,
  ITEM_PATHS,
  keysOf,
  kindOfFile,
  schemaAt,
  schemaOf,
  schemaOfKey,
} from '../../server/src/schema/schema.ts'
import { staleFiles } from '../../server/tools/generate.ts'

test('generated files are fresh (if not: npx tsx server/tools/generate.ts)', () => {
  expect(staleFiles()).toEqual([])
})

describe('schemaAt', () => {
  test('follows keys, indices, stars and names of the shop', () => {
    expect(schemaAt('media', ['feed', 'checks', 3, 'measured'])?.path).toBe('feed.checks.*.measured')
    expect(schemaAt('media', 'feed.checks.*.measured'.split('.'))?.path).toBe('feed.checks.*.measured')
    expect(schemaAt('printer', ['modes', 'fine', 'passes'])?.path).toBe('modes.*.passes')
    expect(schemaAt('printer', ['suction', 'levels', '4'])?.kind).toBe('leaf')
    expect(schemaAt('shop', ['instruments', 'rule-1m', 'limit-of-error', 1])?.path).toBe('instruments.*.limit-of-error.1')
    expect(schemaAt('media', [])).toBe(schemaOf('media'))
  })

  test('knows what is free', () => {
    expect(schemaAt('media', ['notes', 'anything', 0])?.kind).toBe('any')
    expect(schemaAt('media', ['feed', 'x-mine', 'deep'])?.kind).toBe('any')
  })

  test('knows what is not', () => {
    for (const path of [
      ['fed'],
      ['feed', 'checks', 'measured'],
      ['gap', 'x'],
      ['__proto__'],
      ['constructor'],
      ['feed', 'toString'],
    ]) {
      expect(schemaAt('media', path), path.join('.')).toBeUndefined()
    }
    expect(schemaAt('shop', ['instruments', 'rule-1m', 'limit-of-error', 2])).toBeUndefined()
  })

  test('every key leads to itself', () => {
    for (const kind of DOCUMENT_KINDS) {
      for (const key of keysOf(kind)) {
        const schema = schemaOfKey(kind, key)!
        expect(schema.path).toBe(key)
        expect(schemaAt(kind, schema.steps)).toBe(schema)
      }
    }
  })

  test('a key of a state holds a dot of its own', () => {
    expect(schemaAt('media', ['conditions', 's7f2c', 'web.tension'])?.path).toBe('conditions.*.web.tension')
    expect(schemaAt('media', ['conditions', 's7f2c', 'web', 'tension'])).toBeUndefined()
    expect(schemaOfKey('media', 'conditions.*.web')).toBeUndefined()
  })
})

test('leaves tell type, limits, default and what they name', () => {
  expect(schemaAt('shop', ['tolerance', 'length'])).toMatchObject({
    kind: 'leaf',
    default: '0.05 %',
    accepts: [{ type: 'quantity', dimension: 'relative', above: '0 %', max: '10 %', plausible: ['0.01 %', '0.5 %'] }],
  })
  expect(schemaAt('media', ['feed', 'checks', 0, 'with'])).toMatchObject({
    accepts: [{ type: 'text', form: 'id', ref: 'instrument' }],
  })
  expect(schemaAt('media', ['suction'])).toMatchObject({
    accepts: [{ type: 'integer' }, { type: 'quantity', dimension: 'pressure' }, { type: 'text', form: 'level' }],
  })
  expect(schemaAt('shop', ['climate', 'temperature'])).toMatchObject({
    kind: 'list',
    rising: true,
    default: '[18 °C, 28 °C]',
    minItems: 2,
    maxItems: 2,
  })
  expect(schemaAt('shop', ['instruments', 'tape', 'limit-of-error'])).toMatchObject({
    kind: 'list',
    tuple: [{ kind: 'leaf' }, { kind: 'leaf' }],
    single: { kind: 'leaf' },
  })
  expect(schemaAt('media', ['alignment', 'two-way'])).toMatchObject({ kind: 'table', keyType: 'id', keyRef: 'channel' })
})

test('settings are inherited, evidence and names are not', () => {
  const inherited = keysOf('media').filter((key) => schemaOfKey('media', key)?.inherit)
  expect(inherited).toMatchInlineSnapshot(`
    [
      "stock",
      "printer",
      "mode",
      "gap",
      "feed",
      "feed.correction",
      "heat",
      "heat.before",
      "heat.platen",
      "heat.after",
      "heat.fan",
      "drying",
      "drying.pause",
      "drying.run-out",
      "suction",
      "carriage",
      "carriage.turn-at",
      "carriage.strikes",
      "web",
      "web.wound",
      "web.tension",
      "web.slack-watch",
      "web.speed",
      "colour",
      "colour.icc",
      "colour.ink-limit",
      "colour.reference",
    ]
  `)
  expect(keysOf('printer').filter((key) => schemaOfKey('printer', key)?.inherit)).toEqual([])
})

test('items of lists of mappings', () => {
  expect(ITEM_PATHS).toMatchInlineSnapshot(`
    {
      "media": [
        "feed.checks.*",
        "heat.readings.*",
        "colour.measured.*",
        "observed.*",
        "keyed.*",
      ],
      "printer": [
        "panel.*",
        "events.*",
        "room.*",
      ],
      "shop": [
        "instruments.*.errors.*",
        "instruments.*.suspect.*",
      ],
      "stock": [
        "layers.*",
        "lots.*",
      ],
    }
  `)
})

test('a list whose items are checked one by one may be empty', () => {
  for (const kind of DOCUMENT_KINDS) {
    for (const path of ITEM_PATHS[kind]) expect(schemaAt(kind, path.split('.').slice(0, -1))).not.toHaveProperty('minItems')
  }
})

test('files are known by their names', () => {
  const names = [
    'rollbook.yaml',
    'file:///shop/rollbook.yaml',
    'C:\\shop\\film.stock.yaml',
    'printers/bay-1.printer.yaml',
    'a.b.media.yaml',
    'my-rollbook.yaml',
    '.media.yaml',
    'film.media.yml',
    'film.yaml',
    '',
  ]
  expect(names.map((name) => kindOfFile(name) ?? '-').join(' ')).toBe('shop shop stock printer media - - - - -')
})
