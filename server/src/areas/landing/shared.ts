// What the alignment rules say alike: how far out and back moved since the pattern was printed, and edits of its picks.
import type { RollDocument } from '../../model/document.ts'
import { replaceValue } from '../../model/edit.ts'
import { stateOf } from '../../model/evidence-state.ts'
import type { F, Place } from '../../model/field.ts'
import type { State } from '../../model/generated/documents.ts'
import type { Setup } from '../../model/setup.ts'
import { shown } from '../../model/shown.ts'
import type { Fix, Related } from '../../rules/rule.ts'
import { type ChangedPart, isBeyond, landingOf } from './facts.ts'
import { offsetText } from './words.ts'

/** Why a changed part makes the alignment void, as the end of a sentence; undefined where it does not, or where it cannot be told. */
export function shiftedBy(setup: Setup, part: ChangedPart | undefined): string | undefined {
  const facts = landingOf(setup)
  if (!part || facts.twoWay !== true || !part.shift.ok || !isBeyond(part.shift, facts.tolerance)) return undefined
  const moved = offsetText(setup, Math.abs(part.shift.value.typical))
  return `by straight flight, out and back now land ${moved} apart, and the tolerance is ${shown(setup, facts.tolerance, 'length')}.`
}

/** The state that the alignment was printed in, where it is one to speak of. */
export function printedIn(setup: Setup): State | undefined {
  const state = stateOf(setup, setup.own.alignment?.under)
  return state.ok ? state.value : undefined
}

export const relatedTo = (place: Place | undefined, message: string): { related: readonly Related[] } | undefined =>
  place && { related: [{ file: place.file, span: place.node, message }] }

/** A setting as it was when the alignment was printed, and as it is today. */
export const thenAndNow = (then: Place | undefined, now: Place | undefined, name: string): { related: readonly Related[] } => ({
  related: [
    ...(relatedTo(then, `The ${name} then.`)?.related ?? []),
    ...(relatedTo(now, `The ${name} of today.`)?.related ?? []),
  ],
})

/** Takes `less` off every pick of a list. */
export function shiftPicks(document: RollDocument, picks: Iterable<F<number>>, less: number, title: string): Fix {
  const edits = []
  for (const pick of picks) {
    const text = String(Number((pick.value - less).toFixed(6)))
    const edit =
      pick.place.file === document.file
        ? replaceValue(pick.place, text)
        : { ok: false as const, refused: 'The picks stand in another file.' }
    if (!edit.ok) return { title, edits: [], refused: edit.refused }
    edits.push(...edit.edits)
  }
  return { title, edits }
}

/** "+2" or "-1": picks with their sign. */
export const signed = (pick: number): string => (pick > 0 ? `+${pick}` : String(pick))
