// Hover as it is read: the word under the pointer, then what is said of it.
import { describe, expect, test } from 'vitest'
import { hover } from '../support/render.ts'
import { inShop } from './example-shop.ts'

const HEAD = 'profile: example\nstock: film\nprinter: bay-1\nmode: standard\n'

/** The hovered word and what follows, but for the setting's page at the end, which a test of the pages reads. */
async function beginning(fixture: string, paragraphs = 2): Promise<string> {
  const [word, ...rest] = (await hover(fixture)).split('\n')
  return [word, ...rest.join('\n').split('\n\n').slice(0, paragraphs)].join('\n')
}

describe('a quantity', () => {
  const other = async (line: string, units = 'metric'): Promise<string | undefined> => {
    const shop = inShop(`${HEAD}${line}\n`).replace('shop: Tern Quay', `units: ${units}\nshop: Tern Quay`)
    return (await beginning(shop, 3)).split('\n').find((text) => text.startsWith('= '))
  }

  test('in the unit that the shop reads, where it is written in another', async () => {
    expect(await other('gap: 2$0.0 mm')).toBeUndefined()
    expect(await other('gap: 0.0$0787 in')).toBe('= 1.999 mm')
    expect(await other('drying:\n  run-out: 5$0 min')).toBeUndefined()
    expect(await other('drying:\n  run-out: 3$000 s')).toBe('= 5 min')
    expect(await other('gap: 2$0.0 mm', 'us')).toBe('= 78.74 mil')
    expect(await other('heat:\n  after: 4$05 °C', 'us')).toBe('= 113 °F')
  })

  test('what is small beside a length as so much in a metre, and no ink that way', async () => {
    expect(await other('feed:\n  correction: +0$0.12 %')).toBe('= 1.2 mm/m')
    expect(await other('colour:\n  ink-limit: 2$080 %')).toBeUndefined()
    expect(await other('feed:\n  correction: 0$0 %')).toBeUndefined()
  })

  test('in inches with a fraction, inside brackets', async () => {
    expect(
      await beginning(
        inShop(`${HEAD}feed:\n  checks:\n    - {date: 2026-03-30, commanded: 19 11/$016 in, measured: 500 mm, applied: 0 %}\n`),
      ),
    ).toMatchInlineSnapshot(`
      "*19 11/16 in*
      **feed.checks.commanded** \`19 11/16 in\`
      **It came out 0.12 mm per metre short, and asks for +0.01 % ±0.2 % (95 %).**"
    `)
  })

  test('half typed says what the setting is', async () => {
    expect(await beginning(inShop(`${HEAD}gap: 2$0 m m\n`), 1)).toMatchInlineSnapshot(`
      "*2 m m*
      **gap** \`2 m m\`"
    `)
  })
})

test('a key and its value say the same', async () => {
  const onKey = await hover(inShop(`${HEAD}ga$0p: 2.0 mm\n`))
  const onValue = await hover(inShop(`${HEAD}gap: 2.0$0 mm\n`))
  expect(onKey.split('\n').slice(1)).toEqual(onValue.split('\n').slice(1))
  expect(onKey.split('\n')[0]).toBe('*gap*')
  expect(onValue.split('\n')[0]).toBe('*2.0 mm*')
})

test('a section', async () => {
  expect(await beginning(inShop(`${HEAD}he$0at: {platen: 40 °C}\n`), 1)).toMatchInlineSnapshot(`
    "*heat*
    **heat**"
  `)
})

describe('a word of the format', () => {
  test('by its meaning', async () => {
    expect(await beginning(inShop(`${HEAD}web: {wound: $0in}\n`))).toMatchInlineSnapshot(`
      "*in*
      **web.wound** \`in\`
      **The stock does not give the core of its roll.**"
    `)
  })

  test('a fault with what to try', async () => {
    expect(await beginning(inShop(`${HEAD}observed:\n  - {date: 2026-03-30, fault: sk$0ew}\n`), 3)).toMatchInlineSnapshot(`
      "*skew*
      **observed.fault** \`skew\`
      **First: raise web.tension.**
      The web runs off to one side."
    `)
  })
})

