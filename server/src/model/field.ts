// The typed view of a document: every value with the place it stands at. The interfaces in generated/documents.ts are built of these.
import type { Span } from '../base/span.ts'
import type { Quantity } from '../quantities/quantity.ts'
import type { Dimension } from '../quantities/units.ts'
import type { Node, ScalarNode } from '../syntax/tree.ts'

/** Where a value stands: the file, its node, the key before it. Spans are those of the newest text. */
export interface Place {
  readonly file: string
  readonly node: Node
  readonly key?: ScalarNode
  /** Reached through an alias or a merge key: shown where it is used, and never edited. */
  readonly aliased?: boolean
}

/** A value and its place. */
export interface F<T> {
  readonly value: T
  readonly place: Place
  /** Of a level that has a name: the name. The value is its number, however it is written. */
  readonly called?: string
}

/** A quantity of one dimension and its place. */
export type Q<D extends Dimension> = F<Quantity & { readonly dimension: D }>

/** A mapping of the format; `$` is its place. */
export interface Section {
  readonly $: Place
}

/** A list of the format. */
export interface List<T> extends Section {
  readonly items: readonly T[]
}

/** A mapping whose keys are names of the shop's own. */
export interface Table<T> extends Section {
  readonly entries: ReadonlyMap<string, T>
}

/** A live span: it moves with the text, as the node does. */
export const valueSpan = (place: Place): Span => place.node

/** The key, or the value where there is no key (items of a list). Live too. */
export const keySpan = (place: Place): Span => place.key ?? place.node
