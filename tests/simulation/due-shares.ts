// What the counts of simulated shops come to, and how sure that is.
import type { Count } from './due-shops.ts'

export interface Shares {
  /** Checks a profile a year. */
  readonly checks: number
  /** Shares of the days: risk stated, risk told by one who knows the rates, and outside. */
  readonly stated: number
  readonly known: number
  readonly outside: number
  /** The same just before the checks that were due. */
  readonly dueStated: number
  readonly dueOutside: number
}

export function shares(counts: readonly Count[]): Shares {
  const sum = (of: (count: Count) => number): number => counts.reduce((total, count) => total + of(count), 0)
  const days = sum((c) => c.days)
  const due = sum((c) => c.due.checks)
  return {
    checks: sum((c) => c.checks) / sum((c) => c.years),
    stated: sum((c) => c.stated) / days,
    known: sum((c) => c.known) / days,
    outside: sum((c) => c.outside) / days,
    dueStated: sum((c) => c.due.stated) / due,
    dueOutside: sum((c) => c.due.outside) / due,
  }
}

/**
 * Checks over those of the calendar with the same average risk, less 1. Between two calendars the logarithm of the checks is a straight line of that of
 * the risk, beyond them the line of the last two goes on.
 */
export function equalRisk(of: Shares, calendars: readonly Shares[]): number {
  const [risks, checks] = [calendars.map((c) => Math.log(c.known)), calendars.map((c) => Math.log(c.checks))]
  const risk = Math.log(of.known)
  const above = risks.findIndex((r, i) => i > 0 && r >= risk)
  const i = above > 0 ? above : risks.length - 1
  const share = (risk - risks[i - 1]!) / (risks[i]! - risks[i - 1]!)
  return of.checks / Math.exp(checks[i - 1]! + share * (checks[i]! - checks[i - 1]!)) - 1
}

/** Standard error of a figure of many, by leaving each out in turn (Quenouille and Tukey). */
export function jackknife<T>(all: readonly T[], figure: (some: readonly T[]) => number): number {
  const without = all.map((_, i) => figure(all.filter((__, j) => j !== i)))
  const mean = without.reduce((sum, value) => sum + value, 0) / all.length
  return Math.sqrt(((all.length - 1) / all.length) * without.reduce((sum, value) => sum + (value - mean) ** 2, 0))
}
