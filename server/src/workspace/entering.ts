// The questions of a sheet that was written on by hand, for a client that asks them one by one: all answers so far in, what comes next out.
import type { RollDocument } from '../model/document.ts'
import { enterSheet, type SheetQuestion } from '../report/fleet/sheet-enter.ts'
import type { Workspace } from './workspace.ts'

export type EnterStep =
  | { readonly question: SheetQuestion }
  /** All is answered: the profile before and after, and what was added, a line each. */
  | { readonly before: string; readonly text: string; readonly told: readonly string[] }

/** Of a profile that is loaded with all it needs; undefined for any other document, and where its text is broken. */
export function entering(workspace: Workspace, file: string, answers: readonly string[]): EnterStep | undefined {
  const document = workspace.document(file)
  if (document?.kind !== 'media' || document.tree.problems.length > 0) return undefined
  const asking = enterSheet(document as RollDocument<'media'>, (draft) => workspace.setup(draft))
  let step = asking.next()
  for (const answer of answers) if (!step.done) step = asking.next(answer)
  return step.done ? { before: document.text, ...step.value } : { question: step.value }
}
