// Structural mistakes as people make them, and what is said of each.
import { Ajv2020 } from 'ajv/dist/2020.js'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { parse } from 'yaml'
import { DOCUMENT_KINDS, type DocumentKind, type SchemaNode, schemaOf } from '../../server/src/schema/schema.ts'
import { checkStructure, dateFrom, idFrom, type StructureIssue } from '../../server/src/schema/structure.ts'
import { readSchema } from '../../server/tools/schema/load.ts'
import { runs } from '../support/counts.ts'

/** The issues of a document, one a line. */
const issues = (kind: DocumentKind, text: string, at?: string): string =>
  `\n${checkStructure(kind, parse(text), at).map(render).join('\n')}\n`

function render({ path, ...issue }: StructureIssue): string {
  const where = path.join('.') || '(top)'
  switch (issue.issue) {
    case 'unknown-key':
      return `${where}: unknown key '${issue.key}'${issue.nearest ? `, meant '${issue.nearest}'` : ''}${issue.elsewhere.length ? `, known as ${issue.elsewhere.join(', ')}` : ''}`
    case 'missing-key':
      return `${where}: '${issue.key}' is missing${issue.why ? `: ${issue.why}` : ''}`
    case 'wrong-kind':
      return `${where}: needs ${issue.expected}, has ${issue.found}`
    case 'unknown-value':
      return `${where}: '${issue.value}' is none of ${issue.allowed.join(', ')}${issue.nearest ? `, meant '${issue.nearest}'` : ''}`
    case 'out-of-range':
      return `${where}: ${issue.value} must be ${issue.bound} ${issue.limit}`
    case 'bad-key':
      return `${where}: key '${issue.key}' must be ${issue.expected}${issue.suggestion ? `, such as '${issue.suggestion}'` : ''}`
    case 'bad-date':
    case 'bad-id':
      return `${where}: ${issue.issue} '${issue.value}'${issue.suggestion ? `, meant '${issue.suggestion}'` : ''}`
    case 'wrong-count':
      return `${where}: ${issue.found} instead of ${issue.least} to ${issue.most ?? 'many'}`
  }
}

const PROFILE = `
profile: film-bay-1
stock: film
printer: bay-1
mode: 8-pass
gap: 2.0 mm
feed:
  correction: +0.12 %
  checks:
    - {date: 2026-03-14, commanded: 1000 mm, measured: 998.8 mm, applied: 0 %, with: rule-1m, tensioned: false, lot: 2231, by: hand}
  fine: {date: 2026-03-14, applied: +0.12 %, by: sensor, picks: [-1, 0, 0.5]}
heat: {before: 38 °C, platen: 42 °C, after: 48 °C, fan: true}
suction: 3
notes: {anything: [goes, {at: all}]}
x-own: {also: free}
`

describe('a good document', () => {
  test('has no issue', () => {
    expect(checkStructure('media', parse(PROFILE))).toEqual([])
  })

  test('may leave to its base what it does not say', () => {
    expect(checkStructure('media', { profile: 'film-bay-2', base: 'film-bay-1' })).toEqual([])
  })
})

