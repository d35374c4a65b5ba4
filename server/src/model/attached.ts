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

/** A file of measured colours. */
export interface MeasuredFile extends NamedFile {
  /** Where its measurement stands in the list. */
  readonly index: number
  /** YYYY-MM-DD; undefined where it is not given. */
  readonly date: string | undefined
}

/** The colour files of a profile as it prints. */
export interface ColourFiles {
  readonly icc: NamedFile | undefined
  readonly reference: NamedFile | undefined
  /** As they are written; a measurement that names no file is not among them. */
  readonly measured: readonly MeasuredFile[]
}

/** How many sets of measured colours are looked for, the last ones. */
export const MAX_MEASURED = 100

/** The names of files in a profile's own text; of a base, those that are handed down. */
export function filesNamedIn({ colour }: MediaDocument, as: 'own' | 'base'): readonly F<string>[] {
  const measured = as === 'own' ? lastMeasured(colour).map(({ field }) => field) : []
  return [colour?.icc, colour?.reference, ...measured].filter((field) => field !== undefined)
}

/** The measurements that are looked for, with where each stands. */
function lastMeasured(colour: MediaDocument['colour']): readonly Omit<MeasuredFile, 'attached'>[] {
  const items = colour?.measured?.items ?? []
  const first = Math.max(0, items.length - MAX_MEASURED)
  return items.slice(first).flatMap(({ file, date }, i) => (file ? [{ field: file, index: first + i, date: date?.value }] : []))
}

export function colourFilesOf({ colour }: MediaDocument, find: (field: F<string>) => Attached | undefined): ColourFiles {
  const named = (field: F<string> | undefined): NamedFile | undefined => field && { field, attached: find(field) }
  return {
    icc: named(colour?.icc),
    reference: named(colour?.reference),
    measured: lastMeasured(colour).map((one) => ({ ...one, attached: find(one.field) })),
  }
}

/** All of them, in the order of the keys. */
export const everyFile = ({ icc, reference, measured }: ColourFiles): readonly NamedFile[] =>
  [icc, reference, ...measured].filter((file) => file !== undefined)
