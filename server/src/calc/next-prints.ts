// The next best measurement: what more prints would do for a verdict, tried out on futures drawn from what is known now.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { bestProbability, probabilityWithin } from './feed-verdict.ts'
import { normalQuantile } from './normal.ts'
import { type ScatterInput, unknownOf } from './scatter-average.ts'
import { type ScatterMixture, scatterMixture } from './scatter-mixture.ts'
import { layoutOf, type ScatterValue } from './scatter-model.ts'
import { haltonNodes, type ScatterNode } from './scatter-nodes.ts'
import { solverOf } from './scatter-solver.ts'
import type { CommonPart } from './statistics.ts'

/** A way to measure the prints to come. Fractions of length, standard uncertainties. */
interface PrintOption {
  readonly u: number
  readonly shared?: readonly CommonPart[]
  /** `another` prints each on a day of its own, `one` all of them on one new day. */
  readonly day?: 'another' | 'one'
}

interface NextPrintsInput {
  readonly input: ScatterInput
  readonly option: PrintOption
  /** Numbers of further prints to judge, rising, 1 or more. */
  readonly counts: readonly number[]
  /** The limits of a print once `value` is the newly reckoned mean: what would be keyed in then, rounding and all, is the caller's to say. */
  readonly limits: (value: number) => { readonly low: number; readonly high: number }
  /** The probability that is to be reached, 1 − risk. */
  readonly goal: number
}

interface Outlook {
  readonly count: number
  /** Chance that the probability of a print within the limits reaches the goal after so many further prints. */
  readonly chance: number
}

const FUTURES = 128
const MOST_PRINTS = 24
/** Points where prints to come bring in something that was not unknown before. */
const WIDER_POINTS = 128

/**
 * The chance that a verdict is reached after `count` more prints, for each count. 128 futures, the same in every run: in each a node is drawn by its weight,
 * and at it reading after reading from what all values so far predict, shared causes included; then all are reckoned anew. Counts the futures whose
 * probability of a print reaches the goal; an average over fewer guesses would see chances where there are none. For a command, not for a hover: about a tenth
 * of a second a count. Points: as J. M. Hammersley's, the nodes evenly by their weight and the readings by Kronecker's sequence
 * of powers of the generalized golden ratio; 64 of the sequence alone see a point more of chances than there are. Source: R. Schlaifer and H. Raiffa, Applied Statistical
 * Decision Theory (1961), preposterior analysis.
 * Refuses what `scatterMixture` refuses, counts that are not whole, rising and from 1 to 24, and a goal outside ]0, 1[.
 */
export function nextPrints({ input, option, counts, limits, goal }: NextPrintsInput): Outcome<readonly Outlook[]> {
  if (counts.length === 0 || counts.some((c, i) => !(Number.isInteger(c) && c > (counts[i - 1] ?? 0) && c <= MOST_PRINTS)))
    return refuse('counts', `the numbers of further prints must be whole, rising, and from 1 to ${MOST_PRINTS}`)
  if (!(goal > 0 && goal < 1)) return refuse('goal', 'the probability to be reached lies between 0 and 1, both excluded')
  const most = counts.at(-1)!
  const fresh = (value: number, i: number): ScatterValue => ({
    value,
    u: option.u,
    age: 0,
    day: `to come ${option.day === 'one' ? 'together' : i}`,
    // Without a lot asked for, what comes is of one lot that none of the others is of, as the mean is.
    ...(input.values.some(({ lot }) => lot !== undefined) && { lot: input.lotNow ?? 'to come' }),
    ...(option.shared && { shared: option.shared }),
  })
  const lotNow = input.lotNow ?? 'to come'
  const now = scatterMixture({ ...input, lotNow, suspicion: false })
  if (!now.ok) return now
  const all = [...input.values, ...Array.from({ length: most }, (_, i) => fresh(now.value.value, i))]
  const nodes = nodesWith(now.value, all, lotNow)
  const weighed = scatterMixture({ ...input, lotNow, nodes, suspicion: false })
  if (!weighed.ok) return weighed
  const reached = new Array<number>(counts.length).fill(0)
  for (const [future, point] of kroneckerPoints(FUTURES, most).entries()) {
    const node = drawn(weighed.value, (future + 0.5) / FUTURES)
    const values = [...input.values]
    for (let i = 0; i < most; i++) {
      values.push(predicted(values, fresh(now.value.value, i), lotNow, node, normalQuantile(point[i]!)))
      const at = counts.indexOf(i + 1)
      if (at < 0) continue
      const then = scatterMixture({ ...input, values, lotNow, nodes: weighed.value.nodes, suspicion: false })
      if (!then.ok) return then
      const { low, high } = limits(then.value.value)
      const probability = probabilityWithin(then.value, low, high, { of: 'print' })
      if (!probability.ok) return probability
      if (probability.value >= goal) reached[at]!++
    }
  }
  return ok(counts.map((count, i) => ({ count, chance: reached[i]! / FUTURES })))
}