describe('keys', () => {
  test('mistyped', () => {
    expect(issues('media', PROFILE.replace('correction:', 'corection:'))).toMatchInlineSnapshot(`
      "
      feed: unknown key 'corection', meant 'correction'
      "
    `)
  })

  test('mistyped and required: one mistake, one issue', () => {
    expect(issues('media', PROFILE.replace('measured:', 'mesured:'))).toMatchInlineSnapshot(`
      "
      feed.checks.0: unknown key 'mesured', meant 'measured'
      "
    `)
    expect(issues('media', 'profile: film\nbsae: other')).toMatchInlineSnapshot(`
      "
      (top): unknown key 'bsae', meant 'base'
      "
    `)
  })

  test('in the wrong place', () => {
    expect(issues('media', `${PROFILE}pause: 1 s\n`)).toMatchInlineSnapshot(`
      "
      (top): unknown key 'pause', known as drying.pause, keyed.*.pause
      "
    `)
  })

  test('missing', () => {
    expect(issues('stock', 'stock: film')).toMatchInlineSnapshot(`
      "
      (top): 'family' is missing
      (top): 'thickness' is missing
      "
    `)
    expect(issues('media', 'profile: film')).toMatchInlineSnapshot(`
      "
      (top): 'stock' is missing: without 'base' there is nowhere to take it from
      (top): 'printer' is missing: without 'base' there is nowhere to take it from
      (top): 'mode' is missing: without 'base' there is nowhere to take it from
      "
    `)
  })

  test('names of modes, levels of suction', () => {
    expect(
      issues(
        'printer',
        `
printer: bay-1
heads: {nozzles: 180}
carriage: {}
feed: {}
modes:
  Fine 8: {resolution: 720 x 1440 dpi, passes: 8}
  0x1f: {resolution: 720 x 1440 dpi, passes: 8}
  x-draft: whatever
suction: {levels: {1: 100 Pa, two: 200 Pa, level 3: 300 Pa}}
`,
      ),
    ).toMatchInlineSnapshot(`
      "
      modes: key '31' must be lower-case words joined by hyphens
      modes: key 'Fine 8' must be lower-case words joined by hyphens, such as 'fine-8'
      suction.levels: key 'two' must be a whole number
      suction.levels: key 'level 3' must be a whole number, such as '3'
      "
    `)
  })

  test('that a program would trip over', () => {
    const evil = JSON.parse(
      '{"shop": "x", "__proto__": {"a": 1}, "constructor": 1, "tolerance": {"__proto__": 2, "toString": 3}}',
    ) as unknown
    expect(`\n${checkStructure('shop', evil).map(render).join('\n')}\n`).toMatchInlineSnapshot(`
      "
      (top): unknown key '__proto__'
      (top): unknown key 'constructor'
      tolerance: unknown key '__proto__'
      tolerance: unknown key 'toString'
      "
    `)
    const bare: Record<string, unknown> = Object.create(null)
    bare.shop = 'x'
    Object.defineProperty(bare, '__proto__', { value: { shop: 1 }, enumerable: true })
    expect(`\n${checkStructure('shop', bare).map(render).join('\n')}\n`).toMatchInlineSnapshot(`
      "
      (top): unknown key '__proto__'
      "
    `)
  })
})

