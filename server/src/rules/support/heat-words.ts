// How a web temperature was come by, in the words of findings.
import type { Zone } from '../../model/heat-path.ts'

/** `by 2 readings`, `reckoned with the printer's coupling`, `reckoned with a typical coupling`. */
export function basisText({ coupling }: Zone): string {
  const n = coupling.fit?.readings ?? 0
  if (coupling.origin === 'readings') return `by ${n} reading${n === 1 ? '' : 's'}`
  return coupling.origin === 'printer' ? 'reckoned with typical losses to the air' : 'reckoned with a typical coupling'
}
