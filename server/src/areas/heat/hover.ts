// Heat in numbers: the web's temperature along its path, its margin to what the stock bears, its growth, and how hot a touch is.

import { HEAT_CAUTION } from '../../calc/heat.ts'
import type { NumbersSection } from '../../features/numbers.ts'
import type { Setup } from '../../model/setup.ts'
import { nodeAt } from '../../syntax/tree.ts'
import { INK_CAUTION, vapourLines } from '../vapour/words.ts'
import { heatSentence } from './evidence.ts'
import { heatOf } from './facts.ts'
import { HEATER, type Zone } from './path.ts'
import { ZONES, type ZoneName } from './readings.ts'
import {
  growthSentence,
  hottestSentence,
  limitSentence,
  pathTable,
  powerSentence,
  readingsSentence,
  touchSentence,
  undescribedSentence,
  webSentence,
} from './words.ts'

export const hover: NumbersSection = {
  paths: ['heat'],
  render(setup, path) {
    const { zones } = heatOf(setup)
    if (zones.length === 0) return undefined
    const zone = zones.find((z) => z.zone === zoneAt(setup, path))
    if (zone && !zone.heater)
      return setup.printer?.heaters
        ? { verdict: `The printer has no ${HEATER[zone.zone]}: this setting does nothing.` }
        : { told: [undescribedSentence(setup, zone)], caution: touchSentence(setup, zone) }
    const vapour = path[1] === 'fan' ? vapourLines(setup) : undefined
    const verdict = hottestSentence(setup)
    return {
      verdict,
      told: [
        pathTable(setup, zone?.zone),
        zone && path[1] === 'readings' ? readingsSentence(setup, zone) : undefined,
        zone && heatSentence(setup, zone),
        zone && zoneSentences(setup, zone, verdict === undefined),
        ...(vapour?.slice(0, -1) ?? []),
      ],
      ...(vapour && { briefCaution: INK_CAUTION }),
      caution: vapour?.at(-1) ?? (zone && touchSentence(setup, zone)) ?? `Caution: ${HEAT_CAUTION}`,
    }
  },
}

/** What the numbers of one zone rest on and lead to. */
const zoneSentences = (setup: Setup, zone: Zone, withLimit: boolean): string =>
  joined(
    ' ',
    webSentence(setup, zone),
    withLimit ? limitSentence(setup) : undefined,
    zone.zone === 'platen' ? growthSentence(setup) : undefined,
    powerSentence(setup, zone),
  )

const joined = (by: string, ...lines: readonly (string | undefined)[]): string =>
  lines.filter((line) => line !== undefined).join(by)

/** The zone a path of `heat` speaks of: by its key, or the zone of a reading. */
function zoneAt({ own }: Setup, path: readonly (string | number)[]): ZoneName | undefined {
  if (path[1] !== 'readings') return ZONES.find((zone) => zone === path[1])
  const list = own.heat?.readings
  const item = nodeAt(list?.$.node, path.slice(2, 3))
  return list?.items.find((reading) => reading.$.node === item)?.zone?.value
}
