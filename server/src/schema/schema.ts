// What is known about every key of the four documents: its type, dimension, limits, default and explanation. Everything comes from
// schemas/*.json by way of the generated data; nothing here knows YAML or the protocol.

import { documents, itemPaths } from './generated/documents.ts'
import {
  type ChoiceType,
  type ChoiceValue,
  DOCUMENT_KINDS,
  type DocumentKind,
  type LeafType,
  type NumberType,
  type QuantityType,
  type RawFacts,
  type RawLeaf,
  type RawNode,
  type Reference,
  type TextType,
} from './raw.ts'

export {
  type ChoiceType,
  type ChoiceValue,
  DOCUMENT_KINDS,
  type DocumentKind,
  type LeafType,
  type NumberType,
  type QuantityType,
  type Reference,
  type TextType,
}

interface Facts {
  /** The keys that lead to it, with `*` for an item of a list or a table. A key may hold a dot of its own: what a state says is named as in `panel`. */
  readonly steps: readonly string[]
  /** The steps joined by dots, for people and as a name: 'feed.checks.*.measured'. Empty for the document itself. */
  readonly path: string
  /** One sentence in the shop's words. */
  readonly description: string
  /** Whether a profile that does not give it takes it from its base. False throughout for the other kinds, which have no base. */
  readonly inherit: boolean
  /** What holds where nothing is written, as it would be written. */
  readonly default?: string
  /** Good values, as they would be written. */
  readonly examples: readonly string[]
  /** For what was read back from the machine: the path of the setting it has to agree with. */
  readonly readsBack?: string
}

/** A mapping whose keys the format fixes. */
export interface MapSchema extends Facts {
  readonly kind: 'map'
  readonly properties: ReadonlyMap<string, SchemaNode>
  readonly required: readonly string[]
  /** Keys that are due only where the key `unless` is not given. */
  readonly requiredUnless?: { readonly unless: string; readonly keys: readonly string[] }
  /** In a list, the key whose value labels an item. */
  readonly nameKey?: string
}

/** A mapping whose keys the shop chooses. */
export interface TableSchema extends Facts {
  readonly kind: 'table'
  readonly keyType: 'id' | 'integer'
  readonly keyRef?: Reference
  readonly values: SchemaNode
}

export interface ListSchema extends Facts {
  readonly kind: 'list'
  readonly items: SchemaNode
  /** One schema a place, where the places differ. */
  readonly tuple?: readonly SchemaNode[]
  readonly minItems?: number
  readonly maxItems?: number
  /** True for a pair that runs from low to high. */
  readonly rising: boolean
  /** Where one value may stand in place of the list. */
  readonly single?: LeafSchema
}

/** One value, of any of the accepted types; the first that fits is meant. */
export interface LeafSchema extends Facts {
  readonly kind: 'leaf'
  readonly accepts: readonly LeafType[]
}

/** Anything at all: below `notes` and below keys that begin with `x-`. */
export interface AnySchema extends Facts {
  readonly kind: 'any'
}

export type SchemaNode = MapSchema | TableSchema | ListSchema | LeafSchema | AnySchema

/** The paths, by kind, of the items of all lists of mappings, which can be checked one by one. */
export const ITEM_PATHS: Readonly<Record<DocumentKind, readonly string[]>> = itemPaths

/** The schema of a whole document. */
export function schemaOf(kind: DocumentKind): MapSchema {
  const kept = built.get(kind)
  if (kept !== undefined) return kept
  const schema = build(documents[kind], [], kind === 'media')
  if (schema.kind !== 'map') throw new Error('a document is always a mapping')
  built.set(kind, schema)
  return schema
}

/**
 * The schema at a path, whose steps are keys, indices of lists, or `*` for any item. Undefined where the format has no such key; in a
 * table every key is known, below `notes` and `x-` keys everything is free.
 */
export function schemaAt(kind: DocumentKind, path: readonly (string | number)[]): SchemaNode | undefined {
  let node: SchemaNode | undefined = schemaOf(kind)
  for (const step of path) {
    node = childOf(node, step)
    if (node === undefined) return undefined
  }
  return node
}

const ENDINGS = (['media', 'stock', 'printer'] as const).map((kind) => [`.${kind}.yaml`, kind] as const)

/** The kind of document a file holds, by its name (a path or an address will do). */
export function kindOfFile(name: string): DocumentKind | undefined {
  if (!name.endsWith('.yaml')) return undefined
  const base = name.slice(Math.max(name.lastIndexOf('/'), name.lastIndexOf('\\')) + 1)
  if (base === 'rollbook.yaml') return 'shop'
  for (const [ending, kind] of ENDINGS)
    if (base.endsWith(ending) && base.length > ending.length && !base.includes('\n')) return kind
  return undefined
}

/** The name that a file was most likely meant to have that is no document by its own: `.yml` for `.yaml`, capitals, `profile` for `media`. */
export function nameMeant(name: string): string | undefined {
  const base = name.slice(Math.max(name.lastIndexOf('/'), name.lastIndexOf('\\')) + 1)
  if (kindOfFile(base) !== undefined) return undefined
  if (/^rollbook\.ya?ml$/i.test(base)) return 'rollbook.yaml'
  const [, own, word] = /^(.+)\.(stock|printer|media|profile)\.ya?ml$/i.exec(base) ?? []
  return own === undefined ? undefined : `${own}.${word!.toLowerCase().replace('profile', 'media')}.yaml`
}

