// The feed correction of a started profile: the nearest proven one, or none.

import { toStep } from '../../quantities/format.ts'
import { type Chosen, chosen, taken, toMeasure } from '../../report/start/chosen.ts'
import type { Draft } from '../../report/start/draft.ts'
import { type Neighbour, nearness } from '../../report/start/nearest.ts'
import type { Starter } from '../../report/start/starter.ts'
import { feedOf } from './facts.ts'
import { checksText, correctionText, plusMinus } from './words.ts'

/** Corrections of printers that are told a length are written to a hundredth of a per cent. */
const WRITTEN_STEP = 1e-4

function chooseFeed(draft: Draft, near: Neighbour | undefined): Chosen | undefined {
  const setup = draft.setup()
  if (!setup.printer?.feed) return undefined
  const { range, entry, step } = feedOf(setup)
  const steps = entry === 'percent' && step !== undefined ? step : WRITTEN_STEP
  const inside = (value: number): boolean => !range || (value >= range[0] - 1e-12 && value <= range[1] + 1e-12)
  const wanted = near?.feed.reckoning?.keyIn?.correction
  const rounded = wanted === undefined ? undefined : toStep(wanted, steps)
  if (!near || rounded === undefined || !inside(rounded)) return withoutNeighbour(inside, range, steps)
  const { combined } = near.feed.reckoning!
  const old = near.feed.stale ? `, but the newest is ${near.feed.newest?.age} days old` : ''
  const proof = `${checksText(combined!.n)} ${combined!.n === 1 ? 'asks' : 'ask'} for ${written(combined!.correction, steps)} ${plusMinus(combined!.U)}${old}`
  return chosen(
    'feed.correction',
    written(rounded, steps),
    taken(near.id, `${nearness(near)}; its ${proof}. Unproven here until the feed pattern is printed.`),
  )
}

function withoutNeighbour(
  inside: (value: number) => boolean,
  range: readonly [number, number] | undefined,
  steps: number,
): Chosen {
  const nil = inside(0) ? 0 : (toStep(range![0] > 0 ? range![0] : range![1], steps, range![0] > 0 ? 'up' : 'down') ?? range![0])
  const why =
    nil === 0
      ? 'no stock has a proven correction on this printer, so none is applied'
      : 'the end of the printer’s range that is nearest to none'
  return chosen(
    'feed.correction',
    nil === 0 ? '0 %' : written(nil, steps),
    toMeasure(`${why}. Unproven until the feed pattern is printed.`),
  )
}

/** As the profile writes it, to this step. */
const written = (correction: number, step: number): string => correctionText({ entry: 'percent', step }, correction)

export const start: Starter = { after: ['web'], choose: (draft, near) => [chooseFeed(draft, near)] }
