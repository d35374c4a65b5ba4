// Two textbook estimates of a scatter between values and the mean that goes with it, to be shown beside the reckoning that integrates over the scatter.
import { type Outcome, ok, refuse } from '../base/outcome.ts'

interface RandomEffects {
  /** Variance between the values beyond what their uncertainties explain; zero where there is no more. */
  readonly tau2: number
  readonly mean: number
  /** Standard uncertainty of the mean, tau2 taken for known. */
  readonly u: number
}

interface RandomEffectsEstimates {
  /** Sum of (y − mean)²/u² about the fixed-effect mean; about n − 1 where there is no scatter between. */
  readonly Q: number
  /** The mean that knows of no scatter between. */
  readonly fixed: { readonly mean: number; readonly u: number }
  readonly derSimonianLaird: RandomEffects
  readonly mandelPaule: RandomEffects
}

/**
 * Mean of values with independent standard uncertainties and a common scatter between them, by DerSimonian and Laird (moments) and by Mandel and Paule (the
 * scatter that makes the sum of squares n − 1). Any one unit. Both take the scatter for zero in half of all pairs, however large it is: not for verdicts.
 * Source: R. DerSimonian, N. Laird, Control. Clin. Trials 7 (1986) 177; J. Mandel, R. C. Paule, Anal. Chem. 42 (1970) 1194.
 * Refuses fewer than two values, values that are not finite, and uncertainties that are not one above zero for each.
 */
export function randomEffects({
  values,
  u,
}: {
  values: readonly number[]
  u: readonly number[]
}): Outcome<RandomEffectsEstimates> {
  const n = values.length
  if (n < 2) return refuse('values', 'a scatter between values needs at least two')
  if (!values.every(Number.isFinite)) return refuse('values', 'one of the values is not a finite number')
  if (u.length !== n || !u.every((one) => one > 0 && one < Number.POSITIVE_INFINITY))
    return refuse('u', 'every value needs an uncertainty above zero')
  const at = (tau2: number): RandomEffects & { readonly Q: number; readonly first: number; readonly second: number } => {
    let [first, second, sum] = [0, 0, 0]
    values.forEach((value, i) => {
      const weight = 1 / (u[i]! ** 2 + tau2)
      first += weight
      second += weight * weight
      sum += weight * (value - values[0]!)
    })
    const mean = values[0]! + sum / first
    const Q = values.reduce((total, value, i) => total + (value - mean) ** 2 / (u[i]! ** 2 + tau2), 0)
    return { tau2, mean, u: Math.sqrt(1 / first), Q, first, second }
  }
  const plain = ({ tau2, mean, u: uMean }: RandomEffects): RandomEffects => ({ tau2, mean, u: uMean })
  const fixed = at(0)
  const moments = at(Math.max(0, (fixed.Q - (n - 1)) / (fixed.first - fixed.second / fixed.first)))
  const balanced = at(balancedVariance((tau2) => at(tau2).Q, n - 1))
  const result = {
    Q: fixed.Q,
    fixed: { mean: fixed.mean, u: fixed.u },
    derSimonianLaird: plain(moments),
    mandelPaule: plain(balanced),
  }
  const numbers = [fixed.Q, fixed.mean, fixed.u, moments.tau2, moments.mean, moments.u, balanced.tau2, balanced.mean, balanced.u]
  return numbers.every(Number.isFinite) ? ok(result) : refuse('values', 'the values are too large or too small to compute with')
}

/** The variance at which a falling sum of squares comes down to `wanted`; zero where it never is above. */
function balancedVariance(Q: (tau2: number) => number, wanted: number): number {
  if (!(Q(0) > wanted)) return 0
  let low = 0
  let high = Number.MIN_VALUE
  // From the smallest double up, so that no unit is taken for granted.
  while (Q(high) > wanted && high < 1e300) {
    low = high
    high = Math.max(high * 16, 1e-300)
  }
  for (let i = 0; i < 200 && high - low > 1e-15 * high; i++) {
    const middle = (low + high) / 2
    if (Q(middle) > wanted) low = middle
    else high = middle
  }
  return (low + high) / 2
}
