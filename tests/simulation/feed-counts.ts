// What is counted over simulated series: whether the interval held the truth, what was suspected, what came of a verdict, and whether a forecast kept its word.
import { type FeedReckoning, reckonFeed } from '../../server/src/calc/feed.ts'
import type { FeedCheckInput } from '../../server/src/calc/feed-check.ts'
import { gainLimits } from '../../server/src/calc/feed-gain.ts'
import { nextPrints } from '../../server/src/calc/next-prints.ts'
import { normalCdf } from '../../server/src/calc/normal.ts'
import type { ScatterValue } from '../../server/src/calc/scatter-model.ts'
import { must } from '../calculations/must.ts'
import { Chance } from '../support/chance.ts'
import { drawSeries, type Rule, type Series, type World } from './feed-series.ts'

/** So many of so many. */
export interface Share {
  hits: number
  of: number
}

const share = (): Share => ({ hits: 0, of: 0 })
const count = (to: Share, hit: boolean): void => {
  to.of++
  if (hit) to.hits++
}

/** Standard error of a share, of a share of `p`. */
export const noise = (p: number, of: number): number => Math.sqrt((p * (1 - p)) / of)

/** Upper ends of the classes of true scatter, as fractions. */
export const CLASSES = [1e-4, 2e-4, 5e-4, Number.POSITIVE_INFINITY] as const

export interface Coverage {
  readonly all: Share
  /** By the class of the true scatter. */
  readonly byScatter: readonly Share[]
  /** Series in which any check was suspected, all being good. */
  readonly suspected: Share
  /** Mean of U. */
  readonly width: number
}

/** Whether the stated 95 % holds the truth. */
export function coverageOf(world: World, series: number, seed: number): Coverage {
  const chance = new Chance(seed)
  const [all, suspected, byScatter] = [share(), share(), CLASSES.map(share)]
  let width = 0
  for (let i = 0; i < series; i++) {
    const drawn = drawSeries(world, chance)
    const { combined, suspects } = must(reckonFeed(drawn.input))
    const holds = Math.abs(combined!.correction - drawn.truth) <= combined!.U
    count(all, holds)
    count(byScatter[CLASSES.findIndex((end) => drawn.tau < end)]!, holds)
    count(suspected, suspects.length > 0)
    width += combined!.U / series
  }
  return { all, byScatter, suspected, width }
}

/** Misread by 5 mm, one or two of a series, of one sign or of two: whether all of them are named. `others` counts good ones named beside them. */
export function foundOf(world: World, series: number, seed: number, errors: readonly number[]): { all: Share; others: Share } {
  const chance = new Chance(seed)
  const [all, others] = [share(), share()]
  for (let i = 0; i < series; i++) {
    const { input } = drawSeries(world, chance)
    const places = new Set<number>()
    while (places.size < errors.length) places.add(chance.below(world.checks))
    const wrong = [...places]
    const sign = chance.once(2) ? 1 : -1
    const checks = input.checks.map((check, at): FeedCheckInput => {
      const by = errors[wrong.indexOf(at)]
      return by === undefined ? check : { ...check, measured: check.measured + sign * by }
    })
    const { suspects } = must(reckonFeed({ ...input, checks }))
    const named = wrong.filter((at) => suspects.includes(checks[at]!.id)).length
    count(all, named === wrong.length)
    count(others, suspects.length > named)
  }
  return { all, others }
}

export interface Verdicts {
  /** Good printers (at what is keyed in enough prints are true) that are proven. */
  readonly goodProven: Share
  readonly proven: Share
  /** Mean share of prints out of tolerance, of those proven; and of those, the mean that was stated. */
  readonly out: number
  readonly stated: number
  /** Standard error of `out` over series. */
  readonly error: number
}

/** The least number of prints that can prove anything without a stated repeatability. */
const LEAST_PRINTS = 3
const RISK = 0.05

/** With what the reckoning asks for keyed in: what becomes of prints made while the word is *proven* (*carried*, where the world carries). */
export function verdictsOf(world: World, tolerance: number, series: number, seed: number): Verdicts {
  const chance = new Chance(seed)
  const [goodProven, proven] = [share(), share()]
  const outs: number[] = []
  let stated = 0
  for (let i = 0; i < series; i++) {
    const drawn = drawSeries(world, chance)
    const reckoning = must(reckonFeed({ ...drawn.input, tolerance, risk: RISK }))
    const out = outside(drawn, reckoning, tolerance)
    const isProven = provenBy(reckoning, world)
    count(proven, isProven)
    if (out <= RISK) count(goodProven, isProven)
    if (!isProven) continue
    outs.push(out)
    stated += 1 - reckoning.proof!.keyedIn!.print
  }
  const mean = outs.reduce((sum, one) => sum + one, 0) / outs.length
  const variance = outs.reduce((sum, one) => sum + (one - mean) ** 2, 0) / Math.max(1, outs.length - 1)
  return { goodProven, proven, out: mean, stated: stated / outs.length, error: Math.sqrt(variance / outs.length) }
}

