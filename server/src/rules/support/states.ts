// The shared half of the rules on states and on the evidence under them.
import type { Span } from '../../base/span.ts'
import type { RollDocument } from '../../model/document.ts'
import type { State } from '../../model/generated/documents.ts'
import { type MadeUnder, madeUnder } from '../../model/state-evidence.ts'
import { statesOf } from '../../model/states.ts'
import type { Fix, RuleContext } from '../rule.ts'
import { mistakesOf } from './mistakes.ts'
import { doubtful } from './references.ts'

export interface NamedState {
  readonly name: string
  readonly state: State
  /** Its name, where it is given. */
  readonly at: Span
  /** The evidence under it. */
  readonly under: readonly MadeUnder[]
}

/** The states of a profile that can be read whole: what is mistyped in one is told there, and nothing is concluded from the rest. */
export function soundStates(context: RuleContext<'media'>): readonly NamedState[] {
  const { setup, document } = context
  const made = madeUnder(setup.own)
  return [...statesOf(setup)].flatMap(([name, state]): readonly NamedState[] => {
    const { key, node, file } = state.$
    if (!key || file !== document.file || doubtful(context, { value: name, place: state.$ }) || isMistypedIn(document, node))
      return []
    return [{ name, state, at: { start: key.start, end: key.end }, under: made.filter(({ under }) => under?.value === name) }]
  })
}

function isMistypedIn(document: RollDocument, { start, end }: Span): boolean {
  const { bad, issues } = mistakesOf(document)
  const inside = (at: Span): boolean => at.start >= start && at.end <= end
  return bad.some(({ place }) => inside(place.node)) || issues.some(({ node }) => inside(node))
}

/** A fix of several edits, each of which may be refused; all are made or none. */
export function allOf(
  title: string,
  edits: readonly { readonly ok: boolean; readonly edits?: Fix['edits']; readonly refused?: string }[],
): Fix {
  const refused = edits.find(({ ok }) => !ok)?.refused
  if (refused !== undefined) return { title, edits: [], refused }
  return { title, edits: edits.flatMap((edit) => edit.edits ?? []) }
}
