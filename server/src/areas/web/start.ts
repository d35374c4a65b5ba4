// How a started profile winds, pulls and moves the web.

import type { Setup } from '../../model/setup.ts'
import { formatQuantity, formatSi, toStep } from '../../quantities/format.ts'
import type { Unit } from '../../quantities/units.ts'
import { type Chosen, chosen, computed, taken, toMeasure, typical } from '../../report/start/chosen.ts'
import type { Draft } from '../../report/start/draft.ts'
import type { Neighbour } from '../../report/start/nearest.ts'
import type { Starter } from '../../report/start/starter.ts'
import { throughputOf } from '../advance/facts.ts'
import { strainAt, type WebFacts, webOf } from './facts.ts'
import { pullText, strainText, WATCHING } from './words.ts'

/** Settings below `web`; none where the printer's document says nothing of its web. */
function chooseWeb(draft: Draft, near: Neighbour | undefined, problems: string[]): readonly Chosen[] {
  const setup = draft.setup()
  if (!setup.printer?.web) return []
  return [wound(setup, near), tension(setup, near, problems), slackWatch(setup), speed(setup, near)].filter(
    (c) => c !== undefined,
  )
}

function wound({ stock }: Setup, near: Neighbour | undefined): Chosen {
  const came = stock?.wound?.value
  if (came)
    return chosen(
      'web.wound',
      came,
      computed('as the stock’s own roll is wound, so that its curl does not work against the core.'),
    )
  const own = near?.setup.profile.web?.wound?.value
  return own
    ? chosen('web.wound', own, taken(near!.id, 'the stock does not say how it is wound.'))
    : chosen('web.wound', 'out', typical('the stock does not say how it is wound; look at its roll.'))
}

/** Between the pull that keeps the web from hanging and the one its material takes, and by choice with no more stretch than the shop allows. */
function tension(setup: Setup, near: Neighbour | undefined, problems: string[]): Chosen | undefined {
  const facts = webOf(setup)
  const { levels, range } = facts
  if (levels.length === 0 && !range) return undefined
  const bounds = boundsOf(setup, facts)
  const { floor, soft, ceiling } = bounds
  const own = near && webOf(near.setup).tension?.value
  const wanted = Math.min(Math.max(own ?? 2 * floor, floor), soft)
  const picked = range ? freePull(setup, range, wanted, bounds) : pullOfLevels(levels, wanted, bounds)
  if (!picked) return undefined
  const { text, pull } = picked
  const size = (n: number): string => pullText(n, setup.shop.units, 2)
  const told = boundsText(setup, facts, bounds, pull)
  const why = `${typeof picked.level === 'number' ? `${size(pull)}; ` : ''}${told || 'neither the least nor the greatest pull can be reckoned'}.`
  if (pull > ceiling) {
    problems.push(
      `The least pull of ${setup.profile.printer!.value} is ${size(pull)}, and this stock typically takes ${size(ceiling)} at most.`,
    )
    return chosen('web.tension', text, toMeasure(why))
  }
  const same = own !== undefined && Math.abs(own - pull) <= 1e-6 * pull
  return chosen('web.tension', text, same ? taken(near!.id, why) : told ? computed(why) : toMeasure(why))
}

/** N/m. */
interface PullBounds {
  /** Keeps the free web from hanging. */
  readonly floor: number
  /** Stretches the web by no more than the shop allows, where the floor lets it. */
  readonly soft: number
  /** What the material takes. */
  readonly ceiling: number
}

function boundsOf({ shop }: Setup, { least, guard, stiffness }: WebFacts): PullBounds {
  const floor = least.ok ? least.value.high : 0
  const ceiling = guard.ok ? guard.value.low : Number.POSITIVE_INFINITY
  const allowed = shop.tolerance.length.value * (stiffness?.range.typical ?? Number.POSITIVE_INFINITY)
  return { floor, soft: Math.min(ceiling, Math.max(floor, allowed)), ceiling }
}

/** What is known of the pull, in words; empty where nothing is. */
function boundsText({ shop: { units } }: Setup, facts: WebFacts, { floor, ceiling }: PullBounds, pull: number): string {
  const { least, guard, stiffness } = facts
  const strain = strainAt(pull, stiffness)
  return [
    ...(least.ok ? [`${pullText(floor, units, 2)} keeps the free web from hanging`] : []),
    ...(guard.ok ? [`its material typically takes ${pullText(ceiling, units, 2)}`] : []),
    ...(strain.ok ? [`it stretches by ${strainText(strain.value, units)}`] : []),
  ].join(', ')
}

interface Pull {
  readonly text: string
  readonly pull: number
  readonly level?: number
}

