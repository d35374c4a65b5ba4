// Generated from server/src/areas/*/stale.ts by `npm run gen`, in the order of areas/order.ts. Do not edit.
import type { AreaStale } from '../stale.ts'
import { stale as feed } from '../feed/stale.ts'
import { stale as landing } from '../landing/stale.ts'
import { stale as heat } from '../heat/stale.ts'
import { stale as colour } from '../colour/stale.ts'
import { stale as machine } from '../machine/stale.ts'

export const STALE: readonly AreaStale[] = [
  feed,
  landing,
  heat,
  colour,
  machine,
]