describe('values', () => {
  test('of another kind', () => {
    expect(
      issues(
        'media',
        PROFILE.replace('gap: 2.0 mm', 'gap: [2 mm]').replace('fan: true', 'fan: 1').replace('before: 38 °C', 'before: true'),
      ),
    ).toMatchInlineSnapshot(`
      "
      gap: needs a length (mm, m, µm or in), has a list
      heat.before: needs a temperature (°C or °F), has true
      heat.fan: needs true or false, has a whole number
      "
    `)
    expect(
      issues('media', PROFILE.replace('gap: 2.0 mm', 'gap:').replace('suction: 3', 'suction: {level: 3}')),
    ).toMatchInlineSnapshot(`
      "
      gap: needs a length (mm, m, µm or in), has nothing
      suction: needs a whole number or a pressure (Pa, kPa or inH2O) or the name of a level, has a group of keys
      "
    `)
    expect(
      issues('shop', 'shop: Tern Quay\ninstruments: {tape: {limit-of-error: false, kind: }}\nclimate: 20 °C'),
    ).toMatchInlineSnapshot(`
      "
      climate: needs a group of keys, has a text
      instruments.tape.kind: needs one of rule, tape, caliper, loupe, thermometer, hygrometer, spectrophotometer, sensor, has nothing
      instruments.tape.limit-of-error: needs a list or a length (mm, m, µm or in) or a temperature difference (K) or a relative humidity (%RH) or one of class-1, class-2, class-3, has false
      "
    `)
  })

  test('half typed', () => {
    expect(issues('media', 'profile: film\nbase: other\nfeed:\nheat:\n  readings:\n    -\n')).toMatchInlineSnapshot(`
      "
      feed: needs a group of keys, has nothing
      heat.readings.0: needs a group of keys, has nothing
      "
    `)
  })

  test('a bare number where a quantity is due is left to the reader of quantities', () => {
    expect(issues('media', PROFILE.replace('2.0 mm', '2.0').replace('suction: 3', 'suction: 3.5'))).toBe('\n\n')
  })

  test('words', () => {
    expect(issues('stock', 'stock: film\nfamily: film-pvc-calandered\nthickness: 80 µm\nwound: inside')).toMatchInlineSnapshot(`
      "
      family: 'film-pvc-calandered' is none of film-pvc-cast, film-pvc-calendered, film-pet, film-pp, banner-pvc, textile-woven, textile-knit, paper-coated, paper-uncoated, canvas, meant 'film-pvc-calendered'
      wound: 'inside' is none of out, in
      "
    `)
    expect(
      issues('media', `${PROFILE}web: {slack-watch: false}\nobserved: [{date: 2026-03-14, fault: Light_Bands}]`),
    ).toMatchInlineSnapshot(`
      "
      web.slack-watch: 'false' is none of never, start-of-job, at-intervals, always
      observed.0.fault: 'Light_Bands' is none of bands-light, bands-dark, grain, double-edges, length-short, length-long, creases, slack, skew, sticking, tears, edge-lift, cockle, dimples, head-touch, wet-at-winding, overheated-web, colour-shift, meant 'bands-light'
      "
    `)
    expect(
      issues('stock', 'stock: film\nfamily: canvas\nthickness: 80 µm\nlayers: [{name: glue, family: adhesve, thickness: 20 µm}]'),
    ).toMatchInlineSnapshot(`
      "
      layers.0.family: 'adhesve' is none of film-pvc-cast, film-pvc-calendered, film-pet, film-pp, banner-pvc, textile-woven, textile-knit, paper-coated, paper-uncoated, canvas, adhesive, liner-paper, liner-film, meant 'adhesive'
      "
    `)
  })

  test('plain numbers out of bounds', () => {
    expect(issues('stock', 'stock: film\nfamily: canvas\nthickness: 80 µm\nfriction: 0\npoisson: 4')).toMatchInlineSnapshot(`
      "
      poisson: 4 must be at-most 2
      friction: 0 must be above 0
      "
    `)
    expect(issues('media', `${PROFILE}carriage: {strikes: 0}\nweb: {tension: -2}\nslot: 1.5`)).toMatchInlineSnapshot(`
      "
      slot: needs a whole number, has a number that is not whole
      carriage.strikes: 0 must be at-least 1
      web.tension: -2 must be at-least 0
      "
    `)
  })

  test('lists of another length', () => {
    expect(issues('shop', 'shop: x\nclimate: {temperature: [18 °C], humidity: [40 %RH, 50 %RH, 60 %RH]}')).toMatchInlineSnapshot(`
      "
      climate.temperature: 1 instead of 2 to 2
      climate.humidity: 3 instead of 2 to 2
      "
    `)
  })

  test('names and dates', () => {
    expect(issues('media', 'profile: Matte Film_50 (Bay 1)\nbase: 0x10')).toMatchInlineSnapshot(`
      "
      profile: bad-id 'Matte Film_50 (Bay 1)', meant 'matte-film-50-bay-1'
      base: needs a name, has a whole number
      "
    `)
    expect(
      issues('media', PROFILE.replace('{date: 2026-03-14, commanded', '{date: 2026-02-30, commanded')),
    ).toMatchInlineSnapshot(`
      "
      feed.checks.0.date: bad-date '2026-02-30'
      "
    `)
    expect(
      issues('media', PROFILE.replace('{date: 2026-03-14, commanded', '{date: 2026/3/14, commanded')),
    ).toMatchInlineSnapshot(`
      "
      feed.checks.0.date: bad-date '2026/3/14', meant '2026-03-14'
      "
    `)
    expect(issues('media', PROFILE.replace('{date: 2026-03-14, commanded', '{date: 20260314, commanded'))).toMatchInlineSnapshot(`
      "
      feed.checks.0.date: needs a date such as 2026-03-14, has a whole number
      "
    `)
  })

  test('empty texts', () => {
    expect(issues('shop', 'shop: ""')).toMatchInlineSnapshot(`
      "
      shop: needs a text, has an empty text
      "
    `)
  })

  test('the whole document', () => {
    expect([issues('shop', '3'), issues('shop', '[]'), issues('shop', '')].join('')).toMatchInlineSnapshot(`
      "
      (top): needs a group of keys, has a whole number

      (top): needs a group of keys, has a list

      (top): needs a group of keys, has nothing
      "
    `)
  })
})