function pullOfLevels(levels: WebFacts['levels'], wanted: number, { floor, soft, ceiling }: PullBounds): Pull | undefined {
  const distance = (t: number): number => Math.abs(Math.log(Math.max(t, 1e-6) / Math.max(wanted, 1e-6)))
  const within = (low: number, high: number) => levels.filter(({ tension: t }) => t >= low - 1e-9 && t <= high + 1e-9)
  const fitting = [within(floor, soft), within(floor, ceiling), within(0, ceiling), levels.slice(0, 1)].find(
    (list) => list.length > 0,
  )
  const best = fitting?.reduce((a, b) => (distance(b.tension) < distance(a.tension) ? b : a))
  return best && { text: best.name, pull: best.tension, level: best.level }
}

/** In the unit of the printer's range, to few digits: with no more stretch than is wished, or else with no more pull than the material takes. */
function freePull(
  setup: Setup,
  [low, high]: readonly [number, number],
  wanted: number,
  { floor, soft, ceiling }: PullBounds,
): Pull {
  const { unit } = setup.printer!.web!['tension-range']!.items[0]!.value
  const least = Math.min(high, Math.max(low, Math.min(floor, ceiling)))
  const most = Math.max(least, Math.min(high, ceiling))
  const aim = Math.min(Math.max(wanted, least), most)
  return (
    rounded(aim, least, Math.min(soft, most), unit, 'line-tension', 3) ??
    rounded(aim, least, most, unit, 'line-tension') ?? { text: formatSi(aim, 'line-tension', { unit, digits: 15 }), pull: aim }
  )
}

/** The value with the fewest digits, two at least, that lies inside the bounds. */
function rounded(
  si: number,
  low: number,
  high: number,
  unit: Unit,
  dimension: 'line-tension' | 'speed',
  maxDigits = 12,
): Pull | undefined {
  const value = si / unit.factor
  for (let digits = 2; digits <= maxDigits; digits++)
    for (const mode of ['nearest', 'up', 'down'] as const) {
      const place = 10 ** (Math.floor(Math.log10(Math.max(value, 1e-12))) + 1 - digits)
      const pull = (toStep(value, place, mode) ?? value) * unit.factor
      if (pull >= low * (1 - 1e-12) && pull <= high * (1 + 1e-12))
        return { text: formatSi(pull, dimension, { unit, digits }), pull }
    }
  return undefined
}

/** The way that sees most: nobody knows this stock yet. */
function slackWatch({ printer, profile }: Setup): Chosen | undefined {
  const ways = new Set(printer?.web?.['slack-watch']?.items.map(({ value }) => value))
  const most = WATCHING.find((way) => ways.has(way))
  switch (most) {
    case undefined:
      return undefined
    case 'never':
      return chosen(
        'web.slack-watch',
        most,
        computed(`${profile.printer!.value} cannot watch for slack: somebody has to watch the loop.`),
      )
    case 'start-of-job':
      return chosen(
        'web.slack-watch',
        most,
        typical('the printer looks for slack when a job begins, and for no longer: somebody has to watch the loop.'),
      )
    default:
      return chosen(
        'web.slack-watch',
        most,
        typical('the printer stops when the web runs loose, and nobody knows this stock yet.'),
      )
  }
}

/** As fast as the nearest, and fast enough that no pass waits for the web. */
function speed(setup: Setup, near: Neighbour | undefined): Chosen | undefined {
  const { speedRange } = webOf(setup)
  const { plan, step } = throughputOf(setup)
  const first = setup.printer?.web?.['speed-range']?.items[0]?.value
  const own = near?.setup.profile.web?.speed?.value
  if (!speedRange || !first) return undefined
  const [low, high] = speedRange
  const has = step?.has ?? setup.printer?.carriage?.turnaround?.value.si
  const needed = plan.ok && has !== undefined && has > 0 ? Math.min(high, Math.max(low, plan.value.advance / has)) : low
  if (own && own.si >= needed * (1 - 1e-9) && own.si <= high * (1 + 1e-9))
    return chosen('web.speed', formatQuantity(own), taken(near!.id, 'the step is done while the carriage turns.'))
  const aim = Math.min(high, Math.max(low, 2 * needed))
  const text = rounded(aim, needed, high, first.unit, 'speed')?.text ?? formatSi(aim, 'speed', { unit: first.unit, digits: 12 })
  return chosen('web.speed', text, typical('fast enough that no pass waits for the step; slower where the web slips.'))
}

export const start: Starter = { after: ['suction'], choose: (draft, near, problems) => chooseWeb(draft, near, problems) }
