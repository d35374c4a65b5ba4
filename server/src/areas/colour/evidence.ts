// Whether a colour measurement speaks of today: colours rest on the ink, the mode, the heat they dried at and the lot of the stock.
import type { MeasuredFile } from '../../model/attached.ts'
import { differencesIn, differenceText, openedBy, otherPairing, stateOf } from '../../model/evidence-state.ts'
import type { Setup } from '../../model/setup.ts'

const RESTS_ON: ReadonlySet<string> = new Set(['mode', 'heat.before', 'heat.platen', 'heat.after'])

export interface ColourDoubt {
  readonly kind: 'state' | 'pairing' | 'changed'
  /** Behind "it was". */
  readonly reason: string
}

/** Why a measurement proves nothing of today's colours; undefined where nothing speaks against it. */
export function colourDoubt(setup: Setup, { index }: Pick<MeasuredFile, 'index'>): ColourDoubt | undefined {
  const entry = setup.profile.colour?.measured?.items[index]
  if (!entry) return undefined
  const opened = openedBy(setup, 'colour', entry.date)
  if (opened !== undefined) return { kind: 'changed', reason: opened }
  const state = stateOf(setup, entry.under)
  if (!state.ok) return { kind: 'state', reason: state.problem.reason }
  const elsewhere = otherPairing(setup, state.value)
  if (elsewhere !== undefined) return { kind: 'pairing', reason: elsewhere }
  const [first] = differencesIn(setup, state.value, RESTS_ON)
  const reason = first ? differenceText(first) : otherLot(setup, entry.lot?.value)
  return reason === undefined ? undefined : { kind: 'changed', reason }
}

/** The lot that is open now, where the stock's document says so and it is not the one that was measured. */
function otherLot({ stock, today }: Setup, lot: string | undefined): string | undefined {
  if (lot === undefined) return undefined
  const open = (stock?.lots?.items ?? []).filter(
    ({ opened, finished }) => opened && opened.value <= today && !(finished && finished.value <= today),
  )
  if (open.length === 0 || open.some((one) => one.lot?.value === lot)) return undefined
  return `made on lot ${lot}, and lot ${open.at(-1)!.lot?.value} is open`
}
