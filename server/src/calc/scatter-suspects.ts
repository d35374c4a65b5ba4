// Which values are suspect, judged by what all others predict. They are named here and dropped nowhere.
import { type Outcome, ok } from '../base/outcome.ts'
import type { ScatterInput } from './scatter-average.ts'
import { type ScatterMixture, scatterMixture } from './scatter-mixture.ts'

interface ScatterSuspects {
  /** Positions of the suspects in the order given, most extreme first. */
  readonly suspects: readonly number[]
  /** The value taken out at each step, and its suspicion among those still in. */
  readonly steps: readonly { readonly index: number; readonly suspicion: number }[]
}

/** From this many values on more than one suspect is looked for. */
const SEVERAL = 8

/**
 * The suspects among values reckoned by `scatterMixture` (`first`, where it is at hand): the most extreme value, if n·p is below `significance` (0.05 unless
 * given). From eight values on the most extreme is taken out and the rest judged anew, n/10 times and at least twice; the number of suspects is the largest
 * step that was significant, since two blunders hide one another. Of fewer than three values none can be named.
 * Source: B. Rosner, Technometrics 25 (1983) 165 (the order of the steps), with leave-one-out predictions for its statistic. Refuses what `scatterMixture` refuses.
 */
export function scatterSuspects(
  input: ScatterInput,
  { first, significance = 0.05 }: { readonly first?: ScatterMixture; readonly significance?: number } = {},
): Outcome<ScatterSuspects> {
  const n = input.values.length
  const most = n < SEVERAL ? 1 : Math.max(2, Math.floor(n / 10))
  let left = input.values.map((_, i) => i)
  const steps: { index: number; suspicion: number }[] = []
  while (steps.length < most) {
    const known =
      steps.length === 0 && first ? ok(first) : scatterMixture({ ...input, values: left.map((i) => input.values[i]!) })
    if (!known.ok) return known
    const { suspicion } = known.value
    if (!suspicion) break
    const at = suspicion.reduce((least, s, i) => (s < suspicion[least]! ? i : least), 0)
    steps.push({ index: left[at]!, suspicion: suspicion[at]! })
    left = left.filter((_, i) => i !== at)
  }
  const count = steps.findLastIndex((step) => step.suspicion < significance) + 1
  return ok({ suspects: steps.slice(0, count).map(({ index }) => index), steps })
}
