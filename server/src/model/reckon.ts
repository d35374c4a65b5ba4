// Every computed quantity of a setup, area by area.

import { reckonClimate } from './climate-reckoned.ts'
import { reckonColour } from './colour-reckoned.ts'
import { reckonDrying } from './drying-reckoned.ts'
import { reckonFeedLines } from './feed-reckoned.ts'
import { reckonHeat } from './heat-reckoned.ts'
import { reckonLanding } from './landing-reckoned.ts'
import type { Reckoned, Reckoner } from './reckoned.ts'
import type { Setup } from './setup.ts'
import { reckonSuction } from './suction-reckoned.ts'
import { reckonThroughput } from './throughput-reckoned.ts'
import { reckonVapour } from './vapour-reckoned.ts'
import { reckonWeb } from './web-reckoned.ts'

/** One line an area, in the order a print runs: feed, advance, landing, heat, drying, vapour, suction, web, room, colour. */
const RECKONERS: readonly Reckoner[] = [
  reckonFeedLines,
  reckonThroughput,
  reckonLanding,
  reckonHeat,
  reckonDrying,
  reckonVapour,
  reckonSuction,
  reckonWeb,
  reckonClimate,
  reckonColour,
]

export function reckon(setup: Setup): readonly Reckoned[] {
  return RECKONERS.flatMap((reckoner) => reckoner(setup))
}
