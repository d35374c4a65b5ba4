// What the words of a document are, as colours tell it: shown as type.modifier under each line.
import { describe, expect, test } from 'vitest'
import { openFixture, parseFixture } from '../support/fixture.ts'
import { inShop } from './example-shop.ts'

/** `word type.modifier`, one a line; of a selection, the words in it. */
async function told(source: string): Promise<string> {
  const fixture = parseFixture(source)
  const found = (await openFixture(fixture)).tokens(fixture.file, fixture.mark)
  return found
    .map(({ start, end, type, modifiers }) => `${fixture.text.slice(start, end)} ${[type, ...modifiers].join('.')}`)
    .join('\n')
}

const HEAD = 'profile: example\nstock: film\nprinter: bay-1\nmode: standard\n'

describe('names', () => {
  test('given, called by, and leading nowhere', async () => {
    expect(
      await told(
        inShop(`${HEAD}suction: 3
web: { tension: 9 }
alignment: { one-way: { cyan: 0, zyan: 1 } }
conditions: { before: { mode: fine } }
feed: { checks: [{ with: tape-5m, lot: L-18 }, { with: no-rule, lot: L-99 }] }
`),
      ),
    ).toMatchInlineSnapshot(`
      "example class.declaration
      film class
      bay-1 class
      standard enumMember
      3 enumMember
      9 enumMember.unresolved
      cyan enumMember
      zyan enumMember.unresolved
      before enumMember.declaration.deprecated
      fine enumMember
      tape-5m enumMember
      L-18 enumMember
      no-rule enumMember.unresolved
      L-99 enumMember.unresolved"
    `)
  })

  test('of a printer that the shop does not have, no mode is said to be missing', async () => {
    expect(await told(inShop(HEAD.replace('bay-1', 'bay-7')))).toMatchInlineSnapshot(`
      "example class.declaration
      film class
      bay-7 class.unresolved
      standard enumMember"
    `)
  })
})

test('quantities of the right dimension, with their units', async () => {
  expect(
    await told(`gap: 2.0 mm
heat: { platen: 40 mm, after: "48 °C" }
feed: { checks: [{ measured: 998.8 ±0.2 mm, applied: 0 % }] }
notes: 40 °C
drying: { pause: 2 }
`),
  ).toMatchInlineSnapshot(`
    "2.0 number
    mm unit
    48 number
    °C unit
    998.8 number
    ± operator
    0.2 number
    mm unit
    0 number
    % unit"
  `)
})

test('a setting that replaces that of the base, and one that does not', async () => {
  expect(
    await told(inShop('profile: example\nbase: everyday\ngap: 2.0 mm\nheat: { platen: 41 °C, after: 40 °C }\n')),
  ).toMatchInlineSnapshot(`
    "example class.declaration
    everyday class
    gap property.inherited
    2.0 number
    mm unit
    platen property.overriding
    41 number
    °C unit
    40 number
    °C unit"
  `)
})

test('a setting that says what the nearest base with it says, in whatever unit', async () => {
  const lowest = '#- lowest.media.yaml\nprofile: lowest\ngap: 1.5 mm\nheat: { platen: 41 °C }\n'
  expect(
    await told(
      `${inShop(
        'profile: example\nbase: everyday\ngap: 2000 µm\nheat: { platen: 104 °F, after: 40 °C }\nmode: standard\n',
      ).replace('profile: everyday\n', 'profile: everyday\nbase: lowest\n')}${lowest}`,
    ),
  ).toMatchInlineSnapshot(`
    "example class.declaration
    everyday class
    gap property.inherited
    2000 number
    µm unit
    platen property.inherited
    104 number
    °F unit
    40 number
    °C unit
    mode property.inherited
    standard enumMember"
  `)
})

describe('out of force', () => {
  /** The words that are. */
  const old = async (source: string): Promise<string> =>
    (await told(source))
      .split('\n')
      .filter((line) => line.includes('deprecated'))
      .join('\n')
  const CHECK = 'commanded: 1000 mm, measured: 999 mm, applied: 0 %, with: steel-rule-1m'
  const STATE = 'conditions: { morning: { from: said, stock: film, printer: bay-1, mode: standard, gap: 2.0 mm } }\n'
  const checked = (...checks: readonly string[]): string =>
    inShop(`${HEAD}gap: 2.0 mm\n${STATE}feed: { checks: [${checks.map((own) => `{ ${own}, ${CHECK} }`).join(', ')}] }\n`)

  test('the day of a check that is left out, too old or of no known state; not of one that holds, nor of one that is still to come', async () => {
    expect(
      await old(
        checked(
          'date: 2026-03-29, under: morning',
          'date: 2026-03-28, under: evening',
          'date: 2025-03-27, under: morning',
          'date: 2026-03-26, under: morning, skip: the web slipped',
          'date: 2026-04-25, under: morning',
        ),
      ),
    ).toMatchInlineSnapshot(`
      "2026-03-28 date.deprecated
      2025-03-27 date.deprecated
      2026-03-26 date.deprecated"
    `)
  })

  test('checks before something was done to the printer', async () => {
    const source = checked('date: 2026-03-20, under: morning', 'date: 2026-03-29, under: morning')
    const opened = source.replace(
      'suction: {levels',
      'events: [{date: 2026-03-25, what: roller-replaced, opens: [feed]}]\nsuction: {levels',
    )
    expect([await old(source), await old(opened)]).toMatchInlineSnapshot(`
      [
        "",
        "2026-03-20 date.deprecated",
      ]
    `)
  })

  test('fine picks, an alignment, a heat reading, a colour measurement and a read-back, each by its own area', async () => {
    expect(
      await old(
        inShop(`${HEAD}gap: 2.0 mm
heat: { platen: 41 °C, readings: [{ date: 2026-03-21, zone: platen, set: 40 °C, web: 38 °C, under: evening }] }
alignment: { date: 2026-03-22, under: evening, one-way: { cyan: 0 }, two-way: { cyan: 0 } }
colour: { measured: [{ date: 2026-03-23, file: a.txt, under: evening }] }
keyed: [{ date: 2026-03-24, correction: 0.1 % }]
${STATE.replace(' } }', ', heat.platen: 41 °C } }')}feed: { correction: 0 %, fine: { date: 2026-03-20, under: evening, applied: 0 %, picks: [0] }, checks: [{ date: 2026-03-25, under: morning, ${CHECK} }] }
`),
      ),
    ).toMatchInlineSnapshot(`
      "2026-03-21 date.deprecated
      2026-03-22 date.deprecated
      2026-03-23 date.deprecated
      2026-03-24 date.deprecated
      2026-03-20 date.deprecated"
    `)
  })

  test('a stock that is retired, wherever it is named; not one that will be', async () => {
    const retired = (day: string): string => inShop(HEAD).replace('stock: film\ntitle', `stock: film\nretired: ${day}\ntitle`)
    expect([await old(retired('2026-03-31')), await old(retired('2026-04-01'))]).toMatchInlineSnapshot(`
      [
        "film class.deprecated",
        "",
      ]
    `)
  })

  test('a state that nothing was made under', async () => {
    expect(await old(inShop(`${HEAD}${STATE}`))).toMatchInlineSnapshot(`"morning enumMember.declaration.deprecated"`)
  })
})

test('of some lines, those alone', async () => {
  expect(await told('profile: e\n$0gap: 2 mm$0\nslot: 1\ncarriage: { strikes: 1 }\n')).toBe('2 number\nmm unit')
})
