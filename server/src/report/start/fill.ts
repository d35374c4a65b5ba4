// Writes chosen settings into a profile that is there: into its sections, and new ones behind the last line. Every other byte stays.
import type { TextEdit } from '../../base/text-edit.ts'
import type { RollDocument } from '../../model/document.ts'
import { addKey, type Edit, lineBreak } from '../../model/edit.ts'
import type { MapNode } from '../../syntax/tree.ts'
import type { Chosen } from './chosen.ts'
import { bySection, profileText, settingLines } from './write.ts'

/** One edit a section. Refused as a whole where one section cannot take its settings: half of them would look like all. */
export function fillEdits(document: RollDocument, settings: readonly Chosen[]): Edit {
  const { root } = document.tree
  if (root?.kind !== 'map' || root.flow)
    return { ok: false, refused: 'The profile is written in braces; write it a setting a line first.' }
  const edits: TextEdit[] = []
  const fresh = settings.filter(({ path }) => root.pair(path[0]!) === undefined)
  for (const [section, group] of bySection(settings.filter((one) => !fresh.includes(one)))) {
    const map = root.pair(section)!.value
    if (map.kind !== 'map') return { ok: false, refused: `Something else than keys stands at ${section}; write it by hand.` }
    const edit = intoSection(document.text, map, group)
    if (!edit.ok) return edit
    edits.push(...edit.edits)
  }
  if (fresh.length > 0) {
    const edit = addKey(document.text, root, MARK, '', LAST)
    if (!edit.ok) return edit
    const text = profileText(fresh).trimEnd().replaceAll('\n', lineBreak(document.text))
    edits.push(
      ...edit.edits.map((one) => ({
        ...one,
        newText: one.newText.replace(`${MARK}: `, () => `${lineBreak(document.text)}${text}`),
      })),
    )
  }
  return { ok: true, edits: edits.sort((a, b) => a.start - b.start) }
}

/** A key that stands for the lines to come. */
const MARK = 'x-mark'
/** No key has this name, so what is added stands behind the last one. */
const LAST = ''

function intoSection(text: string, map: MapNode, group: readonly Chosen[]): Edit {
  const edit = addKey(text, map, MARK, '', LAST)
  if (!edit.ok) return edit
  const [first] = edit.edits
  const lead = first!.newText.slice(0, first!.newText.indexOf(MARK))
  const newText = map.flow
    ? group.map(({ path, text: value }) => `, ${path.at(-1)}: ${value}`).join('')
    : group
        .map((one) =>
          settingLines(one, lead.replace(/^\r?\n/, ''))
            .map((line) => `${lineBreak(text)}${line}`)
            .join(''),
        )
        .join('')
  return { ok: true, edits: [{ ...first!, newText: map.pairs.length === 0 ? newText.replace(/^, /, ' ') : newText }] }
}
