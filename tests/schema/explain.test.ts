// Every key, fault and family is explained, in the agreed parts, with a source; nothing is explained that does not exist.

import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { WAYS } from '../../server/src/report/work-out/ways.ts'
import {
  type Cause,
  explain,
  explainFamily,
  explainFault,
  explanationMarkdown,
  familyMarkdown,
  faultMarkdown,
} from '../../server/src/schema/explain.ts'
import { DOCUMENT_KINDS, type DocumentKind, type RawNode } from '../../server/src/schema/raw.ts'
import { EXPLAIN_FILES, generateExplain, keysOf, parseSections, partsOf, readSections } from '../../server/tools/explain.ts'
import { loadDocuments } from '../../server/tools/schema/load.ts'

const documents = loadDocuments()
const keys = (kind: DocumentKind) => keysOf(documents.get(kind)!)
const node = (kind: DocumentKind, path: string): RawNode => keys(kind).find(([at]) => at === path)![1]

function words(kind: DocumentKind, path: string): readonly string[] {
  const leaf = node(kind, path)
  return leaf.kind === 'leaf'
    ? leaf.accepts.flatMap((type) => (type.type === 'choice' ? type.values.map((one) => one.value) : []))
    : []
}
const faults = words('media', 'observed.*.fault')
const families = [...new Set([...words('stock', 'family'), ...words('stock', 'layers.*.family')])]

const wanted = new Map<string, readonly string[]>([
  ...DOCUMENT_KINDS.map((kind) => [kind, keys(kind).map(([path]) => path)] as const),
  ['faults', faults],
  ['families', families],
])

const isNumeric = (one: RawNode): boolean =>
  one.kind === 'leaf' && one.accepts.some((type) => type.type === 'quantity' || type.type === 'integer' || type.type === 'number')

/** What a profile sets and may inherit, in contrast to what it records. */
const settings = keys('media').filter(([path]) => {
  const steps = path.split('.')
  const above = steps.map((_, n) => steps.slice(0, n + 1).join('.'))
  return keys('media').every(([at, one]) => !above.includes(at) || one.own === undefined)
})
const numericSettings = settings.filter(([, one]) => isNumeric(one)).map(([path]) => path)

test('the schemas name keys, faults and families to be explained', () => {
  expect([...wanted.values()].map((names) => names.length)).toSatisfy((counts: number[]) => counts.every((count) => count >= 10))
  expect(numericSettings).toEqual(
    expect.arrayContaining(['gap', 'feed.correction', 'suction', 'web.tension', 'colour.ink-limit']),
  )
  expect(numericSettings).not.toContain('slot')
  expect(numericSettings).not.toContain('keyed.*.gap')
})

