// The heaters of a started profile: as warm as a profile of stock of the same kind has them, or half way up, within what stock and printer allow.

import type { Setup } from '../../model/setup.ts'
import { formatSi } from '../../quantities/format.ts'
import { type Chosen, chosen, computed, taken, toMeasure, typical } from '../../report/start/chosen.ts'
import type { Draft } from '../../report/start/draft.ts'
import { type Neighbour, nearness, ONE_KIND } from '../../report/start/nearest.ts'
import type { Starter } from '../../report/start/starter.ts'
import { heatOf } from './facts.ts'
import { HEATER, type Zone } from './path.ts'
import { ZONES, type ZoneName } from './readings.ts'
import { onStep } from './shared.ts'

/** K that a stock nobody has run yet is kept below what it bears, where the heater goes so low (common practice). */
const FIRST_MARGIN = 5

interface Wish {
  readonly celsius: number
  /** Where it comes from, ahead of what bounded it. */
  readonly why: (bounds: string) => string
}

function chooseHeat(draft: Draft, near: Neighbour | undefined, problems: string[]): readonly Chosen[] {
  const setup = draft.setup()
  const found = new Map<ZoneName, Heated>()
  // The platen decides; what lies before it is no warmer and what lies behind no cooler (common practice).
  for (const name of ['platen', 'before', 'after'] as const) {
    const zone = heatOf(setup).zones.find((z) => z.zone === name)
    const heated = zone?.heater && chooseZone(setup, zone, near, found.get('platen')?.celsius, problems)
    if (heated) found.set(name, heated)
  }
  const out = ZONES.flatMap((name) => found.get(name)?.chosen ?? [])
  return [...out, ...fan(draft, near, out.length > 0)]
}

interface Heated {
  readonly celsius: number
  readonly chosen: Chosen
}

function chooseZone(
  setup: Setup,
  zone: Zone,
  near: Neighbour | undefined,
  platen: number | undefined,
  problems: string[],
): Heated | undefined {
  const { limit, softens } = heatOf(setup)
  const softest = softens?.origin === 'given' ? softens.range.low : Number.POSITIVE_INFINITY
  const most = Math.min(limit?.range.low ?? Number.POSITIVE_INFINITY, softest)
  const wish = wishFor(zone, near, setup.stock?.['dry-touch']?.at?.value.si, most - FIRST_MARGIN)
  if (!wish) {
    problems.push(`The ${HEATER[zone.zone]} is left open: neither its range nor a profile that runs on it is known.`)
    return undefined
  }
  const celsius = settle(zone, wish.celsius, most - FIRST_MARGIN, platen) ?? settle(zone, wish.celsius, most, platen)
  if (celsius === undefined) {
    problems.push(`The ${HEATER[zone.zone]} is left open: no step of its range is within what the stock bears.`)
    return undefined
  }
  const unit = zone.heater?.range?.items[0]?.value.unit
  const text = (t: number): string => formatSi(t, 'temperature', { digits: 5, ...(unit && { unit }) })
  const bears = Number.isFinite(most)
    ? `the stock ${limit?.origin === 'given' ? 'bears' : 'typically bears'} ${text(most)}`
    : 'what the stock bears is not known: look it up'
  const moved =
    Math.abs(celsius - wish.celsius) > 1e-6
      ? `brought to ${text(celsius)} by the limits of printer and stock, with 5 K to spare where that can be, and the order of the heaters; `
      : ''
  return { celsius, chosen: chosen(`heat.${zone.zone}`, text(celsius), wish.why(`${moved}${bears}. Read the web there.`)) }
}

/** What another kind of stock bears and needs says nothing of this one, so its heat is not taken over. `most` is the warmest this stock is begun at. */
function wishFor(zone: Zone, near: Neighbour | undefined, dryAt: number | undefined, most: number): Wish | undefined {
  const kin = near && near.apart <= ONE_KIND ? near : undefined
  const own = kin?.setup.profile.heat?.[zone.zone]?.value.si
  const dries = zone.zone === 'after' && dryAt !== undefined && dryAt > (own ?? Number.NEGATIVE_INFINITY)
  if (own !== undefined && !dries) return { celsius: own, why: (bounds) => taken(kin!.id, `${nearness(kin!)}; ${bounds}`) }
  if (dries)
    return { celsius: dryAt, why: (bounds) => computed(`the temperature at which the stock’s dry-touch is stated; ${bounds}`) }
  if (!zone.range) return undefined
  const [low, high] = zone.range
  if (!Number.isFinite(most))
    return { celsius: low, why: (bounds) => toMeasure(`the lowest this heater is set to, since ${bounds}`) }
  return {
    celsius: onStep(zone, (low + Math.max(low, Math.min(high, most))) / 2),
    why: (bounds) =>
      toMeasure(
        `half way between the lowest setting of this heater and the warmest it may have for this stock (common practice); ${bounds} Raise it while test strips stay wet, lower it where the web waves.`,
      ),
  }
}

/** On the heater's steps, inside its range, at most as hot as the stock bears, and in order with the platen where that can be. */
function settle(zone: Zone, wish: number, most: number, platen: number | undefined): number | undefined {
  const [low, high] = zone.range ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]
  const ordered = platen === undefined ? wish : zone.zone === 'before' ? Math.min(wish, platen) : Math.max(wish, platen)
  const clamped = Math.max(low, Math.min(ordered, high, most))
  const nearest = onStep(zone, clamped)
  const celsius = nearest > Math.min(high, most) + 1e-9 ? onStep(zone, clamped, 'down') : nearest
  return celsius >= low - 1e-9 && celsius <= Math.min(high, most) + 1e-9 ? celsius : undefined
}

/** A fan is known by the panel or by the profiles that have one. */
function fan(draft: Draft, near: Neighbour | undefined, heated: boolean): readonly Chosen[] {
  const own = near?.setup.profile.heat?.fan?.value
  const onPanel = draft.setup().printer?.panel?.items.some((entry) => entry.key?.value === 'heat.fan') === true
  if (own === undefined && !(onPanel && heated)) return []
  return own !== undefined
    ? [chosen('heat.fan', String(own), taken(near!.id, 'moving air dries faster and carries vapour off.'))]
    : [chosen('heat.fan', 'true', typical('moving air dries faster and carries vapour off; keep the extraction running.'))]
}

export const start: Starter = { after: ['web'], choose: (draft, near, problems) => chooseHeat(draft, near, problems) }
