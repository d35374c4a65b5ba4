// Completion as it is read on the screen: what is offered at the cursor, and the text after taking one.
import { describe, expect, test } from 'vitest'
import { DOCUMENT_KINDS, keysOf, schemaAt } from '../../server/src/schema/schema.ts'
import { completions } from '../support/render.ts'
import { inShop, lastInShop, SHOP } from './example-shop.ts'

const HEAD = 'profile: example\nstock: film\nprinter: bay-1\nmode: standard\n'

/** The labels, at most the first `most`, and the document after accepting one. */
async function offered(fixture: string, accept?: string, most = 12): Promise<string> {
  const { labels, after } = await completions(fixture, accept)
  const more = labels.length > most ? [`… ${labels.length - most} more`] : []
  return `${[...labels.slice(0, most), ...more].join(' | ') || 'nothing'}\n---\n${after}`
}

const labels = async (fixture: string): Promise<string> => (await completions(fixture)).labels.join(' | ') || 'nothing'

describe('keys', () => {
  test('of an empty document, with the whole of it first', async () => {
    expect(await offered(lastInShop('$0'))).toMatchInlineSnapshot(`
      "new profile | profile | title | base | stock | printer | mode | slot | gap | feed | alignment | heat | … 11 more
      ---
      profile: example
      stock: \${1}
      printer: \${2}
      mode: \${3}
      "
    `)
  })

  test('that are there already are left out', async () => {
    expect(await labels(inShop(`${HEAD}gap: 2 mm\n$0`))).toMatchInlineSnapshot(
      `"title | base | slot | feed | alignment | heat | drying | suction | carriage | web | colour | observed | keyed | conditions | retired | replaced-by | notes"`,
    )
  })

  test('of a section, half typed', async () => {
    expect(await offered(lastInShop(`${HEAD}heat:\n  pl$0`), 'platen')).toMatchInlineSnapshot(`
      "before | platen | after | fan | readings
      ---
      profile: example
      stock: film
      printer: bay-1
      mode: standard
      heat:
        platen: "
    `)
  })

  test('that open a section or a list go on below', async () => {
    expect(await offered(lastInShop('profile: example\nfe$0'), 'feed', 0)).toMatchInlineSnapshot(`
      "… 21 more
      ---
      profile: example
      feed:
        "
    `)
    expect(await offered(lastInShop('feed:\n  ch$0'), 'checks', 0)).toMatchInlineSnapshot(`
      "… 3 more
      ---
      feed:
        checks:
          - "
    `)
  })

  test('in a bracket', async () => {
    expect(await offered(inShop(`${HEAD}heat: {platen: 38 °C, $0}\n`), 'fan')).toMatchInlineSnapshot(`
      "before | after | fan | readings
      ---
      profile: example
      stock: film
      printer: bay-1
      mode: standard
      heat: {platen: 38 °C, fan: }
      "
    `)
  })

  test('before a colon keep it', async () => {
    expect(await offered(inShop(`${HEAD}he$0: {platen: 38 °C}\n`), 'heat', 0)).toMatchInlineSnapshot(`
      "… 18 more
      ---
      profile: example
      stock: film
      printer: bay-1
      mode: standard
      heat: {platen: 38 °C}
      "
    `)
  })

  test('of a check, on lines of its own, in the second item of a list', async () => {
    expect(
      await offered(
        inShop(
          `${HEAD}feed:\n  checks:\n    - {date: 2026-03-01, commanded: 2 m, measured: 2 m, applied: 0 %}\n    - date: 2026-03-30\n      me$0\n`,
        ),
        'measured',
      ),
    ).toMatchInlineSnapshot(`
      "commanded | measured | applied | with | web | tensioned | climate | lot | by | under | same-print | note | … 1 more
      ---
      profile: example
      stock: film
      printer: bay-1
      mode: standard
      feed:
        checks:
          - {date: 2026-03-01, commanded: 2 m, measured: 2 m, applied: 0 %}
          - date: 2026-03-30
            measured: 
      "
    `)
  })

  test('of a table are the names that the printer has', async () => {
    expect(await labels(inShop(`${HEAD}alignment:\n  one-way: {cyan: 1, $0}\n`))).toMatchInlineSnapshot(
      `"magenta | yellow | black"`,
    )
  })

  test('behind a base, with CRLF, in a text that is broken elsewhere', async () => {
    expect(await labels(inShop('base: everyday\r\nweb:\r\n  $0\r\nheat: {platen\r\n'))).toMatchInlineSnapshot(
      `"wound | tension | slack-watch | speed"`,
    )
  })
})

