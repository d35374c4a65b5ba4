// Completeness and what was read back, as a technician meets them: values taken over or keyed in, lines left out, half-filled documents.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { FILM, MACHINE } from '../../server/src/areas/machine/examples.ts'
import { keyedOf } from '../../server/src/areas/machine/read-back.ts'
import { RULES } from '../../server/src/rules/generated/index.ts'
import { runRules } from '../../server/src/rules/run.ts'
import { runs } from '../support/counts.ts'
import { openFixture, parseFixture } from '../support/fixture.ts'
import { actionTitles, afterAction } from '../support/render.ts'
import { setupFrom, withoutLines } from '../support/setups.ts'

const MINE = new Set([
  ...['mode-coverage', 'turn-at-bed-end', 'strikes-throughput', 'web-speed-unlike', 'boundary-error', 'rounding-leaves'],
  ...['unknown-gap', 'slot-taken', 'slot-outside', 'gap-below-thickness'],
  ...['alignment-gap-changed', 'alignment-thickness-changed', 'alignment-mode-changed', 'alignment-stale', 'alignment-missing'],
  ...['picks-off-by-one', 'pick-stands-apart', 'picks-beyond-pattern'],
  ...['setting-missing', 'keyed-differs', 'keyed-stale', 'base-redundant', 'settled-before-seen'],
  ...['instrument-overdue', 'check-climate', 'check-web-warm', 'check-order'],
])

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
tolerance: {length: 0.05 %, registration: 40 µm}
climate: {temperature: [18 °C, 26 °C], humidity: [40 %RH, 60 %RH]}
instruments:
  rule-1m: {kind: rule, division: 0.5 mm, limit-of-error: [0.3 mm, 0.2 mm/m], due: 2026-03-01}
`

/** Its slow mode is as fine as the half one, so that the alignment made in it can be reckoned over. */
const PRINTER = MACHINE.replace('slow: {resolution: 720 x 360 dpi', 'slow: {resolution: 720 x 720 dpi')

/** A profile in which nearly every rule of these areas has something to say. */
const MESSY = `#- e.media.yaml
profile: e
base: other
mode: half
slot: 31
gap: 2.1 mm
feed:
  correction: +0.25 %
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000.3 mm, applied: 0 %, with: rule-1m, web: 60 °C, climate: {humidity: 80 %RH}}
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
alignment:
  date: 2025-12-01
  under: before
  thickness: 400 µm
  one-way: {cyan: 1, magenta: 1, yellow: 1, black: 1}
  two-way: {cyan: 1, magenta: 1, yellow: 4, black: 9}
conditions: {before: {from: profile, stock: s, printer: p, mode: slow, gap: 1.5 mm}}
carriage: {turn-at: bed-end, strikes: 2}
web: {speed: 2 mm/s}
heat: {platen: 40 °C}
keyed: [{date: 2026-03-23, correction: +0.20 %, platen: 104 °F, turn-at: print-edge}]
observed:
  - {date: 2026-01-20, fault: bands-dark, settled: 2025-01-22}
#- other.media.yaml
profile: other
stock: s
printer: p
mode: standard
heat: {platen: 40 °C}
`

async function codesOf(source: string): Promise<readonly string[]> {
  const fixture = parseFixture(source)
  const analysis = await openFixture(fixture)
  const context = analysis.context(fixture.file)
  if (!context) throw new Error('no context')
  const found = runRules({ ...context, setup: context.setup, only: MINE, strict: true })
  for (const finding of found) {
    expect(finding.message).not.toMatch(/NaN|undefined|Infinity|—|\[object/)
    for (const fix of finding.fixes?.() ?? []) if (fix) expect(fix.title).not.toMatch(/NaN|undefined/)
  }
  return found.map((f) => f.code)
}

describe('what was read back', () => {
  const keyed = `#- e.media.yaml
profile: e
stock: s
printer: p
heat: {platen: 40 °C}
keyed: [{date: 2026-03-23, platen: $044 °C}]
${MACHINE}panel:
  - {key: heat.platen, where: the middle dial}
