// Where a node stands in its document: the path to it and the pair it is the value of.
import type { Span } from '../../base/span.ts'
import { type RollDocument, spanOf } from '../../model/document.ts'
import type { Place } from '../../model/field.ts'
import { type SchemaNode, schemaAt } from '../../schema/schema.ts'
import { lastStartingBefore } from '../../syntax/locate.ts'
import type { Node, Pair } from '../../syntax/tree.ts'
import { visible } from './lines.ts'

export interface Spot {
  readonly node: Node
  /** Keys and indices from the root. */
  readonly path: readonly (string | number)[]
  /** The pair the node is the value of; undefined for an item of a list and for the root. */
  readonly pair: Pair | undefined
  /** The nearest key above it, its own or that of the list it is in. */
  readonly name: string | undefined
}

/** The spot of a node. A node that is reached through an alias is found where it is written. */
export function spotOf(document: RollDocument, node: Node): Spot {
  const { root } = document.tree
  const found = root && search(root, node, [], undefined)
  const path = found?.path ?? []
  return { node, path, pair: found?.pair, name: path.findLast((step) => typeof step === 'string') as string | undefined }
}

/** What the schema knows of a spot. */
export const schemaOfSpot = (document: RollDocument, spot: Spot): SchemaNode | undefined => schemaAt(document.kind, spot.path)

export const placeOfSpot = (document: RollDocument, { node, pair }: Spot): Place => ({
  file: document.file,
  node,
  ...(pair?.key && { key: pair.key }),
})

/** Where to underline a value: a long one, or one that is not there, at its key. */
export function spanOfSpot(document: RollDocument, { node, pair }: Spot): Span {
  const { text } = document
  const span = spanOf(node)
  if (node.kind === 'map' && !node.flow) return keySpanOf(pair) ?? firstKeySpan(node) ?? visible(text, span)
  if (span.end === span.start || (node.kind === 'seq' && !node.flow)) return keySpanOf(pair) ?? visible(text, span)
  return visible(text, span)
}

export const keySpanOf = (pair: Pair | undefined): Span | undefined =>
  pair?.key && pair.key.end > pair.key.start ? spanOf(pair.key) : undefined

function firstKeySpan(node: Node): Span | undefined {
  return node.kind === 'map' ? keySpanOf(node.pairs[0]) : undefined
}

function search(
  at: Node,
  wanted: Node,
  path: readonly (string | number)[],
  pair: Pair | undefined,
): { path: readonly (string | number)[]; pair: Pair | undefined } | undefined {
  if (at === wanted) return { path, pair }
  if (at.kind === 'map') {
    const child = at.pairs[lastStartingBefore(at.pairs, wanted.start)]
    return child && search(child.value, wanted, [...path, child.key?.text ?? ''], child)
  }
  if (at.kind !== 'seq') return undefined
  const index = lastStartingBefore(at.items, wanted.start)
  const item = at.items[index]
  return item && search(item, wanted, [...path, index], undefined)
}
