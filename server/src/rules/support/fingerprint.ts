// What makes a finding the same finding in another version of its document: the rule, the document by its id, the keys that lead to the place,
// and the values that stand there and at the places it names, apart from how they are written. Never its wording, its line, its severity, or
// the day it is told on: a finding that is accepted, or was there before, stays so after a rebase, a renamed file, another order or another unit.
import { digest } from '../../base/digest.ts'
import type { Span } from '../../base/span.ts'
import { canonical } from '../../model/canonical.ts'
import type { RollDocument } from '../../model/document.ts'
import { type Facts, ID_KEY } from '../../model/facts.ts'
import { childOf, type DocumentKind, type SchemaNode } from '../../schema/schema.ts'
import { lastStartingBefore } from '../../syntax/locate.ts'
import type { Node, Pair } from '../../syntax/tree.ts'
import type { Finding } from '../rule.ts'

/**
 * 16 hexadecimal digits. `documentOf` gives the documents that the finding names beside its own; one that is not at hand counts by its file alone.
 * `levels` are the numbers of the document's levels that stand there by name. Two findings of one rule on equal entries of one document have one fingerprint: `numbered` tells them apart.
 */
export function fingerprintOf(
  finding: Finding,
  document: RollDocument,
  documentOf: (file: string) => RollDocument | undefined,
  levels?: ReadonlyMap<Node | undefined, number>,
): string {
  const places = (finding.related ?? []).map(({ file, span }) => {
    const there = file === document.file ? document : documentOf(file)
    return there ? placeText(there, span, levels) : file.slice(file.lastIndexOf('/') + 1)
  })
  return digest([finding.code, placeText(document, finding.span, levels), ...[...new Set(places)].sort()].join('\n'))
}

/** Equal ones get a number each, in the order they come: the first stays as it is. */
export class Numbered {
  private readonly met = new Map<string, number>()

  take(fingerprint: string): string {
    const count = (this.met.get(fingerprint) ?? 0) + 1
    this.met.set(fingerprint, count)
    return count === 1 ? fingerprint : digest(`${fingerprint} ${count}`)
  }
}

/** A kind and id, the keys down to a span, and the value there. Of a group or a list its entries do not count: they are told of by themselves. */
function placeText(document: RollDocument, span: Span, levels?: ReadonlyMap<Node | undefined, number>): string {
  const { path, node, schema } = way(document, span)
  const value =
    node === undefined
      ? textAt(document, span)
      : node.kind === 'scalar'
        ? String(levels?.get(node) ?? canonical(node, schema))
        : ''
  return [nameOfDocument(document), ...path, value].join(' ')
}

/** A document is known by its id, so that its file may move; without one, and for a shop, by the file's name. */
export const documentName = ({ file, kind, values }: Facts): string => nameOf(file, kind, values[ID_KEY[kind]]?.text)

/** The same of a document that is read whole. */
export function nameOfDocument({ file, kind, tree: { root } }: RollDocument): string {
  const id = root?.kind === 'map' ? root.pair(ID_KEY[kind])?.value : undefined
  return nameOf(file, kind, id?.kind === 'scalar' && id.style !== 'empty' ? id.text : undefined)
}

const nameOf = (file: string, kind: DocumentKind, id: string | undefined): string =>
  `${kind} ${(kind === 'shop' ? undefined : id) ?? file.slice(file.lastIndexOf('/') + 1)}`

interface Way {
  readonly path: readonly string[]
  /** The deepest node that holds the span; undefined in a text of which nothing can be read. */
  readonly node: Node | undefined
  readonly schema: SchemaNode | undefined
}

/** The deepest key or value that holds the whole span. Entries of a list are known by what they say, single values in one by their place. */
function way(document: RollDocument, span: Span): Way {
  const path: string[] = []
  let schema: SchemaNode | undefined = document.schema
  let node: Node | undefined = document.tree.root
  const holds = (s: Span | undefined): boolean => s !== undefined && s.start <= span.start && span.end <= s.end
  while (node && (node.kind === 'map' || node.kind === 'seq')) {
    if (node.kind === 'map') {
      const pair: Pair | undefined = node.pairs[lastStartingBefore(node.pairs, span.start)]
      if (!pair?.key || !holds({ start: pair.key.start, end: Math.max(pair.key.end, pair.value.end) })) break
      path.push(JSON.stringify(pair.key.text))
      schema = schema && childOf(schema, pair.key.text)
      node = pair.value
      if (holds(pair.key)) return { path, node, schema }
      if (!holds(node)) break
    } else {
      const index: number = lastStartingBefore(node.items, span.start)
      const item: Node | undefined = node.items[index]
      if (!item || !holds(item)) break
      schema = schema && childOf(schema, index)
      path.push(item.kind === 'scalar' ? `#${index}` : canonical(item, schema))
      node = item
    }
  }
  return { path, node, schema }
}

const textAt = ({ text }: RollDocument, { start, end }: Span): string =>
  text
    .slice(start, Math.min(end, start + LONGEST))
    .trim()
    .replace(/\s+/g, ' ')

const LONGEST = 200