/** The rules of the words *proven* and *carried*, of what is asked for once it is keyed in. */
const provenBy = ({ combined, proof, suspects }: FeedReckoning, { stated }: World): boolean =>
  suspects.length === 0 &&
  proof?.keyedIn !== undefined &&
  proof.keyedIn.print >= 1 - RISK &&
  (combined!.prints >= LEAST_PRINTS || stated !== undefined)

/** True share of prints outside the tolerance with what is keyed in. */
function outside({ gain, tau }: Series, { keyIn }: FeedReckoning, tolerance: number): number {
  const { low, high } = must(gainLimits({ set: keyIn!.correction, tolerance }))
  return 1 - normalCdf((high - gain) / tau) + normalCdf((low - gain) / tau)
}

export interface Forecast {
  readonly series: number
  readonly predicted: number
  readonly happened: number
  /** Of the difference, over series. */
  readonly error: number
  /** By the chance predicted, in fifths: how many, predicted and happened. */
  readonly fifths: readonly { readonly of: number; readonly predicted: number; readonly happened: number }[]
}

/** What `more` further prints were predicted to do for a verdict that is not reached, and what they do. */
export function forecastsOf(
  world: World & { readonly rules: readonly [Rule]; readonly lengths: readonly [number] },
  { tolerance, more, series, seed }: { tolerance: number; more: number; series: number; seed: number },
): Forecast {
  const chance = new Chance(seed)
  const pairs: { predicted: number; happened: number }[] = []
  while (pairs.length < series) {
    const drawn = drawSeries(world, chance)
    const input = { ...drawn.input, tolerance, risk: RISK }
    const now = must(reckonFeed(input))
    if (now.proof!.keyedIn!.print >= 1 - RISK) continue
    const values = now.checks.map(({ implied, now: correction }, i) => asValue(implied!, correction!, input.checks[i]!))
    const { u, shared } = values[0]!
    const [outlook] = must(
      nextPrints({
        input: { values, ...input.scatter },
        option: { u, ...(shared && { shared }) },
        counts: [more],
        goal: 1 - RISK,
        // Keyed in to the printer's step, 0.01 %.
        limits: (gain) => must(gainLimits({ set: Math.round((1 / gain - 1) * 1e4) / 1e4, tolerance })),
      }),
    )
    const further = Array.from({ length: more }, () => drawn.another(world.rules[0], world.lengths[0]))
    const then = must(reckonFeed({ ...input, checks: [...input.checks, ...further] }))
    pairs.push({ predicted: outlook!.chance, happened: then.proof!.keyedIn!.print >= 1 - RISK ? 1 : 0 })
  }
  const mean = (some: readonly (typeof pairs)[number][], of: 'predicted' | 'happened'): number =>
    some.reduce((sum, pair) => sum + pair[of] / some.length, 0)
  const [predicted, happened] = [mean(pairs, 'predicted'), mean(pairs, 'happened')]
  const squares = pairs.reduce((sum, pair) => sum + (pair.happened - pair.predicted - happened + predicted) ** 2, 0)
  const fifths = [0, 1, 2, 3, 4].map((fifth) => {
    const some = pairs.filter((pair) => Math.min(4, Math.floor(pair.predicted * 5)) === fifth)
    return { of: some.length, predicted: mean(some, 'predicted'), happened: mean(some, 'happened') }
  })
  return { series, predicted, happened, error: Math.sqrt(squares) / series, fifths }
}

type Implied = NonNullable<FeedReckoning['checks'][number]['implied']>

/** A check as the forecast takes it: a gain with what is its own and what it shares. */
function asValue({ measured, perMetre }: Implied, correction: number, { day, lot, age }: FeedCheckInput): ScatterValue {
  const gain = 1 / (1 + correction)
  const shared = measured.parts
    .filter(({ kind }) => kind === 'systematic')
    .map(({ cause, u }) => ({ cause, u: u * perMetre * gain ** 2 }))
  return { value: gain, u: measured.uRandom * perMetre * gain ** 2, shared, day, lot, age }
}