describe('values', () => {
  test('that name other documents', async () => {
    expect(await offered(inShop('profile: example\nstock: $0\n'), 'film')).toMatchInlineSnapshot(`
      "canvas | film
      ---
      profile: example
      stock: film
      "
    `)
    expect(await labels(inShop('profile: example\nprinter: $0\n'))).toMatchInlineSnapshot(`"bay-1"`)
    expect(await labels(inShop('profile: example\nbase: $0\n'))).toMatchInlineSnapshot(`"everyday"`)
  })

  test('behind a bare colon get their space', async () => {
    expect(await offered(inShop('profile: example\nstock:$0\n'), 'film', 0)).toMatchInlineSnapshot(`
      "… 2 more
      ---
      profile: example
      stock: film
      "
    `)
  })

  test('the name of the file for its id', async () => {
    expect(await offered(inShop('profile: $0\n'))).toMatchInlineSnapshot(`
      "example
      ---
      profile: example
      "
    `)
  })

  test('modes, instruments and lots', async () => {
    expect(await labels(inShop('profile: example\nprinter: bay-1\nmode: $0\n'))).toMatchInlineSnapshot(`"standard | fine"`)
    expect(await labels(inShop(`${HEAD}feed: {checks: [{with: $0}]}\n`))).toMatchInlineSnapshot(`"steel-rule-1m | tape-5m"`)
    expect(await labels(inShop(`${HEAD}feed: {checks: [{lot: $0}]}\n`))).toMatchInlineSnapshot(`"L-17 | L-18"`)
  })

  test('the gaps and levels of the printer', async () => {
    expect(await labels(inShop(`${HEAD}gap: $0\n`))).toMatchInlineSnapshot(`"1.5 mm | 2.0 mm | 2.5 mm"`)
    expect(await labels(inShop(`${HEAD}suction: $0\n`))).toMatchInlineSnapshot(`"1 | 2 | 3"`)
    expect(await labels(inShop(`${HEAD}web:\n  tension: $0\n`))).toMatchInlineSnapshot(`"1 | 2"`)
  })

  test('the ways to watch for slack that the printer has, and no others', async () => {
    expect(await labels(inShop(`${HEAD}web:\n  slack-watch: $0\n`))).toMatchInlineSnapshot(
      `"never | start-of-job | at-intervals | always"`,
    )
    const printer = '#- eye.printer.yaml\nprinter: eye\nweb: {slack-watch: [never, at-intervals], slack-interval: 2 m}\n'
    const profile = (rest: string) => `#- x.media.yaml\nprofile: x\nprinter: eye\n${rest}\n${printer}`
    expect(await labels(profile('web:\n  slack-watch: $0'))).toMatchInlineSnapshot(`"never | at-intervals"`)
    expect(await labels(profile('web:\n  slack-watch: a$0'))).toMatchInlineSnapshot(`"never | at-intervals"`)
    expect(await labels(profile('web:\n  slack-watch: never$0'))).toBe('nothing')
    expect(await labels(profile('keyed: [{date: 2026-03-20, slack-watch: $0}]'))).toMatchInlineSnapshot(`"never | at-intervals"`)
  })

  test('units behind a number', async () => {
    expect(await offered(inShop(`${HEAD}gap: 2.5$0\n`), '2.5 mm')).toMatchInlineSnapshot(`
      "2.5 mm | 2.5 m | 2.5 cm | 2.5 µm | 2.5 in | 2.5 ft | 2.5 mil
      ---
      profile: example
      stock: film
      printer: bay-1
      mode: standard
      gap: 2.5 mm
      "
    `)
    expect(
      await offered(inShop(`${HEAD}feed:\n  checks:\n    - {commanded: 19 11/16$0, measured: 1 m}\n`), '19 11/16 in'),
    ).toMatchInlineSnapshot(`
      "19 11/16 in
      ---
      profile: example
      stock: film
      printer: bay-1
      mode: standard
      feed:
        checks:
          - {commanded: 19 11/16 in, measured: 1 m}
      "
    `)
  })

  test('dates: today', async () => {
    expect(await offered(inShop(`${HEAD}feed: {checks: [{date: $0}]}\n`))).toMatchInlineSnapshot(`
      "2026-03-31
      ---
      profile: example
      stock: film
      printer: bay-1
      mode: standard
      feed: {checks: [{date: 2026-03-31}]}
      "
    `)
  })

  test('words and truths', async () => {
    expect(await labels(inShop(`${HEAD}web: {wound: $0}\n`))).toMatchInlineSnapshot(`"out | in"`)
    expect(await labels(inShop(`${HEAD}heat:\n  fan: $0\n`))).toMatchInlineSnapshot(`"true | false"`)
    expect(await labels(inShop(`${HEAD}observed:\n  - {date: 2026-03-30, fault: $0}\n`))).toMatchInlineSnapshot(
      `"bands-light | bands-dark | grain | double-edges | length-short | length-long | creases | slack | skew | sticking | tears | edge-lift | cockle | dimples | head-touch | wet-at-winding | overheated-web | colour-shift"`,
    )
  })

  test('an item of a list of values replaces the whole value', async () => {
    const printer = '#- new.printer.yaml\nprinter: new\ncarriage:\n  gaps:\n    - 2$0 xm\n'
    expect(await offered(printer, '2 mm', 4)).toMatchInlineSnapshot(`
      "2 mm | 2 m | 2 cm | 2 µm | … 3 more
      ---
      printer: new
      carriage:
        gaps:
          - 2 mm
      "
    `)
  })
})

