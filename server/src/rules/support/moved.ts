// Keys that evidence had before its state was written down: what they said, a state says now. The move keeps what was written, adds what the profile names,
// and nothing that nobody wrote.
import type { TextEdit } from '../../base/text-edit.ts'
import type { RollDocument } from '../../model/document.ts'
import type { Edit } from '../../model/edit.ts'
import type { F } from '../../model/field.ts'
import type { SettingValue } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import { addState, joined } from '../../model/state-add.ts'
import { parseQuantity } from '../../quantities/parse.ts'
import { isId } from '../../schema/structure.ts'
import type { MapNode, Pair } from '../../syntax/tree.ts'
import type { Fix } from '../rule.ts'
import { fixOf } from './fixes.ts'
import { lineAt, nextLine } from './lines.ts'
import { listed } from './words.ts'

/** By the section they stood in. */
const MOVED: Readonly<Record<string, readonly string[]>> = { alignment: ['gap', 'mode'], 'feed.fine': ['mode'] }

/** Whether a key of a section of a profile is said by its state now. */
export const isMoved = (path: readonly (string | number)[], key: string): boolean => MOVED[path.join('.')]?.includes(key) ?? false

/** Writes them into a state and names it on the evidence, all of a section at once. */
export function moveToState(document: RollDocument, setup: Setup, path: readonly (string | number)[], map: MapNode): Fix {
  const pairs = map.pairs.filter(({ key }) => key && isMoved(path, key.text))
  const title = `Move ${listed(pairs.map(({ key }) => key!.text))} into a state under conditions`
  return fixOf(title, editFor(document, setup, map, pairs))
}

const refused = (reason: string): Edit => ({ ok: false, refused: reason })

function editFor(document: RollDocument, setup: Setup, map: MapNode, pairs: readonly Pair[]): Edit {
  if (map.shared) return refused('What stands here is shared through an anchor (&) and an alias (*). Write it out first.')
  if (map.pair('under')) return refused('It names a state already: see that it says the same, and take this out by hand.')
  const fields = fieldsOf(document, setup, pairs)
  if (typeof fields === 'string') return refused(fields)
  const state = addState(document, setup, fields, 'said')
  if (!state.ok) return state
  const [first, ...others] = pairs
  const edits: TextEdit[] = [{ start: first!.start, end: first!.value.end, newText: `under: ${state.name}` }]
  for (const pair of others) {
    const removal = removalOf(document.text, map, pair)
    if (!removal) return refused('Something else stands on the same line; move it by hand.')
    edits.push(removal)
  }
  return { ok: true, edits: joined([...edits, ...state.edits]) }
}

/** What the state is to say; a reason where that is not known. */
function fieldsOf(
  { file }: RollDocument,
  { profile, printer }: Setup,
  pairs: readonly Pair[],
): ReadonlyMap<string, F<SettingValue>> | string {
  const fields = new Map<string, F<SettingValue>>()
  for (const key of ['stock', 'printer'] as const) if (profile[key]) fields.set(key, profile[key])
  for (const { key, value } of pairs) {
    const name = key!.text
    const place = { file, node: value, key: key! }
    if (value.kind !== 'scalar' || value.style === 'block') return `What stands at ${name} is not one value; write it out first.`
    if (name === 'gap') {
      const gap = parseQuantity(value.text, 'length')
      if (!gap.ok) return 'The gap cannot be read; put it right first.'
      fields.set(name, { value: gap.value, place })
    } else if (isId(value.text)) fields.set(name, { value: value.text, place })
    else return 'The mode is no name; put it right first.'
  }
  // A printer of one mode leaves no doubt in which it printed.
  const modes = printer?.modes?.entries
  if (!fields.has('mode') && profile.mode && modes?.size === 1 && modes.has(profile.mode.value)) fields.set('mode', profile.mode)
  return fields.has('mode') ? fields : 'A state needs its mode, and this does not say in which it was printed.'
}

/** Takes a later pair out: in braces with the comma before it, else with its line, of which a comment stays. */
function removalOf(text: string, map: MapNode, { start, value: { end } }: Pair): TextEdit | undefined {
  if (map.flow) {
    const before = map.pairs.findLast((pair) => pair.start < start)
    const from = before?.value.end ?? start
    return text.slice(from, start).includes('#') ? undefined : { start: from, end, newText: '' }
  }
  const line = lineAt(text, start)
  if (text.slice(line.start, start).trim() !== '') return undefined
  const behind = text.slice(end, line.end)
  if (behind.trim() === '') return { start: line.start, end: nextLine(text, end), newText: '' }
  const blanks = /^\s+(?=#)/.exec(behind)?.[0]
  return blanks === undefined ? undefined : { start, end: end + blanks.length, newText: '' }
}
