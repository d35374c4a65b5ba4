// `rollbook to-key`: what is keyed in at a machine, in its own words, unit and step; what a read-back ticks off; what waits for a print.
import { describe, expect, test } from 'vitest'
import { ran, run } from '../cli/shell.ts'

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
tolerance: {length: 0.1 %}
instruments:
  rule-1m: {kind: rule, division: 0.5 mm, limit-of-error: class-1}
#- film.stock.yaml
stock: film
family: film-pvc-cast
thickness: 80 µm
max-web-temperature: 50 °C
#- gull.printer.yaml
printer: gull
title: Gull, by the window
modes:
  quick: {resolution: 720 x 720 dpi, passes: 8, carriage-speed: 1 m/s, directions: one-way}
carriage: {gaps: [0.06 in, 0.1 in]}
feed: {range: [-1 %, 1 %], step: 0.05 %, entry: percent, pattern-lengths: [1 m], repeatability: {value: 0.01 %, freedom: 30}}
heaters:
  platen: {length: 200 mm, range: [68 °F, 140 °F], step: 1.1111111111 K, coupling: 120 W/m²K}
  after: {length: 400 mm, range: [68 °F, 140 °F], step: 1 K, coupling: 40 W/m²K}
suction: {levels: {1: 100 Pa, 2: 200 Pa}}
slots: 20
panel:
  - {key: heat.platen, where: the middle dial}
  - {key: gap, where: the lever behind the cover}
  - {key: feed.correction, where: "sheet 2, top line"}
  - {key: slot, where: the wheel}
cautions: [The bar stays hot.]
`

const STATE =
  'conditions:\n  now: {from: profile, stock: film, printer: gull, mode: quick, gap: 0.1 in, suction: 2, heat.platen: 40 °C, heat.after: 44 °C}\n'
const CHECKS = [12, 16, 20, 24]
  .map(
    (day) =>
      `    - {date: 2026-03-${day}, commanded: 1000 mm, measured: 1000 mm, applied: +0.21 %, with: rule-1m, web: 20 °C, under: now}\n`,
  )
  .join('')

const profile = (
  id: string,
  slot: number,
  more: { readonly keyed?: string; readonly platen?: string; readonly gap?: string; readonly correction?: string } = {},
): string => `#- ${id}.media.yaml
profile: ${id}
stock: film
printer: gull
mode: quick
slot: ${slot}
gap: ${more.gap ?? '2.54 mm'}
feed:
  correction: ${more.correction ?? '+0.21 %'}
  checks:
