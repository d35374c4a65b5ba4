// The names that documents give to things and call them by: which keys and values are such names, what they name, and where they stand.
import { childOf, type DocumentKind, type LeafType, type SchemaNode, schemaAt, schemaOf } from '../schema/schema.ts'
import { ALIAS_LIMIT } from '../syntax/plain.ts'
import { type AliasNode, type Node, resolveAlias, type ScalarNode } from '../syntax/tree.ts'

type Path = readonly (string | number)[]

/** What can be named. A level is named by its number. */
export type NameKind =
  | 'media'
  | 'stock'
  | 'printer'
  | 'instrument'
  | 'mode'
  | 'channel'
  | 'lot'
  | 'suction-level'
  | 'tension-level'

/** How a person calls it. */
export const NAME_WORDS: Readonly<Record<NameKind, string>> = {
  media: 'profile',
  stock: 'stock',
  printer: 'printer',
  instrument: 'instrument',
  mode: 'mode',
  channel: 'ink channel',
  lot: 'lot',
  'suction-level': 'suction level',
  'tension-level': 'tension level',
}

/** The kind of document whose own names these are: two printers may each have a mode of one name. The shop's are the shop's, and so are documents. */
export const OWNER: Readonly<Record<NameKind, 'stock' | 'printer' | undefined>> = {
  media: undefined,
  stock: undefined,
  printer: undefined,
  instrument: undefined,
  mode: 'printer',
  channel: 'printer',
  lot: 'stock',
  'suction-level': 'printer',
  'tension-level': 'printer',
}

/** Where names are given: the kind of document and the path of the schema; of a table it is the keys that are names. */
const GIVEN: Readonly<Record<string, NameKind>> = {
  'media profile': 'media',
  'stock stock': 'stock',
  'printer printer': 'printer',
  'shop instruments': 'instrument',
  'printer modes': 'mode',
  'printer heads.channels.*': 'channel',
  'stock lots.*.lot': 'lot',
  'printer suction.levels': 'suction-level',
  'printer web.tension-levels': 'tension-level',
}

/** Settings that may call a level by its number. Everything else that calls something by its name says so in the schema. */
const LEVELS: Readonly<Record<string, NameKind>> = { suction: 'suction-level', 'web.tension': 'tension-level' }

/** What a key or value names, and whether it gives the name or calls by it. */
export interface Naming {
  readonly of: NameKind
  readonly role: 'gives' | 'calls'
}

/** A name where it stands. */
export interface Mention extends Naming {
  readonly name: string
  readonly path: Path
  readonly on: 'key' | 'value'
  readonly node: ScalarNode | AliasNode
  /** Reached through an alias or a merge key. */
  readonly aliased: boolean
}

/** What a value, or a key of a table, names; undefined for what is no name. A value is one of a level only where it is a whole number. */
export function namingAt(kind: DocumentKind, path: Path, on: 'key' | 'value', text: string): Naming | undefined {
  const schema = schemaAt(kind, on === 'key' ? path.slice(0, -1) : path)
  return schema && (on === 'key' ? ofTable(kind, schema) : ofValue(kind, schema, text))
}

/** What a name may be called by, as the schema has it: also keys of profiles and rules, which nobody can name. */
export function referenceAt(kind: DocumentKind, path: Path, on: 'key' | 'value'): string | undefined {
  if (on === 'key') {
    const table = schemaAt(kind, path.slice(0, -1))
    return table?.kind === 'table' ? table.keyRef : undefined
  }
  const schema = schemaAt(kind, path)
  return schema?.kind === 'leaf' ? textType(schema.accepts)?.ref : undefined
}

function ofTable(kind: DocumentKind, schema: SchemaNode): Naming | undefined {
  if (schema.kind !== 'table') return undefined
  const given = GIVEN[`${kind} ${schema.path}`]
  if (given) return { of: given, role: 'gives' }
  return schema.keyRef === 'channel' ? { of: 'channel', role: 'calls' } : undefined
}

function ofValue(kind: DocumentKind, schema: SchemaNode, text: string): Naming | undefined {
  if (schema.kind !== 'leaf') return undefined
  const given = GIVEN[`${kind} ${schema.path}`]
  if (given) return { of: given, role: 'gives' }
  const level = LEVELS[schema.readsBack ?? schema.path]
  if (kind === 'media' && level) return /^\d+$/.test(text) ? { of: level, role: 'calls' } : undefined
  const ref = textType(schema.accepts)?.ref
  return ref === undefined || ref === 'key' || ref === 'rule' ? undefined : { of: ref, role: 'calls' }
}

const textType = (accepts: readonly LeafType[]): Extract<LeafType, { type: 'text' }> | undefined =>
  accepts.find((type) => type.type === 'text')

/** Every name in a document, in the order of the text. What stands behind an alias is told once, where it stands. */
export function mentionsIn(kind: DocumentKind, root: Node | undefined): readonly Mention[] {
  const walk = new Walk(kind)
  if (root) walk.node(root, schemaOf(kind), [], false)
  return walk.found
}

class Walk {
  readonly found: Mention[] = []
  private readonly seen = new Set<Node>()
  private left = ALIAS_LIMIT

  constructor(private readonly kind: DocumentKind) {}

  node(node: Node, schema: SchemaNode, path: Path, aliased: boolean): void {
    const target = resolveAlias(node)
    if (!target) return
    if (target.kind === 'scalar') {
      this.note(node as ScalarNode | AliasNode, target.text, ofValue(this.kind, schema, target.text), path, 'value', aliased)
      return
    }
    const through = aliased || node.kind === 'alias'
    if (through && (this.seen.has(target) || --this.left < 0)) return
    this.seen.add(target)
    if (target.kind === 'seq') {
      for (const [i, item] of target.items.entries()) this.child(item, schema, i, path, through)
      return
    }
    const naming = ofTable(this.kind, schema)
    for (const { key, value } of target.pairs) {
      if (!key) continue
      if (key.text === '<<' && key.style === 'plain') this.merged(value, schema, path)
      else {
        this.note(key, key.text, naming, [...path, key.text], 'key', through)
        this.child(value, schema, key.text, path, through)
      }
    }
  }

  private child(node: Node, schema: SchemaNode, step: string | number, path: Path, aliased: boolean): void {
    const below = childOf(schema, step)
    if (below && below.kind !== 'any') this.node(node, below, [...path, step], aliased)
  }

  private merged(value: Node, schema: SchemaNode, path: Path): void {
    const target = resolveAlias(value)
    for (const source of target?.kind === 'seq' ? target.items : [value]) this.node(source, schema, path, true)
  }

  private note(
    node: ScalarNode | AliasNode,
    name: string,
    naming: Naming | undefined,
    path: Path,
    on: 'key' | 'value',
    aliased: boolean,
  ): void {
    if (naming && name !== '') this.found.push({ ...naming, name, path, on, node, aliased: aliased || node.kind === 'alias' })
  }
}
