// Recording what was measured: the reading alone is left to type, and day, instrument, lot and state are there to be taken or changed.
import { describe, expect, test } from 'vitest'
import { applyEdits, editsOf, withoutStops } from '../../server/src/base/text-edit.ts'
import { LiveDocument } from '../../server/src/model/document.ts'
import { flawOf } from '../../server/src/model/states.ts'
import { cursorOf, openFixture, parseFixture } from '../support/fixture.ts'
import { actionTitles, afterAction, completions } from '../support/render.ts'
import { inShop } from './example-shop.ts'

const TODAY = '2026-03-31'
const NOW = 'stock: film, printer: bay-1, mode: standard, gap: 2.0 mm, suction: 3, web.tension: 2, heat.platen: 40 °C'
const CHECK =
  '    - { date: 2026-03-20, commanded: 1000 mm, measured: 999 mm, applied: 0 %, with: tape-5m, web: 23 °C, lot: L-17 }\n'

const profile = (rest = ''): string => `profile: example
stock: film
printer: bay-1
mode: standard
gap: 2.0 mm
feed:
  correction: 0 %
  checks:
${CHECK}heat: { platen: 40 °C }
suction: 3
web: { tension: 2 }
${rest}`

/** `$3:text` as a snippet spells it. */
const stops = (text: string): string => text.replace(/\$(\d+)([:|])(.*)$/, '$${$1$2$3}')

const ADD = 'Record a feed check of today'
const addedTo = async (text: string, title: string | RegExp = ADD): Promise<string> => {
  const before = text.split('\n')
  const after = await afterAction(inShop(text.replace('feed:', '$0feed:')), title, TODAY)
  return after
    .split('\n')
    .filter((line) => !before.includes(line))
    .join('\n')
}

