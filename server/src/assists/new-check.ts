// A feed check ready to fill in, as snippet text: for the assist that adds one and for completion.
import type { Check, MediaDocument } from '../model/generated/documents.ts'

/** A feed check with today's date, and whatever the newest check had that stays the same. Snippet text of one flow mapping. */
export function newCheck(own: MediaDocument | undefined, profile: MediaDocument | undefined, today: string): string {
  const last: Check | undefined = own?.feed?.checks?.items.at(-1)
  const { node } = profile?.feed?.correction?.place ?? {}
  const applied = node?.kind === 'scalar' ? node.text : '0 %'
  const parts = [
    `date: ${today}`,
    `commanded: \${1:${textOf(last?.commanded, '1000 mm')}}`,
    `measured: ${stop(2)}`,
    `applied: \${3:${escapeSnippet(applied)}}`,
    ...(last?.with ? [`with: \${4:${escapeSnippet(last.with.value)}}`] : []),
    ...(last?.web ? [`web: ${stop(5)}`] : []),
    ...(last?.lot ? [`lot: \${6:${escapeSnippet(String(last.lot.value))}}`] : []),
  ]
  return `{${parts.join(', ')}}`
}

const textOf = (
  field: { readonly place: { readonly node: { readonly kind: string; readonly text?: string } } } | undefined,
  otherwise: string,
): string => escapeSnippet(field?.place.node.text ?? otherwise)

const stop = (n: number): string => `\${${n}}`

/** Text that a snippet takes literally. */
export const escapeSnippet = (text: string): string => text.replace(/[\\$}]/g, '\\$&')
