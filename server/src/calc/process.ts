// A history of values judged as a process: whether they scatter about one level as they claim to, and if not, since when they do not and by how much.
// Two tests: an EWMA chart for what drifts slowly, and two of three values far out on one side for what moved lately.
import { firstProblem, type Outcome, ok, refuse } from '../base/outcome.ts'
import { normalCdf } from './normal.ts'
import { upperQuantile } from './student-t.ts'

/** A value of a history: comparable with the others (brought to the same conditions), and no suspect. */
interface ProcessValue {
  /** Day it was measured on, counted from any day. */
  readonly day: number
  /** The value, as a fraction (or in any unit that all values and uncertainties share). */
  readonly value: number
  /** Its own standard uncertainty without the scatter from print to print, zero or more; what all values share (one rule's limit) does not belong in it. */
  readonly u: number
}

type ProcessTest = 'ewma' | 'two-of-three'

/** A value as the chart shows it. */
interface ChartPoint {
  readonly day: number
  readonly value: number
  /** How far it lies from the mean of all before it (or from the centre), in standard deviations of that difference. */
  readonly z: number
  /** The exponentially weighted mean of z so far. */
  readonly ewma: number
}

interface Change {
  /** Days of the last value before and of the first after the likeliest place of a single step. */
  readonly after: number
  readonly by: number
  /** Days between which the step lies with 95 %, as far as the values alone can tell. */
  readonly earliest: number
  readonly latest: number
  /** Mean after it minus mean before it, in the unit of the values. */
  readonly shift: number
  readonly u: number
  /** Half-width of the 95 % interval of the shift. As the place is chosen where the shift is largest, it errs to the large side. */
  readonly U: number
}

export interface Process {
  /** Whether no test gave a signal. A few values in control prove little: small changes take dozens of values to show. */
  readonly inControl: boolean
  /** The test that gave the first signal, and the day of the value that completed it. */
  readonly test: ProcessTest | undefined
  readonly signalled: number | undefined
  /** The likeliest single step, where a test gave a signal; of a slow drift it is the middle. */
  readonly change: Change | undefined
  /** Standard deviation from value to value beyond their own uncertainties: as given, or estimated from successive differences. */
  readonly scatter: number
  /** Degrees of freedom behind an estimated scatter; infinite where it was given. */
  readonly nu: number
  /** What |ewma| and, twice in three values, |z| must exceed. */
  readonly ewmaLimit: number
  readonly farLimit: number
  /** The values in order of days; without a centre the first has no z and is left out. */
  readonly chart: readonly ChartPoint[]
}

interface ProcessInput {
  /** At least eight values, in any order. */
  readonly values: readonly ProcessValue[]
  /** Standard deviation from print to print, in the unit of the values, where it is known from elsewhere: with it small changes show much sooner. */
  readonly scatter?: number
  /** The level that was to be held; without it each value is compared with the mean of all before it. */
  readonly centre?: number
  /** Weight of the newest value, above 0 to 1, and the limit in standard deviations of the weighted mean. */
  readonly lambda?: number
  readonly limit?: number
}

const LEAST = 8
/** One false alarm in 500 values, and 10.5 values to see a step of one standard deviation (Lucas and Saccucci 1990). */
const LAMBDA = 0.2
const LIMIT = 2.962
const FAR = 2