describe('a new document', () => {
  test('of a printer opens its sections', async () => {
    expect(await offered('#- new.printer.yaml\n$0', undefined, 1)).toMatchInlineSnapshot(`
      "new printer | … 18 more
      ---
      printer: new
      heads:
        \${1}
      modes:
        \${2}
      carriage:
        \${3}
      feed:
        \${4}
      "
    `)
  })

  test('of a printer gets its modes one by one', async () => {
    expect(await offered('#- new.printer.yaml\nprinter: new\nmodes:\n  $0\n')).toMatchInlineSnapshot(`
      "a new modes entry
      ---
      printer: new
      modes:
        \${1}:
          resolution: \${2}
          passes: \${3}
      "
    `)
    expect(await offered('#- rollbook.yaml\nshop: Ours\ninstruments:\n  $0\n')).toMatchInlineSnapshot(`
      "a new instruments entry
      ---
      shop: Ours
      instruments:
        \${1}:
          kind: \${2}
          division: \${3}
          limit-of-error: \${4}
      "
    `)
  })

  test('gets its first check with no number made up, at the length that the printer prints', async () => {
    const printer = SHOP.replace('entry: percent', 'entry: percent, pattern-lengths: [500 mm]')
    expect(await offered(`${SHOP}#- example.media.yaml\n${HEAD}feed:\n  checks:\n    $0`)).toMatchInlineSnapshot(`
      "a feed check
      ---
      profile: example
      stock: film
      printer: bay-1
      mode: standard
      feed:
        checks:
          - { date: \${7|2026-03-31,2026-03-30|}, commanded: \${1} mm, measured: \${2} mm, applied: \${3} %, under: \${8|s36up,another-setting-ran|} }$0
      conditions:
        s36up: { from: profile, stock: film, printer: bay-1, mode: standard \\}"
    `)
    expect(await offered(`${printer}#- example.media.yaml\n${HEAD}feed:\n  checks:\n    $0`)).toMatchInlineSnapshot(`
      "a feed check
      ---
      profile: example
      stock: film
      printer: bay-1
      mode: standard
      feed:
        checks:
          - { date: \${7|2026-03-31,2026-03-30|}, commanded: \${1:500 mm}, measured: \${2} mm, applied: \${3} %, under: \${8|s36up,another-setting-ran|} }$0
      conditions:
        s36up: { from: profile, stock: film, printer: bay-1, mode: standard \\}"
    `)
  })

  test('gets its readings with the unit behind each number to come', async () => {
    expect(await offered(lastInShop(`${HEAD}heat:\n  readings:\n    - $0`))).toMatchInlineSnapshot(`
      "a new readings entry | date | zone | set | web | under
      ---
      profile: example
      stock: film
      printer: bay-1
      mode: standard
      heat:
        readings:
          - { date: \${20|2026-03-31,2026-03-30|}, zone: \${1}, set: \${2} °C, web: \${3} °C, under: \${21|s36up,another-setting-ran|} }$0
      conditions:
        s36up: { from: profile, stock: film, printer: bay-1, mode: standard \\}"
    `)
    const us = SHOP.replace('instruments:', 'units: us\ninstruments:')
    expect(await offered(`${us}#- example.media.yaml\n${HEAD}heat:\n  readings:\n    - $0`)).toMatchInlineSnapshot(`
      "a new readings entry | date | zone | set | web | under
      ---
      profile: example
      stock: film
      printer: bay-1
      mode: standard
      heat:
        readings:
          - { date: \${20|2026-03-31,2026-03-30|}, zone: \${1}, set: \${2} °F, web: \${3} °F, under: \${21|s36up,another-setting-ran|} }$0
      conditions:
        s36up: { from: profile, stock: film, printer: bay-1, mode: standard \\}"
    `)
  })
})

