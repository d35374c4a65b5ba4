// `rollbook set` and `rollbook record`: the smallest edit, what follows, and everything that is refused with nothing written.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { runs } from '../support/counts.ts'
import { seed } from '../support/seed.ts'
import { type Ran, ran } from './shell.ts'

const FILM = 'profiles/film.media.yaml'
const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
tolerance: { length: 0.05 % }
instruments:
  rule-1m: { kind: rule, division: 0.5 mm, limit-of-error: class-1, expansion: 11.5 ppm/K }
#- printers/bay-1.printer.yaml
printer: bay-1
modes:
  brisk: { resolution: 720 x 360 dpi, passes: 4 }
carriage: { gaps: [1.5 mm, 2.0 mm, 2.5 mm] }
feed: { range: [-2 %, 2 %], step: 0.01 %, entry: percent }
heaters:
  after: { range: [30 °C, 60 °C], step: 1 K }
suction: { levels: { 1: 80 Pa, 2: 160 Pa } }
slots: 10
#- stocks/cast-film.stock.yaml
stock: cast-film
family: film-pvc-cast
thickness: 80 µm
max-web-temperature: 55 °C
lots:
  - { lot: L-1, received: 2026-03-02 }
#- ${FILM}
# The film of the corner shop.
profile: film
stock: cast-film
printer: bay-1
mode: brisk
slot: 3
gap: 1.5 mm      # by the lever
feed:
  correction: +0.21 %
  checks:
    - { date: 2026-03-20, commanded: 1000 mm, measured: 998.4 mm, applied: 0 %, with: rule-1m, web: 23 °C }
    - { date: 2026-03-24, commanded: 1000 mm, measured: 999.9 mm, applied: +0.21 %, with: rule-1m, web: 23 °C, note: wet day }
