// What must hold for every feed reckoning: it closes, it rests, it moves the right way, and it never answers with no number.
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { ok } from '../../server/src/base/outcome.ts'
import { type FeedInput, reckonFeed } from '../../server/src/calc/feed.ts'
import type { FeedCheckInput } from '../../server/src/calc/feed-check.ts'
import { keyIn } from '../../server/src/calc/feed-key-in.ts'
import { runs } from '../support/counts.ts'
import { must, numbersIn } from './must.ts'

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const gain = real(0.95, 1.05)
const applied = real(-0.04, 0.04)
const commanded = real(0.2, 5)
const reckon = (checks: FeedCheckInput[], more: Partial<FeedInput> = {}) =>
  must(reckonFeed({ checks, entry: 'percent', referenceTemperature: 23, ...more }))

/** A printer whose web comes out `gain` times as long as its corrected advance says. */
const print = (g: number, length: number, correction: number) => g * length * (1 + correction)
const checksOf = (g: number, prints: readonly (readonly [number, number])[]): FeedCheckInput[] =>
  prints.map(([length, c], i) => ({ id: `${i}`, commanded: length, measured: print(g, length, c), applied: c }))
const prints = fc.array(fc.tuple(commanded, applied), { minLength: 1, maxLength: 8 })
const noisy = fc.array(
  fc.record({
    id: fc.uuid(),
    commanded,
    applied,
    error: real(-0.002, 0.002),
    instrument: fc.constantFrom('tape', 'rule', undefined),
  }),
  { minLength: 1, maxLength: 8 },
)
const measuredOf = (list: readonly (Omit<FeedCheckInput, 'measured'> & { error: number })[]): FeedCheckInput[] =>
  list.map(({ error, ...check }) => ({ ...check, measured: check.commanded * (1 + check.applied) + error }))

it('closes: with the correction keyed in, the next print is true', () => {
  fc.assert(
    fc.property(gain, prints, commanded, (g, list, length) => {
      const { keyIn: key } = reckon(checksOf(g, list))
      expect(print(g, length, key!.value!) / length).toBeCloseTo(1, 12)
    }),
  )
})

it('closes within the step where the printer rounds, and the rest is what it said', () => {
  fc.assert(
    fc.property(gain, prints, commanded, fc.constantFrom(0.0001, 0.0005, 0.00025), (g, list, length, step) => {
      const { keyIn: key } = reckon(checksOf(g, list), { step })
      expect(print(g, length, key!.value!) / length - 1).toBeCloseTo(key!.left, 12)
      expect(Math.abs(key!.value! - key!.correction)).toBe(0)
      expect(Math.abs(key!.left)).toBeLessThan(step * 0.6)
    }),
  )
})

it('closes through a printer that is told a measured length and reckons for itself', () => {
  fc.assert(
    fc.property(gain, prints, applied, commanded, commanded, (g, list, inPrinter, patternLength, length) => {
      const { keyIn: key } = reckon(checksOf(g, list), { entry: 'measured-length', patternLength, held: ok(inPrinter) })
      const printerMakes = ((1 + inPrinter) * patternLength) / key!.value! - 1
      expect(printerMakes).toBeCloseTo(key!.correction, 12)
      expect(print(g, length, printerMakes) / length).toBeCloseTo(1, 12)
    }),
  )
})

it('rests: a further check that reads true at the correction wanted changes less than is known', () => {
  fc.assert(
    fc.property(noisy, commanded, (list, length) => {
      const again = (checks: FeedCheckInput[], instrument: string) => {
        const before = reckon(checks).wanted!.correction
        const after = reckon([...checks, { id: 'again', commanded: length, measured: length, applied: before, instrument }])
          .wanted!
        return after.correction - before
      }
      // With the one rule of all checks, or with a rule of its own. Where two rules disagree, one more check with either shifts their balance.
      const checks = measuredOf(list)
      const oneRule = checks.map((c) => ({ ...c, instrument: 'tape' }))
      // It makes small scatter likelier, and with it the weight of precise checks: the mean may move a little.
      const little = reckon(checks).wanted!.U
      expect(Math.abs(again(oneRule, 'tape'))).toBeLessThan(little)
      expect(Math.abs(again(checks, 'another'))).toBeLessThan(little)
      expect(Math.abs(again(checks, 'tape'))).toBeLessThan(reckon(checks).wanted!.U)
    }),
  )
})

it('rests: fine picks are never added a second time', () => {
  fc.assert(
    // Rows within two patches of each other, and patches so fine that the ruler cannot contradict them.
    fc.property(gain, prints, fc.array(fc.integer({ min: 1, max: 3 }), { minLength: 1, maxLength: 8 }), (g, list, picks) => {
      const checks = checksOf(g, list)
      const fine = { picks, step: 1e-6, advancePerPass: 0.025, applied: reckon(checks, { step: 1e-4 }).keyIn!.value! }
      const first = reckon(checks, { step: 1e-4, fine })
      const second = reckon(checks, { step: 1e-4, fine, applied: first.keyIn!.value! })
      expect(first.fine!.use).toBe('used')
      expect(second.wanted).toEqual(first.wanted)
      expect(second.agreement!.asKeyedIn).toBe(true)
    }),
  )
})

it('moves the right way: a longer print asks for less', () => {
  fc.assert(
    fc.property(commanded, applied, real(1e-5, 0.01), (length, c, longer) => {
      const at = (measured: number) => reckon([{ id: 'a', commanded: length, measured, applied: c }]).wanted!.correction
      expect(at(length + longer)).toBeLessThan(at(length))
    }),
  )
})

