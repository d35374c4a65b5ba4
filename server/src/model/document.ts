// One document of the shop: its text, tree, typed model and structural issues, each made when first asked for and kept until the text changes.

import type { Span } from '../base/span.ts'
import { lastPart } from '../base/uri.ts'
import { type DocumentKind, ITEM_PATHS, type MapSchema, schemaOf } from '../schema/schema.ts'
import { checkStructure, type StructureIssue } from '../schema/structure.ts'
import { hasMarkers } from '../syntax/conflicts.ts'
import { SyntaxTree } from '../syntax/parse.ts'
import { type Plain, PlainReader } from '../syntax/plain.ts'
import { type MapNode, type Node, nodeAt, resolveAlias } from '../syntax/tree.ts'
import type { MediaDocument, PrinterDocument, ShopDocument, StockDocument } from './generated/documents.ts'
import { ModelReader, type Read } from './read.ts'

export interface Models {
  readonly shop: ShopDocument
  readonly stock: StockDocument
  readonly printer: PrinterDocument
  readonly media: MediaDocument
}

/** A structural issue and where it stands. */
export interface PlacedIssue {
  readonly issue: StructureIssue
  /** The issue's own node: the mapping that lacks a key, the value of a wrong kind, the mapping that holds an unknown key. */
  readonly node: Node
}

/** What is wrong with an item of a list, as one of the items that belong at a path. */
interface ItemIssues {
  readonly path: string
  readonly issues: readonly StructureIssue[]
}

/** A document as everything but the workspace sees it. */
export interface RollDocument<K extends DocumentKind = DocumentKind> {
  readonly file: string
  readonly kind: K
  readonly text: string
  readonly tree: SyntaxTree
  readonly schema: MapSchema
  /** The file's name without folders and kind: what its id must be. */
  readonly baseName: string
  /** The typed model; undefined while the root is no mapping. */
  readonly content: Models[K] | undefined
  /** Whether a merge of it is not settled: lines of a conflict stand in its text, or git says so. Nobody knows then which of its numbers stay. */
  readonly unsettled: boolean
  /** Whether aliases or merge keys stand for more than the bound allows. */
  readonly aliasesExceeded: boolean
  read(): Read<Models[K]>
  /** Structural issues, by the schema. */
  structure(): readonly PlacedIssue[]
}

/** A document with its text, which may be another at any time. */
export class LiveDocument<K extends DocumentKind = DocumentKind> implements RollDocument<K> {
  private syntax: SyntaxTree | undefined
  private readonly reader: ModelReader
  private model: Read<Models[K]> | undefined
  private issues: readonly PlacedIssue[] | undefined
  aliasesExceeded = false
  /** Whether git waits for somebody to settle a merge of the file, whatever stands in the text. */
  unmerged = false

  constructor(
    readonly file: string,
    readonly kind: K,
    private written: string,
  ) {
    this.reader = new ModelReader(file)
  }

  /** Whether some text of it was parsed: then the next costs only what changed. */
  get wasParsed(): boolean {
    return this.syntax !== undefined
  }

  get tree(): SyntaxTree {
    if (this.syntax?.text !== this.written) this.syntax = this.syntax?.update(this.written) ?? SyntaxTree.parse(this.written)
    return this.syntax!
  }

  get text(): string {
    return this.written
  }

  get unsettled(): boolean {
    return this.unmerged || hasMarkers(this.written)
  }

  get schema(): MapSchema {
    return schemaOf(this.kind)
  }

  get baseName(): string {
    const name = lastPart(this.file)
    return name.replace(/\.(?:media|stock|printer)\.ya?ml$/, '').replace(/\.ya?ml$/, '')
  }

  /** Takes a new text; everything derived, the tree too, is made anew when asked for, as far as the change reaches. */
  update(text: string): void {
    if (text === this.written) return
    this.written = text
    this.model = undefined
    this.issues = undefined
  }

  /** Lets go of all but the text; what is asked for again is made again. */
  rest(): void {
    this.syntax = undefined
    this.model = undefined
    this.issues = undefined
  }

  read(): Read<Models[K]> {
    this.model ??= this.reader.read<Models[K]>(this.tree.root, this.schema)
    return this.model
  }

  get content(): Models[K] | undefined {
    return this.read().value
  }

  /** Items of long lists are checked one by one and kept by node. */
  structure(): readonly PlacedIssue[] {
    this.issues ??= this.findIssues()
    return this.issues
  }

  private findIssues(): readonly PlacedIssue[] {
    const { root } = this.tree
    if (!root) return []
    const plain = new PlainReader()
    const out: PlacedIssue[] = []
    const place = (issues: readonly StructureIssue[], at: Node): void => {
      for (const issue of issues) out.push({ issue, node: askingAlias(at, issue) ?? nodeAt(at, issue.path) ?? at })
    }
    let view = plain.read(root)
    for (const path of ITEM_PATHS[this.kind]) {
      const steps = path.split('.').slice(0, -1)
      const list = resolveAlias(nodeAt(root, steps))
      if (list?.kind !== 'seq' || list.items.length === 0 || !list.items.every((item): item is MapNode => item.kind === 'map'))
        continue
      for (const item of list.items) {
        // An item may stand under another key than before, and be checked by another path.
        let kept = item.issues as ItemIssues | undefined
        if (kept?.path !== path) {
          kept = { path, issues: checkStructure(this.kind, plain.read(item), path) }
          item.issues = kept
        }
        if (kept.issues.length) place(kept.issues, item)
      }
      view = withEmptied(view, steps)
    }
    place(checkStructure(this.kind, view), root)
    this.aliasesExceeded = plain.exceeded
    return out
  }
}

export const spanOf = (node: Node): Span => ({ start: node.start, end: node.end })

/**
 * The alias whose list does not hold what its key takes. What the list holds is right where it is written, most often below a key of the
 * shop's own, and wrong where the alias stands: so the alias is at fault, once for all items.
 */
function askingAlias(root: Node, { issue, path }: StructureIssue): Node | undefined {
  if (issue !== 'wrong-kind') return undefined
  for (let at = path.length - 1; at >= 0 && typeof path[at] === 'number'; at--) {
    const list = nodeAt(root, path.slice(0, at))
    if (list?.kind === 'alias') return list
  }
  return undefined
}

/** A copy of a plain value with the list at `path` emptied; everything else is shared. */
function withEmptied(value: Plain, path: readonly string[]): Plain {
  if (path.length === 0) return []
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value
  const [step, ...rest] = path
  const map = value as { readonly [key: string]: Plain }
  const inner = map[step!]
  return inner === undefined ? value : { ...map, [step!]: withEmptied(inner, rest) }
}
