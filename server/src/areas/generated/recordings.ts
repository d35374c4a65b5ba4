// Generated from server/src/areas/*/recording.ts by `npm run gen`, in the order of areas/order.ts. Do not edit.
import type { Recording } from '../recording.ts'
import { recordings as feed } from '../feed/recording.ts'
import { recordings as landing } from '../landing/recording.ts'
import { recordings as heat } from '../heat/recording.ts'
import { recordings as machine } from '../machine/recording.ts'
import { recordings as observed } from '../observed/recording.ts'

export const RECORDINGS: readonly Recording[] = [
  ...feed,
  ...landing,
  ...heat,
  ...machine,
  ...observed,
]
