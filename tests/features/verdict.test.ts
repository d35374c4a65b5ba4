// What checks prove, in five words: each word has its story, and "proven" goes when one thing that it rests on is taken away.
import { describe, expect, test } from 'vitest'
import { feedOf } from '../../server/src/areas/feed/facts.ts'
import { head } from '../../server/src/areas/feed/head.ts'
import { nextPrintOf } from '../../server/src/areas/feed/next-print.ts'
import { nextPrintSentences } from '../../server/src/areas/feed/next-print-words.ts'
import { reckoningText } from '../../server/src/areas/feed/reckoning-text.ts'
import { verdictOf } from '../../server/src/areas/feed/verdict.ts'
import { verdictSentences } from '../../server/src/areas/feed/verdict-words.ts'
import { findings, hover } from '../support/render.ts'
import { setupFrom } from '../support/setups.ts'

const TODAY = '2026-11-26'

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
tolerance: {length: 0.05 %, risk: 5 %}
recheck: {feed: 30 d}
instruments:
  rule-2m: {kind: rule, division: 0.5 mm, limit-of-error: class-1, length: 2 m}
`
const STOCK = `#- banner.stock.yaml
stock: banner
family: banner-pvc
thickness: 0.4 mm
modulus: 0.5 GPa
expansion: 20 ppm/K
friction: 0.3
lots: [{lot: B-1, opened: 2026-11-01}]
`
const PRINTER = `#- bay-1.printer.yaml
printer: bay-1
heads: {nozzle-pitch: 1/360 in, nozzles: 360, rows: 1}
modes:
  four: {resolution: 720 x 360 dpi, passes: 4, carriage-speed: 1 m/s}
  eight: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1 m/s}
carriage: {bed-width: 1600 mm, gaps: [2 mm]}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent, pattern-lengths: [2000 mm]}
suction: {levels: {1: 100 Pa, 2: 150 Pa, 3: 300 Pa}, depth: 120 mm, open-area: 3 %, hole: 2 mm}
web: {tension-levels: {1: 10 N/m, 2: 20 N/m}}
`
const STATE = 'from: profile, stock: banner, printer: bay-1, mode: four, gap: 2 mm, suction: 1, web.tension: 1'
const DAYS = ['2026-11-19', '2026-11-20', '2026-11-23', '2026-11-24']
const READ = ['1995.9', '1995.8', '1995.9', '1995.8']
const checks = (n = 4, more = ''): string =>
  DAYS.slice(0, n)
    .map(
      (date, i) =>
        `    - {date: ${date}, commanded: 2000 mm, measured: ${READ[i]} mm, applied: 0 %, with: rule-2m, web: 23 ±1 °C, lot: B-1, under: here${more}}\n`,
    )
    .join('')
const profile = (correction = '+0.21 %', list = checks()): string => `#- e.media.yaml
profile: e
stock: banner
printer: bay-1
mode: four
gap: 2 mm
suction: 1
web: {tension: 1}
feed:
  correction: ${correction}
  checks:
${list}conditions:
  here: {${STATE}}
