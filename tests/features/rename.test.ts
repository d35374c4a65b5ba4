// Another name for a thing of the shop, in every document that names it: shown as the lines that change, and the file that is moved.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { applyEdits, editsOf } from '../../server/src/base/text-edit.ts'
import { mentionsIn } from '../../server/src/model/names.ts'
import { isMadeName } from '../../server/src/model/states.ts'
import { kindOfFile } from '../../server/src/schema/schema.ts'
import { SyntaxTree } from '../../server/src/syntax/parse.ts'
import { openBench } from '../properties/shop.ts'
import { runs } from '../support/counts.ts'
import { cursorOf, openFixture, parseFixture, ROOT } from '../support/fixture.ts'
import { samples } from '../support/texts.ts'
import { inShop, SHOP } from './example-shop.ts'

const HEAD = 'profile: example\nstock: film\nprinter: bay-1\nmode: standard\n'

/** `file: the line as it becomes`, one a line, or why it is refused. */
async function renamed(source: string, name: string): Promise<string> {
  const fixture = parseFixture(source)
  const analysis = await openFixture(fixture)
  const renaming = await analysis.rename(fixture.file, cursorOf(fixture), name)
  if (!renaming) return 'nothing here'
  if (!renaming.ok) return `refused: ${renaming.refused}`
  const out: string[] = []
  for (const [{ file, text }, edits] of renaming.edits) {
    const before = text.split('\n')
    const after = applyEdits(text, editsOf(text, edits)).split('\n')
    for (const [i, line] of after.entries()) if (line !== before[i]) out.push(`${file.slice(ROOT.length)}: ${line}`)
  }
  if (renaming.file) out.push(`${renaming.file.from.slice(ROOT.length)} → ${renaming.file.to.slice(ROOT.length)}`)
  return out.join('\n')
}

describe('a document', () => {
  test('a stock, open or closed, with its file, and nothing that only looks like it', async () => {
    const profile = `# film
profile: film-bay-1
title: film
stock: "fi$0lm" # film
printer: bay-1
observed: [{ note: film }]
`
    expect(await renamed(inShop(profile), 'gloss-film')).toMatchInlineSnapshot(`
      "film.stock.yaml: stock: gloss-film
      everyday.media.yaml: stock: gloss-film
      example.media.yaml: stock: "gloss-film" # film
      film.stock.yaml → gloss-film.stock.yaml"
    `)
  })

  test('a printer, and a profile that others are based on', async () => {
    expect(await renamed(inShop(HEAD.replace('bay-1', 'bay-$01')), 'bay-9')).toMatchInlineSnapshot(`
      "bay-1.printer.yaml: printer: bay-9
      everyday.media.yaml: printer: bay-9
      example.media.yaml: printer: bay-9
      bay-1.printer.yaml → bay-9.printer.yaml"
    `)
    expect(await renamed(inShop('profile: example\nbase: every$0day\n'), 'daily')).toMatchInlineSnapshot(`
      "everyday.media.yaml: profile: daily
      example.media.yaml: base: daily
      everyday.media.yaml → daily.media.yaml"
    `)
  })

  test('a file of another name stays', async () => {
    expect(await renamed('#- some.stock.yaml\nstock: fi$0lm\n', 'foil')).toBe('some.stock.yaml: stock: foil')
  })
})

