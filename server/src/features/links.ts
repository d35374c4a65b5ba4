// Values that lead to a file or a web address: datasheets, colour files, and the documents that a document rests on.
import type { Span } from '../base/span.ts'
import { isUnsaved, lastPart, uriBeside } from '../base/uri.ts'
import { OUTSIDE } from '../model/attached.ts'
import { ID_KEY } from '../model/facts.ts'
import { referenceAt } from '../model/names.ts'
import { childOf, type DocumentKind, type SchemaNode } from '../schema/schema.ts'
import type { Node, ScalarNode } from '../syntax/tree.ts'
import type { FeatureContext } from './context.ts'

export interface Link {
  readonly span: Span
  /** A file of the shop or an address of the web; nothing else is ever linked to. */
  readonly target: string
  readonly tooltip: string
}

export function links({ document, shelf }: FeatureContext): readonly Link[] {
  const found: Link[] = []
  const visit = (node: Node, schema: SchemaNode, path: readonly (string | number)[]): void => {
    if (node.kind === 'map')
      for (const { key, value } of node.pairs) {
        const below = key && childOf(schema, key.text)
        if (below && below.kind !== 'any') visit(value, below, [...path, key.text])
      }
    else if (node.kind === 'seq')
      for (const [i, item] of node.items.entries()) {
        const below = childOf(schema, i)
        if (below && below.kind !== 'any') visit(item, below, [...path, i])
      }
    else if (node.kind === 'scalar' && schema.kind === 'leaf' && node.style !== 'block') {
      const isPath = schema.accepts.some((type) => type.type === 'text' && type.path)
      const leads = isPath ? ofPath(node.text) : ofDocument(node, path)
      if (leads) found.push({ span: withoutQuotes(node), ...leads })
    }
  }
  const ofPath = (path: string): Omit<Link, 'span'> | undefined => {
    if (/^https?:\/\/[^\s/]/i.test(path)) return { target: path, tooltip: 'Open the web page' }
    const file = shelf.attached(document.file, path) === OUTSIDE ? undefined : uriBeside(document.file, path)
    return file === undefined ? undefined : { target: file, tooltip: `Open ${shown(file)}` }
  }
  const ofDocument = (node: ScalarNode, path: readonly (string | number)[]): Omit<Link, 'span'> | undefined => {
    const ref = referenceAt(document.kind, path, 'value')
    if (ref !== 'media' && ref !== 'stock' && ref !== 'printer') return undefined
    const facts = shelf.withId(ref satisfies DocumentKind, node.text).find(({ file }) => !isUnsaved(file))
    return facts?.values[ID_KEY[ref]] && { target: facts.file, tooltip: `Open ${shown(facts.file)}` }
  }
  if (document.tree.root) visit(document.tree.root, document.schema, [])
  return found
}

const withoutQuotes = ({ start, end, style }: ScalarNode): Span =>
  style === 'single' || style === 'double' ? { start: start + 1, end: end - 1 } : { start, end }

function shown(file: string): string {
  const name = lastPart(file)
  try {
    return decodeURIComponent(name)
  } catch {
    return name
  }
}