`
const GOOD = `${profile()}${STOCK}${PRINTER}${SHOP}`

async function told(text: string, today = TODAY): Promise<string> {
  const facts = feedOf(await setupFrom(text, today))
  return verdictSentences(facts).join(' ')
}
const word = async (text: string, today = TODAY): Promise<string> => verdictOf(feedOf(await setupFrom(text, today))).word

describe('the five words', () => {
  test('proven', async () =>
    expect(await told(GOOD)).toMatchInlineSnapshot(
      `"Proven: 98 % of prints come out within 0.5 mm per metre, and 95 % are asked for."`,
    ))
  test('off', async () =>
    expect(await told(GOOD.replace('correction: +0.21', 'correction: +0.05'))).toMatchInlineSnapshot(
      `"Off: under 1 % of prints come out within 0.5 mm per metre: key in +0.21 %, then 98 % do."`,
    ))
  test('doubtful between', async () =>
    expect(await told(GOOD.replace('correction: +0.21', 'correction: +0.24'))).toMatchInlineSnapshot(
      `"Doubtful: 86 % of prints come out within 0.5 mm per metre, and 95 % are asked for. Key in +0.21 %: then 98 % do."`,
    ))
  test('doubtful for few prints', async () =>
    expect(await told(GOOD.replace(checks(), checks(2)))).toMatchInlineSnapshot(
      `"Doubtful: 2 prints cannot tell how far this feed scatters from print to print, and the printer's document does not (feed.repeatability). Print 1 more, each on another day."`,
    ))
  test('carried', async () =>
    expect(await told(GOOD.replace('suction: 1\nweb', 'suction: 2\nweb'))).toMatchInlineSnapshot(
      `"Carried: 98 % of prints come out within 0.5 mm per metre, and 95 % are asked for. It was measured under other settings and brought here: suction 1 → 2: +0.0046 mm/m (0.00027 to 0.009)."`,
    ))
  test('unknown', async () =>
    expect(await told(GOOD.replace(checks(), '    []\n'))).toMatchInlineSnapshot(
      `"Unknown: nothing usable was measured. Print a pattern and measure it."`,
    ))
})

describe('proven goes when what it rests on goes', () => {
  const AWAY: Readonly<Record<string, (text: string) => string>> = {
    'the stock': (text) => text.replace(STOCK, ''),
    'the printer': (text) => text.replace(PRINTER, ''),
    'the mode': (text) => text.replace('mode: four\ngap', 'gap'),
    'the state': (text) => text.replace(/conditions:\n.*\n/, ''),
    'one setting of the state': (text) => text.replace(', suction: 1, web.tension: 1}', ', web.tension: 1}'),
    'which state': (text) => text.replaceAll(', under: here', ''),
    'the instrument': (text) => text.replace(/instruments:\n.*\n/, ''),
    'the dates': (text) => text.replaceAll(/\{date: 2026-11-\d\d, commanded/g, '{commanded'),
    "today's suction": (text) => text.replace('suction: 1\nweb', 'web'),
    'the correction': (text) => text.replace('  correction: +0.21 %\n', ''),
    'the lot they were made on': (text) => text.replaceAll(', lot: B-1, under', ', under'),
  }
  for (const [name, take] of Object.entries(AWAY))
    test(name, async () => {
      expect(take(GOOD)).not.toBe(GOOD)
      expect(await word(GOOD)).toBe('proven')
      expect(await word(take(GOOD))).not.toMatch(/proven|carried/)
    })
})

test('a number that is near enough may stay, and that is the first thing said', async () => {
  const near = GOOD.replace('correction: +0.21', '$0correction: +0.22')
  const setup = await setupFrom(near.replace('$0', ''), TODAY)
  expect(reckoningText(setup, []).split('\n').slice(3, 7).join('\n')).toMatchInlineSnapshot(`
    "In short
      - Nothing needs to change: the correction in the profile, +0.22 %, may stay.
      - The profile has +0.22 %: prints come out 0.12 mm per metre long, within the uncertainty and the shop's tolerance.
      - Proven: 97 % of prints come out within 0.5 mm per metre, and 95 % are asked for."
  `)
  expect(await hover(near, TODAY)).toContain('**Key in nothing: what is set may stay.**')
})

describe('what nothing proves is neither to be keyed in nor said to be right', () => {
  const LACKING: Readonly<Record<string, (text: string) => string>> = {
    'the stock is not there': (text) => text.replace(STOCK, ''),
    'the printer is not there': (text) => text.replace(PRINTER, ''),
    'the base is not there': (text) => text.replace('profile: e\n', 'profile: e\nbase: nowhere\n'),
    'no stock is named': (text) => text.replace('stock: banner\nprinter', 'printer'),
    'no printer is named': (text) => text.replace('printer: bay-1\nmode: four', 'mode: four'),
    'no mode is named': (text) => text.replace('mode: four\ngap', 'gap'),
    'the mode is not described': (text) => text.replace('mode: four\ngap', 'mode: five\ngap'),
    'the state is not described': (text) => text.replace(/conditions:\n.*\n/, ''),
    'no state is named': (text) => text.replaceAll(', under: here', ''),
    'the roller was cleaned': (text) => text.replace(SHOP, `events: [{date: 2026-11-25, what: feed-roller-cleaned}]\n${SHOP}`),
    'it is printed in another mode': (text) => text.replace('mode: four\ngap', 'mode: eight\ngap'),
  }
  const NOW: Readonly<Record<string, string>> = {
    'what is set is asked for': '+0.21 %',
    'it is near': '+0.22 %',
    'it is far': '+0.05 %',
  }
  const claims =
    /Key in [+−\d]|key in [+−\d]|[Nn]othing to (change|key in)|Nothing needs|may stay|is the (one|number) asked for|Key in nothing:/
  for (const [name, take] of Object.entries(LACKING))
    for (const [how, set] of Object.entries(NOW))
      test(`${name}, ${how}`, async () => {
        const text = take(GOOD).replace('correction: +0.21 %', `$0correction: ${set}`)
        expect(text.replace('$0', '').replace(set, '+0.21 %')).not.toBe(GOOD)
        const setup = await setupFrom(text.replace('$0', ''), TODAY)
        const short = reckoningText(setup, []).split('\n1. ')[0]!
        expect(short).toContain('Doubtful: ')
        expect(short).not.toMatch(claims)
        expect(head.words(setup)).toMatch(/^Doubtful/)
        expect(head.words(setup)).not.toMatch(claims)
        expect((await hover(text, TODAY)).split('\n')[0]).not.toMatch(claims)
        expect(await findings(text.replace('$0', ''), TODAY)).not.toMatch(claims)
      })
})

describe('proven goes while a merge is not settled', () => {
  /** Two versions of the line that holds a word, which mean the same. */
  const open = (word: string): string =>
    GOOD.replace(
      new RegExp(`^.*${word}.*$`, 'm'),
      (line) => `<<<<<<< HEAD\n${line}\n=======\n${line} # by night\n>>>>>>> night-shift`,
    )
  test.each([
    ['of the checks', 'date: 2026-11-24'],
    ['of another setting', 'gap: 2'],
    ['of the stock', 'thickness: 0.4'],
    ['of the printer', 'heads:'],
    ['of the shop', 'recheck:'],
  ])('%s', async (_, word) => {
    expect(open(word)).not.toBe(GOOD)
    expect(verdictOf(feedOf(await setupFrom(open(word), TODAY)))).toMatchObject({ word: 'doubtful', doubtful: 'unsettled' })
  })
  test('of which one half stands', async () =>
    expect(await word(GOOD.replace('gap: 2 mm\n', 'gap: 2 mm\n>>>>>>> night-shift\n'))).not.toMatch(/proven|carried/))
  test('nor does the first line of a hover, or what stands above the section', async () => {
    const wrong = (to: string): string => open('heads:').replace('correction: +0.21 %', to)
    expect(await hover(wrong('$0correction: +0.05 %'), TODAY)).toContain('**Settle the merge first, and key in nothing before.**')
    expect(head.words(await setupFrom(wrong('correction: +0.05 %'), TODAY))).toMatch(/: settle the merge first$/)
  })
  test('and no finding says what to key in meanwhile', async () => {
    const wrong = (text: string): string => text.replace('correction: +0.21 %', 'correction: +0.05 %')
    expect(await findings(wrong(GOOD), TODAY)).toContain('Key in +0.21 %: prints come out')
    expect(await findings(wrong(open('heads:')), TODAY)).not.toContain('Key in')
  })
  test('said why, and what to do', async () =>
    expect(await told(open('heads:'))).toMatchInlineSnapshot(
      `"Doubtful: a merge is not settled in bay-1.printer.yaml, and the number may be another with the other version. Settle the merge first, and key in nothing before."`,
    ))
})

