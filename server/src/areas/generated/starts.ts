// Generated from server/src/areas/*/start.ts by `npm run gen`, in the order of areas/order.ts. Do not edit.
import type { Starter } from '../../report/start/starter.ts'
import { start as feed } from '../feed/start.ts'
import { start as landing } from '../landing/start.ts'
import { start as heat } from '../heat/start.ts'
import { start as drying } from '../drying/start.ts'
import { start as suction } from '../suction/start.ts'
import { start as web } from '../web/start.ts'

export const STARTS: readonly (readonly [string, Starter])[] = [
  ['feed', feed],
  ['landing', landing],
  ['heat', heat],
  ['drying', drying],
  ['suction', suction],
  ['web', web],
]
