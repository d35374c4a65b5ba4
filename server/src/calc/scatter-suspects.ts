// Which values are suspect, judged by what all others predict. They are named here and dropped nowhere.
import { type Outcome, ok } from '../base/outcome.ts'
import { type ScatterInput, suspicionOver } from './scatter-average.ts'
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
 * Where the most extreme value is less suspect than this, nothing hides behind it. Two misreadings of 5 mm in twelve checks, of one sign or of two, leave the first
 * below 0.2 in 99 % of series, with rules and sensors alike; good checks in 20 %, and the rest is spared the work and its false alarms. Two among eight hide one
 * another better (84, 95 and 97 % are both named with 0.2, 0.3 and 0.5), and so does a tenth of very many.
 */
const goesOn = (n: number): number => (n < 12 ? 0.5 : Math.max(0.2, n / 200))

/**
 * The suspects among values reckoned by `scatterMixture` (`first`, where it is at hand): the most extreme value, if n·p is below `significance` (0.05 unless
 * given). From eight values on the most extreme is taken out and the rest judged anew, up to n/10 values and at least two, and as long as the last was at all
 * unlikely; the number of suspects is the largest step that was significant, since two blunders hide one another. Of fewer than three values none can
 * be named. Each step chooses its nodes anew: those of all values lie where the blunders drew them, and named both of two in some 85 % only.
 * Source: B. Rosner, Technometrics 25 (1983) 165 (the order of the steps), with leave-one-out predictions for its statistic. Refuses what `scatterMixture` refuses.
 */
export function scatterSuspects(
  input: ScatterInput,
  { first, significance = 0.05 }: { readonly first?: ScatterMixture; readonly significance?: number } = {},
): Outcome<ScatterSuspects> {
  const all = first ? ok(first) : scatterMixture(input)
  if (!all.ok) return all
  const n = input.values.length
  const most = n < SEVERAL ? 1 : Math.max(2, Math.floor(n / 10))
  const goOn = Math.max(goesOn(n), significance)
  let left = input.values.map((_, i) => i)
  let suspicion = all.value.suspicion
  const steps: { index: number; suspicion: number }[] = []
  while (suspicion) {
    const known = suspicion
    const at = known.reduce((least, s, i) => (s < known[least]! ? i : least), 0)
    steps.push({ index: left[at]!, suspicion: known[at]! })
    if (steps.length === most || !(known[at]! < goOn)) break
    left = left.toSpliced(at, 1)
    suspicion = suspicionOver({ ...input, values: left.map((i) => input.values[i]!) })
  }
  const count = steps.findLastIndex((step) => step.suspicion < significance) + 1
  return ok({ suspects: steps.slice(0, count).map(({ index }) => index), steps })
}
