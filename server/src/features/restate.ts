// What a rename makes of the states that name the renamed thing: their content is spelled otherwise, and with it the names that the tool made of it.
import { applyEdits, editsOf, type TextEdit } from '../base/text-edit.ts'
import { lastPart } from '../base/uri.ts'
import type { RollDocument } from '../model/document.ts'
import type { MediaDocument, PrinterDocument, State } from '../model/generated/documents.ts'
import { LEVEL_SETTINGS, withLevels } from '../model/level-names.ts'
import { mentionsIn } from '../model/names.ts'
import { ModelReader } from '../model/read.ts'
import { isMadeName, nameByContent } from '../model/states.ts'
import { schemaOf } from '../schema/schema.ts'
import { skim } from '../syntax/skim.ts'
import type { FeatureContext } from './context.ts'
import type { Use } from './rename.ts'

export type Restated =
  | { readonly ok: true; readonly uses: ReadonlyMap<Use, string> }
  | { readonly ok: false; readonly refused: string }

/** The states of a document that get another name by these edits, wherever they are named. What had another name than its content keeps it. */
export function restated({ shelf }: Pick<FeatureContext, 'shelf'>, document: RollDocument, edits: readonly TextEdit[]): Restated {
  const uses = new Map<Use, string>()
  if (document.kind !== 'media') return { ok: true, uses }
  const { file, text } = document
  const printerOf = (id: string): PrinterDocument | undefined => shelf.document('printer', id)?.content
  const content = conditionsIn(file, text)
  const before = statesIn(content && withLevels(content, undefined, printerOf))
  const made = [...before].filter(([name, state]) => isMadeName(name) && nameByContent(state) === name)
  if (made.length === 0) return { ok: true, uses }
  const after = statesIn(conditionsIn(file, applyEdits(text, editsOf(text, edits))))
  const names = new Set(before.keys())
  for (const [name] of made) {
    const state = after.get(name)
    const now = state && nameByContent(sameLevels(state, before.get(name)!))
    if (now === undefined || now === name) continue
    if (names.has(now))
      return {
        ok: false,
        refused: `In ${lastPart(file)} '${name}' would have to be called '${now}', which is there already.`,
      }
    names.add(now)
    for (const mention of mentionsIn('media', document.tree.root, { of: 'state', name })) uses.set({ document, mention }, now)
  }
  return { ok: true, uses }
}

const CONDITIONS: ReadonlySet<string> = new Set(['conditions'])

/** A profile as far as its states: of thousands nothing else is read. */
const conditionsIn = (file: string, text: string): MediaDocument | undefined =>
  new ModelReader(file).read<MediaDocument>(skim(text, CONDITIONS), schemaOf('media')).value

const statesIn = (content: MediaDocument | undefined): ReadonlyMap<string, State> => content?.conditions?.entries ?? new Map()

/** A level that is given by name stays the same one, whatever it, or its printer, is called now. */
function sameLevels(state: State, before: State): State {
  const levels = LEVEL_SETTINGS.filter((key) => typeof state[key]?.value === 'string').map((key) => [key, before[key]])
  return { ...state, ...Object.fromEntries(levels) }
}
