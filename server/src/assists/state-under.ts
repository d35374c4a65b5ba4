// The state that new evidence is put under, ready to be named: one that is there, or one that is written with it.

import type { TextEdit } from '../base/text-edit.ts'
import type { FeatureContext } from '../features/context.ts'
import { otherState, type ProposedState, proposedStates } from '../model/proposed-states.ts'
import { addState } from '../model/state-add.ts'
import { OTHER_RAN, statesOf } from '../model/states.ts'

export interface NamedProposal extends ProposedState {
  readonly name: string
  /** What has to be written for it; none where it is there already. */
  readonly edits: readonly TextEdit[]
}

/** The states that may have run, each with its name; none where the profile does not say what they are of, or its text has mistakes. */
export const statesToName = (context: FeatureContext): readonly NamedProposal[] =>
  context.setup ? proposedStates(context.setup).flatMap((proposed) => named(context, proposed)) : []

/**
 * What may be named where new evidence tells its state: the one that is proposed, and that another setting ran. Empty where it has to be asked for; undefined
 * where no state can be named.
 */
export function namesToChoose({ setup }: FeatureContext, states: readonly NamedProposal[]): readonly string[] | undefined {
  const [only, other] = states
  if (!only) return undefined
  // Machine and file differ: which of the two ran is asked where it is named.
  if (other) return []
  return setup && statesOf(setup).has(OTHER_RAN) ? [only.name] : [only.name, OTHER_RAN]
}

/** A new state to be changed where it stands; none where there is one like it, which other evidence is under. */
export const stateToChange = (context: FeatureContext): NamedProposal | undefined =>
  context.setup && named(context, otherState(context.setup)).find(({ edits }) => edits.length > 0)

function named({ document, setup }: FeatureContext, proposed: ProposedState): readonly NamedProposal[] {
  const added = setup && addState(document, setup, proposed.fields, proposed.from)
  if (!added?.ok || (added.edits.length > 0 && document.tree.problems.length > 0)) return []
  return [{ ...proposed, name: added.name, edits: added.edits }]
}
