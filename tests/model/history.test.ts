// What machines and instruments went through, asked by the day.
import { beforeAll, describe, expect, test } from 'vitest'
import { kindsOfEvidence, mustSay, openedOn, openedSince, openingOf, opensByDefault } from '../../server/src/model/events.ts'
import { errorOn, overlap, suspectOn, tooShort } from '../../server/src/model/instrument-history.ts'
import { roomOn } from '../../server/src/model/room.ts'
import type { Setup } from '../../server/src/model/setup.ts'
import { schemaAt } from '../../server/src/schema/schema.ts'
import { setupFrom } from '../support/setups.ts'

const SHOP = `#- e.media.yaml
profile: e
printer: p
#- p.printer.yaml
printer: p
events:
  - { date: 2026-03-20, what: belt-changed }
  - { date: 2026-03-10, what: feed-roller-cleaned }
  - { date: 2026-03-15, what: head-changed }
  - { date: 2026-03-12, what: serviced }
  - { date: 2026-03-13, what: moved, opens: [feed, alignment] }
  - { date: 2026-03-14, what: levelled, opens: [] }
  - { date: 2026-04-02, what: sensor-replaced }
room:
  - { date: 2026-03-10, temperature: 21 °C, humidity: 44 %RH }
  - { date: 2026-03-10, temperature: 24 °C }
  - { date: 2026-03-11 }
#- rollbook.yaml
shop: S
instruments:
  one:
    kind: rule
    length: 1 m
    errors:
      - { from: 2026-01-10, to: 2026-02-09, error: +0.6 ±0.1 mm/m }
      - { from: 2026-02-10, to: 2026-02-20, error: -0.4 mm }
      - { from: 2026-03-20, error: 0.2 mm/m }
      - { from: 2026-03-25, to: 2026-03-28, error: 0.3 mm/m }
      - { from: 2026-03-30, error: 0.2 mm/m }
    suspect:
      - { from: 2026-03-01, to: 2026-03-05, why: dropped }
      - { from: 2026-04-20, why: lost }
      - { from: 2026-05-09, to: 2026-05-02, why: the days are swapped }
  other: { kind: rule }
`

let setup: Setup
beforeAll(async () => {
  setup = await setupFrom(SHOP)
})
const TODAY = '2026-03-31'
const one = () => setup.shop.instruments.get('one')

describe('events', () => {
  const since = (kind: Parameters<typeof openedSince>[1], date: string, today = TODAY) => {
    const found = openedSince(setup.printer, kind, date, today)
    return found && `${found.date} ${found.what}`
  }

  test('the earliest that opens the kind, whatever the order of the list', () => {
    expect(since('feed', '2026-03-01')).toBe('2026-03-10 feed-roller-cleaned')
    expect(since('alignment', '2026-03-01')).toBe('2026-03-13 moved')
    expect(since('colour', '2026-03-01')).toBe('2026-03-15 head-changed')
  })

  test('evidence of the day itself was made after it, and that can be told', () => {
    expect(since('feed', '2026-03-10')).toBe('2026-03-13 moved')
    expect(openedOn(setup.printer, 'feed', '2026-03-10')?.what).toBe('feed-roller-cleaned')
    expect(openedOn(setup.printer, 'heat', '2026-03-10')).toBeUndefined()
  })

  test('what it says it opens comes before what such an event opens; a service opens nothing by itself', () => {
    expect(since('fine', '2026-03-12')).toBe('2026-03-15 head-changed')
    expect(since('feed', '2026-03-13')).toBe('2026-03-20 belt-changed')
    expect(setup.printer?.events?.items.map((event) => openingOf(event)?.opens.join())).toEqual([
      'feed,fine',
      'feed,fine',
      'alignment,fine,colour',
      '',
      'feed,alignment',
      '',
      'heat',
    ])
  })

  test('one that says nothing of itself may have been any: it opens every kind', async () => {
    const { printer } = await setupFrom(
      '#- e.media.yaml\nprofile: e\nprinter: p\n#- p.printer.yaml\nprinter: p\nevents: [{ date: 2026-03-11 }]\n',
    )
    for (const { value } of kindsOfEvidence())
      expect(openedSince(printer, value as Parameters<typeof openedSince>[1], '2026-03-01', TODAY)?.what).toBe(
        'an event that cannot be read',
      )
  })

  test('one that lies ahead opens nothing yet', () => {
    expect(since('heat', '2026-03-01')).toBeUndefined()
    expect(since('heat', '2026-03-01', '2026-04-02')).toBe('2026-04-02 sensor-replaced')
  })

  test('without a printer nothing happened', () => {
    expect(openedSince(undefined, 'feed', '2026-03-01', TODAY)).toBeUndefined()
  })

  test('every event of the format opens kinds of evidence that there are, or has to say which', () => {
    const kinds = kindsOfEvidence().map(({ value }) => value)
    expect(kinds).toEqual(['feed', 'fine', 'alignment', 'heat', 'colour'])
    const what = schemaAt('printer', ['events', '*', 'what'])
    const words = what?.kind === 'leaf' ? what.accepts.flatMap((type) => (type.type === 'choice' ? type.values : [])) : []
    expect(words.length).toBeGreaterThan(10)
    for (const { opens } of words) expect(kinds).toEqual(expect.arrayContaining([...opens!]))
    expect(words.filter(({ value }) => mustSay(value as 'moved')).map(({ value }) => value)).toEqual(['moved', 'serviced'])
    expect(opensByDefault('feed-roller-changed')).toContain('feed')
    expect(opensByDefault('head-changed')).toEqual(expect.arrayContaining(['alignment', 'fine']))
  })
})

