// Record a feed check: a new line below the newest one, filled in with today's date and whatever stays the same, the measurement left to type.
import { startOfLine } from '../base/lines.ts'
import { addItem, addKey } from '../model/edit.ts'
import type { Fix } from '../rules/rule.ts'
import type { Assist } from './assist.ts'
import { newCheck } from './new-check.ts'
import { type NamedProposal, namesToChoose, statesToName } from './state-under.ts'
import { withState } from './with-state.ts'

const TITLE = 'Record a feed check of today'
const SHARED =
  'What stands here is shared through an alias (*): a check added here would be added elsewhere too. Write it out first.'

export const addCheck: Assist = {
  id: 'add-check',
  summary: 'Record a feed check of today, below the newest one.',
  kind: 'record',
  records: 'feed.checks',
  at(context, span) {
    const { document } = context
    const root = document.tree.root
    if (document.kind !== 'media' || root?.kind !== 'map') return []
    const pair = root.pair('feed')
    if (pair?.key && (span.end < pair.key.start || span.start > Math.max(pair.value.end, pair.key.end)) && span.start !== 0)
      return []
    const states = statesToName(context)
    const asked = fixOf(document.text, root, newCheck(context, namesToChoose(context, states)))
    if (states.length < 2) return [under(asked, states[0], TITLE)]
    const told = states.map((state) =>
      under(fixOf(document.text, root, newCheck(context, [state.name])), state, `${TITLE}, ${state.words}`),
    )
    return [asked, ...told]
  },
}

function fixOf(text: string, root: Parameters<typeof addKey>[1], check: string): Fix | undefined {
  const pair = root.pair('feed')
  if (!pair) {
    const edit = addKey(text, root, 'feed', `\n  checks:\n    - ${check}`, root.pairs.at(-1)?.key?.text)
    return edit.ok ? { title: TITLE, edits: edit.edits, snippet: true } : refused(edit.refused)
  }
  const feed = pair.value
  if (feed.kind === 'alias') return refused(SHARED)
  if (feed.kind !== 'map') return refused('What stands under feed: is not a group of keys.')
  const list = feed.pair('checks')?.value
  if (list?.kind === 'alias') return refused(SHARED)
  if (list?.kind === 'seq' && list.items.length > 0) {
    const edit = addItem(text, list, check)
    return edit.ok ? { title: TITLE, edits: edit.edits, snippet: true } : refused(edit.refused)
  }
  if (feed.pair('checks')) return refused('The list of checks is empty or half-typed: begin it with "- ".')
  const last = feed.pairs.find((p) => p.key?.text === 'correction') ?? feed.pairs.at(-1)
  const column = columnOf(text, feed.pairs[0]?.start ?? 0)
  const value = feed.flow ? `[${check}]` : `\n${' '.repeat(column + 2)}- ${check}`
  const edit = addKey(text, feed, 'checks', value, last?.key?.text)
  return edit.ok ? { title: TITLE, edits: edit.edits, snippet: true } : refused(edit.refused)
}

/** With the state written that it is under. */
function under(fix: Fix | undefined, state: NamedProposal | undefined, title: string): Fix | undefined {
  if (!fix || fix.refused !== undefined || !state) return fix
  return { ...withState(fix, state), title }
}

const refused = (reason: string): Fix => ({ title: TITLE, edits: [], refused: reason })

const columnOf = (text: string, offset: number): number => offset - startOfLine(text, offset)