describe('what documents name', () => {
  const use = `${HEAD}suction: 2 # 2
web: { tension: 2 }
keyed: [{ suction: 2, tension: 2 }, { suction: 2 }]
alignment: { one-way: { cyan: 0 }, two-way: { 'cyan': 1 } }
conditions: { before: { printer: bay-1, mode: standard } }
feed:
  checks: [{ with: tape-5m, lot: L-18 }]
`
  const on = (from: string, name: string): Promise<string> =>
    renamed(`${SHOP.replace(from.replace('$0', ''), from)}#- example.media.yaml\n${use}`, name)

  test('mode, channel, instrument, lot', async () => {
    expect(await on('  stan$0dard:', 'quick')).toMatchInlineSnapshot(`
      "bay-1.printer.yaml:   quick: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
      everyday.media.yaml: mode: quick
      example.media.yaml: mode: quick
      example.media.yaml: conditions: { before: { printer: bay-1, mode: quick } }"
    `)
    expect(await on('[cy$0an', 'process-cyan')).toMatchInlineSnapshot(`
      "bay-1.printer.yaml: heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2, channels: [process-cyan, magenta, yellow, black]}
      example.media.yaml: alignment: { one-way: { process-cyan: 0 }, two-way: { 'process-cyan': 1 } }"
    `)
    expect(await on('  tape-$05m', 'tape-blue')).toMatchInlineSnapshot(`
      "rollbook.yaml:   tape-blue: {kind: tape, division: 1 mm}
      example.media.yaml:   checks: [{ with: tape-blue, lot: L-18 }]"
    `)
    expect(await on('lot: L-1$08', 'Lot no. 18, second half')).toMatchInlineSnapshot(`
      "film.stock.yaml:   - {lot: 'Lot no. 18, second half', received: 2026-03-20}
      example.media.yaml:   checks: [{ with: tape-5m, lot: 'Lot no. 18, second half' }]"
    `)
  })

  test('a level of suction, and not the one of tension', async () => {
    expect(await on('1: 100 Pa, 2$0', '5')).toMatchInlineSnapshot(`
      "bay-1.printer.yaml: suction: {levels: {1: 100 Pa, 5: 200 Pa, 3: 320 Pa}}
      example.media.yaml: suction: 5 # 2
      example.media.yaml: keyed: [{ suction: 5, tension: 2 }, { suction: 5 }]"
    `)
  })

  test('a mode that a base without a printer hands down', async () => {
    const base = '#- plain.media.yaml\nprofile: plain\nmode: standard\n'
    const heir = (id: string, rest: string): string => `#- ${id}.media.yaml\nprofile: ${id}\nbase: plain\n${rest}`
    const from = SHOP.replace('  standard:', '  stan$0dard:')
    expect(await renamed(`${from}${base}${heir('a', 'printer: bay-1\n')}`, 'quick')).toContain('plain.media.yaml: mode: quick')
    const two = `${from}${base}${heir('a', 'printer: bay-1\n')}${heir('b', 'printer: bay-2\n')}`
    expect(await renamed(two, 'quick')).toMatchInlineSnapshot(
      `"refused: plain.media.yaml gives 'standard' to profiles on bay-1 and bay-2, so it is the mode of each of them."`,
    )
    const own = `${from}${base}${heir('a', 'printer: bay-1\n')}${heir('b', 'printer: bay-2\nmode: other\n')}`
    expect(await renamed(own, 'quick')).toContain('plain.media.yaml: mode: quick')
  })
})

describe('refused, with the reason', () => {
  test('a name that is none, or is taken', async () => {
    const stock = inShop(HEAD.replace('film', 'fi$0lm'))
    expect(await renamed(stock, 'Gloss Film')).toMatchInlineSnapshot(
      `"refused: 'Gloss Film' is no name for a stock: lower-case words joined by hyphens are."`,
    )
    expect(await renamed(stock, 'canvas')).toMatchInlineSnapshot(`"refused: canvas.stock.yaml is the stock 'canvas' already."`)
    expect(await renamed(`${stock}#- foil.stock.yaml\nstock: other\n`, 'foil')).toMatchInlineSnapshot(
      `"refused: There is a file foil.stock.yaml already."`,
    )
    expect(await renamed(inShop(HEAD.replace('standard', 'stan$0dard')), 'fine')).toMatchInlineSnapshot(
      `"refused: bay-1.printer.yaml has the mode 'fine' already."`,
    )
    expect(await renamed(inShop(`${HEAD}suction: $02\n`), 'two')).toMatchInlineSnapshot(
      `"refused: 'two' is no suction level: a whole number is."`,
    )
    expect(await renamed(inShop(`${HEAD}suction: $02\n`), '3')).toMatchInlineSnapshot(
      `"refused: bay-1.printer.yaml has the suction level '3' already."`,
    )
    expect(await renamed(inShop(`${HEAD}alignment: { one-way: { cy$0an: 1, zyan: 2 } }\n`), 'zyan')).toMatchInlineSnapshot(
      `"refused: In example.media.yaml: 'zyan' stands beside 'cyan' already."`,
    )
    expect(await renamed(inShop(`${HEAD}feed: { checks: [{ lot: L-1$08 }] }\n`), 'L\n18')).toMatchInlineSnapshot(`
      "refused: 'L
      18' is no lot: a few words or a number are."
    `)
  })

  test('a name that nothing has, or that two have', async () => {
    expect(await renamed(inShop(HEAD.replace('film', 'fi$0rm')), 'film-2')).toMatchInlineSnapshot(
      `"refused: Nothing in this shop is the stock 'firm', so there is nothing to rename."`,
    )
    expect(
      await renamed(`${inShop(HEAD.replace('film', 'fi$0lm'))}#- old.stock.yaml\nstock: film\n`, 'foil'),
    ).toMatchInlineSnapshot(
      `"refused: film.stock.yaml and old.stock.yaml are both the stock 'film': give one of them a name of its own by hand first."`,
    )
    expect(await renamed('profile: example\nmode: fi$0ne\n', 'coarse')).toMatchInlineSnapshot(
      `"refused: This document names no printer, so whose mode 'fine' is cannot be told."`,
    )
    expect(await renamed(inShop(`${HEAD}gap: 2$0 mm\n`), 'x')).toBe('nothing here')
  })

  test('a place that cannot be edited, or may not have been seen', async () => {
    const stock = inShop(HEAD.replace('film', 'fi$0lm'))
    const other = (text: string): string => `${stock}#- other.media.yaml\nprofile: other\n${text}`
    expect(await renamed(other('x-s: &s film\nstock: *s\n'), 'foil')).toMatchInlineSnapshot(
      `"refused: In other.media.yaml: The value is shared through an anchor (&) and an alias (*): changing it here would change it elsewhere. Write it out first."`,
    )
    expect(await renamed(other('stock: film\nheat: {platen: 40\n'), 'foil')).toMatchInlineSnapshot(
      `"refused: The text of other.media.yaml has mistakes, so not every name in it is seen: mend it first."`,
    )
    expect(
      await renamed(other('stock: film\n<<<<<<< a\ngap: 1 mm\n=======\ngap: 2 mm\n>>>>>>> b\n'), 'foil'),
    ).toMatchInlineSnapshot(`"refused: There is an open conflict in other.media.yaml: settle it first."`)
    const channel = inShop(HEAD).replace('[cyan', '[cy$0an')
    const shared = '#- other.media.yaml\nprinter: bay-1\nalignment: { one-way: &a { cyan: 1 }, two-way: *a }\n'
    expect(await renamed(`${channel}${shared}`, 'blue')).toMatchInlineSnapshot(`
      "bay-1.printer.yaml: heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2, channels: [blue, magenta, yellow, black]}
      other.media.yaml: alignment: { one-way: &a { blue: 1 }, two-way: *a }"
    `)
    const merged = '#- other.media.yaml\nprinter: bay-1\nx-c: &c { with: tape-5m }\nfeed: { checks: [{ <<: *c }] }\n'
    expect(await renamed(`${inShop(HEAD).replace('  tape-5m', '  tape-$05m')}${merged}`, 'tape')).toMatchInlineSnapshot(
      `"refused: In other.media.yaml: The value is shared through an anchor (&) and an alias (*): changing it here would change it elsewhere. Write it out first."`,
    )
  })
})

