// The evidence of a profile that tells its state, found by the schema alone: a kind of evidence that is added there with `under` is here too.
import { runtimeOf } from '../base/recorder.ts'
import { EVIDENCE, type EvidenceKind } from './evidence.ts'
import type { F, List, Place, Section } from './field.ts'
import type { MediaDocument } from './generated/documents.ts'

/** One entry of evidence: a check, a reading, an alignment. */
export interface MadeUnder {
  readonly kind: EvidenceKind
  /** Where it stands in the document: ['feed', 'checks', 2], ['alignment']. */
  readonly path: readonly (string | number)[]
  readonly place: Place
  readonly date: F<string> | undefined
  /** The name of its state. */
  readonly under: F<string> | undefined
}

const KINDS = EVIDENCE.filter(({ entry }) => entry.properties.has('under'))

/** Of plain profiles, which never change: many rules ask. */
const known = new WeakMap<MediaDocument, readonly MadeUnder[]>()

/** Everything of a profile that may tell its state, in the order of the format. */
export function madeUnder(own: MediaDocument): readonly MadeUnder[] {
  if (runtimeOf(own)) return madeNow(own)
  const made = known.get(own) ?? madeNow(own)
  known.set(own, made)
  return made
}

function madeNow(own: MediaDocument): readonly MadeUnder[] {
  return KINDS.flatMap((kind): readonly MadeUnder[] => {
    const held = kind.path.reduce<unknown>((at, key) => (at as Readonly<Record<string, unknown>> | undefined)?.[key], own)
    if (held === undefined) return []
    const entries = kind.form === 'list' ? ((held as List<Entry>).items ?? []) : [held as Entry]
    return entries.map((entry, i) => {
      const { $, date, under } = entry
      return { kind, path: kind.form === 'list' ? [...kind.path, i] : kind.path, place: $, date, under }
    })
  })
}

interface Entry extends Section {
  readonly date?: F<string>
  readonly under?: F<string>
}

/** What a person calls an entry of a kind, and several of them. */
export const kindWords = ({ name }: EvidenceKind, count = 1): string => {
  const [one, several] = WORDS[name] ?? [name, name]
  return count === 1 ? one : several
}

const WORDS: Readonly<Record<string, readonly [one: string, several: string]>> = {
  'feed.checks': ['feed check', 'feed checks'],
  'feed.fine': ['fine pattern', 'fine patterns'],
  alignment: ['alignment', 'alignments'],
  'heat.readings': ['heat reading', 'heat readings'],
  'colour.measured': ['colour measurement', 'colour measurements'],
}