it('does not depend on the order of the checks', () => {
  fc.assert(
    fc.property(noisy, (list) => {
      const checks = measuredOf(list)
      const [a, b] = [reckon(checks), reckon(checks.toReversed())]
      expect(b.combined!.correction).toBeCloseTo(a.combined!.correction, 12)
      expect(b.combined!.U).toBeCloseTo(a.combined!.U, 9)
      expect(b.suspects.toSorted()).toEqual(a.suspects.toSorted())
    }),
  )
})

it('does not depend on the unit the lengths were written in', () => {
  fc.assert(
    fc.property(noisy, (list) => {
      const metric = measuredOf(list)
      // By way of inches and back, which moves the last bits only.
      const us = metric.map((c) => ({
        ...c,
        commanded: (c.commanded / 0.0254) * 0.0254,
        measured: (c.measured / 0.0254) * 0.0254,
      }))
      const [a, b] = [reckon(metric), reckon(us)]
      expect(b.combined!.correction).toBeCloseTo(a.combined!.correction, 12)
      expect(b.combined!.U).toBeCloseTo(a.combined!.U, 12)
      // A length scaled together with everything that is a length leaves the fraction as it is.
      const scaled = (f: number) =>
        metric.map((c) => ({
          ...c,
          commanded: c.commanded * f,
          measured: c.measured * f,
          division: 1e-3 * f,
          limitOfError: { a: 5e-4 * f, b: 0 },
        }))
      const [c, d] = [reckon(scaled(1)), reckon(scaled(3))]
      expect(d.combined!.correction).toBeCloseTo(c.combined!.correction, 12)
      expect(d.combined!.U).toBeCloseTo(c.combined!.U, 12)
    }),
  )
})

it('knows more with more checks of the same kind, and never more than the rule does', () => {
  fc.assert(
    fc.property(commanded, fc.integer({ min: 1, max: 20 }), (length, n) => {
      const same = (count: number) =>
        reckon(Array.from({ length: count }, (_, i) => ({ id: `${i}`, commanded: length, measured: length, applied: 0 })))
          .combined!
      expect(same(n + 1).u).toBeLessThan(same(n).u)
      expect(same(n).u).toBeGreaterThan(Math.hypot(...same(1).systematic.map(({ u }) => u)))
    }),
  )
})

const wild = fc.oneof(fc.double(), real(0, 2))
const maybe = fc.option(wild, { nil: undefined })
const wildRange = fc.option(fc.record({ low: wild, typical: wild, high: wild }), { nil: undefined })
const wildCheck = fc.record({
  id: fc.string(),
  commanded: wild,
  measured: wild,
  applied: fc.oneof(wild, fc.constant(0)),
  instrument: fc.option(fc.string(), { nil: undefined }),
  division: maybe,
  statedUncertainty: maybe,
  limitOfError: fc.option(fc.record({ a: wild, b: wild }), { nil: undefined }),
  ruleExpansion: maybe,
  ruleTemperature: maybe,
  webExpansion: wildRange,
  webTemperature: maybe,
  tensionStrain: wildRange,
  skipped: fc.option(fc.string(), { nil: undefined, freq: 5 }),
})

it('never answers NaN, never throws, and says of every check what became of it', () => {
  fc.assert(
    fc.property(
      fc.array(wildCheck, { maxLength: 6 }),
      fc.record({
        entry: fc.constantFrom('percent' as const, 'measured-length' as const),
        referenceTemperature: fc.oneof(wild, fc.constant(23)),
        applied: maybe,
        held: fc.option(wild.map(ok), { nil: undefined }),
        step: maybe,
        lengthStep: maybe,
        patternLength: maybe,
        tolerance: maybe,
        coverage: fc.option(wild, { nil: undefined, freq: 2 }),
        range: fc.option(fc.tuple(wild, wild), { nil: undefined }),
        fine: fc.option(fc.record({ picks: fc.array(wild, { maxLength: 3 }), step: wild, advancePerPass: wild, applied: wild }), {
          nil: undefined,
        }),
      }),
      (checks, rest) => {
        const result = reckonFeed({ checks, ...rest })
        if (!result.ok) {
          expect(result.problem.reason).not.toBe('')
          return
        }
        expect(numbersIn(result.value).some(Number.isNaN)).toBe(false)
        expect(result.value.checks).toHaveLength(checks.length)
        for (const check of result.value.checks) if (check.use !== 'included') expect(check.reason).toBeDefined()
      },
    ),
    { numRuns: runs(3000) },
  )
})

it('keys in a number inside the range or none, whatever is wanted', () => {
  fc.assert(
    fc.property(real(-0.5, 0.5), real(-0.1, 0), real(0, 0.1), real(1e-5, 0.05), applied, (wanted, low, high, step, inPrinter) => {
      for (const rules of [
        { entry: 'percent', step, range: [low, high] } as const,
        { entry: 'measured-length', lengthStep: step, patternLength: 1, held: ok(inPrinter), range: [low, high] } as const,
      ]) {
        const key = keyIn({ wanted, rules })
        if (key.value === undefined) expect(key.reason).toBeDefined()
        else {
          expect(key.correction).toBeGreaterThanOrEqual(low - 1e-6)
          expect(key.correction).toBeLessThanOrEqual(high + 1e-6)
        }
        expect(numbersIn(key).every(Number.isFinite)).toBe(true)
      }
    }),
    { numRuns: runs(1000) },
  )
})
