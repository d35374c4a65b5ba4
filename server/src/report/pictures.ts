// All there is to see of a profile: the pictures of its areas, and a table of its settings with where each comes from.
import { PICTURES } from '../areas/generated/pictures.ts'
import { recorded } from '../base/recorder.ts'
import type { Span } from '../base/span.ts'
import { settingCells } from '../model/evidence.ts'
import { lackingOf, lackingText } from '../model/lacking.ts'
import { openSettings } from '../model/open-settings.ts'
import type { Setup } from '../model/setup.ts'
import { STYLES } from '../picture/looks.ts'
import { type PicturePage, pageBody, placesOf } from '../picture/page.ts'
import type { Picture, PictureRow } from '../picture/picture.ts'

/** A picture stands while nothing that it shows has changed. */
const KEPT = PICTURES.map((picture) => recorded('picture', picture))

/** The pictures of a setup. `notRead`: what they rest on and could not be read, a sentence each. */
export function picturesOf(
  setup: Setup,
  notRead: readonly string[] = lackingOf(setup).map((lacking) => lackingText(lacking, setup)),
): PicturePage {
  const { own, profile, today } = setup
  const on = [profile.stock?.value, profile.printer && `on ${profile.printer.value}`, profile.mode && `in ${profile.mode.value}`]
  const given = on.filter((word) => word !== undefined).join(' ')
  return {
    title: `${own.profile?.value ?? 'This profile'}${given === '' ? '' : `: ${given}`}, as of ${today}`,
    first:
      notRead.length === 0
        ? []
        : [
            ...notRead.map((sentence) => `Settle first: ${sentence}`),
            'What follows is reckoned without that, and may be otherwise with it: key in nothing before.',
          ],
    pictures: [...KEPT.flatMap((picture) => picture(setup) ?? []), settingsOf(setup)],
  }
}

export interface DrawnPage {
  readonly title: string
  readonly body: string
  readonly style: string
  /** By address: what stands there in a document, with its key. */
  readonly places: readonly { readonly id: string; readonly at: { readonly file: string; readonly span: Span } }[]
}

/** The pictures of a setup as the body of a panel in an editor. */
export function drawnPage(setup: Setup): DrawnPage {
  const page = picturesOf(setup)
  const places = placesOf(page).map(({ id, at: { file, node, key } }) => ({
    id,
    at: { file, span: { start: Math.min(key?.start ?? node.start, node.start), end: node.end } },
  }))
  return { title: page.title, body: pageBody(page), style: STYLES.editor, places }
}

/** Every setting with the document that gives it, and those that the printer has and nobody gives. */
const settingsOf = recorded('settings and their sources', (setup: Setup): Picture => {
  const { profile, own, bases, printer } = setup
  const cells = settingCells(profile)
  const rows = cells
    .filter(({ key, part }) => part === 'value' && !key.startsWith('conditions.'))
    .map((cell, i): PictureRow => {
      const spread = cells.find(({ key, part }) => part === 'spread' && key === cell.key)
      const base = bases.find(({ file }) => file === cell.place.file)
      const value = [cell.text, spread && `±${spread.text}`, cell.unit].filter((part) => part !== undefined).join(' ')
      return {
        id: String(i + 1),
        cells: [cell.key, value, base ? `base ${base.content?.profile?.value ?? base.baseName}` : 'this profile'],
        at: cell.place,
      }
    })
  const open = printer ? openSettings(printer, profile) : []
  return {
    id: 'settings',
    title: 'Settings and where they come from',
    said: [],
    chart: undefined,
    table: {
      header: ['setting', 'value', 'from'],
      rows: [
        ...rows,
        ...open.map(
          (key, i): PictureRow => ({ id: String(rows.length + i + 1), cells: [key, '—', 'left open: the printer has it'] }),
        ),
      ],
    },
    notes: [],
    at: own.$,
  }
})
