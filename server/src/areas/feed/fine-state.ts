// Why the fine picks say nothing of today: they trim the advance of one mode by a patch of a few micrometres, on one machine as it was set.
import { differencesIn, differenceText, openedBy, otherPairing, stateOf } from '../../model/evidence-state.ts'
import type { Setup } from '../../model/setup.ts'
import { STATE_SETTINGS } from '../../model/states.ts'

/** All settings of a state but the height of the heads, which moves no web. */
const RESTS_ON: ReadonlySet<string> = new Set(
  STATE_SETTINGS.map(({ key }) => key).filter((key) => !['stock', 'printer', 'gap'].includes(key)),
)

/** Behind "they were"; undefined where there are no picks or nothing speaks against them. Age and the correction they trim are judged elsewhere. */
export function fineDoubt(setup: Setup): string | undefined {
  const { fine } = setup.own.feed ?? {}
  if (!fine) return undefined
  const state = stateOf(setup, fine.under)
  if (!state.ok) return state.problem.reason
  const elsewhere = otherPairing(setup, state.value) ?? openedBy(setup, 'fine', fine.date)
  if (elsewhere) return elsewhere
  const [first] = differencesIn(setup, state.value, RESTS_ON)
  return first && differenceText(first)
}
