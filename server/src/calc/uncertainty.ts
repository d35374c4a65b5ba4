// Uncertainty by the GUM: standard uncertainties combined, and the interval to state.
// All lengths, ratios and temperatures alike: a standard uncertainty has the unit of the quantity it belongs to.
import { firstProblem, type Outcome, ok, refuse } from '../base/outcome.ts'
import { coverageFactor } from './student-t.ts'

/** One part of an uncertainty budget. */
interface Contribution {
  readonly name: string
  /** Standard uncertainty this part puts on the result (sensitivity included), in the result's unit, zero or more. */
  readonly u: number
  /** Degrees of freedom, 1 to infinity; infinity (the default) where u comes from limits and not from repeats. */
  readonly nu?: number
}

interface CombinedUncertainty {
  /** Combined standard uncertainty, in the unit of the contributions. */
  readonly u: number
  /** Effective degrees of freedom as they come out, 1 to infinity. */
  readonly nuEffective: number
  /** Effective degrees of freedom to look t up with: rounded to one decimal, then truncated. */
  readonly nu: number
}

/**
 * Combines uncorrelated contributions: root sum of squares, and effective degrees of freedom by Welch and Satterthwaite.
 *
 * Effective degrees of freedom are rounded to one decimal before they are truncated, so that 18.9987 counts as 19 and not as 18.
 * Source: GUM 5.1.2, G.4.1 (eq. G.2b) and its example; NIST TN 1297 B.3.
 * Refuses an empty budget, and a contribution that is negative, not finite or of fewer than 1 degree of freedom.
 */
export function combine({ contributions }: { contributions: readonly Contribution[] }): Outcome<CombinedUncertainty> {
  if (contributions.length === 0) return refuse('contributions', 'an uncertainty budget needs at least one contribution')
  let largest = 0
  for (const { name, u, nu = Number.POSITIVE_INFINITY } of contributions) {
    if (!(u >= 0 && u < Number.POSITIVE_INFINITY))
      return refuse(name, `the uncertainty of ${name} must be zero or more, and finite`)
    if (!(nu >= 1)) return refuse(name, `the degrees of freedom of ${name} must be 1 or more`)
    if (u > largest) largest = u
  }
  if (largest === 0) return ok({ u: 0, nuEffective: Number.POSITIVE_INFINITY, nu: Number.POSITIVE_INFINITY })
  // Scaled by the largest part, so that no square overflows or vanishes.
  let squares = 0
  let fourths = 0
  for (const { u, nu = Number.POSITIVE_INFINITY } of contributions) {
    const square = (u / largest) ** 2
    squares += square
    fourths += square ** 2 / nu
  }
  const nuEffective = Math.max(1, squares ** 2 / fourths)
  const u = largest * Math.sqrt(squares)
  if (!Number.isFinite(u)) return refuse('contributions', 'the combined uncertainty is too large to compute')
  return ok({ u, nuEffective, nu: wholeFreedom(nuEffective) })
}

/** Degrees of freedom to look t up with: rounded to one decimal, then truncated, never below 1 (GUM G.4.1, note and example). */
const wholeFreedom = (nuEffective: number): number =>
  nuEffective < 1e9 ? Math.max(1, Math.floor(Math.round(nuEffective * 10) / 10)) : Number.POSITIVE_INFINITY

interface ExpandedUncertainty {
  /** Coverage factor. */
  readonly k: number
  /** Expanded uncertainty k·u, in the unit of u: the value lies within ± U with the coverage asked for. */
  readonly U: number
}

/**
 * Expanded uncertainty U = k·u with k from Student's t at `nu` degrees of freedom (infinite unless given) and `coverage` (0.95 unless given).
 * k = 2 is right only where nu is large. Source: GUM 6.3.3, G.6.4; NIST/SEMATECH e-Handbook 2.5.7. Refuses u below zero or not finite.
 */
export function expand({
  u,
  nu = Number.POSITIVE_INFINITY,
  coverage = 0.95,
}: {
  u: number
  nu?: number
  coverage?: number
}): Outcome<ExpandedUncertainty> {
  const problem = firstProblem({ u })
  if (problem) return { ok: false, problem }
  if (u < 0) return refuse('u', 'a standard uncertainty is zero or more')
  const factor = coverageFactor({ nu, coverage })
  if (!factor.ok) return factor
  const U = factor.value * u
  return Number.isFinite(U) ? ok({ k: factor.value, U }) : refuse('u', 'the expanded uncertainty is too large to compute')
}
