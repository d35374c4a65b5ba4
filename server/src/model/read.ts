// Nodes to typed values, by the schema. Whatever does not read (a half-typed quantity, a number out of bounds) is left out of the
// model and noted beside it, so that everything else goes on working. Results are kept by node: an untouched entry is read once.
import { parseQuantity, type QuantityProblem } from '../quantities/parse.ts'
import type { Quantity } from '../quantities/quantity.ts'
import type { LeafSchema, LeafType, ListSchema, MapSchema, SchemaNode, TableSchema } from '../schema/schema.ts'
import { PlainReader, scalarValue } from '../syntax/plain.ts'
import { type AliasNode, type MapNode, type Node, resolveAlias, type ScalarNode, type SeqNode } from '../syntax/tree.ts'
import type { F, Place } from './field.ts'

export type QuantityLeaf = Extract<LeafType, { type: 'quantity' }>

/** A bound of the schema that a quantity does not keep. */
export interface BoundProblem {
  readonly code: 'out-of-range' | 'implausible'
  /** The bound as written in the schema, and which side it is. */
  readonly bound: string
  readonly side: 'at-least' | 'at-most' | 'above' | 'below'
}

/** A value that could not be read as what its key needs, or reads but breaks a bound. */
export interface BadValue {
  readonly place: Place
  readonly schema: LeafSchema
  readonly problem: QuantityProblem | BoundProblem
}

export interface Read<T = unknown> {
  readonly value: T | undefined
  readonly bad: readonly BadValue[]
}

const NOTHING: Read = { value: undefined, bad: [] }

/** What a node was read as, and by which schema. */
interface Memo {
  readonly schema: SchemaNode
  readonly read: Read
}

/** Reads one document's nodes; keeps what it has read by node. */
export class ModelReader {
  private plain = new PlainReader()

  constructor(readonly file: string) {}

  /** Reads a whole document. */
  read<T>(root: Node | undefined, schema: MapSchema): Read<T> {
    this.plain = new PlainReader()
    return this.node(root, schema, undefined, undefined) as Read<T>
  }

  private node(node: Node | undefined, schema: SchemaNode, key: ScalarNode | undefined, alias: AliasNode | undefined): Read {
    if (!node) return NOTHING
    if (node.kind === 'alias') return this.node(resolveAlias(node), schema, key, alias ?? node)
    if (schema.kind === 'leaf') return node.kind === 'scalar' ? this.leaf(node, schema, key, alias) : NOTHING
    if (node.kind === 'scalar') return this.collection(node, schema, key, alias)
    // The same list may stand under another key than before, and be read by another schema.
    const memo = node.memo as Memo | undefined
    if (memo?.schema === schema && !alias) return memo.read
    const read = this.collection(node, schema, key, alias)
    if (!alias) node.memo = { schema, read } satisfies Memo
    return read
  }

  private collection(
    node: Exclude<Node, AliasNode>,
    schema: SchemaNode,
    key: ScalarNode | undefined,
    alias: AliasNode | undefined,
  ): Read {
    if (schema.kind === 'list') {
      if (node.kind === 'seq') return this.list(node, schema, key, alias)
      return schema.single && node.kind === 'scalar' ? this.leaf(node, schema.single, key, alias) : NOTHING
    }
    if (node.kind !== 'map') return NOTHING
    if (schema.kind === 'map') return this.map(node, schema, key, alias)
    return schema.kind === 'table' ? this.table(node, schema, key, alias) : NOTHING
  }

  private map(node: MapNode, schema: MapSchema, key: ScalarNode | undefined, alias: AliasNode | undefined): Read {
    const out: Record<string, unknown> = { $: this.place(node, key, alias) }
    let bad: BadValue[] | undefined
    const pairs = this.plain.pairs(node)
    for (const pair of pairs) {
      const property = pair.key && schema.properties.get(pair.key.text)
      if (!property || pair.key.text in out) continue
      const read = this.node(pair.value, property, pair.key, alias)
      if (read.value !== undefined) out[pair.key.text] = read.value
      if (read.bad.length) bad = bad ? bad.concat(read.bad) : [...read.bad]
    }
    return { value: out, bad: bad ?? NOTHING.bad }
  }

  private table(node: MapNode, schema: TableSchema, key: ScalarNode | undefined, alias: AliasNode | undefined): Read {
    const entries = new Map<string, unknown>()
    const bad: BadValue[] = []
    for (const pair of this.plain.pairs(node)) {
      if (!pair.key || entries.has(pair.key.text)) continue
      const read = this.node(pair.value, schema.values, pair.key, alias)
      if (read.value !== undefined) entries.set(pair.key.text, read.value)
      bad.push(...read.bad)
    }
    return { value: { $: this.place(node, key, alias), entries }, bad }
  }

  private list(node: SeqNode, schema: ListSchema, key: ScalarNode | undefined, alias: AliasNode | undefined): Read {
    const items: unknown[] = []
    let bad: BadValue[] | undefined
    for (let i = 0; i < node.items.length; i++) {
      const read = this.node(node.items[i], schema.tuple?.[i] ?? schema.items, undefined, alias)
      if (read.value !== undefined) items.push(read.value)
      if (read.bad.length) bad = bad ? bad.concat(read.bad) : [...read.bad]
    }
    return { value: { $: this.place(node, key, alias), items }, bad: bad ?? NOTHING.bad }
  }

