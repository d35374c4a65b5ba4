// Suspected outliers: Rosner's generalized test, which for one outlier is the two-sided test of Grubbs, plain or with an uncertainty for each value.
// Critical values are computed from Student's t, because printed tables carry misprints. A suspect is named here and dropped nowhere.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { upperQuantile } from './student-t.ts'

interface OutlierStep {
  /** Position of the most extreme value of those still in, in the order given. */
  readonly index: number
  /** Its distance from the mean in standard deviations. */
  readonly statistic: number
  /** What the statistic must exceed. */
  readonly critical: number
}

interface OutlierInput {
  /** The values, in any one unit. */
  readonly values: readonly number[]
  /**
   * Standard uncertainty of each value, above zero. Then values are weighted by 1/u², distances are in units of each value's own uncertainty,
   * and the scale is the scatter or the stated uncertainty, whichever is larger: values which agree within what they claim are never suspect.
   */
  readonly uncertainties?: readonly number[]
  /** Chance of naming a suspect where there is none; 0.05 unless given. */
  readonly significance?: number
}

interface RosnerResult {
  /** One step for each value taken out in turn, most extreme first. */
  readonly steps: readonly OutlierStep[]
  /** How many of the steps, from the first, are outliers: the largest i whose statistic exceeds its critical value. */
  readonly count: number
  /** Positions of the outliers in the order given, most extreme first. */
  readonly suspects: readonly number[]
}

/**
 * Rosner's generalized extreme studentized deviate test for up to `most` outliers on either side.
 *
 * Each step takes the most extreme value out; the number of outliers is the *largest* i with R_i above its critical value, though steps before it
 * may not be significant. Near-normal values; n of 25 or more is good, 15 reasonable. `most` is held to n − 2; the work is n·most.
 * With `most` 1 it is Grubbs' test: G = max|x − mean|/s, the suspect counted in, against (n−1)/√n · √(t²/(n−2+t²)), t exceeded with probability
 * significance/(2n) at n − 2; seven values or more to have much power, and not to be repeated until nothing is found (outliers hide one another).
 * With uncertainties the studentized residual of the weighted mean takes the place of (x − mean)/s, which has the same distribution.
 * Source: NIST/SEMATECH e-Handbook 1.3.5.17.1 and 1.3.5.17.3. Refuses fewer than three values, a value that is not finite, a significance outside ]0, 1[,
 * a `most` that is no whole number from 1, and uncertainties that are not one above zero for each value.
 */
export function rosner(input: OutlierInput & { readonly most: number }): Outcome<RosnerResult> {
  const { values, uncertainties, significance = 0.05, most } = input
  const n = values.length
  if (n < 3) return refuse('values', 'an outlier test needs at least three values')
  if (!values.every(Number.isFinite)) return refuse('values', 'one of the values is not a finite number')
  if (!(significance > 0 && significance < 1))
    return refuse('significance', 'the significance lies between 0 and 1, both excluded')
  if (!(Number.isInteger(most) && most >= 1))
    return refuse('most', 'the number of outliers to look for is a whole number of 1 or more')
  if (uncertainties && (uncertainties.length !== n || !uncertainties.every((u) => u > 0 && u < Number.POSITIVE_INFINITY)))
    return refuse('uncertainties', 'every value needs an uncertainty above zero')
  const left = shrinkingSet(values, uncertainties)
  const steps: OutlierStep[] = []
  for (let i = 0; i < Math.min(most, n - 2); i++) {
    const { index, statistic } = left.takeMostExtreme()
    steps.push({ index, statistic, critical: critical(n - i, significance) })
  }
  const count = steps.findLastIndex((step) => step.statistic > step.critical) + 1
  return ok({ steps, count, suspects: steps.slice(0, count).map((step) => step.index) })
}

function critical(n: number, significance: number): number {
  const t = upperQuantile(significance / (2 * n), n - 2)
  // Dividing by t keeps t² from overflowing at one degree of freedom.
  return (n - 1) / Math.sqrt(n) / Math.sqrt((n - 2) / t / t + 1)
}

/** Below this, relative to the largest value, a spread is the rounding of the arithmetic and not a scatter. */
const noise = 1e-14

/** The values still in: each call finds the largest studentized deviation from their weighted mean and takes that value out. */
function shrinkingSet(values: readonly number[], uncertainties: readonly number[] | undefined) {
  const scale = values.reduce((largest, v) => Math.max(largest, Math.abs(v)), 0) || 1
  const smallest = uncertainties ? uncertainties.reduce((least, u) => Math.min(least, u)) : 1
  const x = Float64Array.from(values, (v) => v / scale)
  const weight = Float64Array.from(values, (_, i) => (uncertainties ? (smallest / uncertainties[i]!) ** 2 : 1))
  const position = Uint32Array.from(values, (_, i) => i)
  // One unit of weighted deviation in units of the stated uncertainty.
  const claimed = uncertainties ? smallest / scale : 0
  let n = values.length
  // Deviations are taken from the mean of all values once, after which one pass finds each mean without losing digits.
  let centre = 0
  let all = 0
  for (let i = 0; i < n; i++) {
    all += weight[i]!
    centre += weight[i]! * x[i]!
  }
  for (let i = 0; i < n; i++) x[i]! -= centre / all
  const takeMostExtreme = (): { index: number; statistic: number } => {
    let total = 0
    let first = 0
    for (let i = 0; i < n; i++) {
      total += weight[i]!
      first += weight[i]! * x[i]!
    }
    const mean = first / total
    let squares = 0
    let at = 0
    let largest = -1
    for (let i = 0; i < n; i++) {
      const square = weight[i]! * (x[i]! - mean) ** 2
      squares += square
      // A value that carries much of the weight pulls the mean along; its deviation counts for correspondingly more.
      const studentized = n === 1 ? 0 : square / Math.max(1 - weight[i]! / total, Number.EPSILON)
      if (studentized > largest) {
        largest = studentized
        at = i
      }
    }
    const s = Math.max(Math.sqrt(squares / (n - 1)), claimed)
    const index = position[at]!
    // Brought to the form in which equal weights give |x − mean|/s.
    const statistic = s > noise ? (Math.sqrt(largest) / s) * Math.sqrt((n - 1) / n) : 0
    n--
    x[at] = x[n]!
    weight[at] = weight[n]!
    position[at] = position[n]!
    return { index, statistic }
  }
  return { takeMostExtreme }
}
