// Heat in words: how a web temperature was come by, and what the stock bears.
import { degrees, webText } from '../../model/heat-words.ts'
import type { Shop } from '../../model/shop.ts'
import type { HeatLimit } from './facts.ts'
import type { Zone } from './path.ts'

/** `by 2 readings`, `reckoned with the printer's coupling`, `reckoned with a typical coupling`. */
export function basisText({ coupling }: Zone): string {
  const n = coupling.fit?.readings ?? 0
  if (coupling.origin === 'readings') return `by ${n} reading${n === 1 ? '' : 's'}`
  return coupling.origin === 'printer' ? 'reckoned with typical losses to the air' : 'reckoned with a typical coupling'
}

/** What the stock bears, in words that stand behind "and": `the stock bears 50 °C`. */
export function limitText({ key, origin, range }: HeatLimit, units: Shop['units']): string {
  const bears = key === 'softens-at' ? 'softens at' : 'bears'
  if (origin === 'given') return `the stock ${bears} ${degrees(range.typical, units)}`
  return `stock of this family typically ${bears} ${webText(range, units)}`
}