heat: { after: 42 °C }
suction: 2
`

/** The documents of a run by path, where it wrote any. */
async function did(...line: readonly string[]): Promise<Ran & { readonly changed: readonly string[] }> {
  const before = await ran('--version', SHOP)
  const after = await ran([...line, '--today', '2026-03-26'], SHOP)
  return { ...after, changed: [...after.files].flatMap(([path, text]) => diff(before.files.get(path)!, text)) }
}

/** The lines that went and came. */
function diff(before: string, after: string): readonly string[] {
  const [was, is] = [before.split('\n'), after.split('\n')]
  return [
    ...was.filter((line) => !is.includes(line)).map((line) => `- ${line.trim()}`),
    ...is.filter((line) => !was.includes(line)).map((line) => `+ ${line.trim()}`),
  ]
}

describe('set', () => {
  test.each([
    [
      ['feed.correction=+0.24 %', 'heat.after=45 °C'],
      ['- correction: +0.21 %', '- heat: { after: 42 °C }', '+ correction: +0.24 %', '+ heat: { after: 45 °C }'],
    ],
    [['gap=2.0 mm'], ['- gap: 1.5 mm      # by the lever', '+ gap: 2.0 mm      # by the lever']],
    [['drying.pause=2 s'], ['+ drying:', '+ pause: 2 s']],
    [['heat.fan=true'], ['- heat: { after: 42 °C }', '+ heat: { after: 42 °C, fan: true }']],
  ] as const)('film %s', async (given, changed) => {
    const one = await did('set', 'film', ...given)
    expect(one).toMatchObject({ changed, err: `${FILM} is changed; nothing else in it is.\n` })
    expect(one.out).toContain('What changed')
  })

  test('what the machine was read back with, as a person says', async () => {
    const { changed } = await did('set', 'film', 'feed.correction=+0.24 %', 'suction=1', '--read-back')
    expect(changed).toEqual([
      '- correction: +0.21 %',
      '- suction: 2',
      '+ correction: +0.24 %',
      '+ suction: 1',
      '+ keyed:',
      '+ - { date: 2026-03-26, correction: +0.24 %, suction: 1 }',
    ])
  })

  test('a mistyped reading, with a trace of what was written', async () => {
    expect((await did('set', 'film', 'feed.checks.1.measured=997.9 mm')).changed.at(-1)).toBe(
      "+ - { date: 2026-03-20, commanded: 1000 mm, measured: 997.9 mm, applied: 0 %, with: rule-1m, web: 23 °C, note: 'measured was 998.4 mm, corrected 2026-03-26' }",
    )
    expect((await did('set', FILM, 'feed.checks.2026-03-24.measured=999.4 mm')).changed.at(-1)).toContain(
      "note: 'wet day; measured was 999.9 mm, corrected 2026-03-26' }",
    )
  })

  test('any document: a stock is retired, a lot is finished, lists and levels of a printer', async () => {
    expect((await did('set', 'stocks/cast-film.stock.yaml', 'retired=today', 'lots.L-1.finished=yesterday')).changed).toEqual([
      '- - { lot: L-1, received: 2026-03-02 }',
      '+ - { lot: L-1, received: 2026-03-02, finished: 2026-03-25 }',
      '+ retired: 2026-03-26',
    ])
    expect((await did('set', 'bay-1', 'carriage.gaps=1.5 mm, 2.0 mm', 'suction.levels.3=240 Pa')).changed).toEqual([
      '- carriage: { gaps: [1.5 mm, 2.0 mm, 2.5 mm] }',
      '- suction: { levels: { 1: 80 Pa, 2: 160 Pa } }',
      '+ carriage: { gaps: [1.5 mm, 2.0 mm] }',
      '+ suction: { levels: { 1: 80 Pa, 2: 160 Pa, 3: 240 Pa } }',
    ])
    expect((await did('set', 'rollbook.yaml', 'tolerance.length=0.1 %')).changed.at(-1)).toBe('+ tolerance: { length: 0.1 % }')
  })

  test('what it says already is left alone, and with --try nothing is written', async () => {
    expect(await did('set', 'film', 'gap=1.5 mm')).toMatchObject({ code: 0, out: `${FILM} says so already.\n`, changed: [] })
    const tried = await did('set', 'film', 'gap=2.0 mm', '--try')
    expect(tried).toMatchObject({ changed: [], err: expect.stringContaining('nothing is written') })
    expect(tried.out).toMatch(/gap +1\.5 mm +2\.0 mm/)
  })

  test('ends with 1 where something is to be looked at that was not', async () => {
    expect(await did('set', 'film', 'feed.correction=+0.5 %')).toMatchObject({
      code: 1,
      out: expect.stringContaining('feed-correction'),
    })
  })

  test.each([
    ['beyond the printer', ['film', 'heat.after=75 °C'], /takes 30 °C to 60 °C, and 75 °C is set/],
    ['beyond the stock', ['film', 'gap=0.05 mm'], /0\.05 mm/],
    ['not on the machine', ['film', 'gap=3 mm'], /3 mm/],
    ['no such level', ['film', 'suction=4'], /4/],
    ['a half of it', ['film', 'gap=2.0 mm', 'suction=4'], /4/],
    ['no unit', ['film', 'gap=2'], /'2' has no unit/],
    ['another unit', ['film', 'gap=2 s'], /2 s/],
    ['no number', ['film', 'gap=wide'], /wide/],
    ['no value', ['film', 'gap='], /gap has no value/],
    ['two lines', ['film', 'title=a\nb'], /one line/],
    ['a mistyped key', ['film', 'heat.aftr=45 °C'], /no such key here\. Do you mean 'heat\.after'/],
    ['a group', ['film', 'heat=45 °C'], /a group/],
    ['what was measured under', ['film', 'feed.checks.1.date=2026-03-21'], /evidence/],
    ['no such entry', ['film', 'feed.checks.7.measured=1 m'], /no '7'/],
    ['another id', ['film', 'profile=house'], /house/],
    ['a stock that is none', ['film', 'stock=banner'], /banner/],
    ['no document', ['flim', 'gap=2.0 mm'], /no document 'flim' here.*Do you mean 'film'/],
    ['nothing read back', ['film', 'title=corner', '--read-back'], /nothing that is read back/],
    ['words', [FILM, 'gap', '2.0 mm'], /KEY=VALUE/],
  ] as const)('refuses %s, and nothing is written', async (_, line, why) => {
    const { code, err, out, changed } = await did('set', ...line.map((word) => (word === 'film' ? FILM : word)))
    expect([code, out, changed]).toEqual([2, '', []])
    expect(err).toMatch(why)
  })

  test('takes no document that is broken, or rests on one that is', async () => {
    for (const path of [FILM, 'stocks/cast-film.stock.yaml']) {
      const broken = SHOP.replace(`#- ${path}\n`, `#- ${path}\nnotes: "open\n`)
      const { code, err, files } = await ran(['set', FILM, 'gap=2.0 mm'], broken)
      expect([code, err.includes('Nothing is written'), files.get(FILM)?.includes('gap: 1.5 mm')]).toEqual([2, true, true])
    }
  })

  test('whatever heat, gap and correction are given: written is only what the printer and the stock allow', async () => {
    const value = fc.oneof(
      fc.integer({ min: 0, max: 90 }).map((heat) => [`heat.after=${heat} °C`, heat >= 30 && heat <= 60] as const),
      fc.integer({ min: 1, max: 40 }).map((gap) => [`gap=${gap / 10} mm`, [15, 20, 25].includes(gap)] as const),
      fc.integer({ min: -300, max: 300 }).map((part) => [`feed.correction=${part / 100} %`, Math.abs(part) <= 200] as const),
    )
    await fc.assert(
      fc.asyncProperty(value, async ([given, isAllowed]) => {
        const { code, changed } = await did('set', FILM, given)
        expect([given, code !== 2]).toEqual([given, isAllowed])
        if (!isAllowed) expect([given, changed]).toEqual([given, []])
      }),
      { seed, numRuns: runs(300, 15) },
    )
  })
})