/**
 * Judges a history of at least eight comparable values whose uncertainties may differ.
 *
 * Each value is compared with the weighted mean of those before it, in standard deviations of the difference: in control these are independent and
 * standard normal whatever the level and the uncertainties are, so that published run lengths hold and a new value changes nothing said before.
 * Signals: the exponentially weighted mean of them beyond `limit` of its lasting standard deviations; or two of three in a row beyond two on one side.
 * That run rule and not eight in a row on one side: beside the EWMA it has fewer false alarms (in 20 values 5.7 and 7.7 %, in 40 values 12 and
 * 17 %) and finds more of what changed in the last quarter (a step of 2 in 20 values: 79 and 76 %, in 12 values: 46 and 35 %); nine values at least take
 * part in eight in a row. (40,000 simulated histories each.)
 * Where the scatter is estimated, from successive differences so that a step does not hide itself, limits widen to Student's t of the same tail.
 * Source: S. W. Roberts, Technometrics 1 (1959) 239; J. M. Lucas and M. S. Saccucci, Technometrics 32 (1990) 1; NIST/SEMATECH e-Handbook 6.3.2, 6.3.2.4;
 * recursive residuals: Brown, Durbin and Evans, J. R. Stat. Soc. B 37 (1975) 149, as charted by C. P. Quesenberry, J. Quality Technology 23 (1991) 213;
 * successive differences: J. von Neumann et al., Ann. Math. Stat. 12 (1941) 153; place of the step: D. V. Hinkley, Biometrika 57 (1970) 1.
 * Refuses fewer than eight values, what is not finite, uncertainties and scatter that are negative or all zero, lambda outside ]0, 1], a limit of zero or below.
 */
export function judgeProcess(input: ProcessInput): Outcome<Process> {
  const { values, centre, lambda = LAMBDA, limit = LIMIT } = input
  const problem = faultIn(input)
  if (problem) return problem
  const ordered = [...values].sort((a, b) => a.day - b.day)
  const { scatter, nu } =
    input.scatter === undefined ? scatterOf(ordered) : { scatter: input.scatter, nu: Number.POSITIVE_INFINITY }
  const sds = ordered.map(({ u }) => Math.hypot(u, scatter))
  if (!sds.every((sd) => sd > 0))
    return refuse('values', 'values without any uncertainty cannot be judged: their scatter is not known')
  const widened = (z: number): number => upperQuantile(normalCdf(-z), nu)
  const ewmaLimit = widened(limit) * Math.sqrt(lambda / (2 - lambda))
  const farLimit = widened(FAR)
  const chart = chartOf(ordered, sds, centre, lambda)
  const drifted = chart.findIndex(({ ewma }) => Math.abs(ewma) > ewmaLimit)
  const moved = chart.findIndex((_, i) => [1, -1].some((side) => twoOfThree(chart, i, side * farLimit)))
  const first = drifted < 0 ? moved : moved < 0 ? drifted : Math.min(drifted, moved)
  const result: Process = {
    inControl: first < 0,
    test: first < 0 ? undefined : first === drifted ? 'ewma' : 'two-of-three',
    signalled: chart[first]?.day,
    change: first < 0 ? undefined : changeIn(ordered, sds, nu),
    scatter,
    nu,
    ewmaLimit,
    farLimit,
    chart,
  }
  const finite =
    chart.every(({ z, ewma }) => Number.isFinite(z) && Number.isFinite(ewma)) &&
    Object.values(result.change ?? {}).every(Number.isFinite)
  return finite ? ok(result) : refuse('values', 'the values are too large or too small to compute with')
}

/** The scatter beyond the values' own uncertainties, from the mean square of successive differences; its degrees of freedom for values alike. */
function scatterOf(ordered: readonly ProcessValue[]): { scatter: number; nu: number } {
  const n = ordered.length
  let excess = 0
  for (let i = 1; i < n; i++) {
    const [a, b] = [ordered[i - 1]!, ordered[i]!]
    excess += ((b.value - a.value) ** 2 - a.u * a.u - b.u * b.u) / 2
  }
  return { scatter: Math.sqrt(Math.max(0, excess / (n - 1))), nu: (2 * (n - 1) ** 2) / (3 * n - 4) }
}

