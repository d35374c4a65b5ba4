// What an alignment proves today, in one of the five words: by the state it was printed in, what was done to the machine since, how far the landing has
// moved, and its age. Never `off`: what would have to be keyed in instead, only a new print shows.
import { escapeMarkdown } from '../../base/markdown.ts'
import { recorded } from '../../base/recorder.ts'
import { openedBy } from '../../model/evidence-state.ts'
import type { EvidenceWord } from '../../model/evidence-word.ts'
import type { Setup } from '../../model/setup.ts'
import { plainNumber, shown } from '../../model/shown.ts'
import { unsettledText } from '../../model/unsettled.ts'
import { isBeyond, landingOf, WAYS } from './facts.ts'

export interface AlignmentEvidence {
  readonly word: Exclude<EvidenceWord, 'off'>
  /** What the word rests on. `part`: one change alone is beyond the tolerance; `moved`: all together may be, or nobody can tell. */
  readonly by:
    | 'nothing'
    | 'merge'
    | 'date'
    | 'state'
    | 'event'
    | 'pairing'
    | 'setting'
    | 'mode'
    | 'part'
    | 'moved'
    | 'age'
    | 'conditions'
  /** Behind "the alignment". */
  readonly reason: string
  /** What to print, as a sentence; undefined where nothing has to be. */
  readonly print: string | undefined
}

/** The word of a setup's alignment, reckoned once. Never throws. */
export const alignmentEvidence: (setup: Setup) => AlignmentEvidence = recorded('alignment evidence', judge)

/** Share that air carried along adds to straight flight at most, and the least by which a reckoned shift is unsure. */
const UNSURE = 0.3

function judge(setup: Setup): AlignmentEvidence {
  const { alignment } = setup.own
  const { since, twoWay, recheckDays, tolerance } = landingOf(setup)
  const mode = setup.profile.mode?.value
  const print = `Print the alignment pattern${mode === undefined ? '' : ` in ${mode}`}.`
  if (!alignment || !since) return { word: 'unknown', by: 'nothing', reason: 'has not been printed', print }
  const has = (way: (typeof WAYS)[number]): boolean => (alignment[way]?.entries.size ?? 0) > 0
  if (!WAYS.some(has)) return { word: 'unknown', by: 'nothing', reason: 'has no picks', print }
  if (twoWay !== false && !has('two-way'))
    return { word: 'unknown', by: 'nothing', reason: 'has picks for one way only', print: `${print.slice(0, -1)}, both ways.` }
  const doubtful = (by: AlignmentEvidence['by'], reason: string): AlignmentEvidence => ({ word: 'doubtful', by, reason, print })
  if (setup.unsettled.length > 0)
    return {
      word: 'doubtful',
      by: 'merge',
      reason: `may be another: ${unsettledText(setup)}`,
      print: 'Settle the merge first.',
    }
  if (since.age === undefined) return doubtful('date', 'has no date')
  if (since.age < 0) return doubtful('date', 'is dated after today')
  const opened = openedBy(setup, 'alignment', alignment.date)
  if (opened) return doubtful('event', `was ${opened}`)
  if (since.doubt) return doubtful(since.doubt.kind, `was ${since.doubt.reason}`)
  const moved = twoWay !== false && movedTooFar(setup)
  if (moved) return moved.byOne ? doubtful('part', moved.reason) : doubtful('moved', moved.reason)
  if (since.age > recheckDays)
    return doubtful('age', `is ${since.age} days old, and the shop aligns again after ${plainNumber(recheckDays, 4)}`)
  const differs = since.gap ?? since.thickness ?? since.speed
  if (!differs) return { word: 'proven', by: 'conditions', reason: 'was made under these settings', print: undefined }
  const reason =
    twoWay !== false && since.total.ok
      ? `holds: by straight flight what has changed moves out and back by ${shown(setup, Math.abs(since.total.value.typical), 'length')}, and the tolerance is ${shown(setup, tolerance, 'length')}`
      : 'holds one way: what has changed moves all inks alike'
  return { word: 'carried', by: 'conditions', reason, print: undefined }
}

/** Whether the landing may have moved by more than the shop allows, and whether one change alone surely does. */
function movedTooFar(setup: Setup): { readonly byOne: boolean; readonly reason: string } | undefined {
  const { since, tolerance } = landingOf(setup)
  const { gap, thickness, speed, total } = since!
  const parts = [gap, thickness, speed].filter((part) => part !== undefined)
  if (parts.length === 0) return undefined
  if (!total.ok) return { byOne: false, reason: `cannot be brought to today's settings: ${total.problem.reason}` }
  const { low, typical, high } = total.value
  const most = Math.max(Math.abs(low), Math.abs(high), (1 + UNSURE) * Math.abs(typical))
  if (most <= tolerance) return undefined
  const moved = shown(setup, most, 'length', 2)
  const reason = `may be out by ${moved} with what has changed since, and the tolerance is ${shown(setup, tolerance, 'length')}`
  return { byOne: parts.some((part) => isBeyond(part.shift, tolerance)), reason }
}

const WORDS = { unknown: 'Unknown', doubtful: 'Doubtful', carried: 'Carried', proven: 'Proven' } as const

/** What to do, then the word with its reason, for a hover. */
export function alignmentSentence(setup: Setup): string {
  const { word, reason, print } = alignmentEvidence(setup)
  const told = `${WORDS[word]}: the alignment ${reason}.`
  return escapeMarkdown(print === undefined ? told : `${print} ${told}`)
}