describe('instruments', () => {
  const error = (date: string) => {
    const found = errorOn(one(), date)
    return found && [found.kind, found.error, found.uncertainty]
  }

  test('the error of the day, as a share or an amount, with what is stated of it', () => {
    expect(error('2026-01-09')).toBeUndefined()
    expect(error('2026-01-10')).toEqual(['share', 0.6e-3, 0.1e-3])
    expect(error('2026-02-09')).toEqual(['share', 0.6e-3, 0.1e-3])
    expect(error('2026-02-10')).toEqual(['amount', -0.4e-3, undefined])
    expect(error('2026-02-21')).toBeUndefined()
    expect(error('2026-03-20')).toEqual(['share', 0.2e-3, undefined])
  })

  test('two errors of one day that differ are none, and a doubt over the days they share', () => {
    expect(error('2026-03-26')).toBeUndefined()
    expect(suspectOn(one(), '2026-03-26')).toMatchObject({
      why: 'two errors are written down for that time',
      from: '2026-03-25',
      to: '2026-03-28',
    })
    expect(suspectOn(one(), '2026-03-29')).toBeUndefined()
  })

  test('two that say the same are one', () => {
    expect(error('2026-04-01')).toEqual(['share', 0.2e-3, undefined])
    expect(suspectOn(one(), '2026-04-01')).toBeUndefined()
  })

  test('in doubt from the first day to the last, or for ever', () => {
    expect(suspectOn(one(), '2026-02-28')).toBeUndefined()
    expect(suspectOn(one(), '2026-03-01')).toMatchObject({ why: 'dropped', from: '2026-03-01', to: '2026-03-05' })
    expect(suspectOn(one(), '2026-03-05')?.why).toBe('dropped')
    expect(suspectOn(one(), '2026-03-06')).toBeUndefined()
    expect(suspectOn(one(), '2030-01-01')).toMatchObject({ why: 'lost', to: undefined })
  })

  test('days that are swapped still doubt all between them', () => {
    expect(suspectOn(one(), '2026-05-05')).toMatchObject({ from: '2026-04-20' })
    const [, , swapped] = one()!.suspect!.items
    const alone = { ...one()!, suspect: { ...one()!.suspect!, items: [swapped!] } }
    expect(suspectOn(alone, '2026-05-05')).toMatchObject({ from: '2026-05-02', to: '2026-05-09' })
    expect(suspectOn(alone, '2026-05-10')).toBeUndefined()
  })

  test('too short for what is longer than it, and never where its length is not known', () => {
    expect(tooShort(one(), 1)).toBe(false)
    expect(tooShort(one(), 1.5)).toBe(true)
    expect(tooShort(setup.shop.instruments.get('other'), 30)).toBe(false)
    expect(tooShort(undefined, 30)).toBe(false)
  })

  test('a print that came out a little too long is still read at the end of the rule', () => {
    expect(tooShort(one(), 1.0049)).toBe(false)
    expect(tooShort(one(), 1.011)).toBe(true)
  })

  test('an unknown instrument has no error and no doubt', () => {
    expect(errorOn(undefined, TODAY)).toBeUndefined()
    expect(suspectOn(undefined, TODAY)).toBeUndefined()
  })
})

test('times overlap on the days that both hold', () => {
  expect(overlap({ from: 'a', to: 'c' }, { from: 'b', to: undefined })).toEqual({ from: 'b', to: 'c' })
  expect(overlap({ from: 'b', to: undefined }, { from: 'a', to: undefined })).toEqual({ from: 'b', to: undefined })
  expect(overlap({ from: 'a', to: 'b' }, { from: 'b', to: 'c' })).toEqual({ from: 'b', to: 'b' })
  expect(overlap({ from: 'a', to: 'b' }, { from: 'c', to: undefined })).toBeUndefined()
})

describe('the room', () => {
  test('of a day, each of the two as it was last written down', () => {
    const room = roomOn(setup.printer, '2026-03-10')
    expect(room?.temperature?.value.si).toBe(24)
    expect(room?.humidity?.value.si).toBe(0.44)
  })

  test('a day without a number is a day without a reading', () => {
    expect(roomOn(setup.printer, '2026-03-11')).toBeUndefined()
    expect(roomOn(setup.printer, '2026-03-12')).toBeUndefined()
    expect(roomOn(undefined, '2026-03-10')).toBeUndefined()
  })
})
