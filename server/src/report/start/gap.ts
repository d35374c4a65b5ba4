// The gap of a started profile: the smallest that clears the stock, its curled edges and a margin.
import { LEAST_FLIGHT } from '../../model/landing.ts'
import type { Setup } from '../../model/setup.ts'
import { suctionOf } from '../../model/suction.ts'
import { formatQuantity, formatSi } from '../../quantities/format.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import { type Chosen, chosen, computed, typical } from './chosen.ts'
import type { Draft } from './draft.ts'
import type { Neighbour } from './nearest.ts'
import { bestSuction } from './suction.ts'

/** Undefined where the printer gives no gaps. */
export function chooseGap(draft: Draft, near: Neighbour | undefined, problems: string[]): Chosen | undefined {
  const setup = draft.setup()
  const { printer, material, profile } = setup
  const gaps = [...(printer?.carriage?.gaps?.items ?? [])].map((gap) => gap.value).sort((a, b) => a.si - b.si)
  const thickness = material.thickness
  if (gaps.length === 0 || thickness === undefined) return undefined
  const enough = gaps.filter((gap) => gap.si >= thickness + LEAST_FLIGHT - 1e-9)
  const size = (m: number): string => formatSi(m, 'length', { system: setup.shop.units, digits: 2 })
  const clears = `${size(thickness)} of stock`
  const margin = `${size(LEAST_FLIGHT)} to spare (common practice)`
  for (const gap of enough) {
    const rise = riseAt(draft, formatQuantity(gap), near)
    if (rise === undefined) return withoutRise(setup, enough, near, `${clears} and ${margin}`)
    if (gap.si < thickness + rise + LEAST_FLIGHT - 1e-9) continue
    const known = material.property('curl-radius')?.origin === 'given' ? '' : ', by a typical curl'
    return chosen(
      'gap',
      formatQuantity(gap),
      computed(
        `the smallest gap of ${profile.printer!.value} above ${clears}, edges that may stand ${size(rise)} high${known}, and ${margin}.`,
      ),
    )
  }
  const widest = enough.at(-1)!
  problems.push(
    `Edges may stand so high that no gap of ${profile.printer!.value} leaves ${size(LEAST_FLIGHT)} to spare: look at them before the carriage moves.`,
  )
  return chosen(
    'gap',
    formatQuantity(widest),
    computed(`the widest gap of ${profile.printer!.value}; the edges of this stock may stand higher than is safe. Watch them.`),
  )
}

/** m that edges typically stand with the best suction at this gap. */
function riseAt(draft: Draft, gap: string, near: Neighbour | undefined): number | undefined {
  const best = bestSuction(draft, { gap }, near)
  const row = best && suctionOf(draft.setup({ gap, suction: best.text })).current
  return row?.curl.rise.typical
}

/** Where curl cannot be reckoned, no less room than the nearest stock has. */
function withoutRise(
  { profile, material }: Setup,
  gaps: readonly Quantity[],
  near: Neighbour | undefined,
  clears: string,
): Chosen {
  const other = near && near.apart <= 2 ? near.setup : undefined
  const room = (other?.profile.gap?.value.si ?? 0) - (other?.material.thickness ?? 0)
  const wanted = gaps.find((gap) => gap.si >= material.thickness! + room - 1e-9) ?? gaps.at(-1)!
  const smallest = gaps[0]!
  const printer = profile.printer!.value
  return wanted.si > smallest.si
    ? chosen(
        'gap',
        formatQuantity(wanted),
        typical(
          `leaves as much room as ${near!.id} has; how high the edges of this stock stand cannot be reckoned. Lower it if they lie flat.`,
        ),
      )
    : chosen(
        'gap',
        formatQuantity(smallest),
        computed(`the smallest gap of ${printer} above ${clears}; how high the edges stand cannot be reckoned. Watch them.`),
      )
}
