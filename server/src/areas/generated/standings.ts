// Generated from server/src/areas/*/standing.ts by `npm run gen`, in the order of areas/order.ts. Do not edit.
import type { AreaStanding } from '../standing.ts'
import { standing as feed } from '../feed/standing.ts'

export const STANDINGS: readonly AreaStanding[] = [
  feed,
]
