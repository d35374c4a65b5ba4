// Hover on a key or a value: what it is in this profile, what it does, and what follows from this profile's numbers.

import { code, escapeMarkdown } from '../base/markdown.ts'
import type { RollDocument } from '../model/document.ts'
import { levelName, levelNamesOf, levelWords } from '../model/level-names.ts'
import { namingAt, referenceAt } from '../model/names.ts'
import { statesOf } from '../model/states.ts'
import { equalQuantities } from '../quantities/compare.ts'
import { displayUnit, type UnitSystem } from '../quantities/display-unit.ts'
import { formatSi } from '../quantities/format.ts'
import { parseQuantity } from '../quantities/parse.ts'
import type { Quantity } from '../quantities/quantity.ts'
import { findUnit } from '../quantities/units.ts'
import { type ExplanationParts, explain, explainFault, explanationParts, faultParts } from '../schema/explain.ts'
import { type LeafSchema, type SchemaNode, schemaAt } from '../schema/schema.ts'
import { wordMeaning } from '../schema/words.ts'
import { type Located, locate } from '../syntax/locate.ts'
import { nodeAt, type ScalarNode } from '../syntax/tree.ts'
import type { FeatureContext, Hover } from './context.ts'
import { hoverPage } from './hover-page.ts'
import { numbersFor } from './numbers-for.ts'
import { referenceSummary, stateSummary } from './references.ts'
import { ownerInState } from './rename.ts'

export function hover(context: FeatureContext, offset: number): Hover | undefined {
  const { document } = context
  const at = locate(document.tree.root, offset)
  if (!at) return undefined
  const schema = schemaAt(document.kind, at.path)
  if (!schema || schema.kind === 'any') return undefined
  const value = at.on === 'key' ? at.pair?.value : at.node
  const scalar = value?.kind === 'scalar' ? value : undefined
  const said = [
    scalar ? meaning(context, at, schema, scalar) : ofState(context, at, schema),
    override(context, at, schema, scalar),
  ]
  const markdown = hoverPage({
    heading: heading(at, schema, scalar),
    meaning: said.flatMap((text) => (text ? text.split('\n\n') : [])),
    numbers: context.setup && numbersFor(context.document, context.setup, at.path),
    explanation: explanation(context, schema, scalar),
    more: `More: ${code(`rollbook explain ${scalar && schema.path === 'observed.*.fault' ? scalar.text : schema.path}`)}${context.setup ? ` and ${code('rollbook reckon')}` : ''}`,
  })
  return { span: { start: at.node.start, end: at.node.end }, markdown }
}

function heading(at: Located, schema: SchemaNode, scalar: ScalarNode | undefined): string {
  const name = schema.path === '' ? String(at.path.at(-1) ?? '') : schema.path.replace(/\.\*/g, '')
  if (at.on === 'key' && schema.path.endsWith('.*')) return `**${escapeMarkdown(name)}** ${code(String(at.path.at(-1)))}`
  return scalar?.text ? `**${escapeMarkdown(name)}** ${code(scalar.text.split('\n', 1)[0]!)}` : `**${escapeMarkdown(name)}**`
}

/** A state where its name is given. */
function ofState({ setup }: FeatureContext, at: Located, schema: SchemaNode): string | undefined {
  const name = String(at.path.at(-1))
  const state = schema.path === 'conditions.*' ? setup && statesOf(setup).get(name) : undefined
  return state && setup && stateSummary(setup, name, state)
}

/** What the value says: a quantity in other units, a word's meaning, the document a name leads to. */
function meaning(context: FeatureContext, at: Located, schema: SchemaNode, scalar: ScalarNode): string | undefined {
  const ref = referenceAt(context.document.kind, at.path, 'value')
  if (ref) return referenceSummary(context, ref, scalar.text)
  const level = ofLevel(context, at, scalar.text)
  if (level !== undefined) return level
  const leaf = leafOf(schema)
  for (const type of leaf?.accepts ?? []) {
    if (type.type === 'choice') {
      const found = type.values.find((v) => v.value === scalar.text)
      if (found) return wordMeaning(found)
    }
    if (type.type !== 'quantity') continue
    const parsed = parseQuantity(scalar.text, type.dimension)
    if (parsed.ok) return conversions(parsed.value, unitsOfTheShop(context))
  }
  return undefined
}

