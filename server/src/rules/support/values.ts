// Values of a document's model by schema path, and the schema paths that carry some kind of value.
import type { F, Place } from '../../model/field.ts'
import { DOCUMENT_KINDS, type DocumentKind, type SchemaNode, schemaOf, walk } from '../../schema/schema.ts'

/** The model values at a schema path such as `feed.checks.*.date`, in the order of the text. */
export function valuesAt(value: unknown, steps: readonly string[]): readonly unknown[] {
  const out: unknown[] = []
  collect(value, steps, 0, out)
  return out
}

function collect(value: unknown, steps: readonly string[], at: number, out: unknown[]): void {
  if (value === undefined || value === null) return
  const step = steps[at]
  if (step === undefined) out.push(value)
  else if (step === '*') for (const item of itemsOf(value)) collect(item, steps, at + 1, out)
  else collect((value as Readonly<Record<string, unknown>>)[step], steps, at + 1, out)
}

export const isField = (value: unknown): value is F<unknown> => typeof value === 'object' && value !== null && 'place' in value

export const placeOf = (value: unknown): Place | undefined =>
  isField(value) ? value.place : (value as { readonly $?: Place } | undefined)?.$

/** The schema paths, by kind, of the nodes that a test picks. */
export function pathsWhere(picks: (node: SchemaNode) => boolean): ReadonlyMap<DocumentKind, readonly string[][]> {
  return new Map(DOCUMENT_KINDS.map((kind) => [kind, [...walk(schemaOf(kind))].filter(picks).map((node) => [...node.steps])]))
}

function itemsOf(value: unknown): Iterable<unknown> {
  const collection = value as { readonly items?: readonly unknown[]; readonly entries?: ReadonlyMap<string, unknown> }
  return collection.items ?? collection.entries?.values() ?? []
}
