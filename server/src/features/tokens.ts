// What the words of a document are, beyond what their form tells: names and whether they lead anywhere, quantities of the right dimension with their
// units, and settings that replace those of a base.
import type { Span } from '../base/span.ts'
import { mentionsIn } from '../model/names.ts'
import { isReadAsQuantity } from '../model/read.ts'
import { quantityParts } from '../quantities/parse.ts'
import { childOf, type SchemaNode } from '../schema/schema.ts'
import { type MapNode, type Node, nodeAt, type ScalarNode } from '../syntax/tree.ts'
import type { FeatureContext } from './context.ts'
import { leadsNowhere } from './navigation.ts'

/** As the protocol names them, where it has a name: a document is a class, what documents name are its members. */
export const TOKEN_TYPES = ['class', 'enumMember', 'number', 'operator', 'unit', 'property'] as const

/** Where a name is given; where one leads nowhere; a setting in place of the base's. */
export const TOKEN_MODIFIERS = ['declaration', 'unresolved', 'overriding'] as const

export interface Token extends Span {
  readonly type: (typeof TOKEN_TYPES)[number]
  readonly modifiers: readonly (typeof TOKEN_MODIFIERS)[number][]
}

/** In the order of the text; none of two lines, and no two overlap. */
export function tokens(context: FeatureContext, within?: Span): readonly Token[] {
  const { document } = context
  const { root } = document.tree
  if (root?.kind !== 'map') return []
  document.read()
  const found = [...names(context), ...new Values(context, within).of(root, document.schema)]
  const inside = found.filter(
    ({ start, end }) =>
      start < end && !(within && (end <= within.start || start >= within.end)) && isLine(document.text, start, end),
  )
  inside.sort((a, b) => a.start - b.start || a.end - b.end)
  return inside.filter(({ start }, i) => i === 0 || start >= inside[i - 1]!.end)
}

const isLine = (text: string, start: number, end: number): boolean => !/[\r\n]/.test(text.slice(start, end))

function* names(context: FeatureContext): Generator<Token> {
  const { document } = context
  const nowhere = new Map<string, boolean>()
  for (const { of, role, name, path, node, aliased } of mentionsIn(document.kind, document.tree.root)) {
    if (aliased) continue
    // In a state a name is one of the printer that the state names.
    const key = `${of} ${name}${path[0] === 'conditions' ? ` ${path[1]}` : ''}`
    if (role === 'calls' && !nowhere.has(key)) nowhere.set(key, leadsNowhere(context, of, name, path))
    yield {
      start: node.start,
      end: node.end,
      type: of === 'media' || of === 'stock' || of === 'printer' ? 'class' : 'enumMember',
      modifiers: role === 'gives' ? ['declaration'] : nowhere.get(key) ? ['unresolved'] : [],
    }
  }
}

class Values {
  private readonly found: Token[] = []
  private readonly path: (string | number)[] = []

  constructor(
    private readonly context: FeatureContext,
    private readonly within: Span | undefined,
  ) {}

  of(root: MapNode, schema: SchemaNode): readonly Token[] {
    this.node(root, schema)
    return this.found
  }

  private node(node: Node, schema: SchemaNode): void {
    if (this.within && (node.end < this.within.start || node.start > this.within.end)) return
    if (node.kind === 'seq') for (let i = 0; i < node.items.length; i++) this.child(node.items[i]!, schema, i)
    else if (node.kind === 'map')
      for (const { key, value } of node.pairs) {
        if (!key) continue
        this.path.push(key.text)
        const below = childOf(schema, key.text)
        if (below?.inherit && below.kind !== 'map' && schema.kind === 'map' && this.replaces())
          this.found.push({ start: key.start, end: key.end, type: 'property', modifiers: ['overriding'] })
        this.path.pop()
        this.child(value, schema, key.text)
      }
    else if (node.kind === 'scalar') this.quantity(node, schema)
  }

  private child(node: Node, schema: SchemaNode, step: string | number): void {
    const below = childOf(schema, step)
    if (!below || below.kind === 'any') return
    this.path.push(step)
    this.node(node, below)
    this.path.pop()
  }

  private replaces(): boolean {
    return (this.context.setup?.bases ?? []).some(({ tree }) => nodeAt(tree.root, this.path) !== undefined)
  }

  private quantity(node: ScalarNode, schema: SchemaNode): void {
    const { start, end, text, style } = node
    const leaf = schema.kind === 'list' ? schema.single : schema
    const written = this.context.document.text.slice(start, end)
    // In quotes, and where a text is written otherwise than it reads, only what is the same letter by letter is told apart.
    const from = style === 'plain' ? 0 : written.indexOf(text)
    if (leaf?.kind !== 'leaf' || from < 0 || !written.startsWith(text, from)) return
    if (!isReadAsQuantity(node, leaf)) return
    for (const part of quantityParts(text)) {
      const type = part.kind === 'unit' ? 'unit' : part.kind === 'plus-minus' || part.kind === 'times' ? 'operator' : 'number'
      this.found.push({ start: start + from + part.start, end: start + from + part.end, type, modifiers: [] })
    }
  }
}
