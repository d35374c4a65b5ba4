// Evidence whose settings are not known, and the state of its own day for it, from the documents of that day. Never preferred, and entry by entry: that the
// machine ran as the documents said is for a person to say.
import type { Span } from '../base/span.ts'
import { editsOf } from '../base/text-edit.ts'
import type { Setup } from '../model/setup.ts'
import { putUnder } from '../model/state-add.ts'
import { madeUnder } from '../model/state-evidence.ts'
import { OTHER_RAN, settingsNow, statesOf } from '../model/states.ts'
import type { Action, FeatureContext } from './context.ts'

/** An entry of evidence by its place in the document, and the day whose settings it asks for: YYYY-MM-DD. */
export interface OfDay {
  readonly path: readonly (string | number)[]
  readonly day: string
}

/** The evidence in a span that tells a day and no state, or only that another one ran. What was left out asks for none. */
export function withoutState({ document, setup, today }: FeatureContext, span: Span): readonly OfDay[] {
  if (!setup) return []
  return madeUnder(setup.own).flatMap(({ path, place: { file, node }, date, under }) => {
    if (file !== document.file || node.end < span.start || node.start > span.end) return []
    if (!date || date.value > today || node.kind !== 'map' || node.pair('skip')) return []
    const open = under ? under.value === OTHER_RAN && !statesOf(setup).has(OTHER_RAN) : !node.pair('under')
    return open ? [{ path, day: date.value }] : []
  })
}

/** Puts an entry under the settings of its day; without `then`, what is offered before anybody looked. */
export function stateOfDay({ document, setup }: FeatureContext, { path, day }: OfDay, then?: Setup): Action {
  const { file, text } = document
  const put = then && setup && putUnder(document, setup, path, settingsNow(then), 'profile')
  return {
    title: `Add the state of ${day}, as the documents of that day say`,
    kind: 'refactor',
    file,
    edits: put?.ok ? editsOf(text, put.edits) : [],
    ...(put && !put.ok && { refused: put.refused }),
  }
}