  private leaf(node: ScalarNode, schema: LeafSchema, key: ScalarNode | undefined, alias: AliasNode | undefined): Read {
    const memo = node.memo as Memo | undefined
    if (memo?.schema === schema && !alias) return memo.read
    const { value, problem } = readLeaf(node, schema)
    const place = this.place(node, key, alias)
    const field: F<unknown> | undefined = value === undefined ? undefined : { value, place }
    const read: Read = { value: field, bad: problem ? [{ place, schema, problem }] : NOTHING.bad }
    if (!alias) node.memo = { schema, read } satisfies Memo
    return read
  }

  private place(node: Node, key: ScalarNode | undefined, alias: AliasNode | undefined): Place {
    const { file } = this
    // Spreading would cost more than half of what a profile's reading does.
    if (alias) return key ? { file, node: alias, key, aliased: true } : { file, node: alias, aliased: true }
    return key ? { file, node, key } : { file, node }
  }
}

/** Whether a value was read as a quantity by this schema: what is written there is of the right dimension. Of a document that was read. */
export function isReadAsQuantity(node: ScalarNode, schema: LeafSchema): boolean {
  const memo = node.memo as Memo | undefined
  const field = memo?.schema === schema ? (memo.read.value as F<unknown> | undefined) : undefined
  return typeof field?.value === 'object' && field.value !== null && 'dimension' in field.value
}

/** A scalar read as the first of the types its key accepts. */
function readLeaf(node: ScalarNode, schema: LeafSchema): { value?: unknown; problem?: QuantityProblem | BoundProblem } {
  const plain = scalarValue(node)
  if (plain === null) return {}
  let problem: QuantityProblem | undefined
  for (const type of schema.accepts) {
    if (type.type === 'quantity') {
      if (typeof plain === 'boolean') continue
      const parsed = parseQuantity(node.text, type.dimension)
      if (parsed.ok) return bounded(parsed.value, type)
      problem ??= parsed.problem
    } else {
      const value = readPlain(plain, node.text, type)
      if (value !== undefined) return { value, ...unlikely(value, type) }
    }
  }
  return problem ? { problem } : {}
}

function readPlain(plain: string | number | boolean, text: string, type: Exclude<LeafType, QuantityLeaf>): unknown {
  switch (type.type) {
    case 'integer':
    case 'number': {
      if (typeof plain !== 'number' || (type.type === 'integer' && !Number.isSafeInteger(plain))) return undefined
      const outside =
        (type.min !== undefined && plain < type.min) ||
        (type.max !== undefined && plain > type.max) ||
        (type.above !== undefined && plain <= type.above) ||
        (type.below !== undefined && plain >= type.below)
      return outside || !Number.isFinite(plain) ? undefined : plain
    }
    case 'boolean':
      return typeof plain === 'boolean' ? plain : undefined
    case 'choice':
      return type.values.some((v) => v.value === plain) ? plain : undefined
    case 'date':
      return typeof plain === 'string' && isDate(plain) ? plain : undefined
    case 'text':
      return typeof plain === 'boolean' || (type.form === 'level' && !isLevelName(text)) ? undefined : text
  }
}

/** Whether a text can be what a level is called: a name that begins with a letter, so that it looks neither like a number nor like a quantity. */
export const isLevelName = (text: string): boolean => /^(?!(?:true|false|null)$)[a-z][a-z\d]*(?:-[a-z\d]+)*$/.test(text)

/** A plain number that is possible but unlikely, noted as a quantity's is. */
function unlikely(value: unknown, type: LeafType): { problem?: BoundProblem } {
  const plausible = type.type === 'integer' || type.type === 'number' ? type.plausible : undefined
  if (!plausible || typeof value !== 'number') return {}
  const [low, high] = plausible
  if (value < low) return { problem: { code: 'implausible', bound: String(low), side: 'at-least' } }
  return value > high ? { problem: { code: 'implausible', bound: String(high), side: 'at-most' } } : {}
}

/** A real calendar date, YYYY-MM-DD. */
export function isDate(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false
  const [year, month, day] = [Number(text.slice(0, 4)), Number(text.slice(5, 7)), Number(text.slice(8))]
  const isLeap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0)
  return day >= 1 && day <= (month === 2 && isLeap ? 29 : (DAYS[month] ?? 0))
}

/** By the number of the month. */
const DAYS = [0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]

/** Hard bounds leave the value out of the model; an implausible one is kept and noted. */
function bounded(value: Quantity, type: QuantityLeaf): { value?: Quantity; problem?: BoundProblem } {
  for (const { code, side, bound, si } of boundsOf(type)) {
    const broken =
      side === 'at-least'
        ? value.si < si
        : side === 'at-most'
          ? value.si > si
          : side === 'above'
            ? value.si <= si
            : value.si >= si
    if (broken) return code === 'implausible' ? { value, problem: { code, bound, side } } : { problem: { code, bound, side } }
  }
  return { value }
}

interface Bound extends BoundProblem {
  readonly si: number
}

const boundsKept = new WeakMap<QuantityLeaf, readonly Bound[]>()

function boundsOf(type: QuantityLeaf): readonly Bound[] {
  const before = boundsKept.get(type)
  if (before) return before
  const bounds: Bound[] = []
  const add = (code: Bound['code'], side: Bound['side'], bound: string | undefined): void => {
    const parsed = bound === undefined ? undefined : parseQuantity(bound, type.dimension)
    if (parsed?.ok) bounds.push({ code, side, bound: bound!, si: parsed.value.si })
  }
  add('out-of-range', 'at-least', type.min)
  add('out-of-range', 'at-most', type.max)
  add('out-of-range', 'above', type.above)
  add('out-of-range', 'below', type.below)
  add('implausible', 'at-least', type.plausible?.[0])
  add('implausible', 'at-most', type.plausible?.[1])
  boundsKept.set(type, bounds)
  return bounds
}
