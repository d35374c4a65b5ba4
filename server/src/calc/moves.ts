// Which of several things that were measured before and after have moved together, and which alone: one cause moves all alike, and what moves by itself has a
// cause of its own.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { chiSquareBeyond } from './chi-square.ts'
import { normalBeyond } from './normal.ts'
import { randomEffects } from './random-effects.ts'

export interface Move {
  readonly id: string
  /** After less before; any one unit. */
  readonly change: number
  /** Standard uncertainty of the change. */
  readonly u: number
}

export interface Moves {
  /** Those that moved by other amounts than the rest, the one that stands apart most first, with the probability of it by chance. */
  readonly alone: readonly (Move & { readonly chance: number })[]
  /** Those that agree with each other: what they moved by in common, ± its standard uncertainty, and the probability of so much by chance. */
  readonly rest: readonly string[]
  readonly common: { readonly change: number; readonly u: number; readonly chance: number } | undefined
  /** Whether those that agree moved: one cause. With fewer than two nobody can tell. */
  readonly together: boolean
  /** Two that disagree, of which neither can be named. */
  readonly apart: boolean
}

/**
 * Cochran's Q tells whether all moved by one amount. Where they did not, the one that lies farthest from the mean of the others is taken as moved alone, and the
 * others are asked again; each such step is judged at the significance divided by how many could have been named. Of two that disagree neither can be named
 * by the other: the one that moved is, where the other did not. Changes are taken as independent and near normal; what all share (a rule, a room) is what
 * moves them together.
 * Source: W. G. Cochran, Biometrics 10 (1954) 101 (Q); W. Viechtbauer, M. W.-L. Cheung, Res. Synth. Methods 1 (2010) 112 (a value against the others' mean);
 * Bonferroni's inequality. Refuses fewer than two, changes that are not finite, uncertainties that are not above zero, a significance outside ]0, 0.5].
 */
export function movesOf({ moves, significance = 0.05 }: { moves: readonly Move[]; significance?: number }): Outcome<Moves> {
  if (!(significance > 0 && significance <= 0.5))
    return refuse('significance', 'the significance lies above 0 and is at most a half')
  const alone: (Move & { chance: number })[] = []
  let rest = [...moves]
  for (;;) {
    const effects = randomEffects({ values: rest.map(({ change }) => change), u: rest.map(({ u }) => u) })
    if (!effects.ok) return effects
    const { Q, fixed } = effects.value
    const agreement = chiSquareBeyond({ x: Q, freedom: rest.length - 1 })
    if (!agreement.ok) return agreement
    const chance = normalBeyond(Math.abs(fixed.mean) / fixed.u)
    const told = (together: boolean, apart: boolean): Outcome<Moves> =>
      ok({ alone, rest: rest.map(({ id }) => id), common: { change: fixed.mean, u: fixed.u, chance }, together, apart })
    if (agreement.value >= significance) return told(chance < significance, false)
    if (rest.length === 2) {
      const own = rest.map((move) => ({ ...move, chance: normalBeyond(Math.abs(move.change) / move.u) }))
      const moved = own.filter((move) => move.chance < significance / 2)
      if (moved.length !== 1)
        return { ok: true, value: { alone, rest: rest.map(({ id }) => id), common: undefined, together: false, apart: true } }
      return ok({
        alone: [...alone, ...moved],
        rest: rest.flatMap(({ id }) => (id === moved[0]!.id ? [] : [id])),
        common: undefined,
        together: false,
        apart: false,
      })
    }
    const weight = rest.reduce((sum, { u }) => sum + 1 / u ** 2, 0)
    const far = rest.map((move) => {
      const others = weight - 1 / move.u ** 2
      const mean = (fixed.mean * weight - move.change / move.u ** 2) / others
      return { move, chance: normalBeyond(Math.abs(move.change - mean) / Math.hypot(move.u, 1 / Math.sqrt(others))) }
    })
    const farthest = far.reduce((most, one) => (one.chance < most.chance ? one : most))
    if (farthest.chance * rest.length >= significance) return told(false, true)
    alone.push({ ...farthest.move, chance: farthest.chance })
    rest = rest.filter((move) => move !== farthest.move)
  }
}
