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
      before enumMember.declaration
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

test('a setting that replaces that of the base', async () => {
  expect(
    await told(inShop('profile: example\nbase: everyday\ngap: 2.0 mm\nheat: { platen: 41 °C, after: 40 °C }\n')),
  ).toMatchInlineSnapshot(`
      "example class.declaration
      everyday class
      gap property.overriding
      2.0 number
      mm unit
      platen property.overriding
      41 number
      °C unit
      40 number
      °C unit"
    `)
})

test('of some lines, those alone', async () => {
  expect(await told('profile: e\n$0gap: 2 mm$0\nslot: 1\ncarriage: { strikes: 1 }\n')).toBe('2 number\nmm unit')
})