test('one item of a list of mappings', () => {
  expect(
    issues('media', '{date: 2026-03-14, comanded: 1 m, measured: [1 m], applied: 0 %}', 'feed.checks.*'),
  ).toMatchInlineSnapshot(`
    "
    (top): unknown key 'comanded', meant 'commanded'
    measured: needs a length (mm, m, µm or in), has a list
    "
  `)
})

test('a path that is no item has no check', () => {
  expect(checkStructure('media', {}, 'feed.nothing.*')).toEqual([])
})

test('thousands of mistakes are cut short', () => {
  const readings = Array.from({ length: 5000 }, () => 1)
  expect(checkStructure('media', { profile: 'film', base: 'other', heat: { readings } })).toHaveLength(500)
})

// The proleptic Gregorian calendar of ECMA-262, Date, is the measure.
test('only days that the calendar has', () => {
  for (const year of ['1900', '1999', '2000', '2023', '2024', '2100', '0004']) {
    for (let month = 0; month <= 13; month++) {
      for (let day = 0; day <= 32; day++) {
        const date = `${year}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`
        const time = new Date(`${date}T00:00:00Z`)
        const real = !Number.isNaN(time.getTime()) && time.toISOString().startsWith(date)
        expect(checkStructure('stock', { lot: 'a', received: date }, 'lots.*').length === 0, date).toBe(real)
        expect(dateFrom(date), date).toBe(real ? date : undefined)
      }
    }
  }
})

test('dates and names are only suggested where they are beyond doubt', () => {
  const dates = ['2026.3.4', '2026/03/04', '2026 3 4', '20260304', '3/4/2026', '4.3.2026', '2026-13-01', 'today', '']
  expect(dates.map((text) => dateFrom(text) ?? '-').join(' ')).toBe('2026-03-04 2026-03-04 2026-03-04 2026-03-04 - - - - -')
  const names = ['Bay 1', 'Größe_L', '--', '12', '1e3', '8-pass', '0x1f']
  expect(names.map((text) => idFrom(text) ?? '-').join(' ')).toBe('bay-1 grosse-l - - - 8-pass -')
})