/** The nodes of now, unless the prints to come bring in an unknown (a day of several): then some from the prior, of all that is unknown. */
function nodesWith(now: ScatterMixture, values: readonly ScatterValue[], lotNow: string): readonly ScatterNode[] {
  const unknown = unknownOf(layoutOf(values, lotNow))
  if (unknown.join() === now.unknown.join()) return now.nodes
  return haltonNodes(unknown, WIDER_POINTS)
}

/** The node at which the weights before it come to `share`. */
function drawn({ parts, nodes }: ScatterMixture, share: number): ScatterNode {
  let sum = 0
  for (let k = 0; k < nodes.length; k++) {
    sum += parts.p[k]!
    if (sum > share) return nodes[k]!
  }
  return nodes.at(-1)!
}

/** One more value as the others predict it at a node, z standard deviations off. */
function predicted(
  values: readonly ScatterValue[],
  next: ScatterValue,
  lotNow: string,
  node: ScatterNode,
  z: number,
): ScatterValue {
  const layout = layoutOf([...values, next], lotNow)
  const solver = solverOf(layout)
  const [distance, deviation] = [new Float64Array(layout.n), new Float64Array(layout.n)]
  solver.likelihood(node)
  solver.leaveOneOut(distance, deviation)
  const row = layout.order.indexOf(values.length)
  return { ...next, value: next.value - distance[row]! + z * deviation[row]! }
}

/** Points of the unit cube, evenly spread in any number of dimensions: multiples of the powers of 1/g, where g^(d+1) = g + 1, less their whole parts. */
function kroneckerPoints(count: number, dimensions: number): number[][] {
  let g = 1.5
  for (let i = 0; i < 60; i++) g = (1 + g) ** (1 / (dimensions + 1))
  return Array.from({ length: count }, (_, i) =>
    Array.from({ length: dimensions }, (_, d) => (0.5 + (i + 1) * g ** -(d + 1)) % 1),
  )
}

/** What helps where a verdict is not reached. */
type VerdictHelp = 'scatters-too-much' | 'better-reading' | 'more-prints'

/**
 * What to advise where the probability of a print within ± tolerance has not reached the goal: `scatters-too-much` where a mean known perfectly would not do;
 * `better-reading` (a better rule, or a longer pattern) where what the values share takes more than a third of the tolerance; else
 * `more-prints`, on other days. Fractions. Refuses a tolerance of zero or below.
 */
export function verdictHelp(
  mixture: ScatterMixture,
  { tolerance, goal }: { readonly tolerance: number; readonly goal: number },
): Outcome<VerdictHelp> {
  const best = bestProbability(mixture, tolerance)
  if (!best.ok) return best
  if (best.value < goal) return ok('scatters-too-much')
  const shared = mixture.budget.shared.reduce((sum, { u }) => sum + u * u, 0)
  return ok(shared > (tolerance / 3) ** 2 ? 'better-reading' : 'more-prints')
}
