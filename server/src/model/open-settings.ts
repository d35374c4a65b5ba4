// Settings that a printer has and a profile neither gives nor takes from a base.
import { DESCRIBED } from './described.ts'
import type { MediaDocument, PrinterDocument } from './generated/documents.ts'
import { settingAt } from './setting.ts'

/** Their dotted paths, in the order in which a profile is written. */
export const openSettings = (printer: PrinterDocument, profile: MediaDocument): readonly string[] =>
  SETTINGS.filter(({ path, has }) => (has(printer) || onPanel(printer, path)) && !settingAt(profile, path.split('.'))).map(
    ({ path }) => path,
  )

/** What is open only where the printer has the very part: one heater, and more than one way to watch for slack. */
const HAS: Readonly<Record<string, (printer: PrinterDocument) => boolean>> = {
  'heat.before': (p) => p.heaters?.before !== undefined,
  'heat.platen': (p) => p.heaters?.platen !== undefined,
  'heat.after': (p) => p.heaters?.after !== undefined,
  'web.slack-watch': (p) => (p.web?.['slack-watch']?.items.length ?? 0) > 1,
}

/** The fan is told of by the panel alone; where the carriage turns and its strikes have usual values and are never missing. */
const SETTINGS: readonly { readonly path: string; readonly has: (printer: PrinterDocument) => boolean }[] = DESCRIBED.flatMap(
  ({ path, has }) => {
    const setting = { path, has: HAS[path] ?? has }
    return path === 'heat.after' ? [setting, { path: 'heat.fan', has: () => false }] : [setting]
  },
)

/** What the panel says how to reach, the printer has. */
const onPanel = (printer: PrinterDocument, path: string): boolean =>
  printer.panel?.items.some((entry) => entry.key?.value === path) === true
