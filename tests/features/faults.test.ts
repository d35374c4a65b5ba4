// What to try for a fault comes in an order that follows this setup's numbers, and the one safe step is offered.
import { describe, expect, test } from 'vitest'
import type { RollDocument } from '../../server/src/model/document.ts'
import type { Fault } from '../../server/src/model/generated/documents.ts'
import { remediesFor, remedyText } from '../../server/src/rules/support/faults/faults.ts'
import { explainFault } from '../../server/src/schema/explain.ts'
import { schemaAt } from '../../server/src/schema/schema.ts'
import { openFixture, parseFixture } from '../support/fixture.ts'
import { afterAction, hover } from '../support/render.ts'

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
tolerance: {length: 0.05 %}
recheck: {feed: 30 d}
instruments:
  rule-2m: {kind: rule, division: 0.2 mm, limit-of-error: [0.1 mm, 0.1 mm/m], expansion: 11.5 ppm/K}
`
const PRINTER = `#- p.printer.yaml
printer: p
heads: {nozzle-pitch: 1/360 in, nozzles: 360, rows: 1, channels: [black], drop-speed: 7 m/s}
modes:
  m: {resolution: 720 x 720 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
carriage: {bed-width: 1600 mm, overrun: 100 mm, turnaround: 0.3 s, gaps: [1.5 mm, 2 mm, 3 mm]}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
suction:
  levels: {1: 100 Pa, 2: 400 Pa, 3: 800 Pa, 4: 1600 Pa}
  depth: 120 mm
  open-area: 10 %
  hole: 2 mm
`
const FILM = `#- s.stock.yaml
stock: s
family: film-pvc-cast
thickness: 60 µm
modulus: 0.3 GPa
poisson: 0.4
friction: 0.3
curl-radius: 600 mm
wound: out
`
const profile = (date: string, suction: number, fault: string): string => `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
gap: 2 mm
feed:
  correction: +0.20 %
  checks:
    - {date: ${date}, commanded: 2000 mm, measured: 1996 mm, applied: 0 %, with: rule-2m, web: 23 °C}
suction: ${suction}
observed:
  - {date: 2026-03-30, fault: ${fault}}
${SHOP}${PRINTER}${FILM}`

async function order(source: string): Promise<readonly string[]> {
  const fixture = parseFixture(source)
  const context = (await openFixture(fixture)).context(fixture.file)!
  const { fault } = context.setup!.own.observed!.items[0]!
  return remediesFor(context.document as RollDocument, context.setup!, fault!.value).map(remedyText)
}

describe('prints come out short', () => {
  test('a thin film dragged by strong suction: the suction first', async () => {
    expect((await order(profile('2026-03-28', 4, 'length-short')))[0]).toBe('lower suction')
  })

  test('the same film held lightly, but a check of last year: the feed first', async () => {
    expect((await order(profile('2025-06-01', 1, 'length-short')))[0]).toBe('look at feed.correction')
  })

  test('held lightly and checked last week: neither comes first', async () => {
    const [first] = await order(profile('2026-03-28', 1, 'length-short'))
    expect(['lower suction', 'look at feed.correction']).not.toContain(first)
  })

  test('one level down is offered as one step, and changes nothing else', async () => {
    const source = profile('2026-03-28', 3, 'length-$0short')
    const { text } = parseFixture(source)
    expect(await afterAction(source, 'Set suction 2')).toBe(text.replace('suction: 3', 'suction: 2'))
  })
})

test('the hover lists them with their reasons', async () => {
  const shown = await hover(profile('2026-03-28', 4, '$0length-short'))
  expect(shown).toContain('To try, in this order:')
  expect(shown).toMatch(/1\. \*\*lower suction\*\*: at level 4 \(1.6 kPa\) the drag stretches the web by .* mm\/m/)
})

test('every fault has something to try on a bare profile, in the order of the trade', async () => {
  const faults = (
    schemaAt('media', ['observed', '*', 'fault']) as {
      accepts: readonly { type: string; values: readonly { value: string }[] }[]
    }
  ).accepts[0]!.values
  const fixture = parseFixture('profile: example\n')
  const context = (await openFixture(fixture)).context(fixture.file)!
  for (const { value } of faults) {
    const remedies = remediesFor(context.document as RollDocument, context.setup!, value as Fault)
    expect(new Set(remedies.map((r) => r.setting)), value).toEqual(new Set(explainFault(value)?.settings))
    expect(
      remedies.every((r) => Number.isFinite(r.weight) && r.step === undefined),
      value,
    ).toBe(true)
  }
})
