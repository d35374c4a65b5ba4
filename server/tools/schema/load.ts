// Reads schemas/*.json and works out the plain tree of keys from which the runtime data, the validators and the types are generated.

import { readFileSync } from 'node:fs'
import {
  DOCUMENT_KINDS,
  type DocumentKind,
  type LeafType,
  type NumberType,
  type QuantityType,
  type RawFacts,
  type RawLeaf,
  type RawList,
  type RawMap,
  type RawNode,
  type Reference,
  type TextType,
} from '../../src/schema/raw.ts'

export type Json = string | number | boolean | null | readonly Json[] | JsonObject
export interface JsonObject {
  readonly [key: string]: Json
}

export const schemaFile = (name: DocumentKind | 'common'): URL => new URL(`../../../schemas/${name}.schema.json`, import.meta.url)

export const readSchema = (name: DocumentKind | 'common'): JsonObject =>
  JSON.parse(readFileSync(schemaFile(name), 'utf8')) as JsonObject

/** The regular expression that every name matches. */
export const idPattern = (): string => ((readSchema('common').$defs as JsonObject).id as JsonObject).pattern as string

/** The tree of every kind of document. Throws on a schema that is not built the way this project builds them. */
export function loadDocuments(): ReadonlyMap<DocumentKind, RawMap> {
  const common = readSchema('common')
  return new Map(
    DOCUMENT_KINDS.map((kind) => {
      const root = new Loader(readSchema(kind), common).node(readSchema(kind), kind)
      if (root.kind !== 'map') throw new Error(`${kind}: the document is no mapping`)
      return [kind, root]
    }),
  )
}

/** How a default or an example of the schema is written in a document. */
export function asWritten(value: Json): string {
  if (isArray(value)) return `[${value.map(asWritten).join(', ')}]`
  if (typeof value === 'object' && value !== null) {
    return `{${Object.entries(value)
      .map(([key, item]) => `${key}: ${asWritten(item)}`)
      .join(', ')}}`
  }
  return String(value)
}

class Loader {
  readonly #root: JsonObject
  readonly #common: JsonObject

  constructor(root: JsonObject, common: JsonObject) {
    this.#root = root
    this.#common = common
  }

  node(schema: JsonObject, where: string): RawNode {
    const resolved = this.#resolve(schema)
    const facts = factsOf(resolved, where)
    const alternatives = (resolved.anyOf as readonly JsonObject[] | undefined)?.map((one) => this.#resolve(one)) ?? [resolved]
    const list = alternatives.find((one) => one.type === 'array')
    if (list !== undefined)
      return this.#list(
        list,
        facts,
        alternatives.filter((one) => one !== list),
        where,
      )
    if (resolved.type === 'object') return this.#object(resolved, facts, where)
    if (alternatives.every((one) => leafType(one) === undefined)) return { kind: 'any', ...facts }
    return leaf(facts, alternatives, where, resolved.title)
  }

  #object(schema: JsonObject, facts: RawFacts, where: string): RawNode {
    if ((schema.patternProperties as JsonObject | undefined)?.['^x-'] !== true)
      throw new Error(`${where}: keys that begin with x- must be free`)
    const free = schema.additionalProperties
    if (free !== false) {
      return {
        kind: 'table',
        ...facts,
        keyType: schema['x-key-type'] as 'id' | 'integer',
        ...optional('keyRef', schema['x-key-ref'] as Reference | undefined),
        values: this.node(free as JsonObject, `${where}.*`),
      }
    }
    const otherwise = schema.else as JsonObject | undefined
    const map: RawMap = {
      kind: 'map',
      name: pascal(schema.title as string),
      ...facts,
      ...optional('nameKey', schema['x-name-key'] as string | undefined),
      ...optional('required', schema.required as readonly string[] | undefined),
      ...optional(
        'requiredUnless',
        otherwise && {
          unless: ((schema.if as JsonObject).required as readonly string[])[0]!,
          keys: otherwise.required as readonly string[],
        },
      ),
      properties: Object.entries(schema.properties as JsonObject).map(
        ([key, value]) => [key, this.node(value as JsonObject, `${where}.${key}`)] as const,
      ),
    }
    return map
  }

  #list(schema: JsonObject, facts: RawFacts, singles: readonly JsonObject[], where: string): RawList {
    const tuple = (schema.prefixItems as readonly JsonObject[] | undefined)?.map((one, n) => this.node(one, `${where}.${n}`))
    const items = tuple === undefined ? this.node(schema.items as JsonObject, `${where}.*`) : tuple[0]!
    return {
      kind: 'list',
      ...facts,
      items,
      ...optional('tuple', tuple),
      ...optional('minItems', schema.minItems as number | undefined),
      ...optional('maxItems', schema.maxItems as number | undefined),
      ...optional('rising', schema['x-ordered'] as true | undefined),
      ...optional('single', singles.length === 0 ? undefined : leaf(facts, singles, where, undefined)),
    }
  }

  /** Follows a $ref; what stands beside it wins over what it points to. Examples of a dimension are none of the key's. */
  #resolve(schema: JsonObject): JsonObject {
    const ref = schema.$ref as string | undefined
    if (ref === undefined) return schema
    const [file, name] = ref.split('#/$defs/') as [string, string]
    const target = ((file === '' ? this.#root : this.#common).$defs as JsonObject)[name]
    if (target === undefined) throw new Error(`${ref} leads nowhere`)
    const { $ref: _, ...beside } = schema
    const { examples: __, ...shared } = this.#resolve(target as JsonObject)
    return { ...shared, ...beside }
  }
}

