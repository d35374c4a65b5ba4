// The suction of a started profile: the level that holds the web without stretching or dimpling it, by the window of levels.

import type { Setup } from '../../model/setup.ts'
import { type SuctionTrouble, suctionOf } from '../../model/suction.ts'
import { riseText, smallText, stretchText } from '../../model/suction-words.ts'
import { formatQuantity, formatSi } from '../../quantities/format.ts'
import { type Chosen, chosen, computed, taken, toMeasure } from './chosen.ts'
import type { Draft } from './draft.ts'
import type { Neighbour } from './nearest.ts'

/** Pressures tried on a printer without levels, Pa (common practice: a film is held by some hundred pascals). */
const PRESSURES: readonly number[] = [50, 100, 150, 200, 250, 300, 350, 400, 500]

/** From harmless to dangerous. */
const TROUBLES: readonly (SuctionTrouble | undefined)[] = [
  undefined,
  'may-not-hold',
  'stretch',
  'no-window',
  'dimples',
  'lifts',
  'too-weak',
  'strikes',
]

interface Candidate {
  readonly text: string
  readonly pressure: number
}

/** The least harmful suction; of equals the neighbour's, then the weakest. Undefined where none can be reckoned. */
export function bestSuction(
  draft: Draft,
  tried: Readonly<Record<string, string>>,
  near: Neighbour | undefined,
): Candidate | undefined {
  const setup = draft.setup(tried)
  const own = neighbourText(near)
  let best: (Candidate & { readonly rank: number }) | undefined
  for (const candidate of candidates(setup, near)) {
    const facts = suctionOf(draft.setup({ ...tried, suction: candidate.text }))
    if (!facts.current) continue
    const rank =
      3 * TROUBLES.indexOf(facts.trouble) + (facts.current.verdict === 'holds' ? 0 : 1) - (candidate.text === own ? 0.5 : 0)
    if (!best || rank < best.rank) best = { ...candidate, rank }
  }
  return best
}

export function chooseSuction(draft: Draft, near: Neighbour | undefined): Chosen | undefined {
  const setup = draft.setup()
  if (!setup.printer?.suction) return undefined
  const best = bestSuction(draft, {}, near)
  if (!best) return unreckoned(setup, near)
  const facts = suctionOf(draft.setup({ suction: best.text }))
  const row = facts.current!
  const { units } = setup.shop
  const curl =
    setup.material.property('curl-radius')?.origin === 'given'
      ? riseText(row, units)
      : `${smallText(row.curl.rise.typical, units)} (by a typical curl)`
  const numbers = `typically stretches the web by ${stretchText(row, units)} and leaves edges standing ${curl} high`
  if (row.verdict !== 'holds')
    return chosen(
      'suction',
      best.text,
      toMeasure(
        `by typical figures nothing here holds this stock without harm; this is the least harmful, and ${numbers}. Watch the edges.`,
      ),
    )
  const also = best.text === neighbourText(near) ? `, as ${near!.id} has it` : ''
  return chosen('suction', best.text, computed(`inside the window of this stock${also}: ${numbers}.`))
}

/** Cloth lets the air through, or a number is missing. */
function unreckoned(setup: Setup, near: Neighbour | undefined): Chosen | undefined {
  const { window } = suctionOf(setup)
  const reason = window.ok ? 'it cannot be reckoned' : window.problem.reason
  const own = near && near.apart <= 2 ? neighbourText(near) : undefined
  if (own !== undefined) return chosen('suction', own, taken(near!.id, `${reason}.`))
  const list = candidates(setup, undefined)
  const lowest = list.find(({ pressure }) => pressure > 0) ?? list[0]
  return (
    lowest && chosen('suction', lowest.text, toMeasure(`${reason}. The weakest to begin with; raise it until the web lies flat.`))
  )
}

function candidates(setup: Setup, near: Neighbour | undefined): readonly Candidate[] {
  const { levels } = suctionOf(setup)
  if (levels.length > 0) return levels.map(({ level, pressure }) => ({ text: String(level), pressure }))
  if (!setup.printer?.suction || setup.printer.suction.levels) return []
  const own = near?.setup.profile.suction?.value
  const known = typeof own === 'object' && own.si > 0 ? [{ text: formatQuantity(own), pressure: own.si }] : []
  const { units } = setup.shop
  const others = PRESSURES.map((pressure) => ({ text: formatSi(pressure, 'pressure', { system: units, digits: 2 }), pressure }))
  return [...known, ...others].sort((a, b) => a.pressure - b.pressure)
}

function neighbourText(near: Neighbour | undefined): string | undefined {
  const own = near?.setup.profile.suction?.value
  return own === undefined ? undefined : typeof own === 'number' ? String(own) : formatQuantity(own)
}
