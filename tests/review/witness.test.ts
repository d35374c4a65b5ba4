// Every quantity that is told to have moved can be reckoned again from what stands beside it: its formula on the inputs shown, before and after, and the
// difference of the ends that belong together.
import { describe, expect, test } from 'vitest'
import { asRange, type Range } from '../../server/src/calc/range.ts'
import type { ChangeSet, Consequence, Reckoning } from '../../server/src/review/change-set.ts'
import { LEVELS } from '../../server/src/review/levels.ts'
import { close, closeRanges, ENDS, evaluate, evaluated, symbolsOf } from '../support/formulas.ts'
import { reviewedFiles, sampleShop } from './reviewed.ts'

const BEFORE = sampleShop()

/** One change in each kind of document, among them such as move the feed, heat, suction, the web and the room. */
const SWAPS: readonly (readonly [file: string, from: string, to: string])[] = [
  ['profiles/cast-film-gloss-50-bay-1.media.yaml', 'suction: 2\n\ncarriage', 'suction: 3\n\ncarriage'],
  ['profiles/cast-film-gloss-50-bay-1.media.yaml', '  after: 44 °C\n', '  after: 49 °C\n'],
  ['stocks/banner-510.stock.yaml', 'thickness: 390 µm', 'thickness: 420 µm'],
  ['printers/bay-2.printer.yaml', 'carriage-speed: 1000 mm/s', 'carriage-speed: 900 mm/s'],
]

async function swapped(): Promise<ChangeSet> {
  const after = new Map(BEFORE)
  for (const [name, from, to] of SWAPS) {
    const file = [...after.keys()].find((at) => at.endsWith(name))!
    expect([name, after.get(file)!.includes(from)]).toEqual([name, true])
    after.set(file, after.get(file)!.replace(from, to))
  }
  return reviewedFiles(BEFORE, after, '2026-11-25')
}

const set = await swapped()
const all: readonly Consequence[] = set.profiles.flatMap(({ consequences }) => consequences)

/** What is wrong with one side; undefined where it comes out as shown, or is no single expression and has no steps. */
function wrong(key: string, one: Reckoning): string | undefined {
  if (one.value === undefined) return undefined
  const inputs = Object.fromEntries(one.inputs.map(({ name, symbol = name, value }) => [symbol, asRange(value)])) as Record<
    string,
    Range
  >
  if (one.steps) {
    const scope = Object.fromEntries(Object.entries(inputs).map(([symbol, { typical }]) => [symbol, typical]))
    for (const step of one.steps) {
      const found = evaluate(step.formula, { ...scope, ...step.with })
      if (!close(found, step.value)) return `${key}: ${step.formula} is ${found}, and ${step.value} is shown`
      scope[step.formula.slice(0, step.formula.indexOf('=')).trim()] = step.value
    }
    return undefined
  }
  // A choice or a value of a table stands among its inputs.
  if (Object.values(inputs).some((input) => closeRanges(input, one.value!))) return undefined
  if (symbolsOf(one.formula).some((symbol) => !inputs[symbol])) return `${key}: ${one.formula} names what is not shown`
  const found = (['corners', 'each'] as const).map((ends) => evaluated(one.formula, ends, inputs))
  return found.some((range) => closeRanges(range, one.value!))
    ? undefined
    : `${key}: ${one.formula} is ${JSON.stringify(found[0])}, and ${JSON.stringify(one.value)} is shown`
}

describe('a consequence', () => {
  test('is there for each change, with the keys that it comes from', () => {
    expect(all.length).toBeGreaterThan(40)
    const causes = new Set(all.flatMap((one) => one.causes.map(({ document, path }) => `${document.kind} ${path}`)))
    expect([...causes].sort()).toMatchInlineSnapshot(`
      [
        "media heat.after",
        "media suction",
        "printer modes.fine-12-pass.carriage-speed",
        "stock thickness",
      ]
    `)
  })

  test('comes out of its formula again on both sides', () => {
    expect(all.flatMap(({ key, before, after }) => [before, after].flatMap((one) => (one && wrong(key, one)) ?? []))).toEqual([])
  })

  test('that did not would be seen', () => {
    const { key, after } = all.find((one) => one.key === 'suction.drag' && one.after?.value !== undefined)!
    const twice = { low: 0, typical: 2 * asRange(after!.value!).typical, high: 1 }
    expect(wrong(key, { ...after!, value: twice })).toMatch(/^suction\.drag: .* is shown$/)
  })

  test('differs end by end, never range against range, where both rest on the same unknowns', () => {
    const ranged = all.filter(({ before, after }) => [before, after].every((one) => typeof one?.value === 'object'))
    expect(ranged.length).toBeGreaterThan(10)
    for (const { key, before, after, difference } of ranged) {
      const ends = ENDS.map((end) => asRange(after!.value!)[end] - asRange(before!.value!)[end])
      expect([key, difference!.shared, difference!.low, difference!.high]).toEqual([
        key,
        true,
        Math.min(...ends),
        Math.max(...ends),
      ])
      const against = asRange(after!.value!).high - asRange(before!.value!).low
      expect(Math.abs(difference!.high)).toBeLessThanOrEqual(
        Math.max(Math.abs(against), Math.abs(ends[0]!), Math.abs(ends[2]!)) * (1 + 1e-12),
      )
    }
  })

  test('comes by its risk, the worst first', () => {
    for (const { consequences } of set.profiles) {
      const order = consequences.map(({ level }) => LEVELS.indexOf(level))
      expect(order).toEqual([...order].sort((a, b) => a - b))
    }
    expect(new Set(all.map(({ level }) => level))).toEqual(new Set(['harm', 'length', 'look']))
  })
})