function factsOf(schema: JsonObject, where: string): RawFacts {
  const description = schema.description as string | undefined
  if (description === undefined) throw new Error(`${where} is not described`)
  return {
    description,
    ...optional('own', schema['x-inherit'] === false ? (true as const) : undefined),
    ...optional('default', 'default' in schema ? asWritten(schema.default!) : undefined),
    ...optional('examples', (schema.examples as readonly Json[] | undefined)?.map(asWritten)),
    ...optional('readsBack', schema['x-reads-back'] as string | undefined),
  }
}

/** A leaf that accepts every alternative; several lists of words become one. */
function leaf(facts: RawFacts, alternatives: readonly JsonObject[], where: string, title: Json | undefined): RawLeaf {
  const types = alternatives.map((one) => {
    const type = leafType(one)
    if (type === undefined) throw new Error(`${where}: an alternative without a type`)
    return type
  })
  const choices = types.filter((type) => type.type === 'choice')
  const others = types.filter((type) => type.type !== 'choice')
  const name = title === undefined ? undefined : pascal(title as string)
  const words =
    choices.length === 0
      ? []
      : [{ type: 'choice' as const, ...optional('name', name), values: choices.flatMap((one) => one.values) }]
  return { kind: 'leaf', ...facts, accepts: [...others, ...words] }
}

function leafType(schema: JsonObject): LeafType | undefined {
  if (schema['x-dimension'] !== undefined) return quantityType(schema)
  if (schema.enum !== undefined) {
    const meanings = schema['x-meaning'] as { readonly [value: string]: string }
    const opens = schema['x-opens'] as { readonly [value: string]: readonly string[] } | undefined
    return {
      type: 'choice',
      values: (schema.enum as readonly string[]).map((value) => ({
        value,
        meaning: meanings[value] ?? '',
        ...optional('opens', opens && (opens[value] ?? [])),
      })),
    }
  }
  const type = schema.type
  if (type === 'integer' || type === 'number') return numberType(schema, type)
  if (type === 'boolean') return { type: 'boolean' }
  if (type !== 'string' && schema['x-type'] !== 'label') return undefined
  return schema['x-type'] === 'date' ? { type: 'date' } : textType(schema)
}

function quantityType(schema: JsonObject): QuantityType {
  return {
    type: 'quantity',
    dimension: schema['x-dimension'] as QuantityType['dimension'],
    ...optional('min', schema['x-min'] as string | undefined),
    ...optional('max', schema['x-max'] as string | undefined),
    ...optional('above', schema['x-above'] as string | undefined),
    ...optional('below', schema['x-below'] as string | undefined),
    ...optional('plausible', schema['x-plausible'] as unknown as readonly [string, string] | undefined),
  }
}

function numberType(schema: JsonObject, type: 'integer' | 'number'): NumberType {
  return {
    type,
    ...optional('min', schema.minimum as number | undefined),
    ...optional('max', schema.maximum as number | undefined),
    ...optional('above', schema.exclusiveMinimum as number | undefined),
    ...optional('below', schema.exclusiveMaximum as number | undefined),
    ...optional('plausible', schema['x-plausible'] as unknown as readonly [number, number] | undefined),
  }
}

function textType(schema: JsonObject): TextType {
  return {
    type: 'text',
    ...optional(
      'form',
      ['id', 'label', 'level'].includes(schema['x-type'] as string) ? (schema['x-type'] as TextType['form']) : undefined,
    ),
    ...optional('ref', schema['x-ref'] as Reference | undefined),
    ...optional('id', schema['x-id'] as true | undefined),
    ...optional('path', schema['x-path'] as true | undefined),
  }
}

const pascal = (title: string): string =>
  title
    .split(/[ -]/)
    .map((word) => word[0]!.toUpperCase() + word.slice(1))
    .join('')

const isArray = (value: Json): value is readonly Json[] => Array.isArray(value)

/** The one property, or nothing: optional properties are left out rather than undefined. */
function optional<K extends string, V>(key: K, value: V | undefined): { readonly [P in K]?: V } {
  return value === undefined ? {} : ({ [key]: value } as { readonly [P in K]?: V })
}
