// What is read back: the settings that were read back last, or the correction. Of each only the unit stands there, and what was read then stays as it is.
import { settingAt } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import { displayUnit } from '../../quantities/display-unit.ts'
import { schemaAt } from '../../schema/schema.ts'
import type { Part, Recording } from '../recording.ts'

export const recordings: readonly Recording[] = [
  { kind: 'keyed', words: 'a read-back', entries: (setup) => [{ parts: partsOf(setup) }] },
]

function partsOf({ own, printer, shop }: Setup): Readonly<Record<string, Part>> {
  const last = own.keyed?.items.at(-1)
  const entry = schemaAt('media', ['keyed', 0])
  const properties = entry?.kind === 'map' ? [...entry.properties] : []
  const parts = properties.flatMap(([key, { readsBack }]): [string, Part][] => {
    const value = settingAt(last, [key])?.value
    if (readsBack === undefined || value === undefined) return []
    return [[key, typeof value === 'object' ? { unit: value.unit.id } : { word: true }]]
  })
  if (parts.length > 0) return Object.fromEntries(parts)
  const asLength = printer?.feed?.entry?.value === 'measured-length'
  return { correction: { unit: asLength ? displayUnit(1, 'length', shop.units).id : '%' } }
}
