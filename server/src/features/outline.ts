// The outline: sections and settings by name, with list items named by what a person would call them (a check's date, a lot, a fault).
import type { Span } from '../base/span.ts'
import { ID_KEY } from '../model/facts.ts'
import type { SchemaNode } from '../schema/schema.ts'
import { type MapNode, type Node, type Pair, resolveAlias, type SeqNode } from '../syntax/tree.ts'
import type { FeatureContext, OutlineItem } from './context.ts'

/** How many keys of one group, and how many items of one list, the outline shows; of a list the newest ones, which stand last. */
const MAX_CHILDREN = 200

/** How many lines the outline has in all: more of them lead nobody to a place. */
const MAX_IN_ALL = 2000

export function outline({ document }: FeatureContext): readonly OutlineItem[] {
  const { root } = document.tree
  if (root?.kind !== 'map') return []
  const idKey = ID_KEY[document.kind]
  const pairs = root.pairs.filter((pair) => pair.key && pair.key.text !== idKey)
  return new Outline().ofPairs(pairs, (key) => document.schema.properties.get(key))
}

class Outline {
  private left = MAX_IN_ALL

  ofPairs(pairs: readonly Pair[], schemaOf: (key: string) => SchemaNode | undefined): readonly OutlineItem[] {
    const items: OutlineItem[] = []
    for (const pair of pairs) {
      if (!pair.key) continue
      if (items.length === MAX_CHILDREN || this.left-- <= 0) break
      items.push(this.ofPair(pair, schemaOf(pair.key.text)))
    }
    return items
  }

  /** What stands behind an alias is told by its first lines alone: its parts have their place in the outline where they stand. */
  private ofPair(pair: Pair, schema: SchemaNode | undefined): OutlineItem {
    const value = pair.value.kind === 'alias' ? undefined : pair.value
    const key = pair.key!
    const selection = { start: key.start, end: key.end }
    const span = { start: key.start, end: Math.max(key.end, pair.value.end) }
    const named = { name: firstLine(key.text), span, selection }
    if (value?.kind === 'map')
      return { ...named, kind: 'section', children: this.ofPairs(value.pairs, within(schema)), ...summary(value) }
    if (value?.kind === 'seq')
      return { ...named, detail: `${value.items.length}`, kind: 'list', children: this.itemsOf(value, schema) }
    const detail = value ? { detail: firstLine(value.text) } : aliased(pair.value)
    return { ...named, ...detail, kind: 'setting', children: [] }
  }

  private itemsOf(list: SeqNode, schema: SchemaNode | undefined): readonly OutlineItem[] {
    const of = schema?.kind === 'list' ? schema.items : undefined
    const from = Math.max(0, list.items.length - MAX_CHILDREN)
    return list.items.slice(from).flatMap((item, i) => {
      const node = resolveAlias(item)
      if (node?.kind !== 'map' || this.left-- <= 0) return []
      const span: Span = { start: item.start, end: item.end }
      return [
        {
          name: nameOf(node, of) ?? `${from + i + 1}`,
          kind: 'item' as const,
          span,
          selection: span,
          children: [],
          ...summary(node),
        },
      ]
    })
  }
}

/** The schema of each key of a group. */
const within =
  (schema: SchemaNode | undefined) =>
  (key: string): SchemaNode | undefined =>
    schema?.kind === 'map' ? schema.properties.get(key) : schema?.kind === 'table' ? schema.values : undefined

function aliased(node: Node): { detail?: string } {
  const value = resolveAlias(node)
  if (value?.kind === 'map') return summary(value)
  return value?.kind === 'scalar' ? { detail: firstLine(value.text) } : {}
}

/** What an item is called: the schema's naming key, else its first value. */
function nameOf(map: MapNode, schema: SchemaNode | undefined): string | undefined {
  const naming = schema?.kind === 'map' ? schema.nameKey : undefined
  const named = naming === undefined ? undefined : map.pair(naming)?.value
  return scalarText(named) ?? scalarText(map.pairs[0]?.value)
}

/** A few values of a mapping, to tell it from its neighbours. */
function summary(map: MapNode): { detail?: string } {
  const texts = map.pairs.slice(0, 4).flatMap((p) => scalarText(p.value) ?? [])
  return texts.length ? { detail: texts.join(', ') } : {}
}

const scalarText = (node: Node | undefined): string | undefined =>
  node?.kind === 'scalar' && node.text ? firstLine(node.text) : undefined

const firstLine = (text: string): string => text.split('\n', 1)[0]!.slice(0, 80)