/** What a level by its name is, and what one by its number is called. */
function ofLevel({ document, setup }: FeatureContext, { path }: Located, text: string): string | undefined {
  const of = namingAt(document.kind, path, 'value', text)?.of
  const key = of === 'suction-level' ? 'suction' : of === 'tension-level' ? 'web.tension' : undefined
  const printer = document.kind === 'printer' ? (document as RollDocument<'printer'>).content : setup?.printer
  // A state of another printer has that one's levels.
  const isOther = path[0] === 'conditions' && ownerInState(document, path, 'printer') !== printer?.printer?.value
  if (key === undefined || !printer || isOther) return undefined
  const level = levelNamesOf(printer, key)?.entries.get(text)?.value ?? Number(text)
  const called = levelName(printer, key, level)
  return called === String(level) ? undefined : `${code(called)} is ${levelWords(printer, key, level)}.`
}

const leafOf = (schema: SchemaNode): LeafSchema | undefined =>
  schema.kind === 'leaf' ? schema : schema.kind === 'list' ? schema.single : undefined

/** The quantity as the shop reads it, where it is written otherwise; what is small beside a length also as so much in a metre. */
export function conversions({ si, dimension, unit }: Quantity, system: UnitSystem): string | undefined {
  if (dimension === 'resolution' || si === 0) return undefined
  const perMetre = dimension === 'relative' && system === 'metric' && Math.abs(si) < MAX_PER_METRE
  const units = [displayUnit(si, dimension, system), ...(perMetre ? [findUnit('mm/m', 'relative')!] : [])]
  const others = units.filter(({ id }) => id !== unit.id).map((one) => formatSi(si, dimension, { unit: one, digits: 5 }))
  return others.length === 0 ? undefined : `= ${[...new Set(others)].join(' · ')}`
}

/** A correction or a stretch is well below this; an ink limit is above it, and no length. */
const MAX_PER_METRE = 0.02

function unitsOfTheShop({ document, shelf }: FeatureContext): UnitSystem {
  const shop = document.kind === 'shop' ? (document as RollDocument<'shop'>).content : shelf.shop()?.content
  return shop?.units?.value === 'us' ? 'us' : 'metric'
}

/** Where a base gives the same setting: what this value replaces. */
function override(
  { setup, document }: FeatureContext,
  at: Located,
  schema: SchemaNode,
  scalar: ScalarNode | undefined,
): string | undefined {
  if (!scalar || !schema.inherit || document.kind !== 'media') return undefined
  for (const base of setup?.bases ?? []) {
    const node = nodeAt(base.tree.root, at.path)
    if (node?.kind !== 'scalar') continue
    const same = sameValue(leafOf(schema), node.text, scalar.text)
    return same
      ? `The same as in its base ${code(base.baseName)}: it could be left out here.`
      : `Replaces ${code(node.text)} of its base ${code(base.baseName)}.`
  }
  return undefined
}

function sameValue(schema: LeafSchema | undefined, a: string, b: string): boolean {
  if (a === b) return true
  for (const type of schema?.accepts ?? []) {
    if (type.type !== 'quantity') continue
    const [x, y] = [parseQuantity(a, type.dimension), parseQuantity(b, type.dimension)]
    if (x.ok && y.ok) return equalQuantities(x.value, y.value)
  }
  return false
}

function explanation(
  { document }: FeatureContext,
  schema: SchemaNode,
  scalar: ScalarNode | undefined,
): ExplanationParts | string {
  const fault = schema.path === 'observed.*.fault' && scalar ? explainFault(scalar.text) : undefined
  if (fault) return faultParts(fault)
  const found = explain(document.kind, schema.path)
  return found ? explanationParts(found) : schema.description
}
