// An alignment that proves nothing of today's landing: too old, or of other settings. What is not known of an open merge is not old.
import type { AreaStale } from '../stale.ts'
import { alignmentEvidence } from './evidence.ts'

export const stale: AreaStale = (setup) => {
  const { word, by } = alignmentEvidence(setup)
  return word === 'doubtful' && by !== 'merge' && by !== 'date' ? [setup.own.alignment?.date] : []
}
