// Generated from server/src/areas/*/hover.ts by `npm run gen`, in the order of areas/order.ts. Do not edit.
import type { NumbersSection } from '../../features/numbers.ts'
import { hover as feed } from '../feed/hover.ts'
import { hover as advance } from '../advance/hover.ts'
import { hover as landing } from '../landing/hover.ts'
import { hover as heat } from '../heat/hover.ts'
import { hover as drying } from '../drying/hover.ts'
import { hover as suction } from '../suction/hover.ts'
import { hover as web } from '../web/hover.ts'
import { hover as room } from '../room/hover.ts'
import { hover as colour } from '../colour/hover.ts'
import { hover as observed } from '../observed/hover.ts'

export const HOVERS: readonly NumbersSection[] = [
  feed,
  advance,
  landing,
  heat,
  drying,
  suction,
  web,
  room,
  colour,
  observed,
]
