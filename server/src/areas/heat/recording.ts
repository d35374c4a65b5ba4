// What a new reading of the web's temperature is made at: each zone that the printer has and the profile sets, with what it is set to.
import { writtenText } from '../../model/setting.ts'
import { displayUnit } from '../../quantities/display-unit.ts'
import type { Recording } from '../recording.ts'
import { ZONES, type ZoneName } from './readings.ts'

const WHERE: Readonly<Record<ZoneName, string>> = {
  before: 'before the platen',
  platen: 'at the platen',
  after: 'after the platen',
}

export const recordings: readonly Recording[] = [
  {
    kind: 'heat.readings',
    words: 'a heat reading',
    entries: ({ profile, shop, own }) =>
      ZONES.flatMap((zone) => {
        const set = profile.heat?.[zone]
        if (!set) return []
        const last = own.heat?.readings?.items.findLast((reading) => reading.zone?.value === zone)?.web
        const unit = (last?.value.unit ?? displayUnit(set.value.si, 'temperature', shop.units)).id
        const text = writtenText(set)
        return [
          { which: `${WHERE[zone]}, set to ${text}`, parts: { zone: { known: zone }, set: { known: text }, web: { unit } } },
        ]
      }),
  },
]
