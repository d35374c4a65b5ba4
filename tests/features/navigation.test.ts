// From a name to what it names, and from an id to everything that names it: shown as file and line.
import { describe, expect, test } from 'vitest'
import { LineIndex } from '../../server/src/base/line-index.ts'
import type { Location } from '../../server/src/features/context.ts'
import type { Analysis } from '../../server/src/workspace/analysis.ts'
import { cursorOf, openFixture, parseFixture, ROOT } from '../support/fixture.ts'
import { inShop, SHOP } from './example-shop.ts'

const HEAD = 'profile: example\nstock: film\nprinter: bay-1\nmode: standard\n'

type Ask = 'definition' | 'references'

/** `file: the line with the «place» marked`, one a line. */
async function places(ask: Ask, source: string): Promise<string> {
  const fixture = parseFixture(source)
  const analysis: Analysis = await openFixture(fixture)
  const shown = ({ file, span }: Location): string => {
    const text = fixture.files.get(file)!
    const lines = new LineIndex(text)
    const line = lines.lineAt(span.start)
    const [start, end] = [lines.lineStart(line), lines.lineEnd(line)]
    return `${file.slice(ROOT.length)}: ${text.slice(start, span.start)}«${text.slice(span.start, Math.min(span.end, end))}»${text.slice(span.end, end)}`
  }
  return (await analysis[ask](fixture.file, cursorOf(fixture))).map(shown).join('\n') || 'nowhere'
}

describe('what a name leads to', () => {
  const definition = (profile: string): Promise<string> => places('definition', inShop(profile))

  test('stock, printer, base', async () => {
    expect(await definition(HEAD.replace('film', 'fi$0lm'))).toMatchInlineSnapshot(`"film.stock.yaml: stock: «film»"`)
    expect(await definition(HEAD.replace('bay-1', 'bay-1$0'))).toMatchInlineSnapshot(`"bay-1.printer.yaml: printer: «bay-1»"`)
    expect(await definition('profile: example\nbase: $0everyday\n')).toMatchInlineSnapshot(
      `"everyday.media.yaml: profile: «everyday»"`,
    )
  })

  test('mode, instrument, lot, channel', async () => {
    expect(await definition(HEAD.replace('standard', 'stan$0dard'))).toMatchInlineSnapshot(
      `"bay-1.printer.yaml:   «standard»: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}"`,
    )
    expect(await definition(`${HEAD}feed: {checks: [{with: tape-$05m}]}\n`)).toMatchInlineSnapshot(
      `"rollbook.yaml:   «tape-5m»: {kind: tape, division: 1 mm}"`,
    )
    expect(await definition(`${HEAD}feed: {checks: [{lot: L-$018}]}\n`)).toMatchInlineSnapshot(
      `"film.stock.yaml:   - «{lot: L-18, received: 2026-03-20}»"`,
    )
    expect(await definition(`${HEAD}alignment: {one-way: {mag$0enta: 2}}\n`)).toMatchInlineSnapshot(
      `"bay-1.printer.yaml: heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2, channels: [cyan, «magenta», yellow, black]}"`,
    )
  })

  test('levels and gaps, given or read back, and the setting that was read back', async () => {
    const at = (line: string): Promise<string> => definition(`${HEAD}suction: 3\n${line}\n`)
    expect(await at('keyed: [{suction: $02}]')).toMatchInlineSnapshot(
      `"bay-1.printer.yaml: suction: {levels: {1: 100 Pa, «2»: 200 Pa, 3: 320 Pa}}"`,
    )
    expect(await at('web: {tension: $01}')).toMatchInlineSnapshot(
      `"bay-1.printer.yaml: web: {tension-levels: {«1»: 8 N/m, 2: 15 N/m}}"`,
    )
    expect(await at('web: {tension: $015 N/m}')).toBe('nowhere')
    expect(await at('gap: $02 mm')).toMatchInlineSnapshot(`"bay-1.printer.yaml: carriage: {gaps: [1.5 mm, «2.0 mm», 2.5 mm]}"`)
    expect(await at('gap: $02.2 mm')).toBe('nowhere')
    expect(await at('conditions: {before: {gap: $02.5 mm}}')).toMatchInlineSnapshot(
      `"bay-1.printer.yaml: carriage: {gaps: [1.5 mm, 2.0 mm, «2.5 mm»]}"`,
    )
    expect(await at('gap: 2 mm\nkeyed: [{suction: 77 Pa$0}]')).toMatchInlineSnapshot(`"example.media.yaml: suction: «3»"`)
    expect(await definition('profile: example\nbase: everyday\nkeyed: [{platen: $041 °C}]\n')).toMatchInlineSnapshot(
      `"everyday.media.yaml: heat: {platen: «40 °C»}"`,
    )
  })

  test('a mode that was measured with, the place of a name itself, and what an alias stands for', async () => {
    expect(await definition(`${HEAD}conditions: {before: {printer: bay-1, mode: fi$0ne}}\n`)).toMatchInlineSnapshot(
      `"bay-1.printer.yaml:   «fine»: {resolution: 720 x 720 dpi, passes: 16, carriage-speed: 1000 mm/s, directions: one-way}"`,
    )
    expect(await definition('profile: exa$0mple\n')).toMatchInlineSnapshot(`"example.media.yaml: profile: «example»"`)
    expect(await definition('profile: example\nx-a: &a {platen: 1 °C}\nheat: *$0a\n')).toMatchInlineSnapshot(
      `"example.media.yaml: x-a: &a {«platen»: 1 °C}"`,
    )
  })

  test('a setting that replaces one of its base', async () => {
    expect(await definition('profile: example\nbase: everyday\nheat: {platen: 3$08 °C}\n')).toMatchInlineSnapshot(
      `"everyday.media.yaml: heat: {platen: «40 °C»}"`,
    )
  })

  test('nowhere, for names that nothing has, and for plain values', async () => {
    expect(await definition(HEAD.replace('film', 'fi$0rm'))).toBe('nowhere')
    expect(await definition(`${HEAD}slot: 2$0\n`)).toBe('nowhere')
    expect(await definition(`${HEAD}# $0\n`)).toBe('nowhere')
  })

  test('both, where two documents have one id', async () => {
    expect(
      await places('definition', `${inShop(HEAD.replace('film', 'fi$0lm'))}#- old.stock.yaml\nstock: film\n`),
    ).toMatchInlineSnapshot(`
      "film.stock.yaml: stock: «film»
      old.stock.yaml: stock: «film»"
    `)
  })
})