function chartOf(
  ordered: readonly ProcessValue[],
  sds: readonly number[],
  centre: number | undefined,
  lambda: number,
): ChartPoint[] {
  const chart: ChartPoint[] = []
  let mean = centre ?? ordered[0]!.value
  let variance = centre === undefined ? sds[0]! ** 2 : 0
  let ewma = 0
  for (let i = centre === undefined ? 1 : 0; i < ordered.length; i++) {
    const { day, value } = ordered[i]!
    const own = sds[i]! ** 2
    const z = (value - mean) / Math.sqrt(own + variance)
    ewma += lambda * (z - ewma)
    chart.push({ day, value, z, ewma })
    if (centre !== undefined) continue
    const share = variance / (variance + own)
    mean += share * (value - mean)
    variance = share * own
  }
  return chart
}

/** Whether the value at `i` lies beyond the bound, and with it one of the two before. */
function twoOfThree(chart: readonly ChartPoint[], i: number, bound: number): boolean {
  const beyond = (at: number): boolean => at >= 0 && chart[at]!.z / bound > 1
  return beyond(i) && (beyond(i - 1) || beyond(i - 2))
}

/** The likeliest single step with at least two values on either side, and where else it may lie: all places alike beforehand, both means open. */
function changeIn(ordered: readonly ProcessValue[], sds: readonly number[], nu: number): Change {
  const n = ordered.length
  const origin = ordered[0]!.value
  const weight = new Float64Array(n + 1)
  const moment = new Float64Array(n + 1)
  for (let i = 0; i < n; i++) {
    const w = (sds[0]! / sds[i]!) ** 2
    weight[i + 1] = weight[i]! + w
    moment[i + 1] = moment[i]! + w * (ordered[i]!.value - origin)
  }
  const splits = Array.from({ length: n - 3 }, (_, i) => {
    const at = i + 2
    const [before, after] = [weight[at]!, weight[n]! - weight[at]!]
    const shift = (moment[n]! - moment[at]!) / after - moment[at]! / before
    const u = sds[0]! * Math.sqrt(1 / before + 1 / after)
    return { at, shift, u, log: (shift / u) ** 2 / 2, likely: (shift / u) ** 2 / 2 - Math.log(before * after) / 2 }
  })
  const best = splits.reduce((a, b) => (b.log > a.log ? b : a))
  const held = mostLikely(splits, 0.95)
  return {
    after: ordered[best.at - 1]!.day,
    by: ordered[best.at]!.day,
    earliest: ordered[Math.min(best.at, ...held) - 1]!.day,
    latest: ordered[Math.max(best.at, ...held)]!.day,
    shift: best.shift,
    u: best.u,
    U: upperQuantile(0.025, nu) * best.u,
  }
}

/** The places that together hold `share` of the probability, the likeliest first. */
function mostLikely(splits: readonly { readonly at: number; readonly likely: number }[], share: number): number[] {
  const sorted = [...splits].sort((a, b) => b.likely - a.likely)
  const weights = sorted.map(({ likely }) => Math.exp(likely - sorted[0]!.likely))
  const enough = share * weights.reduce((sum, w) => sum + w, 0)
  const held: number[] = []
  for (let i = 0, sum = 0; i < sorted.length && sum < enough; i++) {
    held.push(sorted[i]!.at)
    sum += weights[i]!
  }
  return held
}

function faultIn({ values, scatter = 0, centre = 0, lambda = LAMBDA, limit = LIMIT }: ProcessInput): Outcome<never> | undefined {
  const problem = firstProblem({ scatter, centre, lambda, limit }, ['lambda', 'limit'])
  if (problem) return { ok: false, problem }
  if (scatter < 0) return refuse('scatter', 'the scatter must be zero or more')
  if (lambda > 1) return refuse('lambda', 'the weight of the newest value is at most 1')
  if (values.length < LEAST) return refuse('values', `a history of fewer than ${LEAST} values cannot be judged`)
  for (const { day, value, u } of values) {
    const fault = firstProblem({ day, value, u })
    if (fault) return refuse('values', fault.reason)
    if (u < 0) return refuse('values', 'the uncertainty of a value must be zero or more')
  }
  return undefined
}