describe('a feed check', () => {
  test('with a state written beside it, and everything to choose from', async () => {
    expect(await addedTo(profile())).toMatchInlineSnapshot(`
      "    - { date: \${7|2026-03-31,2026-03-30|}, commanded: \${1:1000 mm}, measured: \${2} mm, applied: \${3:0 %}, with: \${4|tape-5m,steel-rule-1m|}, web: \${5} °C, lot: \${6|L-17,L-18|}, under: \${8|s3w3i,another-setting-ran|} }$0
      conditions:
        s3w3i: { from: profile, stock: film, printer: bay-1, mode: standard, gap: 2.0 mm, suction: 3, web.tension: 2, heat.platen: 40 °C \\}"
    `)
  })

  test('under the state that is there', async () => {
    expect(await addedTo(profile(`conditions:\n  as-set: { from: profile, ${NOW} }\n`))).toMatchInlineSnapshot(
      `"    - { date: \${7|2026-03-31,2026-03-30|}, commanded: \${1:1000 mm}, measured: \${2} mm, applied: \${3:0 %}, with: \${4|tape-5m,steel-rule-1m|}, web: \${5} °C, lot: \${6|L-17,L-18|}, under: \${8|as-set,another-setting-ran|} }"`,
    )
  })

  test('with what the machine holds by the newest check, where the profile was changed since', async () => {
    const text = profile().replace('correction: 0 %', 'correction: +0.10 %').replace('feed:', '$0feed:')
    const after = await afterAction(
      inShop(text).replace('entry: percent', 'entry: measured-length, pattern-lengths: [1000 mm]'),
      ADD,
      TODAY,
    )
    expect(after).toContain(stops('applied: $3:0.000 %'))
  })

  test('of the lot that was opened since, and of no lot that is used up', async () => {
    const shop = inShop(profile().replace('feed:', '$0feed:')).replace(
      '{lot: L-18, received: 2026-03-20}',
      '{lot: L-18, opened: 2026-03-28}\n  - {lot: L-16, finished: 2026-02-01}',
    )
    expect(await afterAction(shop, ADD, TODAY)).toContain(stops('lot: $6|L-18,L-17|'))
  })

  test('where machine and file differ it is asked which ran', async () => {
    const text = profile('keyed: [{ date: 2026-03-28, suction: 1 }]\n')
    expect(
      (await actionTitles(inShop(text.replace('feed:', '$0feed:')), TODAY)).filter((title) => title.startsWith(ADD)),
    ).toMatchInlineSnapshot(`
      [
        "Record a feed check of today",
        "Record a feed check of today, as read back 2026-03-28",
        "Record a feed check of today, as in this profile",
      ]
    `)
    expect(await addedTo(text)).toMatchInlineSnapshot(
      `"    - { date: \${7|2026-03-31,2026-03-30|}, commanded: \${1:1000 mm}, measured: \${2} mm, applied: \${3:0 %}, with: \${4|tape-5m,steel-rule-1m|}, web: \${5} °C, lot: \${6|L-17,L-18|}, under: \${8} }"`,
    )
    expect(await addedTo(text, /as read back/)).toMatchInlineSnapshot(`
      "    - { date: \${7|2026-03-31,2026-03-30|}, commanded: \${1:1000 mm}, measured: \${2} mm, applied: \${3:0 %}, with: \${4|tape-5m,steel-rule-1m|}, web: \${5} °C, lot: \${6|L-17,L-18|}, under: \${8:s6f1y} }$0
      conditions:
        s6f1y: { from: read-back, stock: film, printer: bay-1, mode: standard, gap: 2.0 mm, suction: 1, web.tension: 2, heat.platen: 40 °C \\}"
    `)
    expect(await addedTo(text, /as in this profile/)).toMatchInlineSnapshot(`
      "    - { date: \${7|2026-03-31,2026-03-30|}, commanded: \${1:1000 mm}, measured: \${2} mm, applied: \${3:0 %}, with: \${4|tape-5m,steel-rule-1m|}, web: \${5} °C, lot: \${6|L-17,L-18|}, under: \${8:s3w3i} }$0
      conditions:
        s3w3i: { from: profile, stock: film, printer: bay-1, mode: standard, gap: 2.0 mm, suction: 3, web.tension: 2, heat.platen: 40 °C \\}"
    `)
  })

  test('without a mode there is no state, and none is asked for', async () => {
    expect(await addedTo(profile().replace('mode: standard\n', ''))).not.toContain('under')
  })

  test('what is written reads back as a check under a state that holds', async () => {
    for (const text of [
      profile(),
      profile('notes: none\n'),
      profile().replace(/heat:[\s\S]*$/, ''),
      profile().replaceAll('\n', '\r\n'),
    ]) {
      const source = inShop('').replace('#- example.media.yaml\n\n', `#- example.media.yaml\n${text.replace('feed:', '$0feed:')}`)
      const after = withoutStops(await afterAction(source, ADD, TODAY))
        .replace('measured:  mm', 'measured: 999 mm')
        .replace('web:  °C', 'web: 23 °C')
      const document = new LiveDocument('a', 'media', after)
      expect(document.tree.problems, after).toEqual([])
      const own = document.content!
      const added = own.feed!.checks!.items.at(-1)!
      expect(added.date?.value).toBe(TODAY)
      expect(flawOf({ own }, added.under!.value), after).toBeUndefined()
    }
  })
})

describe('the state, where it is named', () => {
  const named = async (rest: string, label: string): Promise<string> => {
    const source = inShop(profile(rest).replace('lot: L-17 }', 'lot: L-17, under: $0 }'))
    const fixture = parseFixture(source)
    const analysis = await openFixture(fixture, TODAY)
    const items = analysis.completions(fixture.file, cursorOf(fixture))
    const item = items.find((one) => one.label === label)
    if (!item) return `offered: ${items.map((one) => `${one.label} (${one.detail})`).join(' | ')}`
    const after = applyEdits(fixture.text, editsOf(fixture.text, [item.edit, ...(item.also ?? [])]))
    return after
      .split('\n')
      .filter((line) => !fixture.text.split('\n').includes(line))
      .join('\n')
  }

  test('all that may have run', async () => {
    expect(await named('keyed: [{ date: 2026-03-28, suction: 1 }]\n', 'nothing')).toMatchInlineSnapshot(
      `"offered: as read back 2026-03-28 (writes s6f1y, suction 1 instead of 3) | as in this profile (writes s3w3i, as today) | another setting ran: write a new state as said (writes s98gv with today's settings: change them there)"`,
    )
    expect(await named(`conditions:\n  as-set: { from: profile, ${NOW} }\n`, 'nothing')).toMatchInlineSnapshot(
      `"offered: as-set (as today) | another setting ran: write a new state as said (writes s98gv with today's settings: change them there)"`,
    )
  })

  test('another setting ran: a state to be changed', async () => {
    expect(await named('', 'another setting ran: write a new state as said')).toMatchInlineSnapshot(`
      "    - { date: 2026-03-20, commanded: 1000 mm, measured: 999 mm, applied: 0 %, with: tape-5m, web: 23 °C, lot: L-17, under: s98gv }
      conditions:
        s98gv: { from: said, stock: film, printer: bay-1, mode: standard, gap: 2.0 mm, suction: 3, web.tension: 2, heat.platen: 40 °C }"
    `)
  })
})

