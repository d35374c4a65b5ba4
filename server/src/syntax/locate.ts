// Where an offset stands in the tree: the path of keys and indices, and whether it is on a key or on a value. For hover and navigation.
import type { Node, Pair } from './tree.ts'

export interface Located {
  readonly path: readonly (string | number)[]
  /** The pair whose key or value the offset is on; undefined for an item of a list. */
  readonly pair: Pair | undefined
  /** The deepest node at the offset: the key's node when on a key. */
  readonly node: Node
  readonly on: 'key' | 'value'
}

/** The deepest key or value that touches an offset. */
export function locate(root: Node | undefined, offset: number): Located | undefined {
  const path: (string | number)[] = []
  let node = root
  let pair: Pair | undefined
  while (node) {
    if (node.kind === 'seq') {
      const index = lastStartingBefore(node.items, offset)
      const item = node.items[index]
      if (!item || offset > item.end) return undefined
      path.push(index)
      pair = undefined
      node = item
    } else if (node.kind === 'map') {
      const found: Pair | undefined = node.pairs[lastStartingBefore(node.pairs, offset)]
      if (!found) return undefined
      if (found.key) path.push(found.key.text)
      if (found.key && offset <= found.key.end) return { path, pair: found, node: found.key, on: 'key' }
      if (offset > found.value.end || offset < found.value.start) return undefined
      pair = found
      node = found.value
    } else return { path, pair, node, on: 'value' }
  }
  return undefined
}

/** The index of the last of entries in order that begins at or before an offset; -1 where none does. */
export function lastStartingBefore(placed: readonly { readonly start: number }[], offset: number): number {
  let low = 0
  let high = placed.length
  while (low < high) {
    const middle = (low + high) >>> 1
    if (placed[middle]!.start <= offset) low = middle + 1
    else high = middle
  }
  return low - 1
}
