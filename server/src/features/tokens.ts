// What the words of a document are, beyond what their form tells: names and whether they lead anywhere, quantities of the right dimension with their
// units, settings that replace or repeat those of a base, and what is out of force.
import { STALE } from '../areas/generated/stale.ts'
import type { Span } from '../base/span.ts'
import { isOutOfUse } from '../model/facts.ts'
import { mentionsIn, type NameKind } from '../model/names.ts'
import { isReadAsQuantity } from '../model/read.ts'
import { sameValue, settingAt } from '../model/setting.ts'
import { quantityParts } from '../quantities/parse.ts'
import { childOf, type SchemaNode } from '../schema/schema.ts'
import { type MapNode, type Node, nodeAt, type ScalarNode } from '../syntax/tree.ts'
import type { FeatureContext } from './context.ts'
import { leadsNowhere } from './navigation.ts'

/** As the protocol names them, where it has a name: a document is a class, what documents name are its members. */
export const TOKEN_TYPES = ['class', 'enumMember', 'number', 'operator', 'unit', 'property', 'date'] as const

/**
 * Where a name is given; where one leads nowhere; a setting in place of the base's, and one that says what the base says. Out of force (by the protocol's
 * own word, which editors know) are the day of evidence that proves nothing today, what is retired, and a state that nothing was made under.
 */
export const TOKEN_MODIFIERS = ['declaration', 'unresolved', 'overriding', 'inherited', 'deprecated'] as const

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
  const found = [...names(context, within), ...oldDays(context), ...new Values(context, within).of(root, document.schema)]
  const inside = found.filter(
    ({ start, end }) => start < end && !isOutside(start, end, within) && isLine(document.text, start, end),
  )
  inside.sort((a, b) => a.start - b.start || a.end - b.end)
  return inside.filter(({ start }, i) => i === 0 || start >= inside[i - 1]!.end)
}

const isOutside = (start: number, end: number, within: Span | undefined): boolean =>
  within !== undefined && (end <= within.start || start >= within.end)

const isLine = (text: string, start: number, end: number): boolean => !/[\r\n]/.test(text.slice(start, end))

function* names(context: FeatureContext, within: Span | undefined): Generator<Token> {
  const { document, shelf, today } = context
  const nowhere = new Map<string, boolean>()
  const mentions = mentionsIn(document.kind, document.tree.root)
  const states = new Set(mentions.flatMap(({ of, role, name }) => (of === 'state' && role === 'calls' ? [name] : [])))
  const isOld = (of: NameKind, name: string): boolean => {
    if (of === 'state') return !states.has(name)
    const found = of === 'media' || of === 'stock' ? shelf.withId(of, name) : []
    return found.length > 0 && found.every((facts) => isOutOfUse(facts, today))
  }
  for (const { of, role, name, path, node, aliased } of mentions) {
    if (aliased || isOutside(node.start, node.end, within)) continue
    // In a state a name is one of the printer that the state names.
    const key = `${of} ${name}${path[0] === 'conditions' ? ` ${path[1]}` : ''}`
    if (role === 'calls' && !nowhere.has(key)) nowhere.set(key, leadsNowhere(context, of, name, path))
    yield {
      start: node.start,
      end: node.end,
      type: of === 'media' || of === 'stock' || of === 'printer' ? 'class' : 'enumMember',
      modifiers: [
        ...(role === 'gives' ? (['declaration'] as const) : nowhere.get(key) ? (['unresolved'] as const) : []),
        ...(isOld(of, name) ? OLD : []),
      ],
    }
  }
}

const OLD = ['deprecated'] as const

function* oldDays({ document, setup }: FeatureContext): Generator<Token> {
  for (const stale of setup ? STALE : [])
    for (const day of stale(setup!))
      if (day?.place.file === document.file) {
        const { start, end } = day.place.node
        yield { start, end, type: 'date', modifiers: OLD }
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
        const beside = below?.inherit && below.kind !== 'map' && schema.kind === 'map' ? this.besideBase() : undefined
        if (beside) this.found.push({ start: key.start, end: key.end, type: 'property', modifiers: [beside] })
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

  /** What a setting does to that of the nearest base which has it; undefined where none has. */
  private besideBase(): 'overriding' | 'inherited' | undefined {
    const { document, setup } = this.context
    const base = setup?.bases.find(({ tree }) => nodeAt(tree.root, this.path) !== undefined)
    const path = this.path.map(String)
    const [mine, theirs] = [document, base].map((one) => settingAt(one?.content, path))
    return base && (mine && theirs && sameValue(mine.value, theirs.value) ? 'inherited' : 'overriding')
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
