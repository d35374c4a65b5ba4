// Readings of the web's temperature that nothing is proven by any more. An old one holds as long as the heater is set as it was.
import type { AreaStale } from '../stale.ts'
import { heatOf } from './facts.ts'

export const stale: AreaStale = (setup) =>
  heatOf(setup).zones.flatMap(({ readings }) =>
    readings.filter(({ doubt }) => doubt !== undefined).map(({ reading }) => reading.date),
  )
