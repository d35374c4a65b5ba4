// Where a key that somebody typed stands in a document: dotted as in the reference, an entry of a list by its number, its name, its lot or its day.
import { nearestOrHolding } from '../../base/nearest.ts'
import type { RollDocument } from '../../model/document.ts'
import { childOf, keysOf, type SchemaNode } from '../../schema/schema.ts'
import { type MapNode, type Node, nodeAt } from '../../syntax/tree.ts'

export interface KeyPlace {
  /** Keys, and indices of lists from 0. */
  readonly path: readonly (string | number)[]
  readonly schema: SchemaNode
}

export type Placed = KeyPlace | { readonly refused: string }

/** What an entry of a list may be called by, beside its number. */
const NAMES = ['lot', 'date', 'from', 'key', 'name']

/** 'heat.after', 'lots.L-31.finished', 'feed.checks.4.measured'. */
export function placeOfKey({ kind, schema: whole, tree }: RollDocument, key: string): Placed {
  const path: (string | number)[] = []
  let schema: SchemaNode = whole
  for (const step of key.split('.')) {
    let at: string | number = step
    if (schema.kind === 'list') {
      const list = nodeAt(tree.root, path)
      const found = list?.kind === 'seq' ? itemsNamed(list.items, step) : []
      if (found.length !== 1)
        return {
          refused: `The list has ${found.length === 0 ? 'no' : 'more than one'} '${step}': say which by its number.`,
        }
      at = found[0]!
    }
    const below: SchemaNode | undefined = step === '' ? undefined : childOf(schema, at)
    if (!below) {
      const meant = nearestOrHolding(key, keysOf(kind))
      return { refused: `There is no such key here.${meant === undefined ? '' : ` Do you mean '${meant}'?`}` }
    }
    path.push(at)
    schema = below
  }
  return { path, schema }
}

function itemsNamed(items: readonly Node[], step: string): readonly number[] {
  if (/^[1-9]\d{0,3}$/.test(step)) return Number(step) <= items.length ? [Number(step) - 1] : []
  return [...items.keys()].filter((i) =>
    NAMES.some((name) => {
      const value = (items[i] as MapNode).kind === 'map' ? nodeAt(items[i], [name]) : undefined
      return value?.kind === 'scalar' && value.text === step
    }),
  )
}