describe('everything that names a document', () => {
  test('from its own id', async () => {
    expect(
      await places('references', `${SHOP.replace('stock: film\ntitle', 'stock: fi$0lm\ntitle')}#- example.media.yaml\n${HEAD}`),
    ).toMatchInlineSnapshot(`
      "everyday.media.yaml: stock: «film»
      example.media.yaml: stock: «film»"
    `)
  })

  test('from a profile that names it', async () => {
    expect(await places('references', inShop(HEAD.replace('bay-1', 'ba$0y-1')))).toMatchInlineSnapshot(`
      "everyday.media.yaml: printer: «bay-1»
      example.media.yaml: printer: «bay-1»"
    `)
  })

  test('profiles that are based on one', async () => {
    expect(
      await places(
        'references',
        `${SHOP.replace('profile: everyday', 'profile: every$0day')}#- example.media.yaml\nprofile: example\nbase: everyday\n`,
      ),
    ).toMatchInlineSnapshot(`"example.media.yaml: base: «everyday»"`)
  })

  test('a mode of one printer, and not one of that name on another', async () => {
    expect(
      await places(
        'references',
        `${SHOP.replace('  fine: {res', '  fi$0ne: {res')}#- example.media.yaml
profile: example
base: everyday
mode: fine
conditions: { before: { printer: bay-1, mode: fine } }
#- other.printer.yaml
printer: other
modes: { fine: {} }
#- elsewhere.media.yaml
profile: elsewhere
base: everyday
printer: other
mode: fine
`,
      ),
    ).toMatchInlineSnapshot(`
      "example.media.yaml: mode: «fine»
      example.media.yaml: conditions: { before: { printer: bay-1, mode: «fine» } }"
    `)
  })

  test('an instrument, a lot, a level, a channel', async () => {
    const on = (from: string, to: string): Promise<string> =>
      places(
        'references',
        `${SHOP.replace(from, to)}#- example.media.yaml
${HEAD}suction: 2
web: {tension: 2}
keyed: [{suction: 2}]
alignment: {one-way: {cyan: 0}, two-way: {cyan: 1}}
feed:
  checks:
    - {with: tape-5m, lot: L-18}
    - {with: tape-5m, lot: "L-18"}
#- canvas.media.yaml
profile: canvas
stock: canvas
printer: bay-1
feed: {checks: [{lot: L-18, with: tape-5m}]}
`,
      )
    expect(await on('tape-5m', 'tape-$05m')).toMatchInlineSnapshot(`
      "canvas.media.yaml: feed: {checks: [{lot: L-18, with: «tape-5m»}]}
      example.media.yaml:     - {with: «tape-5m», lot: L-18}
      example.media.yaml:     - {with: «tape-5m», lot: "L-18"}"
    `)
    expect(await on('lot: L-18', 'lot: L-1$08')).toMatchInlineSnapshot(`
      "example.media.yaml:     - {with: tape-5m, lot: «L-18»}
      example.media.yaml:     - {with: tape-5m, lot: «"L-18"»}"
    `)
    expect(await on('{levels: {1: 100 Pa, 2', '{levels: {1: 100 Pa, 2$0')).toMatchInlineSnapshot(`
      "example.media.yaml: suction: «2»
      example.media.yaml: keyed: [{suction: «2»}]"
    `)
    expect(await on('[cyan', '[cy$0an')).toMatchInlineSnapshot(`
      "example.media.yaml: alignment: {one-way: {«cyan»: 0}, two-way: {cyan: 1}}
      example.media.yaml: alignment: {one-way: {cyan: 0}, two-way: {«cyan»: 1}}"
    `)
  })
})

describe('documents by a few letters', () => {
  const find = async (query: string): Promise<readonly string[]> =>
    (await openFixture(parseFixture(SHOP))).findDocuments(query).map(({ name, kind }) => `${kind} ${name}`)

  test('of the id, of the title, with gaps, in any case; the nearest first', async () => {
    expect(await find('film')).toMatchInlineSnapshot(`
      [
        "stock film · Gloss cast film",
        "media everyday · Film, everyday",
      ]
    `)
    expect(await find('Solvent')).toMatchInlineSnapshot(`
      [
        "printer bay-1 · Bay 1, solvent",
      ]
    `)
    expect(await find('b1')).toMatchInlineSnapshot(`
      [
        "printer bay-1 · Bay 1, solvent",
      ]
    `)
    expect(await find('gl cst')).toMatchInlineSnapshot(`
      [
        "stock film · Gloss cast film",
      ]
    `)
    expect(await find('zzz')).toEqual([])
    expect(await find('')).toHaveLength(5)
  })
})
