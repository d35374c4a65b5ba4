// States of the machine: what one says whatever it is written in, the name that tells of it, where it differs from today by meaning, and the setup as
// it was in it.
import { describe, expect, test } from 'vitest'
import { Derived, Runtime } from '../../server/src/base/recorder.ts'
import { Recorded } from '../../server/src/model/recorded-setup.ts'
import type { Setup } from '../../server/src/model/setup.ts'
import {
  contentOf,
  differencesOf,
  equalState,
  isMadeName,
  nameByContent,
  nameOf,
  STATE_SETTINGS,
  settingsNow,
  settingsOfPrinter,
  statesOf,
  underState,
  valuesOf,
} from '../../server/src/model/states.ts'
import { openFixture, parseFixture } from '../support/fixture.ts'
import { setupFrom } from '../support/setups.ts'

const MACHINE = `#- bay-1.printer.yaml
printer: bay-1
modes:
  banner-4-pass: { resolution: 720 x 360 dpi, passes: 4 }
  fine: { resolution: 720 x 720 dpi, passes: 16 }
carriage: { gaps: [2.0 mm, 2.5 mm] }
suction: { levels: { 2: 200 Pa, 3: 320 Pa } }
heaters: { platen: { length: 200 mm, range: [30 °C, 50 °C], step: 1 K } }
web: { tension-levels: { 2: 15 N/m, 3: 25 N/m }, speed-range: [20 mm/s, 120 mm/s] }
`

const profile = (
  states: string,
  settings = 'suction: 3\nheat: { platen: 42 °C }\nweb: { tension: 3, speed: 60 mm/s }\n',
): string =>
  `#- a.media.yaml
profile: a
stock: film
printer: bay-1
mode: banner-4-pass
gap: 2.0 mm
${settings}conditions:
${states}${MACHINE}`

const FULL = 'from: profile, stock: film, printer: bay-1, mode: banner-4-pass, gap: 2.0 mm, suction: 3'
const REST = 'web.tension: 3, web.speed: 60 mm/s, heat.platen: 42 °C'

const stateOf = (setup: Setup, name: string) => statesOf(setup).get(name)!

describe('content', () => {
  test('is the same in other units, spaces, quotes and another order', async () => {
    const setup = await setupFrom(
      profile(`  one: { ${FULL}, ${REST} }
  two:
    heat.platen: 107.6 °F
    web.speed: 3.6 m/min
    web.tension:    3
    suction: 3
    gap: 0.2 cm
    mode: 'banner-4-pass'
    printer: bay-1
    stock: film
    from: profile
`),
    )
    expect(nameByContent(stateOf(setup, 'two'))).toBe(nameByContent(stateOf(setup, 'one')))
    expect(differencesOf(setup, stateOf(setup, 'two'))).toEqual([])
    expect(equalState(setup, valuesOf(stateOf(setup, 'two')), 'profile')).toBe('one')
    expect(equalState(setup, valuesOf(stateOf(setup, 'two')), 'read-back')).toBeUndefined()
  })

  test('nothing is nothing, whatever it was converted from', async () => {
    const at = (zero: string) => `{ ${FULL}, heat.platen: ${zero} }`
    const setup = await setupFrom(profile(`  one: ${at('0 °C')}\n  two: ${at('32 °F')}\n  three: ${at('-0 °C')}\n`))
    const [one, two, three] = [...statesOf(setup).values()].map(nameByContent)
    expect([two, three]).toEqual([one, one])
  })

  test('is another with any other value, with one less, and when another says so', async () => {
    const variants = [
      `${FULL}, ${REST}`,
      `${FULL}, ${REST.replace('42', '43')}`,
      `${FULL}, web.speed: 60 mm/s, heat.platen: 42 °C`,
      `${FULL.replace('profile', 'read-back')}, ${REST}`,
      `${FULL.replace('suction: 3', 'suction: 320 Pa')}, ${REST}`,
      `${FULL}, ${REST}, drying.pause: 0 s`,
    ]
    const setup = await setupFrom(profile(variants.map((state, n) => `  my-${'abcdef'[n]}: { ${state} }\n`).join('')))
    const names = [...statesOf(setup).values()].map(nameByContent)
    expect(new Set(names).size).toBe(variants.length)
    expect(names.every((name) => name !== undefined && isMadeName(name))).toBe(true)
  })

  test('names every setting that a state can hold, in the order of the format', () => {
    const values = new Map([...STATE_SETTINGS].reverse().map(({ key }, n) => [key, n] as const))
    expect(contentOf(values, 'said')).toBe(
      `from=said;${STATE_SETTINGS.map(({ key }, n) => `${key}=${STATE_SETTINGS.length - 1 - n}`).join(';')}`,
    )
  })
})

describe('names', () => {
  // FNV-1a, 32 bits: 'a' gives e40c292c and 'foobar' bf9cf968 (IETF draft-eastlake-fnv, appendix C). Of these numbers the last digit, and three signs
  // to the base of 36 of what is left of it.
  test('come from the published sum', () => {
    expect(nameOf('a')).toBe('s0g7y')
    expect(nameOf('foobar')).toBe('s0alg')
  })

  test('are made ones by their form alone', () => {
    expect(['s7f2c', 's0000', 's7f2', 's7f2cd', 'sf27c', 'morning', 's7F2c'].filter(isMadeName)).toEqual(['s7f2c', 's0000'])
  })

  test('nobody can tell without a source', async () => {
    const setup = await setupFrom(profile('  one: { stock: film, printer: bay-1, mode: fine }\n'))
    expect(nameByContent(stateOf(setup, 'one'))).toBeUndefined()
  })
})