// The published JSON Schemas, run by ajv in full, are the measure of the shortened checks: whatever a document looks like, both agree on
// whether it is good. Quantities stand as their examples, since the shortened checks leave those to the reader of quantities.
describe('agrees with the published schemas', () => {
  const ajv = new Ajv2020({ strict: false, formats: { date: /^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/ } })
  ajv.addSchema(readSchema('common'), 'common.schema.json')
  const wrong = fc.constantFrom<unknown>(true, null, [], {}, ['x'], { x: 1 }, 'no such word')

  function values(node: SchemaNode): fc.Arbitrary<unknown> {
    switch (node.kind) {
      case 'map':
        return fc.record(Object.fromEntries([...node.properties].map(([key, child]) => [key, maybeWrong(child)])), {
          requiredKeys: [...node.required],
        })
      case 'table':
        return fc.dictionary(fc.constantFrom('one', 'x-own', '3', 'Bad Key', '12e1'), maybeWrong(node.values), { maxKeys: 2 })
      case 'list':
        return node.tuple
          ? fc.tuple(...node.tuple.map(maybeWrong))
          : fc.array(maybeWrong(node.items), { minLength: node.minItems ?? 0, maxLength: node.maxItems ?? 3 })
      case 'leaf':
        return fc.oneof(...node.accepts.map(leafValues))
      case 'any':
        return fc.anything()
    }
  }

  /** No names of levels either. */
  const ODD_TEXTS = ['a b', '8-pass', '', '1e3']

  function leafValues(type: (SchemaNode & { kind: 'leaf' })['accepts'][number]): fc.Arbitrary<unknown> {
    switch (type.type) {
      case 'quantity':
        return fc.constantFrom(...((readSchema('common').$defs as never)[type.dimension] as { examples: string[] }).examples)
      case 'integer':
        return fc.integer({ min: -2, max: 200 })
      case 'number':
        return fc.constantFrom(-2000, 0, 0.3, 1, 7)
      case 'text':
        return fc.constantFrom('film', ...ODD_TEXTS)
      case 'date':
        return fc.constantFrom('2026-03-14', '2026-3-14', 'x')
      case 'boolean':
        return fc.boolean()
      case 'choice':
        return fc.constantFrom(...type.values.map((one) => one.value), 'no such word')
    }
  }

  const maybeWrong = (node: SchemaNode): fc.Arbitrary<unknown> =>
    fc.oneof({ weight: 12, arbitrary: values(node) }, { weight: node.kind === 'any' ? 0 : 1, arbitrary: wrong })

  /** A word where a quantity is due is a matter of quantities, so the two may differ there: such documents are not drawn. */
  const hasWordForQuantity = (kind: DocumentKind, value: unknown): boolean => {
    const visit = (node: SchemaNode | undefined, one: unknown): boolean => {
      if (node === undefined) return false
      if (typeof one === 'string') {
        const leaf = node.kind === 'leaf' ? node : node.kind === 'list' ? node.single : undefined
        const odd = ['no such word', ...ODD_TEXTS].includes(one)
        return odd && leaf?.accepts.some((type) => type.type === 'quantity') === true
      }
      if (typeof one !== 'object' || one === null) return false
      if (Array.isArray(one))
        return (
          node.kind === 'list' &&
          one.some((item, n) => (item === 'x' && quantityAt(node, n)) || visit(node.tuple?.[n] ?? node.items, item))
        )
      if (node.kind === 'map') return Object.entries(one).some(([key, item]) => visit(node.properties.get(key), item))
      return node.kind === 'table' && Object.values(one).some((item) => visit(node.values, item))
    }
    const quantityAt = (node: SchemaNode & { kind: 'list' }, n: number): boolean => {
      const item = node.tuple?.[n] ?? node.items
      return item.kind === 'leaf' && item.accepts.some((type) => type.type === 'quantity')
    }
    return visit(schemaOf(kind), value)
  }

  test.each(DOCUMENT_KINDS)('%s', (kind) => {
    const published = ajv.compile(readSchema(kind))
    let good = 0
    let bad = 0
    fc.assert(
      fc.property(fc.oneof(values(schemaOf(kind)), sparse(kind)), (value) => {
        fc.pre(!hasWordForQuantity(kind, value))
        const valid = published(value)
        if (valid) good++
        else bad++
        expect(checkStructure(kind, value).length === 0, ajv.errorsText(published.errors)).toBe(valid)
      }),
      { numRuns: runs(1500), seed: 20260314 },
    )
    expect(Math.min(good, bad)).toBeGreaterThan(20)
  })

  /** Documents with one or two keys beside those that are due, so that many are good. */
  function sparse(kind: DocumentKind): fc.Arbitrary<unknown> {
    const schema = schemaOf(kind)
    const due = new Set([...schema.required, ...(schema.requiredUnless?.keys ?? [])])
    const good: Record<string, unknown> = { family: 'canvas', thickness: '220 µm', heads: {}, modes: {}, carriage: {}, feed: {} }
    const base = Object.fromEntries([...due].map((key) => [key, good[key] ?? 'film']))
    const one = fc
      .constantFrom(...schema.properties.keys())
      .chain((key) => maybeWrong(schema.properties.get(key)!).map((value) => ({ [key]: value })))
    return fc.oneof(one, fc.constant({ bsae: 'x' }), fc.constant({})).map((more) => ({ ...base, ...more }))
  }
})