${CHECKS}heat: {platen: ${more.platen ?? '40 °C'}, after: 44 °C}
suction: 200 Pa
${more.keyed ?? ''}${STATE}`

const items = async (source: string, wanted = 'a') => {
  const { out } = await ran('to-key gull --format json', source)
  const { slots } = JSON.parse(out) as { slots: { profile: string; holds?: unknown; items: Record<string, unknown>[] }[] }
  const slot = slots.find((one) => one.profile === wanted)!
  return { slot, of: (key: string) => slot.items.find((item) => item.key === key)! }
}

test('in the order of the panel and in its unit, step and levels, the file as it is', async () => {
  expect(await run('to-key gull', `${profile('a', 2)}${profile('b', 1, { platen: '39.8 °C' })}${SHOP}`)).toMatchInlineSnapshot(`
    "Gull, by the window (gull): to key in as on 2026-03-31
    11 settings to key in, of 2 profiles; 1 in doubt, at the end.

    Caution: some of these are set beside hot or moving parts: stop the machine first where its own instructions say so. The machine's and the material's safety documents come first.
      - The bar stays hot.

    Slot 1 · b
      [ ] heat.platen  104 °F    the middle dial; the file says 39.8 °C, between two steps of the machine
      [ ] gap          0.1 in    the lever behind the cover
      [ ] slot         1         the wheel
      [ ] heat.after   111.2 °F
      [ ] suction      2

    Slot 2 · a
      [ ] heat.platen      104 °F    the middle dial
      [ ] gap              0.1 in    the lever behind the cover
      [ ] feed.correction  +0.20 %   sheet 2, top line; the file says +0.21 %, between two steps of the machine
      [ ] slot             2         the wheel
      [ ] heat.after       111.2 °F
      [ ] suction          2

    Last, and not before what is said here is done:
      [!] Slot 1 · b · feed.correction: the file says +0.21 % (sheet 2, top line)
          Doubtful: no check proves anything of today; of the newest: what heat of the platen 40 °C → 39.8 °C does to the length cannot be reckoned: the printer does not give the width of its bed. What they ask for is to be expected, and no more. Print the 1 m pattern with today's settings, measure it with the best rule there is, and add it to feed, checks.
    exit 1"
  `)
})

describe('what the panel holds', () => {
  test.each([
    // 40 °C is 104 °F; the step of 2 °F counts from 68 °F.
    ['heat.platen', '40 °C', '104 °F', undefined],
    ['heat.platen', '103.5 °F', '104 °F', 'the file says 103.5 °F, between two steps of the machine'],
    ['heat.platen', '60 °C', '140 °F', undefined],
  ])('%s %s is %s', async (key, file, text, note) => {
    const { of } = await items(
      `${profile('a', 1, { platen: file })}${SHOP}`.replace('max-web-temperature: 50 °C', 'max-web-temperature: 90 °C'),
    )
    expect([of(key).text, of(key).note]).toEqual([text, note])
  })

  test('a pressure that is a level, a gap in the unit of its lever, a correction to the step', async () => {
    const { of } = await items(`${profile('a', 1)}${SHOP}`)
    expect([of('suction').text, of('gap').text, of('feed.correction').text]).toEqual(['2', '0.1 in', '+0.20 %'])
    expect(of('feed.correction')).toMatchObject({
      state: 'key-in',
      note: 'the file says +0.21 %, between two steps of the machine',
    })
  })

  test('a gap that the machine has not is not keyed in', async () => {
    const { of } = await items(`${profile('a', 1, { gap: '2 mm' })}${SHOP}`)
    expect([of('gap').state, of('gap').text]).toEqual(['in-doubt', undefined])
  })

  test('a heat that the stock does not stand waits at the end', async () => {
    const { of } = await items(`${profile('a', 1, { platen: '60 °C' })}${SHOP}`)
    expect(of('heat.platen').state).toBe('in-doubt')
  })
})

describe('a read-back', () => {
  const keyed = (entry: string): string => `keyed: [${entry}]\n`

  test('ticks off what it shows, in whatever unit', async () => {
    const { of } = await items(
      `${profile('a', 1, { keyed: keyed('{date: 2026-03-30, gap: 0.1 in, platen: 104 °F, suction: 2, correction: +0.20 %}') })}${SHOP}`,
    )
    expect(['gap', 'heat.platen', 'suction', 'feed.correction', 'heat.after'].map((key) => of(key).state)).toEqual([
      'has-it',
      'has-it',
      'has-it',
      'has-it',
      'key-in',
    ])
    expect(of('gap').since).toBe('2026-03-30')
  })

  test('that differs offers both ways, with what was measured with each', async () => {
    const { of } = await items(
      `${profile('a', 1, { keyed: keyed('{date: 2026-03-30, platen: 45 °C, correction: +0.10 %}') })}${SHOP}`,
    )
    expect([of('heat.platen').machine, of('heat.platen').ways]).toMatchInlineSnapshot(`
      [
        {
          "date": "2026-03-30",
          "text": "45 °C",
        },
        [
          {
            "open": true,
            "right": "machine",
            "text": "If the machine is right, take 45 °C over into the file: nothing that was measured says that it was made with it.",
          },
          {
            "open": true,
            "right": "file",
            "text": "If the file's 40 °C is right, key in 104 °F again and read it back: the feed check of 2026-03-24 was made with it, and 3 before.",
          },
        ],
      ]
    `)
    expect(of('feed.correction').ways).toMatchInlineSnapshot(`
      [
        {
          "open": true,
          "right": "machine",
          "text": "If the machine is right, take +0.10 % over into the file: by the checks 78 % of prints come out within 1 mm per metre with it.",
        },
        {
          "open": true,
          "right": "file",
          "text": "If the file's +0.21 % is right, key in +0.20 % again and read it back: by the checks over 99 % of prints come out within 1 mm per metre with it, and the newest check, of 2026-03-24, was printed with it.",
        },
      ]
    `)
  })

  test('of a heat that the stock does not stand is never taken over', async () => {
    const { of } = await items(`${profile('a', 1, { keyed: keyed('{date: 2026-03-30, platen: 55 °C}') })}${SHOP}`)
    expect((of('heat.platen').ways as { open: boolean; text: string }[])[0]).toEqual({
      right: 'machine',
      open: false,
      text: "The machine's 55 °C is not taken over. The stock stands 50 °C: lower the heat at the machine instead.",
    })
  })

  const OTHER = profile('b', 5, { platen: '45 °C', gap: '0.06 in', correction: '+0.35 %' })

  test('that holds another profile’s numbers says whose', async () => {
    const { slot } = await items(
      `${profile('a', 1, { keyed: keyed('{date: 2026-03-30, gap: 0.06 in, platen: 45 °C, correction: +0.35 %}') })}${OTHER}${SHOP}`,
    )
    expect(slot.holds).toEqual({ profiles: [{ profile: 'b', slot: 5 }], compared: 3, apart: 3, date: '2026-03-30' })
  })

  test.each([
    ['one number of another is a slip', '{date: 2026-03-30, gap: 0.1 in, platen: 45 °C, correction: +0.20 %}'],
    ['one that is nobody’s', '{date: 2026-03-30, gap: 0.06 in, platen: 46 °C, correction: +0.35 %}'],
    ['too few to tell', '{date: 2026-03-30, gap: 0.06 in, platen: 45 °C}'],
  ])('%s', async (_, entry) => {
    const { slot } = await items(`${profile('a', 1, { keyed: keyed(entry) })}${OTHER}${SHOP}`)
    expect(slot.holds).toBeUndefined()
  })
})

test('what is off or in doubt comes last, with what comes first', async () => {
  const off = profile('a', 1, { correction: '-0.30 %' })
  const unknown = profile('b', 2).replace(CHECKS, '').replace('  checks:\n', '')
  const { out } = await ran('to-key gull', `${off}${unknown}${SHOP}`)
  expect(out.slice(out.indexOf('Last,'))).toMatchInlineSnapshot(`
    "Last, and not before what is said here is done:
      [!] Slot 1 · a · feed.correction: the file says -0.30 % (sheet 2, top line)
          Off: under 1 % of prints come out within 1 mm per metre: key in +0.20 %, then over 99 % do.
      [!] Slot 2 · b · feed.correction: the file says +0.21 % (sheet 2, top line)
          Unknown: nothing usable was measured. Print a pattern and measure it.
    "
  `)
})

test('a machine that is told a length: from what it holds, in its unit and step; nothing where it holds it already', async () => {
  const heron = `#- heron.printer.yaml