describe('a number that is measured or decided', () => {
  const machine = `#- new.printer.yaml\nprinter: new\n`

  test.each([
    ['a correction', inShop(`${HEAD}feed:\n  correction:$0\n`)],
    ['a correction, behind its space', inShop(`${HEAD}feed:\n  correction: $0\n`)],
    ['a measured length', inShop(`${HEAD}feed: {checks: [{measured:$0}]}\n`)],
    ['a measured length beside its unit', inShop(`${HEAD}feed:\n  checks:\n    - { measured: $0 mm, applied: 0 % }\n`)],
    ['a heater', inShop(`${HEAD}heat:\n  before: $0\n`)],
    ['a thickness', `#- new.stock.yaml\nstock: new\nthickness: $0\n`],
    ['a step', `${machine}feed:\n  step: $0\n`],
    ['a level, of a printer that has none', inShop(`profile: example\nsuction: $0\n`)],
    ['a memory place', inShop(`${HEAD}slot: $0\n`)],
  ])('is never offered: %s', async (_, text) => {
    expect(await labels(text)).toBe('nothing')
  })

  test.each(DOCUMENT_KINDS)('no key of a %s offers a number that stands in no document', async (kind) => {
    for (const key of keysOf(kind)) {
      const path = key.split('.')
      if (path.includes('*')) continue
      const node = schemaAt(kind, path)
      const leaf = node?.kind === 'list' ? node.single : node
      if (leaf?.kind !== 'leaf' || !leaf.accepts.some((type) => type.type === 'quantity')) continue
      const lines = path.map((name, depth) => `${'  '.repeat(depth)}${name}:`).join('\n')
      const name = kind === 'shop' ? 'rollbook.yaml' : `new.${kind}.yaml`
      const known = leaf.default === undefined ? [] : [leaf.default]
      expect((await completions(`#- ${name}\n${lines} $0\n`)).labels, key).toEqual(known)
    }
  })

  test('stays the number that was typed', async () => {
    expect(await labels(inShop(`${HEAD}heat:\n  before: 40$0\n`))).toMatchInlineSnapshot(`"40 °C | 40 °F | 40 K"`)
    expect(await labels(inShop(`${HEAD}gap: 2$0\n`))).toMatchInlineSnapshot(
      `"2.0 mm | 2 mm | 2 m | 2 cm | 2 µm | 2 in | 2 ft | 2 mil"`,
    )
    expect(await labels(inShop(`${HEAD}gap: 2.$0\n`))).toMatchInlineSnapshot(`"nothing"`)
    expect(await labels(inShop(`${HEAD}feed: {checks: [{lot: L-1$0}]}\n`))).toMatchInlineSnapshot(`"nothing"`)
    expect(await labels(inShop(`${HEAD}feed: {checks: [{date: 2026-0$0}]}\n`))).toMatchInlineSnapshot(`"nothing"`)
  })
})

test.each([
  ['a number with its unit', `${HEAD}gap: 2.0 mm$0\n`],
  ['a number with its unit behind the cursor', `${HEAD}gap: 2.0$0 mm\n`],
  ['a level of the machine', `${HEAD}suction: 1$0\n`],
  ['a word', `${HEAD}web:\n  wound: out$0\n`],
  ['a truth', `${HEAD}heat:\n  fan: true$0\n`],
  ['a name', `${HEAD}feed: {checks: [{with: tape-5m$0}]}\n`],
  ['a date', `${HEAD}alignment:\n  date: 2026-03-30$0\n`],
  ['a name with a space behind it', `${HEAD}mode: fine $0\n`],
])('a whole value needs nothing more: %s', async (_, text) => {
  expect(await labels(inShop(text))).toBe('nothing')
})

test('before a whole value, what could stand in its place', async () => {
  expect(await labels(inShop(`${HEAD}gap: $02.0 mm\n`))).toMatchInlineSnapshot(`"1.5 mm | 2.5 mm"`)
})

