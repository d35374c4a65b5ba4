// What the rules of bounds share: the bad value with its quantity and its limits in the unit it is written in, and the slips that explain it.
import type { BadValue, BoundProblem, QuantityLeaf } from '../../model/read.ts'
import { toSi } from '../../quantities/convert.ts'
import { formatSi, rewriteIn } from '../../quantities/format.ts'
import { parseQuantity } from '../../quantities/parse.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import { unitsOf } from '../../quantities/units.ts'
import type { RuleContext } from '../rule.ts'
import { scalarOf } from './bad-quantity.ts'
import { mistakesOf } from './mistakes.ts'
import { lastName } from './words.ts'

export interface Beyond {
  readonly bad: BadValue
  readonly problem: BoundProblem
  /** What the value belongs to: `ink-limit`. */
  readonly name: string
  /** The value as written. */
  readonly text: string
  /** The bound in the unit the value is written in. */
  readonly bound: string
  /** The lowest and highest usual value, in that unit. */
  readonly usual: readonly [string, string] | undefined
  /** Usual values that a slip of the point, the sign or the unit may have turned into this one. */
  readonly slips: readonly string[]
}

/** The values of a document that lie beyond a bound of this sort. */
export function* beyond(context: RuleContext, code: BoundProblem['code']): Generator<Beyond> {
  for (const bad of mistakesOf(context.document).bad) {
    const { problem, schema } = bad
    if (problem.code !== code || !('bound' in problem)) continue
    const text = scalarOf(bad)?.text.trim() ?? ''
    const name = bad.place.key?.text ?? lastName(schema.path)
    const read = quantityOf(bad, text)
    if (!read) yield { bad, problem, name, text, bound: problem.bound, usual: usualNumbers(bad), slips: [] }
    else {
      const inOwn = (bound: string): string => inUnitOf(bound, read.quantity)
      const usual = read.type.plausible?.map(inOwn) as [string, string] | undefined
      yield { bad, problem, name, text, bound: inOwn(problem.bound), usual, slips: slipsOf(read.quantity, read.type) }
    }
  }
}

function quantityOf({ schema }: BadValue, text: string): { quantity: Quantity; type: QuantityLeaf } | undefined {
  for (const type of schema.accepts) {
    if (type.type !== 'quantity') continue
    const parsed = parseQuantity(text, type.dimension)
    if (parsed.ok) return { quantity: parsed.value, type }
  }
  return undefined
}

function usualNumbers({ schema }: BadValue): readonly [string, string] | undefined {
  for (const type of schema.accepts)
    if ((type.type === 'integer' || type.type === 'number') && type.plausible)
      return [String(type.plausible[0]), String(type.plausible[1])]
  return undefined
}

function inUnitOf(bound: string, { dimension, unit }: Quantity): string {
  const parsed = parseQuantity(bound, dimension)
  return parsed.ok ? rewriteIn(parsed.value, unit) : bound
}

const MAX_SLIPS = 3

function slipsOf(quantity: Quantity, { dimension, plausible }: QuantityLeaf): readonly string[] {
  if (!plausible || quantity.second !== undefined) return []
  const [low, high] = plausible.map((bound) => parseQuantity(bound, dimension))
  if (!low?.ok || !high?.ok) return []
  const spread = quantity.writtenUncertainty === undefined ? '' : ` ±${quantity.writtenUncertainty}`
  const candidates: string[] = []
  const plain = quantity.written.replace(/[−]/g, '-')
  if (plain.startsWith('-')) candidates.push(`${plain.slice(1)}${spread} ${quantity.unit.id}`)
  const number = Number(plain)
  // Ten times a temperature is no slip of the point: 8 °C is cold, and not 80 °C.
  if (Number.isFinite(number) && spread === '')
    for (const factor of dimension === 'temperature' ? [0.1] : [0.1, 10])
      candidates.push(
        formatSi(toSi(number * factor, quantity.unit), dimension, {
          unit: quantity.unit,
          digits: 12,
          sign: plain.startsWith('+'),
        }),
      )
  for (const unit of unitsOf(dimension)) if (unit !== quantity.unit) candidates.push(`${quantity.written}${spread} ${unit.id}`)
  const fits = (text: string): boolean => {
    const parsed = parseQuantity(text, dimension)
    return parsed.ok && parsed.value.si >= low.value.si && parsed.value.si <= high.value.si && parsed.value.si !== 0
  }
  return candidates.filter(fits).slice(0, MAX_SLIPS)
}