test('a heat reading has its state too', async () => {
  const { after } = await completions(
    inShop(`${profile().replace('heat: { platen: 40 °C }', 'heat:\n  platen: 40 °C\n  readings:\n    - $0')}`),
    'a heat reading at the platen, set to 40 °C',
  )
  expect(
    after
      .split('\n')
      .filter((line) => /zone|conditions|from:/.test(line))
      .join('\n'),
  ).toMatchInlineSnapshot(`
    "    - { date: \${4|2026-03-31,2026-03-30|}, zone: \${2:platen}, set: \${3:40 °C}, web: \${1} °C, under: \${5|s3w3i,another-setting-ran|} }
    conditions:
      s3w3i: { from: profile, stock: film, printer: bay-1, mode: standard, gap: 2.0 mm, suction: 3, web.tension: 2, heat.platen: 40 °C }"
  `)
})

describe('evidence that tells no state', () => {
  const text = `${profile()}`.replace('checks:\n', `checks:\n${CHECK.replace('03-20', '03-02')}`)

  test('is put under the settings as they are today entry by entry, and nothing else is touched', async () => {
    const source = inShop(text.replace('date: 2026-03-02', 'date: 2026-$003-02'))
    expect((await actionTitles(source, TODAY)).filter((title) => title.startsWith('Put'))).toMatchInlineSnapshot(`
      [
        "Put feed check 1 of 2026-03-02 under the settings as they are today",
        "Put feed check 2 of 2026-03-20 under the settings as they are today",
      ]
    `)
    const after = await afterAction(source, /^Put feed check 2/, TODAY)
    expect(after).toBe(
      `${text.replace('lot: L-17 }\nheat', 'lot: L-17, under: s3w3i }\nheat')}conditions:\n  s3w3i: { from: profile, ${NOW} }\n`,
    )
  })

  test('of no printer cannot be put under anything, which is said once', async () => {
    const source = inShop(text.replace('printer: bay-1\n', '').replace('date: 2026-03-02', 'date: 2026-$003-02'))
    expect((await actionTitles(source, TODAY)).filter((title) => title.startsWith('Put'))).toMatchInlineSnapshot(`
      [
        "Put feed check 1 of 2026-03-02 under the settings as they are today [refused: This profile names no printer, so what its settings mean cannot be told.]",
      ]
    `)
  })

  test('a reading stays where the list of states is there, empty or filled', async () => {
    for (const [states, now] of [
      ['conditions:\n', `conditions: { s3w3i: { from: profile, ${NOW} } }\n`],
      [
        'conditions: { morning: { from: said } }\n',
        `conditions: { morning: { from: said }, s3w3i: { from: profile, ${NOW} } }\n`,
      ],
      [
        'conditions:\n  # of last winter\n  summer: { from: said }\n  winter: { from: said }\n',
        `conditions:\n  # of last winter\n  s3w3i: { from: profile, ${NOW} }\n  summer: { from: said }\n  winter: { from: said }\n`,
      ],
      [
        'conditions:\n  morning: { from: said }\n  summer: { from: said }\n',
        `conditions:\n  morning: { from: said }\n  s3w3i: { from: profile, ${NOW} }\n  summer: { from: said }\n`,
      ],
      [
        'conditions:\n  morning: { from: said } # J.\n',
        `conditions:\n  morning: { from: said } # J.\n  s3w3i: { from: profile, ${NOW} }\n`,
      ],
    ]) {
      const source = inShop(`${text}${states}`.replace('date: 2026-03-02', 'date: 2026-$003-02'))
      expect(await afterAction(source, /^Put feed check 1/, TODAY)).toBe(
        `${text.replace('lot: L-17 }', 'lot: L-17, under: s3w3i }')}${now}`,
      )
    }
  })
})