describe('a new item', () => {
  test('a feed check, filled in from the newest one', async () => {
    const check = '    - {date: 2026-03-01, commanded: 2000 mm, measured: 1996 mm, applied: 0 %, with: tape-5m, lot: L-17}\n'
    expect(await offered(lastInShop(`${HEAD}feed:\n  correction: +0.05 %\n  checks:\n${check}    $0`))).toMatchInlineSnapshot(`
      "a feed check
      ---
      profile: example
      stock: film
      printer: bay-1
      mode: standard
      feed:
        correction: +0.05 %
        checks:
          - {date: 2026-03-01, commanded: 2000 mm, measured: 1996 mm, applied: 0 %, with: tape-5m, lot: L-17}
          - { date: \${7|2026-03-31,2026-03-30|}, commanded: \${1:2000 mm}, measured: \${2} mm, applied: \${3:+0.05 %}, with: \${4|tape-5m,steel-rule-1m|}, lot: \${6|L-17,L-18|}, under: \${8|s36up,another-setting-ran|} }$0
      conditions:
        s36up: { from: profile, stock: film, printer: bay-1, mode: standard \\}"
    `)
  })

  test('a read-back, with the settings that were read back last and none of what they were', async () => {
    const before = '  - {date: 2026-03-01, gap: 2.0 mm, correction: 998.8 mm, suction: 3, note: after the power cut}\n'
    expect(await offered(lastInShop(`${HEAD}keyed:\n${before}  $0`))).toMatchInlineSnapshot(`
      "a read-back
      ---
      profile: example
      stock: film
      printer: bay-1
      mode: standard
      keyed:
        - {date: 2026-03-01, gap: 2.0 mm, correction: 998.8 mm, suction: 3, note: after the power cut}
        - { date: \${4|2026-03-31,2026-03-30|}, gap: \${1} mm, correction: \${2} mm, suction: \${3} }"
    `)
    expect(await offered(lastInShop(`${HEAD}keyed:\n  - $0`))).toMatchInlineSnapshot(`
      "a read-back | date | by | slot | gap | correction | before | platen | after | fan | pause | run-out | … 7 more
      ---
      profile: example
      stock: film
      printer: bay-1
      mode: standard
      keyed:
        - { date: \${2|2026-03-31,2026-03-30|}, correction: \${1} % }"
    `)
  })

  test('of another list', async () => {
    expect(await offered(lastInShop(`${HEAD}observed:\n  - $0`))).toMatchInlineSnapshot(`
      "an observation | date | fault | note | settled | printed | ordered | measured | with | tolerance | tolerance-of
      ---
      profile: example
      stock: film
      printer: bay-1
      mode: standard
      observed:
        - { date: \${2|2026-03-31,2026-03-30|}, fault: \${1} }"
    `)
  })
})

test.each([
  ['a comment', `${HEAD}# no$0\n`],
  ['a block of text', `${HEAD}notes: |\n  some te$0\n`],
  ['free notes', `${HEAD}notes:\n  $0\n`],
  ['an unknown section', `${HEAD}unknown:\n  $0\n`],
  ['a line that goes on a value', `${HEAD}  $0\n`],
])('nothing in %s', async (_, text) => {
  expect(await labels(inShop(text))).toBe('nothing')
})

describe('what was done to a machine', () => {
  const printer = (events: string): string =>
    `#- bay-9.printer.yaml\nprinter: bay-9\nevents:\n  - {date: 2026-03-20, ${events}}\n`

  test('each word says what it opens', async () => {
    const { labels, documentation } = await completions(printer('what: $0'))
    expect(labels).toEqual(expect.arrayContaining(['feed-roller-changed', 'serviced']))
    expect(documentation.get('feed-roller-changed')).toBe('The feed roller was changed. Opens feed, fine.')
    expect(documentation.get('serviced')).toBe('The machine was serviced. Opens nothing by itself: say what was touched.')
  })

  test('the kinds of evidence it opens, each once', async () => {
    expect(await labels(printer('what: serviced, opens: [$0]'))).toBe('feed | fine | alignment | heat | colour')
    expect(await labels(printer('what: serviced, opens: [feed, $0, heat]'))).toBe('fine | alignment | colour')
    expect(await labels(printer('what: serviced, opens: [feed, al$0]'))).toBe('fine | alignment | heat | colour')
  })
})
