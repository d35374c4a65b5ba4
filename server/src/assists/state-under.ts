// The state that new evidence is put under, ready to be named: one that is there, or one that is written with it.

import type { TextEdit } from '../base/text-edit.ts'
import type { FeatureContext } from '../features/context.ts'
import { otherState, type ProposedState, proposedStates } from '../model/proposed-states.ts'
import { addState } from '../model/state-add.ts'

export interface NamedProposal extends ProposedState {
  readonly name: string
  /** What has to be written for it; none where it is there already. */
  readonly edits: readonly TextEdit[]
}

/** The states that may have run, each with its name; none where the profile does not say what they are of, or its text has mistakes. */
export const statesToName = (context: FeatureContext): readonly NamedProposal[] =>
  context.setup ? proposedStates(context.setup).flatMap((proposed) => named(context, proposed)) : []

/** A new state to be changed where it stands; none where there is one like it, which other evidence is under. */
export const stateToChange = (context: FeatureContext): NamedProposal | undefined =>
  context.setup && named(context, otherState(context.setup)).find(({ edits }) => edits.length > 0)

function named({ document, setup }: FeatureContext, proposed: ProposedState): readonly NamedProposal[] {
  const added = setup && addState(document, setup, proposed.fields, proposed.from)
  if (!added?.ok || (added.edits.length > 0 && document.tree.problems.length > 0)) return []
  return [{ ...proposed, name: added.name, edits: added.edits }]
}
