// How stiff a sheet of several layers is against bending: what a film on its liner does over a suction hole and along a curled edge.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { inputProblem } from './formula.ts'
import { asRange, type Range } from './range.ts'

/** One layer: modulus in Pa, thickness in m. */
interface BentLayer {
  readonly modulus: number | Range
  readonly thickness: number
}

/**
 * The modulus of an even sheet of the same total thickness that would bend as the layers do, Pa: 12 EI / t^3. Typical and high: the layers bonded, EI =
 * sum E (t^3 / 12 + t z^2) about the neutral axis (composite beam theory). Low: the layers slide on one another in a soft adhesive, EI = sum E t^3 / 12.
 * Layers in order from either face. Errors: no layers; a modulus or thickness missing, not finite, zero or negative.
 */
export function bendingModulus(layers: readonly BentLayer[]): Outcome<Range> {
  if (layers.length === 0) return refuse('layers', 'there are no layers to bend')
  for (const { modulus, thickness } of layers) {
    const problem = inputProblem({ modulus, thickness })
    if (problem) return refuse('layers', `of a layer, ${problem.reason}`)
  }
  const total = layers.reduce((sum, { thickness }) => sum + thickness, 0)
  const at = (end: keyof Range): readonly Even[] =>
    layers.map((l) => ({ modulus: asRange(l.modulus)[end], share: l.thickness / total }))
  const result = { low: sliding(at('low')), typical: bonded(at('typical')), high: bonded(at('high')) }
  const finite = Object.values(result).every((value) => Number.isFinite(value) && value < Number.MAX_VALUE)
  return finite ? ok(result) : refuse('layers', 'the layers are too stiff to calculate with')
}

/** A layer by its share of the total thickness, so that micrometres do not underflow in the third power. */
interface Even {
  readonly modulus: number
  readonly share: number
}

const sliding = (layers: readonly Even[]): number => layers.reduce((sum, { modulus, share }) => sum + modulus * share ** 3, 0)

function bonded(layers: readonly Even[]): number {
  let from = 0
  const middles = layers.map(({ share }) => {
    from += share
    return from - share / 2
  })
  const stiffness = layers.reduce((sum, { modulus, share }) => sum + modulus * share, 0)
  const axis = layers.reduce((sum, { modulus, share }, i) => sum + (modulus / stiffness) * share * middles[i]!, 0)
  return layers.reduce((sum, { modulus, share }, i) => sum + modulus * share * (share ** 2 + 12 * (middles[i]! - axis) ** 2), 0)
}