printer: heron
modes: {quick: {resolution: 720 x 720 dpi, passes: 8, carriage-speed: 1 m/s, directions: one-way}}
feed: {range: [-1 %, 1 %], step: 0.01 in, entry: measured-length, pattern-lengths: [40 in], repeatability: {value: 0.01 %, freedom: 30}}
`
  const on = (correction: string, keyed: string): string =>
    `#- c.media.yaml\nprofile: c\nstock: film\nprinter: heron\nmode: quick\nfeed:\n  correction: ${correction}\n  checks:\n${CHECKS.replaceAll('1000 mm', '40 in')}keyed: [{date: 2026-03-30, correction: ${keyed}}]\nconditions: {now: {from: profile, stock: film, printer: heron, mode: quick}}\n${SHOP}${heron}`
  const item = async (source: string) =>
    (JSON.parse((await ran('to-key heron --format json', source)).out) as { slots: { items: Record<string, unknown>[] }[] })
      .slots[0]!.items[0]!
  // It holds 0.46 %, by what was read back; (1 + 0.0046) · 40 in / (1 + 0.0021) = 40.0998 in.
  expect(await item(on('+0.21 %', '+0.46 %'))).toMatchObject({ key: 'feed.correction', text: '40.10 in', state: 'key-in' })
  expect(await item(on('+0.21 %', '+0.21 %'))).toMatchObject({ state: 'has-it', since: '2026-03-30' })
})

test('a retired profile is keyed in nowhere, and no other profile is taken for it', async () => {
  const { out } = await ran(
    'to-key gull',
    `${profile('a', 1).replace('slot: 1', 'slot: 1\nretired: 2026-03-01\nreplaced-by: b')}${SHOP}`,
  )
  expect(out).toContain('Out of use: retired on 2026-03-01, replaced by b. Nothing is keyed in for it, and its place is free.')
  expect(out).toContain('Nothing is to be keyed in.')
})

test('the form is empty, is filled in, comes in through the import, and ticks off; coming again it is recognised', async () => {
  const source = `${profile('a', 2)}${profile('b', 1)}${SHOP}`
  const form = (await ran('to-key gull --format blank', source)).out
  const [head = '', first, second] = form.split('\r\n')
  expect([head, first, second]).toMatchInlineSnapshot(`
    [
      "'-,profile,date,slot,gap (in),correction (%),platen (°F),after (°F),suction,note",
      "Slot 1,b,,,,,,,,",
      "Slot 2,a,,,,,,,,",
    ]
  `)
  const cells: Record<string, string> = { profile: 'b', date: '2026-03-31', 'platen (°F)': '104', suction: '2', '-': 'Slot 1' }
  const filled = `${head}\r\n${head
    .split(',')
    .map((name) => cells[name.replace("'", '')] ?? '')
    .join(',')}\r\n${second}\r\n`
  const dry = await ran('import - --as keyed', source, { stdin: filled })
  expect([dry.out, dry.files.get('b.media.yaml')?.includes('keyed')]).toMatchInlineSnapshot(`
    [
      "b.media.yaml
      + line 2: keyed: { date: 2026-03-31, platen: 104 °F, suction: 2 }

    Standard input is read with a comma between cells and a decimal point. 1 row to add, 0 there already, 0 rows not taken, 1 left blank. Nothing is written yet: --write does it.
    ",
      false,
    ]
  `)
  const written = await ran('import - --as keyed --write', source, { stdin: filled })
  const after = [...written.files].map(([name, text]) => `#- ${name}\n${text}`).join('')
  const { of } = await items(after, 'b')
  expect([of('heat.platen').state, of('suction').state, of('gap').state]).toEqual(['has-it', 'has-it', 'key-in'])
  expect((await ran('import - --as keyed', after, { stdin: filled })).out).toContain(
    '0 rows to add, 1 there already, 0 rows not taken, 1 left blank.',
  )
})

test('no such printer', async () => {
  expect(await run('to-key gul', SHOP)).toBe("! There is no printer 'gul' here. Do you mean 'gull'?\nexit 2")
})
