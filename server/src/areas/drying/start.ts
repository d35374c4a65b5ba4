// The drying of a started profile: the pause with which a print is dry when it is wound, and the run-out of the last one. Both are begun on the safe side:
// a pause that is too long costs time, and a print that is wound wet sticks to the next lap.

import { pauseToDry } from '../../calc/drying.ts'
import { degrees, duration, durationText } from '../../model/heat-words.ts'
import type { Setup } from '../../model/setup.ts'
import { formatSi, toStep } from '../../quantities/format.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import { type Chosen, chosen, computed, taken, toMeasure } from '../../report/start/chosen.ts'
import type { Draft } from '../../report/start/draft.ts'
import type { Neighbour } from '../../report/start/nearest.ts'
import type { Starter } from '../../report/start/starter.ts'
import { throughputOf } from '../advance/facts.ts'
import { type DryingFacts, dryingOf } from './facts.ts'
import { dryingRunOut } from './shared.ts'
import { heldText } from './words.ts'

/** s: a pause is keyed in to a tenth of a second (common practice). */
const PAUSE_STEP = 0.1

/** A pause slows the web, and a slower web is warmer: settled after a few rounds. */
const ROUNDS = 4

const FEEL = 'Feel it before it is wound, gloved and with the machine stopped.'

function chooseDrying(draft: Draft, near: Neighbour | undefined, problems: string[]): readonly Chosen[] {
  // Another stock dries in its own time: only one of the same family says anything of this one.
  const kin = near && (near.sameStock || near.apart === 0) ? near : undefined
  const pause = choosePause(draft, kin, problems)
  draft.set(pause)
  return [pause, chooseRunOut(draft, kin, problems)].filter((c) => c !== undefined)
}

function choosePause(draft: Draft, kin: Neighbour | undefined, problems: string[]): Chosen | undefined {
  const items = draft.setup().printer?.drying?.['pause-range']?.items
  const { pauseRange } = dryingOf(draft.setup())
  if (!pauseRange || !items) return undefined
  let pause = pauseRange[0]
  for (let round = 0; round < ROUNDS; round++) {
    const wanted = dryingOf(draft.setup({ 'drying.pause': seconds(pause) })).pauseToDry?.high
    if (wanted === undefined) return unknownPause(draft, kin, pauseRange)
    pause = Math.max(pause, pauseFor(wanted, pauseRange))
  }
  const facts = dryingOf(draft.setup({ 'drying.pause': seconds(pause) }))
  const numbers = pauseNumbers(draft.setup(), facts)
  const { typical, high: most } = facts.pauseToDry!
  if (typical > pause + PAUSE_STEP)
    problems.push(
      `The longest pause, ${seconds(pause)}, does not dry a print before it is wound (typical): take prints off flat, or use a slower mode.`,
    )
  if (most > pause + PAUSE_STEP)
    return chosen(
      'drying.pause',
      seconds(pause),
      computed(
        `the longest pause of the printer, and ${typical > pause + PAUSE_STEP ? 'not' : 'perhaps not'} long enough: ${numbers}. Take prints off flat${typical > pause + PAUSE_STEP ? '' : ' until they are felt to be dry there'}.`,
      ),
    )
  return chosen('drying.pause', seconds(pause), computed(`${numbers}. ${FEEL}`))
}

/** On the step above, within the range. */
const pauseFor = (wanted: number, [low, high]: readonly [number, number]): number =>
  Math.min(high, Math.max(low, toStep(wanted, PAUSE_STEP, 'up') ?? wanted))

function pauseNumbers(setup: Setup, { needed, winding }: DryingFacts): string {
  if (!needed.ok || !winding.ok) return 'by the stock’s dry-touch'
  const far = needed.value.stretched ? stretchedText(setup) : ''
  return `by the stock’s dry-touch a print typically needs ${durationText(needed.value.time)}${far}, and it reaches the roll after ${duration(winding.value.running)}`
}

/** The halving rule is trusted for 20 K. */
function stretchedText({ stock, shop }: Setup): string {
  const at = stock?.['dry-touch']?.at?.value.si
  return at === undefined ? '' : `, a rough guess so far from the ${degrees(at, shop.units)} it is stated at`
}

/** As long on its way to the roll as the same stock is in another profile; else the longest. */
function unknownPause(draft: Draft, kin: Neighbour | undefined, range: readonly [number, number]): Chosen {
  const unknown = unknownDrying(draft.setup())
  const own = kin?.setup.profile.drying?.pause?.value.si
  if (kin && own !== undefined) {
    const pause = pauseFor(Math.max(own, pauseAsLong(draft.setup(), kin) ?? own), range)
    return chosen(
      'drying.pause',
      seconds(pause),
      taken(kin.id, `no less than it has, nor less time on the way to the roll; ${unknown}. ${FEEL}`),
    )
  }
  return chosen(
    'drying.pause',
    seconds(range[1]),
    toMeasure(
      `${unknown}. So this is the longest the printer takes: a pause costs time only, and what is wound wet sticks. Take the first prints off flat; shorten the pause once they are felt to be dry. ${FEEL}`,
    ),
  )
}