`

  test('either the file takes the value over or it is keyed in again', async () => {
    expect(await actionTitles(`${keyed}${FILM}`)).toMatchInlineSnapshot(`
      [
        "Take the machine's 44 °C over into the file",
        "Key 40 °C in at the machine [refused: At the machine: the middle dial. Then read it back and add what it has here.]",
        "Record a feed check of today",
        "Correct this reading, and keep what was written",
        "Write it as 111.2 °F",
      ]
    `)
    expect(await afterAction(`${keyed}${FILM}`, /^Take/)).toContain('heat: {platen: 44 °C}')
  })

  test('a temperature above what the stock stands is not taken over', async () => {
    const soft = `${FILM}max-web-temperature: 42 °C\n`
    const [first] = await actionTitles(`${keyed}${soft}`)
    expect(first).toMatchInlineSnapshot(
      `"Take the machine's 44 °C over into the file [refused: The stock stands 42 °C: lower the heat at the machine instead.]"`,
    )
  })

  test('levels, lengths and units are seen through', async () => {
    const setup = await setupFrom(`#- e.media.yaml
profile: e
printer: p
gap: 2.54 mm
suction: 200 Pa
keyed: [{date: 2026-03-23, gap: 0.1 in, suction: 2, tension: 3}]
#- p.printer.yaml
printer: p
suction: {levels: {2: 2 hPa}}
`)
    expect(keyedOf(setup).map((found) => [found.key, found.same])).toEqual([
      ['gap', true],
      ['suction', true],
      ['tension', undefined],
    ])
  })
})

describe('lines that repeat the base', () => {
  const base = '#- other.media.yaml\nprofile: other\nheat: {platen: 40 °C, after: 48 °C}\n'

  test('a comment on the line keeps it, with the reason', async () => {
    const source = `#- e.media.yaml\nprofile: e\nbase: other\nheat:\n  platen: $040 °C # as measured\n  after: 50 °C\n${base}`
    const titles = await actionTitles(source)
    expect(titles).toContain(
      'Take heat.platen out, as it is the same in other [refused: Something else stands on the same line; take it out by hand.]',
    )
  })

  test('one of a mapping in braces goes with its comma', async () => {
    const source = (heat: string): string => `#- e.media.yaml\nprofile: e\nbase: other\nheat: ${heat}\n${base}`
    const after = await afterAction(source('{platen: $040 °C, after: 50 °C}'), /^Take heat\.platen out/)
    expect(after).toContain('heat: {after: 50 °C}\n')
  })

  test('and is left to the hand where a comment stands between', async () => {
    const titles = await actionTitles(
      `#- e.media.yaml\nprofile: e\nbase: other\nheat:\n  {platen: $040 °C, # warm\n   after: 50 °C}\n${base}`,
    )
    expect(titles.some((title) => title.startsWith('Take heat.platen out') && title.includes('[refused'))).toBe(true)
  })
})

describe('all rules of throughput, landing and completeness', () => {
  test('are there', () => {
    const codes = new Set(RULES.map((rule) => rule.code))
    expect([...MINE].filter((code) => !codes.has(code))).toEqual([])
  })

  test('find what is wrong, once for each cause', async () => {
    const codes = await codesOf(`${MESSY}${PRINTER}${FILM}${SHOP}`)
    expect([...codes].sort()).toMatchInlineSnapshot(`
      [
        "alignment-gap-changed",
        "alignment-mode-changed",
        "base-redundant",
        "check-climate",
        "check-order",
        "check-web-warm",
        "instrument-overdue",
        "keyed-differs",
        "keyed-differs",
        "picks-beyond-pattern",
        "picks-off-by-one",
        "settled-before-seen",
        "slot-outside",
        "strikes-throughput",
        "turn-at-bed-end",
        "unknown-gap",
        "web-speed-unlike",
      ]
    `)
  })

  test('neither throw nor show a number that is none on half-filled documents', async () => {
    await fc.assert(
      fc.asyncProperty(fc.infiniteStream(fc.boolean()), async (keep) => {
        await codesOf(withoutLines(`${MESSY}${PRINTER}${FILM}${SHOP}`, keep))
      }),
      { numRuns: runs(60) },
    )
  })

  test('are silent on a profile of one line', async () => {
    expect(await codesOf('profile: e\n')).toEqual([])
  })
})