describe('differences from today', () => {
  const told = async (state: string, settings?: string) => {
    const setup = await setupFrom(profile(`  one: { ${state} }\n`, settings))
    return differencesOf(setup, stateOf(setup, 'one')).map(({ key, kind }) => `${key} ${kind}`)
  }

  test('none where a level and a pressure mean the same', async () => {
    expect(await told(`${FULL.replace('suction: 3', 'suction: 3.2 mbar')}, ${REST.replace('3', '0.25 N/cm')}`)).toEqual([])
  })

  test('by meaning, in the order of the format', async () => {
    expect(
      await told(`${FULL.replace('suction: 3', 'suction: 2').replace('banner-4-pass', 'fine')}, ${REST.replace('42', '40')}`),
    ).toEqual(['mode differs', 'suction differs', 'heat.platen differs'])
  })

  test('what the state lacks and the printer has is not known then, never as today', async () => {
    expect(await told('from: profile, stock: film, printer: bay-1, mode: banner-4-pass')).toEqual([
      'gap not-known-then',
      'suction not-known-then',
      'web.tension not-known-then',
      'web.speed not-known-then',
      'heat.platen not-known-then',
    ])
  })

  test('levels and modes that the printer no longer has are gone', async () => {
    expect(await told(`${FULL.replace('suction: 3', 'suction: 7').replace('banner-4-pass', 'quick')}, ${REST}`)).toEqual([
      'mode gone',
      'suction gone',
    ])
  })

  test('what today does not say is not known now', async () => {
    expect(await told(`${FULL}, ${REST}`, 'suction: 3\nheat: { platen: 42 °C }\n')).toEqual([
      'web.tension not-known-now',
      'web.speed not-known-now',
    ])
  })

  test('another printer and stock differ', async () => {
    expect(await told(`${FULL.replace('film', 'banner').replace('bay-1', 'bay-2')}, ${REST}`)).toEqual([
      'stock differs',
      'printer differs',
    ])
  })
})

test('a printer has the settings that its document tells of, and what every print has', async () => {
  const setup = await setupFrom(profile(`  one: { ${FULL}, ${REST} }\n`))
  const keys = settingsOfPrinter(setup.printer).map(({ key }) => key)
  expect(keys).toEqual(['stock', 'printer', 'mode', 'gap', 'suction', 'web.tension', 'web.speed', 'heat.platen'])
  expect([...settingsNow(setup).keys()]).toEqual(keys)
  expect(settingsOfPrinter(undefined)).toEqual(STATE_SETTINGS)
})

describe('the setup under a state', () => {
  test('has its settings, hides what it lacks, and leaves all else', async () => {
    const setup = await setupFrom(
      profile(
        '  one: { from: said, stock: film, printer: bay-1, mode: fine, suction: 2, heat.after: 48 °C }\n',
        'suction: 3\nheat: { platen: 42 °C, fan: true }\nfeed: { correction: +0.12 % }\n',
      ),
    )
    const then = underState(setup, stateOf(setup, 'one'))
    expect(then.profile.suction?.value).toBe(2)
    expect(then.profile.gap).toBeUndefined()
    expect(then.profile.heat?.platen).toBeUndefined()
    expect(then.profile.heat?.after?.value).toMatchObject({ si: 48 })
    expect(then.profile.heat?.fan?.value).toBe(true)
    expect(then.profile.web?.tension).toBeUndefined()
    expect(then.profile.feed?.correction?.value).toMatchObject({ si: 0.0012 })
    expect(then.mode?.passes?.value).toBe(16)
    expect(then.printer).toBe(setup.printer)
    expect(then.today).toBe(setup.today)
    expect(setup.profile.suction?.value).toBe(3)
  })

  test('notes what is read of it, and of today what no state replaces', async () => {
    const fixture = parseFixture(
      profile('  one: { from: said, stock: film, printer: bay-1, mode: fine, suction: 2 }\n', 'suction: 3\nweb: { wound: in }\n'),
    )
    const { workspace } = await openFixture(fixture)
    const document = workspace.document(fixture.file)!
    const shelf = workspace.shelf(fixture.file)
    const recorded = new Recorded(new Runtime(), document, {
      setup: workspace.setup(document, shelf),
      shelf,
      today: '2026-03-31',
    })
    const { setup } = recorded
    const notes = (read: (then: Setup) => unknown): readonly string[] => {
      const made = new Derived(recorded.runtime, 'made', () => read(underState(setup, stateOf(setup, 'one'))))
      made.get()
      return made.rests.map(({ name }) => name)
    }
    const suction = notes(({ profile }) => profile.suction?.value)
    expect(suction).toEqual(expect.arrayContaining(['own conditions']))
    expect(suction.filter((name) => name.startsWith('profile suction'))).toEqual([])
    expect(notes(({ profile }) => profile.web?.wound?.value)).toEqual(expect.arrayContaining(['profile web.wound']))
  })
})