test('in the samples: there and back again leaves every byte', async () => {
  const bench = await openBench()
  const places = samples()
    .filter(({ name }) => name.startsWith('tern-quay/'))
    .flatMap(({ name, text }) =>
      mentionsIn(kindOfFile(name)!, SyntaxTree.parse(text).root)
        // A state that the tool has named after its content gets no other name, and not back to that one.
        .filter(({ of, name: called }) => of !== 'state' || !isMadeName(called))
        // Nor does the number of a level that has a name too: bay 3 names its own.
        .filter(({ of, name: called }) => !(of.endsWith('-level') && /^\d+$/.test(called) && name.includes('bay-3')))
        .map((mention) => ({ name, text, mention })),
    )
  const refused: string[] = []
  await fc.assert(
    fc.asyncProperty(fc.constantFrom(...places), async ({ name, text, mention }) => {
      const file = await bench.put(name, text)
      const other = mention.of.endsWith('-level') && /^\d+$/.test(mention.name) ? '77' : 'quite-another-name'
      const there = await bench.analysis.rename(file, mention.node.start + 1, other)
      if (!there?.ok) {
        refused.push(`${name}, ${mention.of} ${mention.name}: ${there?.refused}`)
        return bench.workspace.close(file)
      }
      const before = new Map([...there.edits.keys()].map((document) => [document.file, document.text]))
      for (const [document, edits] of there.edits) {
        const after = applyEdits(document.text, editsOf(document.text, edits))
        expect(SyntaxTree.parse(after).problems).toEqual([])
        bench.workspace.update(document.file, after)
      }
      await bench.workspace.prepare(file)
      const moved = mentionsIn(kindOfFile(name)!, bench.workspace.document(file)!.tree.root).find((m) => m.name === other)!
      const back = await bench.analysis.rename(file, moved.node.start, mention.name)
      if (!back?.ok) throw new Error(back?.refused)
      const after = new Map([...back.edits].map(([{ file, text }, edits]) => [file, applyEdits(text, editsOf(text, edits))]))
      expect([...after].sort()).toEqual([...before].sort())
      for (const changed of [file, ...before.keys()]) await bench.workspace.close(changed)
    }),
    { numRuns: runs(150) },
  )
  expect(refused).toEqual([])
})
