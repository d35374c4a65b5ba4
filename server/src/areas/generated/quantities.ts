// Generated from server/src/areas/*/quantities.ts by `npm run gen`, in the order of areas/order.ts. Do not edit.
import type { AreaQuantities } from '../quantity.ts'
import { quantities as feed } from '../feed/quantities.ts'
import { quantities as advance } from '../advance/quantities.ts'
import { quantities as landing } from '../landing/quantities.ts'
import { quantities as heat } from '../heat/quantities.ts'
import { quantities as drying } from '../drying/quantities.ts'
import { quantities as vapour } from '../vapour/quantities.ts'
import { quantities as suction } from '../suction/quantities.ts'
import { quantities as web } from '../web/quantities.ts'
import { quantities as room } from '../room/quantities.ts'
import { quantities as colour } from '../colour/quantities.ts'

export const QUANTITIES: readonly AreaQuantities[] = [
  feed,
  advance,
  landing,
  heat,
  drying,
  vapour,
  suction,
  web,
  room,
  colour,
]
