// Writes states and names them on evidence, by the smallest edits. A state that is there already is used again, and none is ever changed.
import type { TextEdit } from '../base/text-edit.ts'
import { type MapSchema, schemaAt, schemaOf } from '../schema/schema.ts'
import { type MapNode, nodeAt, resolveAlias } from '../syntax/tree.ts'
import type { RollDocument } from './document.ts'
import { addKey, type Edit, plainOrQuoted, replaceValue } from './edit.ts'
import { keyBefore, setOff } from './evidence-add.ts'
import type { F } from './field.ts'
import { LEVEL_SETTINGS } from './level-names.ts'
import { type SettingValue, writtenText } from './setting.ts'
import type { Setup } from './setup.ts'
import { contentOf, equalState, nameOf, STATE_SETTINGS, statesOf } from './states.ts'

/** Who says so, as the format has it. */
export type StateSource = 'profile' | 'read-back' | 'said'

export type AddedState =
  | {
      readonly ok: true
      readonly name: string /** None where the state is there already. */
      readonly edits: readonly TextEdit[]
    }
  | { readonly ok: false; readonly refused: string }

/** A state as it stands behind its name. */
export function stateText(fields: ReadonlyMap<string, F<SettingValue>>, from: StateSource): string {
  const pairs = STATE_SETTINGS.flatMap(({ key }) => {
    const field = fields.get(key)
    // A level by its number: a name may be given to another one later, and what ran then stays what it was.
    return field ? [`${key}: ${plainOrQuoted(field.called ? String(field.value) : writtenText(field))}`] : []
  })
  return `{ ${[`from: ${from}`, ...pairs].join(', ')} }`
}

/** The name of the state that says just this, and what has to be written for it. */
export function addState(
  document: RollDocument,
  setup: Setup,
  fields: ReadonlyMap<string, F<SettingValue>>,
  from: StateSource,
): AddedState {
  for (const key of ['stock', 'printer', 'mode'])
    if (!fields.has(key)) return refused(`This profile names no ${key}, so what its settings mean cannot be told.`)
  for (const key of LEVEL_SETTINGS)
    if (typeof fields.get(key)?.value === 'string') return refused(`The printer has no level '${fields.get(key)!.value}'.`)
  const values = new Map([...fields].map(([key, { value }]) => [key, value] as const))
  const there = equalState(setup, values, from)
  if (there !== undefined) return { ok: true, name: there, edits: [] }
  const name = nameOf(contentOf(values, from))
  if (statesOf(setup).has(name))
    return refused(`There is a state '${name}' already, and what it says is not what its name tells: settle that first.`)
  const edit = stateEdit(document, name, stateText(fields, from))
  return edit.ok ? { ok: true, name, edits: edit.edits } : edit
}

const refused = (reason: string): { readonly ok: false; readonly refused: string } => ({ ok: false, refused: reason })

function stateEdit({ text, tree }: RollDocument, name: string, state: string): Edit {
  const { root } = tree
  if (root?.kind !== 'map') return refused('The profile is not a list of settings yet.')
  const pair = root.pair(SECTION)
  const value = resolveAlias(pair?.value)
  if (pair?.value.kind === 'alias')
    return refused(`What stands under ${SECTION} is shared through an alias (*). Write it out first.`)
  if (!pair) {
    const below = root.flow ? `{ ${name}: ${state} }` : `\n  ${name}: ${state}`
    return setOff(text, addKey(text, root, SECTION, below, keyBefore(root, schemaOf('media'), SECTION)))
  }
  if (value?.kind === 'map') return addKey(text, value, name, state, nameBefore(value, name))
  if (value?.kind === 'scalar' && value.style === 'empty')
    return { ok: true, edits: [{ start: value.start, end: value.end, newText: ` { ${name}: ${state} }` }] }
  return refused(`Something else than states stands under ${SECTION}.`)
}

const SECTION = 'conditions'

/** The name that a new one stands behind: before the first that is greater, so that two branches seldom write at one place. Nothing there is sorted. */
function nameBefore({ pairs }: MapNode, name: string): string | undefined {
  const greater = pairs.findIndex(({ key }) => key !== undefined && key.text > name)
  return greater < 0 ? pairs.at(-1)?.key?.text : pairs[greater - 1]?.key?.text
}

/** Names the state of an entry of evidence, which stands at a path. */
export function nameState(document: RollDocument, path: readonly (string | number)[], name: string): Edit {
  const node = nodeAt(document.tree.root, path)
  if (node?.kind === 'alias') return refused('What stands here is shared through an alias (*). Write it out first.')
  if (node?.kind !== 'map') return refused('What stands here is not a group of keys.')
  const under = node.pair('under')
  if (under) return replaceValue({ file: document.file, node: under.value }, name)
  const schema = schemaAt('media', path) as MapSchema
  return addKey(document.text, node, 'under', name, keyBefore(node, schema, 'under') ?? node.pairs.at(-1)?.key?.text)
}

/** Both in one: the state where it is missing, and its name on an entry. */
export function putUnder(
  document: RollDocument,
  setup: Setup,
  path: readonly (string | number)[],
  fields: ReadonlyMap<string, F<SettingValue>>,
  from: StateSource,
): Edit {
  const state = addState(document, setup, fields, from)
  if (!state.ok) return state
  const named = nameState(document, path, state.name)
  return named.ok ? { ok: true, edits: joined([...named.edits, ...state.edits]) } : named
}

/** Edits in the order of the text, those at one place as one: what is written first stands first. */
export function joined(edits: readonly TextEdit[]): readonly TextEdit[] {
  const out: TextEdit[] = []
  for (const edit of [...edits].sort((a, b) => a.start - b.start)) {
    const last = out.at(-1)
    if (last && last.end === edit.start && last.start === last.end && edit.start === edit.end)
      out[out.length - 1] = { ...last, newText: last.newText + edit.newText }
    else out.push(edit)
  }
  return out
}
