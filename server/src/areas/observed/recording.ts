// A fault that was seen: by which of the fault names is left to be chosen.
import type { Recording } from '../recording.ts'

export const recordings: readonly Recording[] = [
  { kind: 'observed', words: 'an observation', entries: () => [{ parts: { fault: { word: true } } }] },
]
