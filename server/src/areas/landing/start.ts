// The gap of a started profile: the smallest that clears the stock, its edges at their highest and a margin; where that cannot be told, the widest.

import { exactly } from '../../calc/range.ts'
import type { Setup } from '../../model/setup.ts'
import { formatQuantity, formatSi } from '../../quantities/format.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import { type Chosen, chosen, computed, taken, toMeasure } from '../../report/start/chosen.ts'
import type { Draft } from '../../report/start/draft.ts'
import type { Neighbour } from '../../report/start/nearest.ts'
import type { Starter } from '../../report/start/starter.ts'
import { bestSuction, standing } from '../suction/start.ts'
import { LEAST_FLIGHT } from './facts.ts'
import { gapsOf, gapsWithRoom, leavesRoom } from './head-room.ts'

/** Undefined where the printer gives no gaps. */
function chooseGap(draft: Draft, near: Neighbour | undefined, problems: string[]): Chosen | undefined {
  const setup = draft.setup()
  const { thickness } = setup.material
  if (gapsOf(setup).length === 0 || thickness === undefined) return undefined
  const enough = gapsWithRoom(setup, undefined)
  const name = setup.profile.printer!.value
  // What the same stock runs at is the least: it may have been raised because an edge touched.
  const runs = near?.sameStock ? near.setup.profile.gap?.value.si : undefined
  const tried = enough.filter((gap) => runs === undefined || gap.si >= runs - 1e-9)
  const list = tried.length > 0 ? tried : enough.slice(-1)
  const judged = list.map((gap) => ({ gap, best: bestSuction(draft, { gap: formatQuantity(gap) }, near) }))
  const widest = judged.at(-1)!
  const size = (m: number): string => formatSi(m, 'length', { system: setup.shop.units, digits: 2 })
  const [stock, margin] = [`${size(thickness)} of stock`, `${size(LEAST_FLIGHT)} to spare (common practice)`]
  if (!widest.best) return withoutRise(setup, list, runs, near, `${stock} and ${margin}`)
  const clear = judged.find(({ gap, best }) => best && leavesRoom(gap.si, thickness, best.row.curl.rise))
  if (clear) {
    const also = runs === undefined ? '' : `, and no less than ${near!.id} has for the same stock`
    const edges = standing(setup, clear.best!.row)
    const reason = `the smallest gap of ${name} above ${stock}, edges that stand ${edges}, and ${margin} above that${also}.`
    return chosen('gap', formatQuantity(clear.gap), computed(reason))
  }
  const { row } = widest.best
  if (!leavesRoom(widest.gap.si, thickness, exactly(row.curl.rise.typical)))
    problems.push(
      `Edges may stand so high that no gap of ${name} leaves ${size(LEAST_FLIGHT)} to spare: look at them before the carriage moves.`,
    )
  const reason = `the widest gap of ${name}: edges may stand ${standing(setup, row)}, and no gap clears that above ${stock} with ${margin}. Look at them before the carriage moves; ${LOWER}.`
  return chosen('gap', formatQuantity(widest.gap), toMeasure(reason))
}

const LOWER = 'lower the gap once the web lies flat, and before the alignment is printed'

/** Where curl cannot be reckoned: as the same stock runs, or else as wide as the machine goes. */
function withoutRise(
  { profile }: Setup,
  gaps: readonly Quantity[],
  runs: number | undefined,
  near: Neighbour | undefined,
  clears: string,
): Chosen {
  const same = runs === undefined ? undefined : gaps.find((gap) => Math.abs(gap.si - runs) <= 1e-6)
  if (same)
    return chosen(
      'gap',
      formatQuantity(same),
      taken(
        near!.id,
        `the same stock runs at it; how high its edges stand cannot be reckoned. Look at them before the carriage moves.`,
      ),
    )
  return chosen(
    'gap',
    formatQuantity(gaps.at(-1)!),
    toMeasure(
      `the widest gap of ${profile.printer!.value}, and more than ${clears} ask for, since how high the edges stand cannot be reckoned and heads that touch are worse than mist. Look at them before the carriage moves; ${LOWER}.`,
    ),
  )
}

export const start: Starter = { choose: (draft, near, problems) => [chooseGap(draft, near, problems)] }