describe('proven goes when something happens', () => {
  const LATER: Readonly<Record<string, (text: string) => string>> = {
    'the roller is cleaned': (text) => text.replace(SHOP, `events: [{date: 2026-11-25, what: feed-roller-cleaned}]\n${SHOP}`),
    'the rule was dropped': (text) => text.replace('length: 2 m}', 'length: 2 m, suspect: [{from: 2026-11-01, why: dropped}]}'),
    'the rule is in doubt, and nobody wrote down since when': (text) =>
      text.replace('length: 2 m}', 'length: 2 m, suspect: [{from: 2026-02-31, why: dropped}]}'),
    'the rule was found wrong, and nobody wrote down since when': (text) =>
      text.replace('length: 2 m}', 'length: 2 m, errors: [{error: +0.6 mm/m}]}'),
    'the rule was found wrong, by what cannot be read': (text) =>
      text.replace('length: 2 m}', 'length: 2 m, errors: [{from: 2026-11-01, error: +0.6}]}'),
    'the roller is cleaned on a day that is not in the calendar': (text) =>
      text.replace(SHOP, `events: [{date: 2026-11-31, what: feed-roller-cleaned}]\n${SHOP}`),
    'something is done to the machine that is misspelt': (text) =>
      text.replace(SHOP, `events: [{date: 2026-11-25, what: feed-roler-cleaned}]\n${SHOP}`),
    'something is done to the machine, and nobody says what': (text) =>
      text.replace(SHOP, `events: [{date: 2026-11-25, note: by the maker}]\n${SHOP}`),
    'something is done, on a day and by a word that cannot be read': (text) =>
      text.replace(SHOP, `events: [{date: 2026-11-31, what: cleaned}]\n${SHOP}`),
    'what a service touched is misspelt': (text) =>
      text.replace(SHOP, `events: [{date: 2026-11-25, what: serviced, opens: [fed]}]\n${SHOP}`),
    'what is done stands where no event can be read': (text) => text.replace(SHOP, `events: feed-roller-cleaned\n${SHOP}`),
    'one of the events is no event': (text) => text.replace(SHOP, `events: [feed-roller-cleaned]\n${SHOP}`),
    'another lot is opened': (text) =>
      text.replace('{lot: B-1, opened: 2026-11-01}', '{lot: B-1}, {lot: B-2, opened: 2026-11-25}'),
    'it is printed in another mode': (text) => text.replace('mode: four\ngap', 'mode: eight\ngap'),
    'it is printed on another printer': (text) =>
      text
        .replace('printer: bay-1\nmode', 'printer: bay-2\nmode')
        .replace('printer: bay-1\nheads', 'printer: bay-2\nheads')
        .replace('bay-1.printer', 'bay-2.printer'),
    'the level is gone': (text) => text.replace('{1: 100 Pa, ', '{').replace('suction: 1\nweb', 'suction: 2\nweb'),
    'the state is changed by hand under its name': (text) => text.replaceAll('here', 's0abc'),
  }
  for (const [name, change] of Object.entries(LATER))
    test(name, async () => {
      expect(change(GOOD)).not.toBe(GOOD)
      expect(await word(change(GOOD))).toBe(name.startsWith('the rule') ? 'unknown' : 'doubtful')
    })

  test('and it is said which event could not be read', async () =>
    expect(
      await told(GOOD.replace(SHOP, `events: [{date: 2026-11-25, what: feed-roler-cleaned}]\n${SHOP}`)),
    ).toMatchInlineSnapshot(
      `"Doubtful: no check proves anything of today; of the newest: it was made before an event that cannot be read on 2026-11-25. What they ask for is to be expected, and no more. Print the 2000 mm pattern with today's settings, measure it with the best rule there is, and add it to feed, checks."`,
    ))
  test('an event that says it touched nothing leaves it', async () =>
    expect(await word(GOOD.replace(SHOP, `events: [{date: 2026-11-25, what: cleaned, opens: []}]\n${SHOP}`))).toBe('proven'))

  test('a list of events that nothing stands in yet leaves it', async () =>
    expect(await word(GOOD.replace(SHOP, `events:\n${SHOP}`))).toBe('proven'))

  test('the days go by', async () => expect(await word(GOOD, '2027-01-26')).toBe('doubtful'))
  test('a strip measured four times is one print', async () => {
    const [first, ...rest] = checks().split('\n')
    const again = rest.map((line) =>
      line.replace(/date: [^,]*/, 'date: 2026-11-19').replace('under: here', 'under: here, same-print: true'),
    )
    expect(await told(GOOD.replace(checks(), [first, ...again].join('\n')))).toMatch(/1 print/)
  })
  test('events of the day of a check count as before it', async () =>
    expect(await word(GOOD.replace(SHOP, `events: [{date: 2026-11-19, what: feed-roller-cleaned}]\n${SHOP}`))).toBe('proven'))
})

