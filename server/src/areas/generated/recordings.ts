// Generated from server/src/areas/*/recording.ts by `npm run gen`, in the order of areas/order.ts. Do not edit.
import type { Recording } from '../recording.ts'
import { recording as feed } from '../feed/recording.ts'

export const RECORDINGS: readonly Recording[] = [
  feed,
]
