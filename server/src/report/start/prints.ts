// The test prints that prove a started profile, in the order to make them.
import { type Measurement, requiredPattern } from '../../calc/measurement.ts'
import { dryingOf } from '../../model/drying.ts'
import { ruleFacts } from '../../model/feed.ts'
import type { Instrument } from '../../model/generated/documents.ts'
import { heatOf } from '../../model/heat.ts'
import { landingOf } from '../../model/landing.ts'
import { rangeText } from '../../model/range-words.ts'
import type { Setup } from '../../model/setup.ts'
import { formatQuantity, formatSi } from '../../quantities/format.ts'
import type { Quantity } from '../../quantities/quantity.ts'

/** As many prints of one pattern as anybody makes. */
const MOST_REPEATS = 5

export function testPrints(setup: Setup): readonly string[] {
  return [
    ...heatPrint(setup),
    ...feedPrint(setup),
    ...finePrint(setup),
    ...alignmentPrint(setup),
    ...dryingPrint(setup),
    ...inkPrint(setup),
  ]
}

/** Once the web has its warmth, since everything else depends on it. */
function heatPrint(setup: Setup): readonly string[] {
  const zones = heatOf(setup).zones.filter(({ heater, set }) => heater && set)
  if (zones.length === 0) return []
  const where = zones.map(({ zone, set }) => `${zone} at ${formatQuantity(set!.value)}`).join(', ')
  return [
    `Heat readings: let a strip run through until the heaters are steady, and read the web at each (${where}). Write them under heat, readings.`,
  ]
}

function feedPrint(setup: Setup): readonly string[] {
  const { printer, shop } = setup
  if (!printer?.feed) return []
  const lengths = [...(printer.feed['pattern-lengths']?.items ?? [])].map((length) => length.value).sort((a, b) => a.si - b.si)
  const tolerance = formatSi(shop.tolerance.length.value, 'relative', { unit: '%', digits: 3 })
  const cool = `laid flat, at ${formatSi(shop.referenceTemperature.value, 'temperature', { system: shop.units, digits: 4 })}`
  const plan = bestPlan(setup, lengths)
  const what = plan
    ? `${plan.repeats === 1 ? 'one pattern' : `${plan.repeats} patterns`} of ${planWords(plan)}, ${cool}: that proves the shop's ±${tolerance}`
    : `the longest pattern${lengths.length > 0 ? ` (${formatQuantity(lengths.at(-1)!)})` : ''}, ${cool}. No rule of the shop proves its ±${tolerance} on it; ${longer(setup)}`
  return [`Feed pattern: ${what}. Write each under feed, checks; key in what follows, and print once more.`]
}

const planWords = (plan: Plan): string => `${plan.length}${plan.with === undefined ? '' : ` measured with ${plan.with}`}`

/** What would prove the tolerance where no pattern of the printer does. */
function longer(setup: Setup): string {
  const plan = bestPlan(setup, [])
  if (plan?.repeats !== 1) return 'find a better rule'
  return `two marks ${plan.length} apart${plan.with === undefined ? '' : `, measured with ${plan.with},`} would`
}

interface Plan {
  readonly with: string | undefined
  readonly length: string
  readonly repeats: number
}

/** The fewest prints, then the shortest pattern, over the shop's rules and tapes; without any, with the rule that is taken for granted. */
function bestPlan(setup: Setup, lengths: readonly Quantity[]): Plan | undefined {
  const rules: readonly (readonly [string | undefined, Instrument | undefined])[] = [...setup.shop.instruments].filter(
    ([, { kind }]) => kind?.value === 'rule' || kind?.value === 'tape',
  )
  for (let repeats = 1; repeats <= MOST_REPEATS; repeats++) {
    let best: { readonly plan: Plan; readonly length: number } | undefined
    for (const [id, rule] of rules.length > 0 ? rules : [[undefined, undefined] as const]) {
      const required = requiredPattern({
        measurement: measurementWith(setup, rule),
        referenceTemperature: setup.shop.referenceTemperature.value,
        tolerance: setup.shop.tolerance.length.value,
        repeats,
      })
      const least = required.ok ? required.value.length : undefined
      if (least === undefined) continue
      const fitting = lengths.find((length) => length.si >= least - 1e-9)
      // A printer that does not say which patterns it has prints any.
      const length = fitting?.si ?? Math.ceil(least * 10 - 1e-9) / 10
      if (lengths.length > 0 && !fitting) continue
      if (best && best.length <= length) continue
      const text = fitting ? formatQuantity(fitting) : formatSi(length, 'length', { system: setup.shop.units, digits: 3 })
      best = { length, plan: { with: id, length: text, repeats } }
    }
    if (best) return best.plan
  }
  return undefined
}

function measurementWith({ material }: Setup, rule: Instrument | undefined): Omit<Measurement, 'measured'> {
  const expansion = material.property('expansion')?.range
  return { ...ruleFacts(rule), ...(expansion && { webExpansion: expansion }) }
}

function finePrint({ printer }: Setup): readonly string[] {
  const fine = printer?.feed?.fine
  if (!fine) return []
  const size = [
    fine.rows && `${fine.rows.value} row${fine.rows.value === 1 ? '' : 's'}`,
    fine.patches && `${fine.patches.value} patches`,
    fine.step && `steps of ${formatQuantity(fine.step.value)}`,
  ]
  const words = size.filter((w) => w !== undefined).join(', ')
  return [
    `Fine feed pattern${words && ` (${words})`}, with the correction keyed in: pick the patch without bands in each row. Write them under feed, fine.`,
  ]
}

function alignmentPrint(setup: Setup): readonly string[] {
  const { printer, profile } = setup
  if (!printer?.alignment) return []
  const { offset, twoWay } = landingOf(setup)
  const apart =
    twoWay && offset.ok
      ? `; before compensation out and back land about ${formatSi(offset.value.offset.typical, 'length', { system: setup.shop.units, digits: 2 })} apart`
      : ''
  const at = profile.gap ? ` at the gap of ${formatQuantity(profile.gap.value)}` : ''
  return [
    `Alignment pattern, one way${twoWay === false ? '' : ' and two ways'},${at}${apart}. Write the picks under alignment, with date, gap, thickness and mode.`,
  ]
}

function dryingPrint(setup: Setup): readonly string[] {
  if (!setup.printer?.drying) return []
  const { needed } = dryingOf(setup)
  const after = needed.ok ? ` It is typically dry after ${rangeText(needed.value.time, 'time')}.` : ''
  return [
    `Drying: print a solid at the ink limit and touch it with a gloved finger where it is wound, then wind a metre of it and unroll it the next day.${after}`,
  ]
}

function inkPrint({ profile }: Setup): readonly string[] {
  return [
    profile.colour?.['ink-limit']
      ? `Ink: print solids and small reversed text at the ink limit of ${formatQuantity(profile.colour['ink-limit'].value)}; lower it where they pool, cockle or fill in. Colour comes last.`
      : 'Ink: print a series of solids, find the most that does not pool, cockle or fill in, and write it as colour, ink-limit. Colour comes last.',
  ]
}
