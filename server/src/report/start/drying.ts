// The drying of a started profile: the pause with which a print is dry when it is wound, and the run-out of the last one.
import { dryingOf } from '../../model/drying.ts'
import { rangeText } from '../../model/range-words.ts'
import type { Setup } from '../../model/setup.ts'
import { formatSi, toStep } from '../../quantities/format.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import { type Chosen, chosen, computed, taken, toMeasure } from './chosen.ts'
import type { Draft } from './draft.ts'
import type { Neighbour } from './nearest.ts'

/** s: a pause is keyed in to a tenth of a second, a run-out to half a minute (common practice). */
const PAUSE_STEP = 0.1
const RUN_OUT_STEP = 30

/** A pause slows the web, and a slower web is warmer: settled after a few rounds. */
const ROUNDS = 4

export function chooseDrying(draft: Draft, near: Neighbour | undefined, problems: string[]): readonly Chosen[] {
  const pause = choosePause(draft, near, problems)
  draft.set(pause)
  return [pause, chooseRunOut(draft, near, problems)].filter((c) => c !== undefined)
}

function choosePause(draft: Draft, near: Neighbour | undefined, problems: string[]): Chosen | undefined {
  const items = draft.setup().printer?.drying?.['pause-range']?.items
  const { pauseRange } = dryingOf(draft.setup())
  if (!pauseRange || !items) return undefined
  const [low, high] = pauseRange
  let pause = low
  for (let round = 0; round < ROUNDS; round++) {
    const facts = dryingOf(draft.setup({ 'drying.pause': seconds(pause) }))
    const wanted = facts.pauseToDry?.typical
    if (wanted === undefined) return borrowedPause(near, pauseRange)
    pause = Math.max(pause, Math.min(high, Math.max(low, toStep(wanted, PAUSE_STEP, 'up') ?? wanted)))
  }
  const facts = dryingOf(draft.setup({ 'drying.pause': seconds(pause) }))
  const { needed, winding } = facts
  const { units } = draft.setup().shop
  const numbers =
    needed.ok && winding.ok
      ? `by the stock’s dry-touch a print typically needs ${rangeText(needed.value.time, 'time', { units })}, and it reaches the roll after ${formatSi(winding.value.running, 'time', { digits: 2 })}`
      : 'by the stock’s dry-touch'
  if ((facts.pauseToDry?.typical ?? 0) > pause + PAUSE_STEP) {
    problems.push(
      `The longest pause, ${seconds(pause)}, does not dry a print before it is wound (typical): take prints off flat, or use a slower mode.`,
    )
    return chosen(
      'drying.pause',
      seconds(pause),
      computed(`the longest pause of the printer, and not long enough: ${numbers}. Take prints off flat.`),
    )
  }
  return chosen('drying.pause', seconds(pause), computed(`${numbers}. Feel it before it is wound.`))
}

function borrowedPause(near: Neighbour | undefined, [low, high]: readonly [number, number]): Chosen {
  const own = near?.setup.profile.drying?.pause?.value.si
  return own !== undefined && own >= low && own <= high
    ? chosen(
        'drying.pause',
        seconds(own),
        taken(near!.id, 'how long this stock takes to dry is not known: feel it before it is wound.'),
      )
    : chosen(
        'drying.pause',
        seconds(low),
        toMeasure(
          'how long this stock takes to dry is not known: feel it before it is wound, and raise the pause while it is wet.',
        ),
      )
}

function chooseRunOut(draft: Draft, near: Neighbour | undefined, problems: string[]): Chosen | undefined {
  const setup = draft.setup()
  const first = setup.printer?.drying?.['run-out-range']?.items[0]?.value
  const { runOutRange } = dryingOf(setup)
  if (!runOutRange || !first) return undefined
  const [low, high] = runOutRange
  const { last } = dryingOf(draft.setup({ 'drying.run-out': seconds(low) }))
  if (!last) return borrowedRunOut(setup, near, runOutRange, first)
  const wanted = toStep(Math.max(0, last.needed.typical - last.wound), RUN_OUT_STEP, 'up') ?? high
  const runOut = Math.min(high, Math.max(low, wanted))
  const needs = `what is printed last typically needs ${rangeText(last.needed, 'time')} where it is warmest`
  if (wanted > high)
    problems.push(`The longest run-out, ${timeText(high, first)}, does not dry the last print (typical): take it off flat.`)
  return chosen(
    'drying.run-out',
    timeText(runOut, first),
    computed(`${needs}.${wanted > high ? ' This is all the printer has: take it off flat.' : ''}`),
  )
}

function borrowedRunOut(
  setup: Setup,
  near: Neighbour | undefined,
  [low, high]: readonly [number, number],
  like: Quantity,
): Chosen {
  const own = near?.setup.profile.drying?.['run-out']?.value
  if (own && own.si >= low && own.si <= high)
    return chosen('drying.run-out', timeText(own.si, own), taken(near!.id, 'feel the last print before it is wound.'))
  const stated = setup.stock?.['dry-touch']?.time?.value.si
  const runOut = Math.min(high, Math.max(low, stated ?? low))
  return chosen('drying.run-out', timeText(runOut, like), toMeasure('feel the last print before it is wound.'))
}

const seconds = (s: number): string => formatSi(s, 'time', { unit: 's', digits: 12 })

const timeText = (s: number, { unit }: Quantity): string => formatSi(s, 'time', { unit, digits: 12 })
