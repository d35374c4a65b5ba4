// `rollbook new`: documents from answers by options, by a file and at a terminal; what is refused, and that nothing is written then.
import { describe, expect, test } from 'vitest'
import { ran, run } from './shell.ts'

const SHOP = '#- rollbook.yaml\nshop: Alder Lane Signs\n'

const BAY = `#- printers/bay-1.printer.yaml
printer: bay-1
heads: {}

modes:
  everyday:
    resolution: 720 x 720 dpi
    passes: 8

carriage: {}
feed: {}
`

const BANNER = '#- stocks/banner-440.stock.yaml\nstock: banner-440\nfamily: banner-pvc\nthickness: 440 µm\n'

/** What is written, by path in the shop's folder. */
const written = ({ created }: { created: ReadonlyMap<string, string> }): Record<string, string> =>
  Object.fromEntries([...created].map(([path, text]) => [path.slice('/shop/'.length), text]))

describe('what is written', () => {
  test('a shop, with the one line that git needs', async () => {
    const made = await ran([
      'new',
      'shop',
      '--shop',
      'Alder Lane Signs',
      '--length-tolerance',
      '0.1 %',
      '--room-humidity',
      '35 %RH, 55 %RH',
    ])
    expect(written(made)).toEqual({
      'rollbook.yaml': 'shop: Alder Lane Signs\n\ntolerance:\n  length: 0.1 %\n\nclimate:\n  humidity: [35 %RH, 55 %RH]\n',
      '.gitattributes': expect.stringMatching(/^#.*\n\*\.yaml text\n$/),
    })
    expect(made.code).toBe(0)
  })

  test('a stock, in the folder of the samples where there is none yet', async () => {
    const made = await ran(
      [
        'new',
        'stock',
        '--stock',
        'banner-440',
        '--family',
        'banner-pvc',
        '--thickness',
        '17 mil',
        '--dry-time',
        '3 min',
        '--dry-at',
        '45 °C',
        '--widths',
        '54 in',
        '--widths',
        '63 in',
      ],
      SHOP,
    )
    expect(written(made)).toEqual({
      'stocks/banner-440.stock.yaml':
        'stock: banner-440\nfamily: banner-pvc\nthickness: 17 mil\nwidths: [54 in, 63 in]\ndry-touch: { time: 3 min, at: 45 °C }\n',
    })
  })

  test('beside those of its kind where there are some, flat where all lie flat', async () => {
    const stock = ['new', 'stock', '--stock', 'b-2', '--family', 'canvas', '--thickness', '400 µm']
    expect(Object.keys(written(await ran(stock, `${SHOP}#- material/b-1.stock.yaml\nstock: b-1\n`)))).toEqual([
      'material/b-2.stock.yaml',
    ])
    expect(Object.keys(written(await ran(stock, `${SHOP}#- bay-1.printer.yaml\nprinter: bay-1\n`)))).toEqual(['b-2.stock.yaml'])
    expect(Object.keys(written(await ran(stock, SHOP + BAY)))).toEqual(['stocks/b-2.stock.yaml'])
  })

  test('a printer of three facts and its name; what is left open is said', async () => {
    const made = await ran(
      ['new', 'printer', '--printer', 'bay-1', '--mode', 'everyday', '--resolution', '720 x 720 dpi', '--passes', '8'],
      SHOP,
    )
    expect(`#- printers/bay-1.printer.yaml\n${written(made)['printers/bay-1.printer.yaml']}`).toBe(BAY)
    expect(made.err).toMatch(
      /Left open, so not judged: feed-step, .*nozzle-pitch, .*heated-zones, .*'rollbook new printer --into'/,
    )
    // It may be checked, and a profile be started on it.
    expect(await run('check', SHOP + BAY)).toMatch(/^1 document|2 documents checked: nothing found\.\nexit 0$/)
    const { out, code } = await ran('new profile --stock banner-440 --printer bay-1 --out -', SHOP + BAY + BANNER)
    expect([code, /^mode: everyday$/m.test(out)]).toEqual([0, true])
  })

  test('a printer with much of what it may have, in the layout of the samples', async () => {
    const answers = {
      printer: 'bay-2',
      title: 'Bay 2, by the door',
      mode: 'film',
      resolution: '720 x 360 dpi',
      passes: 8,
      directions: 'two-way',
      'feed-step': '0.01 %',
      'fine-rows': ['left', 'right'],
      'heated-zones': ['platen', 'after'],
      'platen-range': ['30 °C', '50 °C'],
      'platen-step': '1 K',
      'suction-levels': { 1: '100 Pa', 2: '1 inH2O' },
      'tension-range': ['5 N/m', '60 N/m'],
      slots: 12,
      cautions: ['The bar stays hot, for half an hour.', 'Mind the take-up.'],
    }
    const made = await ran('new printer --answers - --out -', SHOP, { stdin: JSON.stringify(answers) })
    expect(made.out).toMatchInlineSnapshot(`
      "printer: bay-2
      title: 'Bay 2, by the door'
      heads: {}

      modes:
        film:
          resolution: 720 x 360 dpi
          passes: 8
          directions: two-way

      carriage: {}

      feed:
        step: 0.01 %
        fine:
          rows: [left, right]

      heaters:
        platen: { range: [30 °C, 50 °C], step: 1 K }
        after: {}

      suction:
        levels:
          1: 100 Pa
          2: 1 inH2O

      web:
        tension-range: [5 N/m, 60 N/m]

      slots: 12
      cautions: ['The bar stays hot, for half an hour.', Mind the take-up.]
      "
    `)
    expect(await run('check', `${SHOP}#- bay-2.printer.yaml\n${made.out}`)).toMatch(/nothing found\.\nexit 0$/)
  })

  test('an instrument goes into the shop’s document, and every other byte stays', async () => {
    const shop =
      '#- rollbook.yaml\n# Ours.\nshop:   Alder Lane Signs   # since 1990\n\nunits: metric\n\nrules: { implausible: hint }\n'
    const line = [
      'new',
      'instrument',
      '--instrument',
      'rule-1m',
      '--kind',
      'rule',
      '--division',
      '1 mm',
      '--limit-of-error',
      'class-2',
    ]
    const first = (await ran(line, shop)).files.get('rollbook.yaml')!
    expect(first).toBe(`# Ours.
shop:   Alder Lane Signs   # since 1990

units: metric

instruments:
  rule-1m:
    kind: rule
    division: 1 mm
    limit-of-error: class-2

rules: { implausible: hint }
`)
    const tape = ['new', 'instrument', '--instrument', 'tape-5m', '--kind', 'tape', '--hook', 'yes']
    const second = (await ran(tape, `#- rollbook.yaml\n${first}`)).files.get('rollbook.yaml')!
    expect(second).toBe(first.replace('class-2\n', 'class-2\n  tape-5m:\n    kind: tape\n    hook: true\n'))
  })

  test('answers are added to a printer that is there: further keys, a further mode, nothing changed', async () => {
    const { files, code } = await ran(
      [
        'new',
        'printer',
        '--into',
        'bay-1',
        '--nozzle-pitch',
        '1/180 in',
        '--nozzles',
        '180',
        '--mode',
        'fine',
        '--resolution',
        '720 x 1440 dpi',
        '--passes',
        '16',
        '--heated-zones',
        'after',
        '--after-range',
        '30 °C, 60 °C',
      ],
      SHOP + BAY,
    )
    expect(code).toBe(0)
    expect(files.get('printers/bay-1.printer.yaml')).toBe(`printer: bay-1
heads: { nozzle-pitch: 1/180 in, nozzles: 180 }

modes:
  everyday:
    resolution: 720 x 720 dpi
    passes: 8
  fine:
    resolution: 720 x 1440 dpi
    passes: 16

carriage: {}
feed: {}

heaters:
  after: { range: [30 °C, 60 °C] }
`)
  })

  test('a profile, by its new name', async () => {
    const { created, err, code } = await ran('new profile --stock banner-440 --printer bay-1', SHOP + BAY + BANNER)
    expect([...created.keys()]).toEqual(['/shop/profiles/banner-440-bay-1.media.yaml'])
    expect(err).toMatch(/^profiles\/banner-440-bay-1\.media\.yaml is written: \d test prints to make first stand at its top\.\n$/)
    expect(code).toBe(0)
  })
})

describe('what is refused, with nothing written', () => {
  /** With answers that could stand where none is given. */
  const stock = (...given: readonly string[]): readonly string[] => [
    ...['new', 'stock', ...given],
    ...Object.entries({ stock: 'b', family: 'canvas', thickness: '400 µm' }).flatMap(([key, answer]) =>
      given.includes(`--${key}`) ? [] : [`--${key}`, answer],
    ),
  ]
  const cases: readonly (readonly [readonly string[], RegExp, string?])[] = [
    [stock('--thickness', '0,4 mm'), /thickness: '0,4' has a decimal comma; write a decimal point, '0\.4 mm'\./],
    [stock('--thickness', '0.4'), /thickness: '0\.4' has no unit/],
    [stock('--thickness', '-4 mm'), /thickness: 'thickness' is -4 mm; it is always above 0 mm\./],
    [stock('--thickness', '42 °C'), /thickness: .*length/],
    [stock('--thickness', 'unknown'), /thickness: It cannot begin without this\./],
    [stock('--widths', '1,5 m, 2 m'), /widths: '1,5' has a decimal comma/],
    [stock('--stock', 'Big Banner'), /stock: 'Big Banner' is not a name.*'big-banner'/],
    [stock('--family', 'vinyl'), /family: 'vinyl' is not known here/],
    [stock('--dry-at', '40 °C'), /dry-at: It is asked only where dry-time is answered\./],
    [stock('--received', '11/3/2026', '--lot', 'A'), /received: '11\/3\/2026' is not a date/],
    [stock('--nozzles', '9'), /A new stock is not asked for --nozzles\./],
    [['new', 'stock', '--stock', 'b'], /family: Which family of material is it\? thickness: How thick/],
    [stock(), /There is a stock 'b' already/, '#- b.stock.yaml\nstock: b\n'],
    [
      [
        'new',
        'printer',
        '--printer',
        'p',
        '--mode',
        'm',
        '--resolution',
        '720 x 720 dpi',
        '--passes',
        '8',
        '--suction-levels',
        'low: 100 Pa',
      ],
      /suction-levels: 'low' cannot be a name here: a level is a whole number/,
    ],
    [
      [
        'new',
        'printer',
        '--printer',
        'p',
        '--mode',
        'm',
        '--resolution',
        '720 x 720 dpi',
        '--passes',
        '8',
        '--suction-levels',
        '1: 100 Pa, 1: 200 Pa',
      ],
      /suction-levels: '1' is given twice/,
    ],
    [
      [
        'new',
        'printer',
        '--printer',
        'p',
        '--mode',
        'm',
        '--resolution',
        '720 x 720 dpi',
        '--passes',
        '8',
        '--tension-range',
        '1 N/m, 9 N/m',
        '--tension-levels',
        '1: 8 N/m',
      ],
      /set freely or by level, not both/,
    ],
    [['new', 'printer', '--into', 'bay-1', '--mode', 'fine', '--passes', '4'], /'resolution' is missing|resolution/, BAY],
    [
      ['new', 'printer', '--into', 'bay-1', '--mode', 'everyday', '--passes', '4'],
      /modes\.everyday\.passes stands there already/,
      BAY,
    ],
    [['new', 'printer', '--into', 'bay-9', '--slots', '4'], /There is no printer 'bay-9' here/],
    [['new', 'instrument', '--instrument', 'r'], /there is none yet that can be read/, '#- x.stock.yaml\nstock: x\n'],
    [['new', 'shop', '--shop', 'X'], /There is a shop already/, SHOP],
    [['new', 'profile', '--stock', 'banner-440'], /printer: On which printer\?/, SHOP + BAY + BANNER],
    [
      ['new', 'profile', '--stock', 'baner', '--printer', 'bay-1'],
      /stock: There is no stock 'baner' here\. There is banner-440\./,
      SHOP + BAY + BANNER,
    ],
    [
      ['new', 'profile', '--stock', 'banner-440', '--printer', 'bay-1', '--id', 'Fair Banner'],
      /'Fair Banner' is not a name: .*; did you mean 'fair-banner'\?/,
      SHOP + BAY + BANNER,
    ],
    [['new', 'stok'], /Do you mean 'stock'\?/],
    [['new'], /shop, stock, printer, instrument or profile/],
    [['new', 'stock', '--out', 'b.yaml'], /'b\.yaml' is no name for a stock/],
  ]
  test.each(cases.map(([line, told, fixture]) => ({ line, told, fixture })))(
    '$line',
    async ({ line, told, fixture = '#- x.stock.yaml\nstock: x\n' }) => {
      const { out, err, code, created, files } = await ran(line, fixture)
      expect(err).toMatch(told)
      expect([out, code, created.size]).toEqual(['', 2, 0])
      expect(`${[...files.values()].join()}`).not.toContain('fine')
    },
  )

  test('a file of answers with a key that nobody asked for', async () => {
    const { err, code } = await ran('new stock --answers -', SHOP, { stdin: 'stock: b\nthicknes: 4 mm\n' })
    expect([err, code]).toEqual(["Nothing is asked by 'thicknes'. Do you mean 'thickness'?\n", 2])
  })

  test('a value that is unlikely is taken and told', async () => {
    const { err, code } = await ran(stock('--thickness', '4 mm'), SHOP)
    expect([err, code]).toEqual([expect.stringMatching(/'thickness' is 4 mm; 0\.03 mm to 1\.5 mm is usual/), 0])
  })
})

describe('at a terminal', () => {
  test('what cannot stand is told at once and asked again; ? tells more; done ends', async () => {
    const typed = ['banner-440', 'vinyl', 'banner-pvc', '?', '0,44 mm', '0.44 mm', '', 'unknown', 'done']
    const made = await ran('new stock', SHOP, { typed })
    expect(written(made)).toEqual({
      'stocks/banner-440.stock.yaml': 'stock: banner-440\nfamily: banner-pvc\nthickness: 0.44 mm\n',
    })
    expect(made.err).toMatch(/'vinyl' is not known here/)
    expect(made.err).toMatch(/It is above 0 mm, at most 20 mm\./)
    expect(made.err).toMatch(/'0,44' has a decimal comma/)
    expect(made.err.match(/That is enough to begin/g)).toHaveLength(1)
  })

  test('who goes away in the middle leaves nothing behind', async () => {
    const { err, code, created } = await ran('new stock', SHOP, { typed: ['banner-440', 'canvas'] })
    expect([err.split('\n').at(-2), code, created.size]).toEqual([
      'Nothing is written: the questions were not answered to the end.',
      2,
      0,
    ])
  })

  test('a profile is chosen from what the shop has', async () => {
    const { created, err } = await ran('new profile', SHOP + BAY + BANNER, { typed: ['banner', 'banner-440', 'bay-1', '', ''] })
    expect([...created.keys()]).toEqual(['/shop/profiles/banner-440-bay-1.media.yaml'])
    expect(err).toMatch(/There is no stock 'banner' here\. There is banner-440\./)
    expect(err).toMatch(/In which of its modes\? \(.*: everyday\)/)
  })

  test('of a printer that is there, only what it lacks is asked', async () => {
    const { err } = await ran('new printer --into bay-1', SHOP + BAY, { typed: ['fine', 'done'] })
    expect(err).not.toMatch(/What do you call the machine/)
    expect(err).toMatch(/'?done'? ends/)
  })
})

test('the questions as data say all that is needed to answer them', async () => {
  for (const kind of ['shop', 'stock', 'printer', 'instrument', 'profile']) {
    const { out, code } = await ran(['new', kind, '--questions'])
    const { questions } = JSON.parse(out) as { questions: readonly Record<string, unknown>[] }
    expect([kind, code, new Set(questions.map(({ key }) => key)).size]).toEqual([kind, 0, questions.length])
    for (const { key, ask, why, where, takes, must, open } of questions) {
      for (const text of [ask, why, where])
        expect([kind, key, text]).toEqual([kind, key, expect.stringMatching(/^\p{Lu}.*[.?]$/u)])
      expect([kind, key, takes]).toEqual([kind, key, expect.stringMatching(/\S/)])
      expect([kind, key, open === undefined]).toEqual([kind, key, must])
    }
  }
})