describe('record', () => {
  test('what is to be done stands first, and what follows after it', async () => {
    const { out } = await did('record', FILM, 'feed.checks', 'date=today', ...CHECK, '--under', 'settings')
    const [first, ...rest] = out.split('\n\n')
    expect(first).toMatch(/^Print 2 more, each on another day\. Doubtful/)
    expect(rest.join('\n\n')).toMatch(/^Review of /)
  })

  const CHECK = ['commanded=1000 mm', 'measured=999.8 ±0.2 mm', 'applied=+0.21 %', 'with=rule-1m']

  test('a check, where its day belongs, under the settings as they are', async () => {
    const { changed, code } = await did('record', FILM, 'feed.checks', 'date=2026-03-22', ...CHECK, '--under', 'settings')
    expect(code).not.toBe(2)
    expect(changed).toEqual([
      expect.stringMatching(
        /^\+ - \{ date: 2026-03-22, commanded: 1000 mm, measured: 999\.8 ±0\.2 mm, applied: \+0\.21 %, with: rule-1m, under: \S+ \}$/,
      ),
      '+ conditions:',
      expect.stringMatching(/^\+ \S+: \{ from: profile, stock: cast-film, printer: bay-1, mode: brisk, gap: 1\.5 mm, suction: 2/),
    ])
  })

  test.each([
    ['bay-1', 'events', ['date=today', 'what=head-changed'], ['+ events:', '+ - { date: 2026-03-26, what: head-changed }']],
    ['stocks/cast-film.stock.yaml', 'lots', ['lot=L-2', 'received=today'], ['+ - { lot: L-2, received: 2026-03-26 }']],
    [FILM, 'observed', ['date=today', 'fault=cockle'], ['+ observed:', '+ - { date: 2026-03-26, fault: cockle }']],
    [FILM, 'keyed', ['date=yesterday', 'gap=1.5 mm'], ['+ keyed:', '+ - { date: 2026-03-25, gap: 1.5 mm }']],
  ] as const)('%s %s', async (document, list, given, changed) => {
    expect(await did('record', document, list, ...given)).toMatchObject({ changed })
  })

  test('what happened to an instrument, inside a table', async () => {
    const { changed } = await did('record', 'rollbook.yaml', 'instruments.rule-1m.suspect', 'from=2026-03-22', 'why=fell')
    expect(changed.at(-1)).toContain('suspect: [{ from: 2026-03-22, why: fell }]')
  })

  test('what is there already is not there twice, unless it was measured again', async () => {
    const there = ['date=2026-03-20', 'commanded=1000 mm', 'measured=998.4 mm', 'applied=0 %', 'with=rule-1m', 'web=23 °C']
    expect(await did('record', FILM, 'feed.checks', ...there)).toMatchObject({ code: 0, changed: [] })
    const other = there.map((cell) => cell.replace('23 °C', '24 °C'))
    expect(await did('record', FILM, 'feed.checks', ...other)).toMatchObject({ code: 2, changed: [] })
    expect((await did('record', FILM, 'feed.checks', ...other, '--repeats')).changed).toHaveLength(1)
  })

  test.each([
    ['no day', ['feed.checks', ...CHECK], /date is missing/],
    ['no unit', ['feed.checks', 'date=today', 'commanded=1000', 'measured=999 mm', 'applied=0 %'], /commanded: '1000'/],
    ['no instrument', ['feed.checks', 'date=today', ...CHECK.slice(0, 3), 'with=rule-2m'], /no instrument 'rule-2m'/],
    ['a slipped point', ['feed.checks', 'date=today', ...CHECK.with(1, 'measured=99.98 mm')], /99\.98 mm was measured/],
    ['still to come', ['observed', 'date=2027-01-01', 'fault=cockle'], /2027-01-01/],
    ['no fault', ['observed', 'date=today', 'fault=cocckle'], /none of .*cockle/],
    ['no list', ['heat', 'after=45 °C'], /heat: It is no list/],
    ['no state', ['observed', 'date=today', 'fault=cockle', '--under', 'settings'], /leave --under out/],
    ['not read back', ['feed.checks', 'date=today', ...CHECK, '--under', 'read-back'], /Nothing was read back/],
  ] as const)('refuses %s, and nothing is written', async (_, line, why) => {
    const { code, err, changed } = await did('record', FILM, ...line)
    expect([code, changed]).toEqual([2, []])
    expect(err).toMatch(why)
  })
})