/** Every dotted key of a kind of document, in the order of the schema, parents first: 'feed', 'feed.checks', 'feed.checks.*.date'. */
export function keysOf(kind: DocumentKind): readonly string[] {
  const kept = keys.get(kind)
  if (kept !== undefined) return kept
  const found = [...walk(schemaOf(kind))]
    .map((node) => node.path)
    .filter((path) => path !== '' && !/(?:^|\.)(?:\*|\d+)$/.test(path))
  keys.set(kind, found)
  return found
}

/** The words of which a value may be one; none where it takes no words. */
export const wordsOf = ({ accepts }: LeafSchema): readonly string[] =>
  accepts.flatMap((type) => (type.type === 'choice' ? type.values.map(({ value }) => value) : []))

/** The schema of a dotted key as `keysOf` gives it: no splitting tells where a key of its own ends. */
export function schemaOfKey(kind: DocumentKind, key: string): SchemaNode | undefined {
  let known = byKey.get(kind)
  if (known === undefined) {
    known = new Map([...walk(schemaOf(kind))].map((node) => [node.path, node]))
    byKey.set(kind, known)
  }
  return known.get(key)
}

/** The node and everything below it, parents first. */
export function* walk(node: SchemaNode): Generator<SchemaNode> {
  yield node
  for (const child of childrenOf(node)) yield* walk(child)
}

/** What a step leads to from a node. */
export function childOf(node: SchemaNode, step: string | number): SchemaNode | undefined {
  switch (node.kind) {
    case 'map':
      return node.properties.get(String(step)) ?? (isFree(step) ? anything(node, step) : undefined)
    case 'table':
      return isFree(step) ? anything(node, step) : node.values
    case 'list':
      if (step !== '*' && !/^\d+$/.test(String(step))) return undefined
      return node.tuple === undefined ? node.items : step === '*' ? node.items : node.tuple[Number(step)]
    case 'leaf':
      return undefined
    case 'any':
      return anything(node, step)
  }
}

const built = new Map<DocumentKind, MapSchema>()
const keys = new Map<DocumentKind, readonly string[]>()
const byKey = new Map<DocumentKind, ReadonlyMap<string, SchemaNode>>()

const isFree = (step: string | number): boolean => typeof step === 'string' && step.startsWith('x-')

const anything = (parent: SchemaNode, step: string | number): AnySchema => ({
  kind: 'any',
  // Below what is free nobody asks where a key ends, and texts that are meant to hurt nest it fifty thousand deep.
  steps: parent.kind === 'any' ? parent.steps : [...parent.steps, String(step)],
  path: parent.path === '' ? String(step) : `${parent.path}.${step}`,
  description: 'Free: it is not checked.',
  inherit: parent.inherit,
  examples: [],
})

function childrenOf(node: SchemaNode): Iterable<SchemaNode> {
  switch (node.kind) {
    case 'map':
      return node.properties.values()
    case 'table':
      return [node.values]
    case 'list':
      return node.tuple ?? [node.items]
    default:
      return []
  }
}

/** Gives the generated data its paths and lookup tables. */
function build(raw: RawNode, steps: readonly string[], inheritable: boolean): SchemaNode {
  const inherit = inheritable && raw.own !== true
  const facts = factsOf(raw, steps, inherit)
  switch (raw.kind) {
    case 'map': {
      const { required = [], requiredUnless, nameKey } = raw
      const properties = new Map(raw.properties.map(([key, child]) => [key, build(child, [...steps, key], inherit)]))
      return {
        kind: 'map',
        ...facts,
        properties,
        required,
        ...(requiredUnless && { requiredUnless }),
        ...(nameKey && { nameKey }),
      }
    }
    case 'table': {
      const { keyType, keyRef } = raw
      return { kind: 'table', ...facts, keyType, ...(keyRef && { keyRef }), values: build(raw.values, [...steps, '*'], inherit) }
    }
    case 'list':
      return {
        kind: 'list',
        ...facts,
        items: build(raw.items, [...steps, '*'], inherit),
        rising: raw.rising === true,
        ...(raw.tuple && { tuple: raw.tuple.map((one, n) => build(one, [...steps, String(n)], inherit)) }),
        ...(raw.minItems !== undefined && { minItems: raw.minItems }),
        ...(raw.maxItems !== undefined && { maxItems: raw.maxItems }),
        ...(raw.single && { single: buildLeaf(raw.single, steps, inherit) }),
      }
    case 'leaf':
      return buildLeaf(raw, steps, inherit)
    case 'any':
      return { kind: 'any', ...facts }
  }
}

const buildLeaf = (raw: RawLeaf, steps: readonly string[], inherit: boolean): LeafSchema => ({
  kind: 'leaf',
  ...factsOf(raw, steps, inherit),
  accepts: raw.accepts,
})

const factsOf = (raw: RawFacts, steps: readonly string[], inherit: boolean): Facts => ({
  steps,
  path: steps.join('.'),
  description: raw.description,
  inherit,
  examples: raw.examples ?? [],
  ...(raw.default !== undefined && { default: raw.default }),
  ...(raw.readsBack !== undefined && { readsBack: raw.readsBack }),
})