describe.each(EXPLAIN_FILES)('%s.md', (file) => {
  const sections = readSections(file)
  const complaints = (find: (section: (typeof sections)[number]) => string | undefined) =>
    sections.flatMap((section) => find(section) ?? [])

  test('explains everything there is and nothing else', () => {
    const names = sections.map((section) => section.name)
    expect(wanted.get(file)!.filter((name) => !names.includes(name))).toEqual([])
    expect(names.filter((name) => !wanted.get(file)!.includes(name))).toEqual([])
  })

  test('uses the agreed parts in the agreed order', () => {
    const order = Object.keys(partsOf(file))
    expect(
      complaints(({ name, parts }) => {
        const labels = [...parts.keys()]
        const known = order.filter((label) => parts.has(label))
        return labels.join() === known.join() ? undefined : `${name}: ${labels.join(', ')}`
      }),
    ).toEqual([])
  })

  test('has no section over 15 lines', () => {
    expect(complaints(({ name, lines }) => (lines > 15 ? `${name}: ${lines}` : undefined))).toEqual([])
  })

  test('writes whole sentences', () => {
    expect(
      complaints(({ name, what, parts }) =>
        [what, ...[...parts].filter(([label]) => label !== 'Also' && label !== 'Source').map(([, text]) => text)].every((text) =>
          /[.`)]$/.test(text),
        )
          ? undefined
          : name,
      ),
    ).toEqual([])
  })

  test('names a source of an allowed form', () => {
    const allowed = /^(?:the format|common practice|from memory: \S.*|published: \S.*|computed: \S.*)$/
    expect(
      complaints(({ name, parts }) => {
        const source = parts.get('Source')
        return source?.split('; ').every((one) => allowed.test(one)) ? undefined : `${name}: ${source}`
      }),
    ).toEqual([])
  })

  test('marks physical numbers: where one is quoted, a publication, a computation or memory stands behind it', () => {
    const number = /\d ?(?:µm|ppm|GPa|°C|N\/m|W\/m²K|J\/kgK|m²\/h|m\/s|%RH|pL|kPa|g\/m²)/
    expect(
      complaints(({ name, what, parts }) => {
        const text = [what, ...[...parts].filter(([label]) => label !== 'Source').map(([, part]) => part)].join(' ')
        return number.test(text) && !/published|computed|from memory/.test(parts.get('Source')!) ? name : undefined
      }),
    ).toEqual([])
  })

  test('refers only to keys, words and names that exist', () => {
    const paths = DOCUMENT_KINDS.flatMap((kind) => keys(kind).map(([path]) => path))
    const values = DOCUMENT_KINDS.flatMap((kind) => keys(kind).flatMap(([path]) => words(kind, path)))
    const commands = WAYS.map(({ name }) => `rollbook work-out ${name}`)
    const known = new Set([...paths, ...values, ...commands, '499.4 ±0.3 mm' /* how an uncertainty is written */])
    expect(
      complaints(({ name, what, parts }) => {
        const strange = [...[what, ...parts.values()].join(' ').matchAll(/`([^`]*)`/g)]
          .map((match) => match[1]!)
          .filter((code) => !known.has(code))
        return strange.length === 0 ? undefined : `${name}: ${strange.join(', ')}`
      }),
    ).toEqual([])
  })
})

describe.each(DOCUMENT_KINDS)('keys of %s', (kind) => {
  const sections = readSections(kind)

  test('say when to change them, or when to raise and when to lower them', () => {
    const wrong = sections.filter(({ parts }) => {
      const [raise, lower, change] = ['Raise when', 'Lower when', 'Change when'].map((label) => parts.has(label))
      return raise !== lower || raise === change
    })
    expect(wrong.map((section) => section.name)).toEqual([])
  })

  test('are raised and lowered only where they are numbers', () => {
    const raised = sections.filter(({ parts }) => parts.has('Raise when')).map((section) => section.name)
    expect(raised.filter((name) => !isNumeric(node(kind, name)))).toEqual([])
  })
})

test('every numeric setting of a profile says when to raise it, when to lower it and what it costs', () => {
  const missing = numericSettings.filter((path) => {
    const { raise, lower, costs } = explain('media', path)!
    return raise === undefined || lower === undefined || costs === undefined
  })
  expect(missing).toEqual([])
  for (const path of ['tolerance.length', 'tolerance.registration', 'recheck.feed', 'recheck.alignment']) {
    expect(explain('shop', path)).toMatchObject({
      raise: expect.any(String),
      lower: expect.any(String),
      costs: expect.any(String),
    })
  }
})

test('what is hot, moving, charged or gives off vapour carries a caution', () => {
  const hot = settings.filter(([path, one]) => /^(?:heat|web|carriage)\./.test(path) && one.kind === 'leaf').map(([path]) => path)
  expect(hot).toContain('heat.after')
  expect([...hot, 'gap', 'suction', 'colour.ink-limit'].filter((path) => explain('media', path)?.caution === undefined)).toEqual(
    [],
  )
  const parts = ['heaters', 'heaters.before', 'heaters.platen', 'heaters.after', 'carriage', 'web', 'heads']
  expect(parts.filter((path) => explain('printer', path)?.caution === undefined)).toEqual([])
  expect(
    ['overheated-web', 'head-touch', 'slack', 'wet-at-winding'].filter((name) => explainFault(name)?.caution === undefined),
  ).toEqual([])
})

test('every fault names a first look and causes that settings of a profile cure, and is marked common practice', () => {
  const media = keys('media').map(([path]) => path)
  for (const name of faults) {
    const fault = explainFault(name)!
    expect(fault).toMatchObject({ fault: name, first: expect.any(String), source: 'common practice' })
    const cures = fault.causes.flatMap(({ setting }) => setting ?? [])
    expect(cures.length, name).toBeGreaterThan(1)
    expect(cures.filter((key) => !media.includes(key))).toEqual([])
  }
})

test('every family says how it behaves and what to watch', () => {
  for (const name of families)
    expect(explainFamily(name)).toMatchObject({ family: name, behaves: expect.any(String), watch: expect.any(String) })
})

test('the generated files are fresh', () => {
  const stale = generateExplain().filter(
    ({ path, text }) => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8') !== text,
  )
  expect(stale.map((file) => file.path)).toEqual([])
})

describe('looking up', () => {
  test('finds a key as the schema writes it and as a document writes it', () => {
    const division = explain('shop', 'instruments.*.division')
    expect(division?.path).toBe('instruments.*.division')
    expect(explain('shop', 'instruments.steel-rule-1m.division')).toEqual(division)
    expect(explain('media', 'feed.checks.3.measured')?.path).toBe('feed.checks.*.measured')
  })

  test('keeps kinds apart', () => {
    expect(explain('stock', 'wound')?.what).not.toBe(explain('media', 'web.wound')?.what)
    expect(explain('media', 'suction')?.raise).toBeDefined()
    expect(explain('printer', 'suction')?.raise).toBeUndefined()
  })

  test('finds nothing for what does not exist', () => {
    for (const path of ['', 'feed.', 'feed.corection', 'constructor', '__proto__', 'toString', 'gap.more'])
      expect(explain('media', path)).toBeUndefined()
    expect(explainFault('constructor')).toBeUndefined()
    expect(explainFamily('gap')).toBeUndefined()
  })
})

test('Markdown leaves out the parts that are not there', () => {
  expect(
    explanationMarkdown({ path: 'x', what: 'What it is.', raise: 'a.', lower: 'b.', caution: 'hot.', source: 'common practice' }),
  ).toBe('What it is.\n\n- **Raise when:** a.\n- **Lower when:** b.\n- **Caution:** hot.\n\n*Source: common practice*')
  expect(explanationMarkdown({ path: 'x', what: 'What it is.', source: 'the format' })).toBe(
    'What it is.\n\n*Source: the format*',
  )
  const fault = {
    fault: 'x',
    what: 'Looks so.',
    first: 'b.',
    causes: [
      { words: 'A nick.' },
      { setting: 'suction', way: 'down', on: 'film', words: 'a.' },
      { setting: 'mode', words: 'c.' },
    ] satisfies Cause[],
    caution: 'hot.',
    source: 'common practice',
  }
  expect(faultMarkdown(fault)).toBe(
    'Looks so.\n\n- **First:** b.\n- **Caution:** hot.\n\nCauses, likeliest first:\n\n1. A nick.\n2. lower `suction` on film: a.\n3. look at `mode`: c.\n\n*Source: common practice*',
  )
  expect(familyMarkdown(explainFamily('canvas')!)).toMatch(
    /^Woven .*\n\n- \*\*On the press:\*\* .*\n- \*\*Watch:\*\* .*\n- \*\*Caution:\*\* .*\n\n\*Source: common practice\*$/,
  )
})

describe('the reader of explanation files refuses', () => {
  const good = '## gap\n\nHeight of the heads.\n\n- Change when: it\n  must.\n- Source: common practice\n'

  test('nothing that is in shape, and joins lines', () => {
    const [section] = parseSections(`# Title\n\nIntroduction.\n\n${good}`, 'x.md')
    expect(section).toMatchObject({ name: 'gap', what: 'Height of the heads.', lines: 4 })
    expect([...section!.parts]).toEqual([
      ['Change when', 'it must.'],
      ['Source', 'common practice'],
    ])
  })

  test('reads a numbered list as its items', () => {
    const [section] = parseSections('## x\n\nWhat.\n\n- Causes:\n  1. One\n     and on.\n  2. Two.\n- Source: s\n', 'x.md')
    expect(section!.parts.get('Causes')).toBe('One and on.\nTwo.')
  })

  test.each([
    ['a list that miscounts', '## x\n\nWhat.\n\n- Causes:\n  1. One.\n  3. Two.\n', "x.md: 'x' miscounts at:   3. Two."],
    ['a key explained twice', good + good, "x.md: 'gap' is explained twice"],
    ['a part given twice', `${good}- Source: the format\n`, "x.md: 'gap' has 'Source' twice"],
    ['a section that does not begin with what it is', '## gap\n\n- Source: the format\n', "x.md: 'gap' does not say what it is"],
    ['loose text after the parts', `${good}Loose.\n`, "x.md: 'gap' has a line of no known form: Loose."],
    ['a bullet without a label', '## gap\n\nWhat.\n\n- loose\n', "x.md: 'gap' has a line of no known form: - loose"],
  ])('%s', (_, text, message) => {
    expect(() => parseSections(text, 'x.md')).toThrow(message)
  })
})
