// Values of two versions of a document side by side: what is the same however it is written, what differs and by how much, and the words for it.
import { canonical } from '../model/canonical.ts'
import { formatSi } from '../quantities/format.ts'
import { parseQuantity } from '../quantities/parse.ts'
import type { Quantity } from '../quantities/quantity.ts'
import type { LeafSchema, SchemaNode } from '../schema/schema.ts'
import { scalarValue } from '../syntax/plain.ts'
import type { Node, ScalarNode } from '../syntax/tree.ts'

/** Of a value in another unit so much may be lost by rounding: 2.0 mm is 0.0787402 in. Nothing that anybody sets is so fine. */
const OTHER_UNIT = 1e-6

const leafOf = (schema: SchemaNode | undefined): LeafSchema | undefined =>
  schema?.kind === 'leaf' ? schema : schema?.kind === 'list' ? schema.single : undefined

/** The quantity that a value is where its key takes one. */
export function quantityOf(node: ScalarNode, schema: SchemaNode | undefined): Quantity | undefined {
  if (typeof scalarValue(node) === 'boolean') return undefined
  for (const type of leafOf(schema)?.accepts ?? []) {
    if (type.type !== 'quantity') continue
    const parsed = parseQuantity(node.text, type.dimension)
    if (parsed.ok) return parsed.value
  }
  return undefined
}

/** Whether two values of a key say the same, whatever unit, spelling and quotes they are written in. Never for numbers that differ in one unit. */
export function sameValue(a: ScalarNode, b: ScalarNode, schema: SchemaNode | undefined): boolean {
  if (a.text === b.text && a.style === b.style) return true
  if (canonical(a, schema) === canonical(b, schema)) return true
  const [one, other] = [quantityOf(a, schema), quantityOf(b, schema)]
  if (!one || !other || one.dimension !== other.dimension || one.unit === other.unit) return false
  if (one.second !== undefined || other.second !== undefined) return false
  return nearly(one.si, other.si) && nearly(one.uncertainty, other.uncertainty)
}

const nearly = (a: number | undefined, b: number | undefined): boolean =>
  a === undefined || b === undefined ? a === b : Math.abs(a - b) <= OTHER_UNIT * Math.min(Math.abs(a), Math.abs(b))

/** The number of a value: SI of a quantity, or a plain number. */
export function numberOf(node: Node | undefined, schema: SchemaNode | undefined): number | undefined {
  if (node?.kind !== 'scalar') return undefined
  const plain = scalarValue(node)
  return quantityOf(node, schema)?.si ?? (typeof plain === 'number' ? plain : undefined)
}

/** How far a value moved, with its sign, in the unit it is written in now: "+4 K", "-0.5 mm". Undefined where there is nothing to subtract. */
export function sizeOf(a: Node | undefined, b: Node | undefined, schema: SchemaNode | undefined): string | undefined {
  if (a?.kind !== 'scalar' || b?.kind !== 'scalar') return undefined
  const [one, other] = [quantityOf(a, schema), quantityOf(b, schema)]
  if (one && other) {
    if (one.dimension !== other.dimension || one.second !== undefined || other.second !== undefined) return undefined
    const moved = other.si - one.si
    if (other.dimension === 'temperature') return formatSi(moved, 'temperature-difference', { unit: 'K', sign: true })
    return formatSi(moved, other.dimension, { unit: other.unit, sign: true })
  }
  const [from, to] = [scalarValue(a), scalarValue(b)]
  if (typeof from !== 'number' || typeof to !== 'number') return undefined
  const moved = Number((to - from).toPrecision(12))
  return `${moved > 0 ? '+' : ''}${moved}`
}

/** As it is written, on one line. */
export const writtenAt = (text: string, node: Node): string =>
  (node.kind === 'scalar' && node.style !== 'block' && node.style !== 'empty' ? node.text : text.slice(node.start, node.end))
    .replace(/(^|\s)#[^\n]*/g, '$1')
    .trim()
    .replace(/\s+/g, ' ')
