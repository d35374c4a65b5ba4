// The suction of a started profile: the level that holds the web without stretching or dimpling it, by the window of levels.

import type { Setup } from '../../model/setup.ts'
import { formatQuantity, formatSi } from '../../quantities/format.ts'
import { type Chosen, chosen, computed, taken, toMeasure } from '../../report/start/chosen.ts'
import type { Draft } from '../../report/start/draft.ts'
import { type Neighbour, ONE_KIND } from '../../report/start/nearest.ts'
import type { Starter } from '../../report/start/starter.ts'
import { LEAST_FLIGHT } from '../landing/facts.ts'
import { type SuctionFacts, suctionOf } from './facts.ts'
import { stretchText } from './words.ts'

/** Pressures tried on a printer without levels, Pa (common practice: a film is held by some hundred pascals). */
const PRESSURES: readonly number[] = [50, 100, 150, 200, 250, 300, 350, 400, 500]

interface Candidate {
  readonly text: string
  readonly pressure: number
}

type Row = NonNullable<SuctionFacts['current']>

/** A suction and what it does to this web. */
export interface Judged extends Candidate {
  readonly row: Row
  /** Whether the edges stay clear of the heads even at the far end of what they may stand. */
  readonly clear: boolean
}

/**
 * The suction that does the least harm. A standing edge is the worst, since the heads strike it: where no suction holds the web without harm, the weakest
 * that lays the edges flat, or else the one at which they stand lowest. Of those that hold, the neighbour's, or else the weakest with which nothing
 * can touch the heads, or the one with the lowest edges; by a typical curl, which may be anything, one from the middle. Undefined where none can be
 * reckoned.
 */
export function bestSuction(
  draft: Draft,
  tried: Readonly<Record<string, string>>,
  near: Neighbour | undefined,
): Judged | undefined {
  const own = neighbourText(near)
  const judged = candidates(draft.setup(tried), near).flatMap((candidate): readonly Judged[] => {
    const { current: row, clearance } = suctionOf(draft.setup({ ...tried, suction: candidate.text }))
    return row
      ? [{ ...candidate, row, clear: clearance !== undefined && row.curl.rise.high + LEAST_FLIGHT <= clearance + 1e-9 }]
      : []
  })
  const holding = judged.filter(({ row }) => row.verdict === 'holds')
  if (holding.length > 0)
    return (
      holding.find(({ text }) => text === own) ??
      holding.find(({ clear }) => clear) ??
      (curlIsKnown(draft.setup()) ? flattest(holding) : holding[Math.floor(holding.length / 2)])
    )
  return judged.find(({ row }) => !row.faults.includes('curl')) ?? flattest(judged)
}

/** Where the edges stand lowest; of equals the weakest. */
const flattest = (judged: readonly Judged[]): Judged | undefined =>
  judged.length === 0 ? undefined : judged.reduce((a, b) => (b.row.curl.rise.typical < a.row.curl.rise.typical ? b : a))

function chooseSuction(draft: Draft, near: Neighbour | undefined, problems: string[]): Chosen | undefined {
  const setup = draft.setup()
  if (!setup.printer?.suction) return undefined
  const best = bestSuction(draft, {}, near)
  if (!best) return unreckoned(setup, near)
  const { row } = best
  const printer = setup.profile.printer!.value
  const stretch = stretchText(row, setup.shop.units)
  const edges = standing(setup, row)
  if (row.faults.includes('curl')) {
    problems.push(
      `No suction of ${printer} lays this stock flat: its edges still stand ${edges}, and the heads strike what stands up.`,
    )
    const lowest = `by typical figures no suction of ${printer} lays this stock flat; with this one its edges stand lowest, ${edges}`
    const turn = 'Let the carriage move only when they lie flat: turn the curl out of the web, or cut off its first wraps.'
    return chosen('suction', best.text, toMeasure(`${lowest}. ${turn}`))
  }
  if (row.verdict !== 'holds') {
    const dimples = row.faults.includes('dimple') ? ' and draws dimples' : ''
    const harm = `the weakest that lays the edges down (${edges}), but it typically stretches the web by ${stretch}${dimples}`
    return chosen('suction', best.text, toMeasure(`${harm}. A weaker one would leave edges standing, which is worse.`))
  }
  const also = best.text === neighbourText(near) ? `, as ${near!.id} has it` : ''
  const does = `typically stretches the web by ${stretch} and leaves edges standing ${edges}`
  return chosen('suction', best.text, computed(`inside the window of this stock${also}: ${does}.`))
}

const curlIsKnown = ({ material }: Setup): boolean => material.property('curl-radius')?.origin === 'given'

/** How high the edges stand, with the far end of it, and whether the curl behind it was measured. */
export function standing(setup: Setup, { curl }: Row): string {
  const { typical, high } = curl.rise
  const size = (m: number): string => formatSi(m, 'length', { system: setup.shop.units, digits: 2 })
  const known = curlIsKnown(setup) ? '' : ' (by a typical curl; nobody measured this one)'
  return `typically ${size(typical)} and up to ${size(high)} high${known}`
}

/** Cloth lets the air through, or a number is missing. */
function unreckoned(setup: Setup, near: Neighbour | undefined): Chosen | undefined {
  const { window, airy } = suctionOf(setup)
  const reason = window.ok ? 'it cannot be reckoned' : window.problem.reason
  const own = near && near.apart <= ONE_KIND ? neighbourText(near) : undefined
  if (own !== undefined) return chosen('suction', own, taken(near!.id, `${reason}.`))
  const list = candidates(setup, undefined).filter(({ pressure }) => pressure > 0)
  // Too little is the worse mistake, but strong suction draws cloth out of shape.
  const first = airy ? list[0] : list[Math.floor(list.length / 2)]
  if (!first) return undefined
  const start = airy
    ? 'The weakest to begin with, since more draws cloth out of shape'
    : 'One from the middle to begin with, since a lifted edge is struck by the heads'
  return chosen(
    'suction',
    first.text,
    toMeasure(`${reason}. ${start}; raise it, before the carriage moves, until the web lies flat.`),
  )
}

function candidates(setup: Setup, near: Neighbour | undefined): readonly Candidate[] {
  const { levels } = suctionOf(setup)
  if (levels.length > 0) return levels.map(({ name, pressure }) => ({ text: name!, pressure }))
  if (!setup.printer?.suction || setup.printer.suction.levels) return []
  const own = near?.setup.profile.suction?.value
  const known = typeof own === 'object' && own.si > 0 ? [{ text: formatQuantity(own), pressure: own.si }] : []
  const { units } = setup.shop
  const others = PRESSURES.map((pressure) => ({ text: formatSi(pressure, 'pressure', { system: units, digits: 2 }), pressure }))
  return [...known, ...others].sort((a, b) => a.pressure - b.pressure)
}

function neighbourText(near: Neighbour | undefined): string | undefined {
  const own = near?.setup.profile.suction
  return own && (own.called ?? (typeof own.value === 'object' ? formatQuantity(own.value) : String(own.value)))
}

export const start: Starter = { after: ['landing'], choose: (draft, near, problems) => [chooseSuction(draft, near, problems)] }
