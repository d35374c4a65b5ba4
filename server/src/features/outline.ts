// The outline: sections and settings by name, with list items named by what a person would call them (a check's date, a lot, a fault).
import type { Span } from '../base/span.ts'
import { ID_KEY } from '../model/facts.ts'
import type { SchemaNode } from '../schema/schema.ts'
import { type MapNode, type Node, type Pair, resolveAlias, type SeqNode } from '../syntax/tree.ts'
import type { FeatureContext, OutlineItem } from './context.ts'

/** How many items of one list the outline shows; the newest ones, which stand last. */
const MOST_ITEMS = 200

export function outline({ document }: FeatureContext): readonly OutlineItem[] {
  const { root } = document.tree
  if (root?.kind !== 'map') return []
  const idKey = ID_KEY[document.kind]
  return root.pairs.flatMap((pair) =>
    pair.key && pair.key.text !== idKey ? [ofPair(pair, document.schema.properties.get(pair.key.text))] : [],
  )
}

/** What stands behind an alias is told by its first lines alone: its parts have their place in the outline where they stand. */
function ofPair(pair: Pair, schema: SchemaNode | undefined): OutlineItem {
  const value = pair.value.kind === 'alias' ? undefined : pair.value
  const key = pair.key!
  const selection = { start: key.start, end: key.end }
  const span = { start: key.start, end: Math.max(key.end, pair.value.end) }
  if (value?.kind === 'map')
    return { name: key.text, kind: 'section', span, selection, children: childrenOf(value, schema), ...summary(value) }
  if (value?.kind === 'seq')
    return { name: key.text, detail: `${value.items.length}`, kind: 'list', span, selection, children: itemsOf(value, schema) }
  const detail = value ? { detail: firstLine(value.text) } : aliased(pair.value)
  return { name: key.text, ...detail, kind: 'setting', span, selection, children: [] }
}

function childrenOf(map: MapNode, schema: SchemaNode | undefined): readonly OutlineItem[] {
  return map.pairs.flatMap((pair) => {
    if (!pair.key) return []
    const of =
      schema?.kind === 'map' ? schema.properties.get(pair.key.text) : schema?.kind === 'table' ? schema.values : undefined
    return [ofPair(pair, of)]
  })
}

function itemsOf(list: SeqNode, schema: SchemaNode | undefined): readonly OutlineItem[] {
  const of = schema?.kind === 'list' ? schema.items : undefined
  const from = Math.max(0, list.items.length - MOST_ITEMS)
  return list.items.slice(from).flatMap((item, i) => {
    const node = resolveAlias(item)
    if (node?.kind !== 'map') return []
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