/** s of pause with which a print of this mode is as long on its way as one of the other profile. */
function pauseAsLong(setup: Setup, kin: Neighbour): number | undefined {
  const { plan, pass } = throughputOf(setup)
  const { winding } = dryingOf(kin.setup)
  const pathToWinding = setup.printer?.drying?.['path-to-winding']?.value.si
  if (!plan.ok || !pass.ok || !winding.ok || pathToWinding === undefined) return undefined
  const { advance } = plan.value
  const { passTime } = pass.value
  const pause = pauseToDry({ pathToWinding, advance, passTime, needed: winding.value.running })
  return pause.ok ? pause.value.high : undefined
}

/** Why nothing can be reckoned, and that it is so. */
function unknownDrying(setup: Setup): string {
  const { needed, winding } = dryingOf(setup)
  const reason = !needed.ok ? needed.problem.reason : !winding.ok ? winding.problem.reason : undefined
  return `how long a print must dry cannot be told${reason === undefined ? '' : `, since ${reason}`}`
}

function chooseRunOut(draft: Draft, kin: Neighbour | undefined, problems: string[]): Chosen | undefined {
  const setup = draft.setup()
  const first = setup.printer?.drying?.['run-out-range']?.items[0]?.value
  const facts = dryingOf(setup)
  const { runOutRange, held } = facts
  if (!runOutRange || !first) return undefined
  const picked = dryingRunOut(facts)
  if (!picked || !held.ok) return unknownRunOut(setup, kin, runOutRange, first)
  const { runOut, enough } = picked
  const { needed, stretched } = held.value
  const text = timeText(runOut, first)
  const needs = `the last print, ${heldText(held.value, setup.shop.units)}, typically needs ${durationText(needed)}${stretched ? stretchedText(setup) : ''}`
  if (enough)
    return chosen(
      'drying.run-out',
      text,
      computed(`${needs}, and this is for the longest of that; the warmth it passes later is not counted. ${FEEL}`),
    )
  const short = needed.typical > runOut
  if (short) problems.push(`The longest run-out, ${text}, does not dry the last print (typical): take it off flat.`)
  return chosen(
    'drying.run-out',
    text,
    computed(
      `the longest run-out of the printer, and ${short ? 'not' : 'perhaps not'} long enough: ${needs}${overHeater(setup, draft, text)}. Take it off flat.`,
    ),
  )
}

/** Where the last print would dry sooner: it passes the heater behind the platen in seconds, unless it is stopped there. */
function overHeater({ printer, profile }: Setup, draft: Draft, runOut: string): string {
  const length = printer?.heaters?.after?.length?.value.si
  const speed = profile.web?.speed?.value.si
  const { last, held } = dryingOf(draft.setup({ 'drying.run-out': runOut }))
  if (length === undefined || profile.heat?.after === undefined || !last || !held.ok) return ''
  if (speed === undefined || !(speed > 0) || last.needed.high >= held.value.needed.low) return ''
  const passes = `; it passes the heater behind the platen in ${duration(length / speed)}`
  return `${passes}, where it would typically need ${durationText(last.needed)}`
}

function unknownRunOut(setup: Setup, kin: Neighbour | undefined, [low, high]: readonly [number, number], like: Quantity): Chosen {
  const { held } = dryingOf(setup)
  const unknown = `how long the last print must dry cannot be told${held.ok ? '' : `, since ${held.problem.reason}`}`
  const own = kin?.setup.profile.drying?.['run-out']?.value
  // A stock that is dry at once is not what is meant by a run-out of nothing.
  if (kin && own && own.si > 0 && own.si >= low && own.si <= high)
    return chosen('drying.run-out', timeText(own.si, own), taken(kin.id, `${unknown}. ${FEEL}`))
  return chosen(
    'drying.run-out',
    timeText(high, like),
    toMeasure(
      `${unknown}. So this is the longest the printer takes: it costs time once a job. Take the last print off flat, or shorten the run-out once it is felt to be dry. ${FEEL}`,
    ),
  )
}

const seconds = (s: number): string => formatSi(s, 'time', { unit: 's', digits: 12 })

const timeText = (s: number, { unit }: Quantity): string => formatSi(s, 'time', { unit, digits: 12 })

export const start: Starter = { after: ['heat', 'web'], choose: (draft, near, problems) => chooseDrying(draft, near, problems) }
