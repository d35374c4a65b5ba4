// The names that documents give to things and call them by: which keys and values are such names, what they name, and where they stand.
import { childOf, type DocumentKind, type LeafType, type SchemaNode, schemaAt, schemaOf, walk } from '../schema/schema.ts'
import { ALIAS_LIMIT } from '../syntax/plain.ts'
import { type AliasNode, type Node, resolveAlias, type ScalarNode } from '../syntax/tree.ts'
import { isLevelName } from './read.ts'

type Path = readonly (string | number)[]

/** What can be named. A level is named by its number, and by a name where the shop has one for it. */
export type NameKind =
  | 'media'
  | 'stock'
  | 'printer'
  | 'instrument'
  | 'mode'
  | 'channel'
  | 'lot'
  | 'state'
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
  state: 'state',
  'suction-level': 'suction level',
  'tension-level': 'tension level',
}

/**
 * The kind of document whose own names these are: two printers may each have a mode of one name. The shop's are the shop's, and so are documents; a state
 * is of the one profile that it stands in.
 */
export const OWNER: Readonly<Record<NameKind, 'stock' | 'printer' | undefined>> = {
  media: undefined,
  stock: undefined,
  printer: undefined,
  instrument: undefined,
  mode: 'printer',
  channel: 'printer',
  lot: 'stock',
  state: undefined,
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
  'media conditions': 'state',
  'printer suction.levels': 'suction-level',
  'printer web.tension-levels': 'tension-level',
  'printer suction.level-names': 'suction-level',
  'printer web.tension-level-names': 'tension-level',
}

/** Settings that may call a level by its number or name, and what a name stands for. Everything else that calls something by its name says so in the schema. */
const LEVELS: Readonly<Record<string, NameKind>> = {
  suction: 'suction-level',
  'web.tension': 'tension-level',
  'conditions.*.suction': 'suction-level',
  'conditions.*.web.tension': 'tension-level',
  'suction.level-names.*': 'suction-level',
  'web.tension-level-names.*': 'tension-level',
}

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

/** What a value, or a key of a table, names; undefined for what is no name. A value is one of a level only where it is a whole number or a name. */
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
  let known = values.get(schema)
  if (!known) {
    known = anyValueOf(kind, schema)
    values.set(schema, known)
  }
  const { naming, isLevel } = known
  return !isLevel || /^\d+$/.test(text) || (kind === 'media' && isLevelName(text)) ? naming : undefined
}

/** What a value names, whatever it says; one of a level does so only where it says one. */
interface ValueNaming {
  readonly naming: Naming | undefined
  readonly isLevel: boolean
}

/** Asked for every value of thousands of documents. */
const values = new WeakMap<SchemaNode, ValueNaming>()

function anyValueOf(kind: DocumentKind, schema: SchemaNode): ValueNaming {
  if (schema.kind !== 'leaf') return { naming: undefined, isLevel: false }
  const given = GIVEN[`${kind} ${schema.path}`]
  if (given) return { naming: { of: given, role: 'gives' }, isLevel: false }
  const level = LEVELS[schema.readsBack ?? schema.path]
  if (level && (kind === 'media' || schema.path.endsWith('*'))) return { naming: { of: level, role: 'calls' }, isLevel: true }
  const ref = textType(schema.accepts)?.ref
  const names = ref !== undefined && ref !== 'key' && ref !== 'rule'
  return { naming: names ? { of: ref, role: 'calls' } : undefined, isLevel: false }
}

const textType = (accepts: readonly LeafType[]): Extract<LeafType, { type: 'text' }> | undefined =>
  accepts.find((type) => type.type === 'text')

/**
 * Every name in a document, or those of one kind and name, in the order of the text. What stands behind an alias is told once, where it
 * stands first.
 */
export function mentionsIn(
  kind: DocumentKind,
  root: Node | undefined,
  wanted?: { readonly of: NameKind; readonly name: string },
): readonly Mention[] {
  const names = new Walk(kind, wanted)
  if (root) names.node(root, schemaOf(kind), false)
  return names.found
}

class Walk {
  readonly found: Mention[] = []
  private readonly path: (string | number)[] = []
  private readonly seen = new Set<Node>()
  private left = ALIAS_LIMIT

  constructor(
    private readonly kind: DocumentKind,
    private readonly wanted: { readonly of: NameKind; readonly name: string } | undefined,
  ) {}

  node(node: Node, schema: SchemaNode, aliased: boolean): void {
    const target = resolveAlias(node)
    if (!target) return
    if (target.kind === 'scalar') {
      this.note(node as ScalarNode | AliasNode, target.text, ofValue(this.kind, schema, target.text), 'value', aliased)
      return
    }
    const through = aliased || node.kind === 'alias'
    if (through || target.shared) {
      if (this.seen.has(target) || --this.left < 0) return
      this.seen.add(target)
    }
    if (target.kind === 'seq') {
      for (let i = 0; i < target.items.length; i++) this.child(target.items[i]!, schema, i, through)
      return
    }
    const naming = ofTable(this.kind, schema)
    for (const { key, value } of target.pairs) {
      if (!key) continue
      if (key.text === '<<' && key.style === 'plain') {
        this.merged(value, schema)
        continue
      }
      this.path.push(key.text)
      this.note(key, key.text, naming, 'key', through)
      this.path.pop()
      this.child(value, schema, key.text, through)
    }
  }

  private child(node: Node, schema: SchemaNode, step: string | number, aliased: boolean): void {
    const below = childOf(schema, step)
    if (!below || !holdsNames(this.kind, below, this.wanted?.of)) return
    this.path.push(step)
    this.node(node, below, aliased)
    this.path.pop()
  }

  private merged(value: Node, schema: SchemaNode): void {
    const target = resolveAlias(value)
    for (const source of target?.kind === 'seq' ? target.items : [value]) this.node(source, schema, true)
  }

  private note(
    node: ScalarNode | AliasNode,
    name: string,
    naming: Naming | undefined,
    on: Mention['on'],
    through: boolean,
  ): void {
    if (!naming || name === '') return
    if (this.wanted && (naming.of !== this.wanted.of || name !== this.wanted.name)) return
    const aliased = through || node.kind === 'alias'
    const { of, role } = naming
    this.found.push({ of, role, name, path: this.path.slice(), on, node, aliased })
  }
}

const holding = new WeakMap<SchemaNode, Map<NameKind | undefined, boolean>>()

/** Whether any name, or one of a kind, may stand below a key of the format: most of a document is passed over. */
function holdsNames(kind: DocumentKind, schema: SchemaNode, of: NameKind | undefined): boolean {
  const known: Map<NameKind | undefined, boolean> = holding.get(schema) ?? new Map()
  holding.set(schema, known)
  let holds = known.get(of)
  if (holds === undefined) {
    const isOne = (naming: Naming | undefined): boolean => naming !== undefined && (of === undefined || naming.of === of)
    holds =
      schema.kind !== 'any' && [...walk(schema)].some((node) => isOne(ofTable(kind, node)) || isOne(ofValue(kind, node, '0')))
    known.set(of, holds)
  }
  return holds
}
