// What a document says, apart from how it is written: one text for a value whatever its unit, spelling, quotes, order of keys and comments.
// Two texts of one value are equal, and a number that differs by what can be written differs here.
import { parseQuantity } from '../quantities/parse.ts'
import type { Quantity } from '../quantities/quantity.ts'
import { childOf, type LeafSchema, type SchemaNode } from '../schema/schema.ts'
import { scalarValue } from '../syntax/plain.ts'
import { type MapNode, type Node, resolveAlias, type ScalarNode, type SeqNode } from '../syntax/tree.ts'

/** Words for people, which mean nothing to a rule: a finding stays the same whatever is noted beside it. */
const WORDS: ReadonlySet<string> = new Set(['note', 'notes', 'title'])

/** Aliases may stand for far more than is written; what lies beyond so many values is not told apart. */
const MAX_PARTS = 2000

/** A node's value. Lists of what was measured or came in on a day are sets: their order is how somebody typed them. */
export const canonical = (node: Node | undefined, schema: SchemaNode | undefined): string => new Writer().write(node, schema)

class Writer {
  private left = MAX_PARTS

  write(node: Node | undefined, schema: SchemaNode | undefined): string {
    const at = resolveAlias(node)
    if (at === undefined || --this.left < 0) return ''
    if (at.kind === 'scalar') return canonicalScalar(at, leafOf(schema))
    return at.kind === 'map' ? this.map(at, schema) : this.list(at, schema)
  }

  private map(map: MapNode, schema: SchemaNode | undefined): string {
    const entries: string[] = []
    // Of a key that is given twice the first counts, as everywhere.
    for (const pair of map.pairs)
      if (pair.key && !WORDS.has(pair.key.text) && map.pair(pair.key.text) === pair)
        entries.push(`${JSON.stringify(pair.key.text)}:${this.write(pair.value, schema && childOf(schema, pair.key.text))}`)
    return `{${entries.sort().join(',')}}`
  }

  private list(list: SeqNode, schema: SchemaNode | undefined): string {
    const items = list.items.map((item, i) => this.write(item, schema && childOf(schema, i)))
    return `[${(isSet(list) ? items.sort() : items).join(',')}]`
  }
}

const isSet = ({ items }: SeqNode): boolean =>
  items.length > 1 &&
  items.every((item) => {
    const at = resolveAlias(item)
    return at?.kind === 'map' && DATED.some((key) => at.pair(key) !== undefined)
  })

const DATED: readonly string[] = ['date', 'lot']

const leafOf = (schema: SchemaNode | undefined): LeafSchema | undefined =>
  schema?.kind === 'leaf' ? schema : schema?.kind === 'list' ? schema.single : undefined

function canonicalScalar(node: ScalarNode, schema: LeafSchema | undefined): string {
  const plain = scalarValue(node)
  if (plain === null) return 'null'
  for (const type of schema?.accepts ?? []) {
    if (type.type === 'quantity') {
      if (typeof plain === 'boolean') continue
      const parsed = parseQuantity(node.text, type.dimension)
      if (parsed.ok) return canonicalQuantity(parsed.value)
    } else if ((type.type === 'integer' || type.type === 'number') && typeof plain === 'number') return number(plain)
    else if (type.type === 'boolean' && typeof plain === 'boolean') return String(plain)
    else if (type.type === 'choice' && type.values.some(({ value }) => value === plain)) return JSON.stringify(String(plain))
  }
  return JSON.stringify(node.text.trim().replace(/\s+/g, ' '))
}

const canonicalQuantity = ({ dimension, si, uncertainty, second }: Quantity): string =>
  [
    dimension,
    number(si),
    ...(second === undefined ? [] : [`x${number(second)}`]),
    ...(uncertainty === undefined ? [] : [`±${number(uncertainty)}`]),
  ].join(' ')

/** Twelve digits: conversions round in the sixteenth, and nobody writes thirteen. What a zero point leaves of zero (32 °F) is zero. */
const number = (value: number): string => (Math.abs(value) < 1e-15 ? '0' : String(Number(value.toPrecision(12))))
