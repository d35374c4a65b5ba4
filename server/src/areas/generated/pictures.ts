// Generated from server/src/areas/*/picture.ts by `npm run gen`, in the order of areas/order.ts. Do not edit.
import type { AreaPicture } from '../picture.ts'
import { picture as feed } from '../feed/picture.ts'
import { picture as landing } from '../landing/picture.ts'
import { picture as drying } from '../drying/picture.ts'
import { picture as suction } from '../suction/picture.ts'

export const PICTURES: readonly AreaPicture[] = [
  feed,
  landing,
  drying,
  suction,
]
