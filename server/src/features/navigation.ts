// From a name to what it stands for, and from a setting to that of the base which it replaces.
import { type Facts, ID_KEY } from '../model/facts.ts'
import { referenceAt } from '../model/names.ts'
import type { DocumentKind } from '../schema/schema.ts'
import { locate } from '../syntax/locate.ts'
import { nodeAt } from '../syntax/tree.ts'
import type { FeatureContext, Location } from './context.ts'

const DOCUMENT_REFS: readonly string[] = ['media', 'stock', 'printer']

export function definition(context: FeatureContext, offset: number): readonly Location[] {
  const { document, shelf, setup } = context
  const at = locate(document.tree.root, offset)
  if (at?.node.kind !== 'scalar') return []
  const ref = referenceAt(document.kind, at.path, at.on)
  const id = at.node.text
  if (ref && DOCUMENT_REFS.includes(ref)) return shelf.withId(ref as DocumentKind, id).map(idLocation)
  if (ref === 'instrument') return placed(setup?.shop.instruments.get(id)?.$)
  if (ref === 'mode') return placed(setup?.printer?.modes?.entries.get(id)?.$)
  if (ref === 'channel') return placed(setup?.printer?.heads?.channels?.items.find((c) => c.value === id)?.place)
  if (ref === 'lot') return placed(setup?.stock?.lots?.items.find((l) => String(l.lot?.value) === id)?.$)
  return inherited(context, at.path)
}

/** A setting that overrides one of a base: the base's value. */
function inherited({ setup }: FeatureContext, path: readonly (string | number)[]): readonly Location[] {
  for (const base of setup?.bases ?? []) {
    const node = nodeAt(base.tree.root, path)
    if (node) return [{ file: base.file, span: { start: node.start, end: node.end } }]
  }
  return []
}

function idLocation(facts: Facts): Location {
  const fact = facts.values[ID_KEY[facts.kind]]
  return { file: facts.file, span: { start: fact?.start ?? 0, end: fact?.end ?? 0 } }
}

function placed(
  place:
    | {
        readonly file: string
        readonly node: { readonly start: number; readonly end: number }
        readonly key?: { readonly start: number; readonly end: number }
      }
    | undefined,
): readonly Location[] {
  const at = place?.key ?? place?.node
  return place && at ? [{ file: place.file, span: { start: at.start, end: at.end } }] : []
}
