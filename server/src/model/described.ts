// What of a printer's document tells how far a setting of a profile can go: one table for the rules that miss a setting, those that miss its
// description, and the list of what could not be judged.
import type { PrinterDocument } from './generated/documents.ts'
import type { SettingValue } from './setting.ts'

export interface Described {
  /** The setting of a profile, its keys joined by dots. */
  readonly path: string
  /** What of a print it decides, in a word that stands behind "not judged". */
  readonly area: string
  /** The key of the printer's document that tells of it. */
  readonly by: string
  readonly has: (printer: PrinterDocument) => boolean
}

/** Where the carriage turns and its strikes have usual values, and the fan has nothing to be set to: no document tells of those. */
export const DESCRIBED: readonly Described[] = [
  { path: 'slot', area: 'slot', by: 'slots', has: (p) => p.slots !== undefined },
  { path: 'gap', area: 'gap', by: 'carriage.gaps', has: (p) => p.carriage?.gaps !== undefined },
  { path: 'feed.correction', area: 'feed', by: 'feed', has: (p) => p.feed !== undefined },
  { path: 'heat.before', area: 'heat', by: 'heaters', has: (p) => p.heaters !== undefined },
  { path: 'heat.platen', area: 'heat', by: 'heaters', has: (p) => p.heaters !== undefined },
  { path: 'heat.after', area: 'heat', by: 'heaters', has: (p) => p.heaters !== undefined },
  { path: 'drying.pause', area: 'drying', by: 'drying.pause-range', has: (p) => p.drying?.['pause-range'] !== undefined },
  { path: 'drying.run-out', area: 'drying', by: 'drying.run-out-range', has: (p) => p.drying?.['run-out-range'] !== undefined },
  { path: 'suction', area: 'suction', by: 'suction', has: (p) => p.suction !== undefined },
  {
    path: 'web.tension',
    area: 'tension',
    by: 'web.tension-range or web.tension-levels',
    has: (p) => p.web?.['tension-range'] !== undefined || p.web?.['tension-levels'] !== undefined,
  },
  { path: 'web.slack-watch', area: 'slack watch', by: 'web.slack-watch', has: (p) => p.web?.['slack-watch'] !== undefined },
  { path: 'web.speed', area: 'web speed', by: 'web.speed-range', has: (p) => p.web?.['speed-range'] !== undefined },
]

/** No machine has to be able to wait no time, or not to watch. */
export const isHarmless = (value: SettingValue): boolean =>
  value === 'never' || (typeof value === 'object' && value.dimension === 'time' && value.si === 0)