describe('what gains most', () => {
  const advised = async (text: string) => {
    const facts = feedOf(await setupFrom(text, TODAY))
    const next = nextPrintOf(facts)
    return next && { ...next, text: nextPrintSentences(facts, next).join(' ') }
  }
  const FEW = GOOD.replace(checks(), checks(2))
  const STEADY = PRINTER.replace(
    'entry: percent',
    'entry: percent, repeatability: {value: 0.012 %, freedom: 14, date: 2026-09-30}',
  )

  test('more prints on other days, with the rule there is', async () =>
    expect((await advised(FEW))?.text).toMatchInlineSnapshot(
      `"Print 3 more of the 2000 mm pattern, each on another day, and measure with rule-2m: then it is proven with a chance of 65 %."`,
    ))

  test('is fewer where the printer says how far it scatters', async () => {
    const list = checks(1)
    const one = await advised(GOOD.replace(checks(), list))
    const stated = await advised(GOOD.replace(checks(), list).replace(PRINTER, STEADY))
    expect(stated?.text).toMatchInlineSnapshot(
      `"Print the 2000 mm pattern once more, on another day, and measure with rule-2m: then it is proven with a chance of over 95 %."`,
    )
    expect(stated!.prints).toBeLessThan(one!.prints)
  })

  test('is done with the better rule and over the longest pattern it reaches', async () => {
    const more = await advised(
      FEW.replace(
        'limit-of-error: class-1, length: 2 m}',
        'limit-of-error: class-2, length: 2 m}\n  rule-1m: {kind: rule, division: 0.5 mm, limit-of-error: class-1, length: 1 m}',
      ).replace('pattern-lengths: [2000 mm]', 'pattern-lengths: [500 mm, 1000 mm, 2000 mm]'),
    )
    expect([more?.pattern.si, more?.instrument]).toMatchInlineSnapshot(`
      [
        1,
        "rule-1m",
      ]
    `)
  })

  test('is not more of the same where the only rule cannot tell', async () => {
    const poor = await advised(
      GOOD.replace('class-1, length: 2 m', 'class-2, length: 2 m')
        .replace('0.05 %, risk', '0.03 %, risk')
        .replace(PRINTER, STEADY),
    )
    expect(poor?.text).toMatchInlineSnapshot(
      `"A better rule or a longer pattern is needed: what rule-2m and the weather leave is most of what is not known. Even 6 more of the 2000 mm pattern, measured with rule-2m, prove it with a chance of under 5 % only."`,
    )
    expect(poor?.chance).toBeLessThan(0.25)
  })

  test('is nothing where the feed is proven, where keying in is enough, or where no rule reaches a pattern', async () => {
    expect(await advised(GOOD)).toBeUndefined()
    expect(await advised(GOOD.replace('correction: +0.21', 'correction: +0.24'))).toBeUndefined()
    expect(await advised(FEW.replace('length: 2 m}', 'length: 0.3 m}'))).toBeUndefined()
  })

  test('is the same whenever it is asked for', async () => expect(await advised(FEW)).toEqual(await advised(FEW)))
})
