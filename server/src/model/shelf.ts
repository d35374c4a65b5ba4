// What the model and the rules may ask about the other documents of the same shop. The workspace provides it; nothing here reads a disk.
import type { DocumentKind } from '../schema/schema.ts'
import type { Attached } from './attached.ts'
import type { RollDocument } from './document.ts'
import type { Facts } from './facts.ts'
import type { Measured } from './measured.ts'

export interface Shelf {
  /** Every document of a kind in this document's shop, with its facts. */
  all(kind: DocumentKind): Iterable<Facts>
  /** The documents that carry an id. Two or more: the id is not unique. */
  withId(kind: DocumentKind, id: string): readonly Facts[]
  /** The parsed document with an id, where it is at hand. */
  document<K extends DocumentKind>(kind: K, id: string): RollDocument<K> | undefined
  /** The shop's own document. */
  shop(): RollDocument<'shop'> | undefined
  /** Profiles on one printer that name a memory slot. */
  withSlot(printer: string, slot: string): readonly Facts[]
  /**
   * Of each profile of the shop that has any, the checks made with instruments that were in doubt or found wrong. Asked by the shop's own document, for which
   * they are read; undefined until they are.
   */
  measured(): readonly Measured[] | undefined
  /** The file that a path in a document leads to; undefined while it is not read. */
  attached(from: string, path: string): Attached | undefined
  /** Whether every document of the shop has been read yet; until then nothing is called missing by id alone. */
  readonly complete: boolean
  /** Folders of the shop that could not be looked into: what is called missing may lie there. */
  readonly unlisted: readonly string[]
}
