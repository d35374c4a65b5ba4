// Settings that a printer has and a profile neither gives nor takes from a base.
import type { MediaDocument, PrinterDocument } from './generated/documents.ts'
import { settingAt } from './keyed.ts'

/** Their dotted paths, in the order in which a profile is written. */
export const openSettings = (printer: PrinterDocument, profile: MediaDocument): readonly string[] =>
  SETTINGS.filter(([path, has]) => (has(printer) || onPanel(printer, path)) && !settingAt(profile, path.split('.'))).map(
    ([path]) => path,
  )

/** The settings that belong to something a printer's document tells of; travel and strikes have usual values and are never missing. */
const SETTINGS: readonly (readonly [path: string, has: (printer: PrinterDocument) => boolean])[] = [
  ['slot', (p) => p.slots !== undefined],
  ['gap', (p) => p.carriage?.gaps !== undefined],
  ['feed.correction', (p) => p.feed !== undefined],
  ['heat.before', (p) => p.heaters?.before !== undefined],
  ['heat.platen', (p) => p.heaters?.platen !== undefined],
  ['heat.after', (p) => p.heaters?.after !== undefined],
  ['heat.fan', () => false],
  ['drying.pause', (p) => p.drying?.['pause-range'] !== undefined],
  ['drying.run-out', (p) => p.drying?.['run-out-range'] !== undefined],
  ['suction', (p) => p.suction !== undefined],
  ['web.tension', (p) => p.web?.['tension-range'] !== undefined || p.web?.['tension-levels'] !== undefined],
  ['web.slack-watch', (p) => p.web?.['slack-watch']?.value === true],
  ['web.speed', (p) => p.web?.['speed-range'] !== undefined],
]

/** What the panel says how to reach, the printer has. */
const onPanel = (printer: PrinterDocument, path: string): boolean =>
  printer.panel?.items.some((entry) => entry.key?.value === path) === true