describe('a name', () => {
  test('of a stock', async () => {
    expect(await beginning(inShop(HEAD.replace('film', 'fi$0lm')), 3)).toMatchInlineSnapshot(`
      "*film*
      **stock** \`film\`
      Gloss cast film
      family \`film-pvc-cast\` · thickness \`50 µm\` · limit \`45 °C\` · wound \`out\`"
    `)
  })

  test('of a printer', async () => {
    expect(await beginning(inShop(HEAD.replace('bay-1', 'bay-$01')), 3)).toMatchInlineSnapshot(`
      "*bay-1*
      **printer** \`bay-1\`
      Bay 1, solvent
      modes \`standard, fine\` · feed entry \`percent\` · feed step \`0.01 %\`"
    `)
  })

  test('of a mode', async () => {
    expect(await beginning(inShop(HEAD.replace('standard', '$0standard')))).toMatchInlineSnapshot(`
      "*standard*
      **mode** \`standard\`
      resolution \`720 x 360 dpi\` · passes \`8\` · carriage speed \`1000 mm/s\` · directions \`two-way\`"
    `)
  })

  test('of an instrument and a lot', async () => {
    const check = (what: string) => inShop(`${HEAD}feed:\n  checks:\n    - {date: 2026-03-30, ${what}}\n`)
    expect(await beginning(check('with: tape-$05m'))).toMatchInlineSnapshot(`
      "*tape-5m*
      **feed.checks.with** \`tape-5m\`
      kind \`tape\` · division \`1 mm\`"
    `)
    expect(await beginning(check('lot: L-$018'))).toMatchInlineSnapshot(`
      "*L-18*
      **feed.checks.lot** \`L-18\`
      received \`2026-03-20\`"
    `)
  })

  test('of an instrument that was in doubt, and of an event', async () => {
    const shop = `#- example.media.yaml
profile: example
feed: {checks: [{date: 2026-03-30, with: ta$0pe}]}
#- rollbook.yaml
shop: S
instruments: {tape: {kind: tape, errors: [{from: 2026-01-20, to: 2026-02-28, error: 0.2 mm/m}], suspect: [{from: 2026-03-01, why: fell}]}}
`
    expect(await beginning(shop)).toMatchInlineSnapshot(`
      "*tape*
      **feed.checks.with** \`tape\`
      kind \`tape\` · error \`0.2 mm/m, 2026-01-20 to 2026-02-28\` · in doubt \`fell, since 2026-03-01\`"
    `)
    const events = '#- p.printer.yaml\nprinter: p\nevents: [{date: 2026-03-20, what: feed-roller-$0changed}]\n'
    expect(await beginning(events)).toMatchInlineSnapshot(`
      "*feed-roller-changed*
      **events.what** \`feed-roller-changed\`
      The feed roller was changed. Opens feed, fine."
    `)
  })

  test('that leads nowhere', async () => {
    expect(await beginning(inShop(HEAD.replace('film', 'fi$0rm')), 1)).toMatchInlineSnapshot(`
      "*firm*
      **stock** \`firm\`"
    `)
  })
})

describe('a setting that its base gives too', () => {
  test('replaces it', async () => {
    expect(await beginning(inShop('profile: example\nbase: everyday\ngap: 1.5$0 mm\n'), 3)).toMatchInlineSnapshot(`
      "*1.5 mm*
      **gap** \`1.5 mm\`
      **The drops fly 1.45 mm.**
      Replaces \`2.0 mm\` of its base \`everyday\`."
    `)
  })

  test('repeats it, in another unit', async () => {
    expect(await beginning(inShop('profile: example\nbase: everyday\nheat: {platen: 104 $0°F}\n'), 3)).toMatchInlineSnapshot(`
      "*104 °F*
      **heat.platen** \`104 °F\`
      = 40 °C
      The same as in its base \`everyday\`: it could be left out here."
    `)
  })

  test('is not repeated by its own name', async () => {
    expect(await hover(inShop('profile: exa$0mple\nbase: everyday\n'))).not.toContain('Replaces')
  })
})

test('what a person wrote is shown as it stands', async () => {
  const shown = await beginning(inShop(`${HEAD}title: "**bold** \`code\` <b> | [x](y)$0"\n`), 1)
  expect(shown).toMatchInlineSnapshot(`
    "*"**bold** \`code\` <b> | [x](y)"*
    **title** \`\` **bold** \`code\` <b> | [x](y) \`\`"
  `)
})

test.each([
  ['between settings', `${HEAD}\n$0\n`],
  ['on a comment', `${HEAD}# a re$0mark\n`],
  ['on an unknown key', `${HEAD}unkn$0own: 1\n`],
  ['in free notes', `${HEAD}notes: {anything: at a$0ll}\n`],
])('nothing %s', async (_, text) => {
  expect(await hover(inShop(text))).toBe('nothing')
})
