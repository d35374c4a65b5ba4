// Feed checks to one correction: their weighted mean with the errors they share, the suspects among them, and other estimators to compare with.
import type { FeedCheckInput, ImpliedCorrection } from './feed-check.ts'
import type { LengthCause } from './measurement.ts'
import { rosner } from './outliers.ts'
import { fitThroughOrigin } from './regression.ts'
import { type Residual, type WeightedMean, weightedMean } from './statistics.ts'
import { combine, expand } from './uncertainty.ts'

export interface FeedCombination {
  /** How many checks it rests on. */
  readonly n: number
  readonly correction: number
  /** Standard uncertainties of the correction: readings; readings and the scatter beyond them; what all checks of a kind share. */
  readonly uReading: number
  readonly uRandom: number
  readonly uSystematic: number
  /** uSystematic by cause; the rule's own limit of error once for each instrument. */
  readonly systematic: readonly { readonly cause: LengthCause; readonly instrument?: string; readonly u: number }[]
  readonly u: number
  readonly nuEffective: number
  /** Degrees of freedom k was looked up with. */
  readonly nu: number
  readonly k: number
  /** Expanded uncertainty: the correction lies within ± U. */
  readonly U: number
  /** Consistency of the checks: sum of z², and √(chi2/(n − 1)); undefined for one check. */
  readonly chi2: number
  readonly birge: number | undefined
}

/** The same checks by three other rules, as corrections, for comparison; they know no uncertainties. */
export interface FeedEstimators {
  /** Least squares through the origin: right for equal absolute errors. */
  readonly throughOrigin: number
  /** Sum of expected over sum of measured lengths: right for a variance proportional to length. */
  readonly ratioOfSums: number
  /** From the mean of measured over expected: right for equal relative errors. */
  readonly meanOfRatios: number
}

export function estimatorsOf(included: readonly UsableCheck[]): FeedEstimators | undefined {
  if (included.length === 0) return undefined
  const x = included.map(({ implied }) => implied.expected)
  const y = included.map(({ implied }) => implied.measured.length)
  const sum = (values: readonly number[]) => values.reduce((total, v) => total + v, 0)
  const ratioOfSums = sum(x) / sum(y) - 1
  const ray = fitThroughOrigin({ x, y })
  return {
    throughOrigin: ray.ok ? 1 / ray.value.slope - 1 : ratioOfSums,
    ratioOfSums,
    meanOfRatios: included.length / sum(included.map(({ implied }) => implied.gain)) - 1,
  }
}

export interface UsableCheck {
  readonly check: FeedCheckInput
  /** Position among all checks. */
  readonly index: number
  readonly implied: ImpliedCorrection
}

/** Distance of a suspected check in standard deviations, and what that should not exceed. */
export interface Suspicion {
  readonly statistic: number
  readonly critical: number
}

/** Weighted mean of the gains; undefined where there is none. Each rule has its own limit of error; room, web and tension are the same for all. */
export function meanGain(usable: readonly UsableCheck[]): WeightedMean | undefined {
  if (usable.length === 0) return undefined
  // Built once for each instrument: a fresh string for each check would have to be hashed each time.
  const limits = new Map<string, string>()
  const limitOf = (instrument: string): string => {
    let cause = limits.get(instrument)
    if (cause === undefined) {
      cause = `limit-of-error:${instrument}`
      limits.set(instrument, cause)
    }
    return cause
  }
  const estimates = usable.map(({ check, implied: { measured, expected, gain } }) => {
    const instrument = check.instrument ?? ''
    const common = []
    for (const { kind, cause, u } of measured.parts)
      if (kind === 'systematic') common.push({ cause: cause === 'limit-of-error' ? limitOf(instrument) : cause, u: u / expected })
    return { value: gain, u: measured.uRandom / expected, common, group: instrument }
  })
  const mean = weightedMean({ estimates })
  return mean.ok ? mean.value : undefined
}

/** The correction that a mean gain of `n` checks asks for, with its expanded uncertainty. */
export function combination(mean: WeightedMean, n: number, coverage: number): FeedCombination | undefined {
  const correction = (1 - mean.value) / mean.value
  const perGain = (1 + correction) ** 2
  const [uReading, uRandom, uSystematic] = [mean.uInternal * perGain, mean.uExternal * perGain, mean.uCommon * perGain]
  const total = combine({
    contributions: [
      { name: 'random', u: uRandom, nu: mean.nuExternal },
      { name: 'systematic', u: uSystematic },
    ],
  })
  const expanded = total.ok ? expand({ u: total.value.u, nu: total.value.nu, coverage }) : total
  if (!total.ok || !expanded.ok) return undefined
  const systematic = mean.common.map(({ cause, u }) => {
    const colon = cause.indexOf(':')
    const instrument = colon < 0 ? '' : cause.slice(colon + 1)
    return {
      cause: (colon < 0 ? cause : cause.slice(0, colon)) as LengthCause,
      ...(instrument && { instrument }),
      u: u * perGain,
    }
  })
  return {
    n,
    correction,
    uReading,
    uRandom,
    uSystematic,
    systematic,
    ...total.value,
    ...expanded.value,
    chi2: mean.chi2,
    birge: mean.birge,
  }
}

/** Suspected outliers by their position among all checks, most extreme first. */
export function suspectsAmong(
  included: readonly UsableCheck[],
  residuals: readonly Residual[],
  significance: number,
): Map<number, Suspicion> {
  const n = included.length
  const most = n < 15 ? 1 : Math.min(25, Math.max(2, Math.floor(n / 10)))
  const values = included.map(({ implied }) => implied.gain)
  const found = rosner({ values, uncertainties: residuals.map((r) => r.u), significance, most })
  if (!found.ok) return new Map()
  return new Map(
    found.value.steps
      .slice(0, found.value.count)
      .map(({ index, statistic, critical }) => [included[index]!.index, { statistic, critical }]),
  )
}
