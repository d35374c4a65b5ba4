// Generated from server/src/areas/*/head.ts by `npm run gen`, in the order of areas/order.ts. Do not edit.
import type { SectionHead } from '../head.ts'
import { head as feed } from '../feed/head.ts'

export const HEADS: readonly SectionHead[] = [
  feed,
]
