// The files that profiles name and that are no documents: how far they were read, and which a profile names.
import type { ColourFile } from './colour-file.ts'
import type { F } from './field.ts'
import type { MediaDocument } from './generated/documents.ts'

/** A file named by a profile, as it was when it was last read. Another one each time it is read again. */
export type Attached =
  | { readonly state: 'read'; readonly file: ColourFile }
  | {
      readonly state: 'unread'
      readonly why: 'missing' | 'outside' | 'unreadable'
      readonly reason: string
    }

/** What a path is taken for that leads out of the shop's folder: nothing is read there. */
export const OUTSIDE: Attached = {
  state: 'unread',
  why: 'outside',
  reason: "it lies outside of the shop's folder, where nothing is read",
}

/** A name in a profile or in one of its bases, and what is there. Undefined as long as nobody has looked. */
export interface NamedFile {
  readonly field: F<string>
  readonly attached: Attached | undefined
}

/** The colour files of a profile as it prints. */
export interface ColourFiles {
  readonly icc: NamedFile | undefined
  readonly reference: NamedFile | undefined
  /** Oldest first, as they are written. */
  readonly measured: readonly NamedFile[]
}

/** How many sets of measured colours are looked for, the newest ones. */
export const MAX_MEASURED = 100

/** The names of files in a profile's own text; of a base, those that are handed down. */
export function filesNamedIn({ colour }: MediaDocument, as: 'own' | 'base'): readonly F<string>[] {
  const measured = as === 'own' ? (colour?.measured?.items ?? []).slice(-MAX_MEASURED) : []
  return [colour?.icc, colour?.reference, ...measured].filter((field) => field !== undefined)
}

export function colourFilesOf({ colour }: MediaDocument, find: (field: F<string>) => Attached | undefined): ColourFiles {
  const named = (field: F<string> | undefined): NamedFile | undefined => field && { field, attached: find(field) }
  return {
    icc: named(colour?.icc),
    reference: named(colour?.reference),
    measured: (colour?.measured?.items ?? []).slice(-MAX_MEASURED).map((field) => named(field)!),
  }
}

/** All of them, in the order of the keys. */
export const everyFile = ({ icc, reference, measured }: ColourFiles): readonly NamedFile[] =>
  [icc, reference, ...measured].filter((file) => file !== undefined)
