// Generated from server/src/areas/*/advice.ts by `npm run gen`, in the order of areas/order.ts. Do not edit.
import type { AreaAdvice } from '../advice.ts'
import { advice as feed } from '../feed/advice.ts'
import { advice as landing } from '../landing/advice.ts'
import { advice as heat } from '../heat/advice.ts'
import { advice as suction } from '../suction/advice.ts'
import { advice as web } from '../web/advice.ts'

export const ADVICE: readonly AreaAdvice[] = [
  feed,
  landing,
  heat,
  suction,
  web,
]
