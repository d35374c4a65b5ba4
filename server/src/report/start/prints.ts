// The test prints that prove a started profile, in the order to make them.

import { dryingOf } from '../../areas/drying/facts.ts'
import { ruleFacts } from '../../areas/feed/facts.ts'
import { heatOf } from '../../areas/heat/facts.ts'
import type { Zone } from '../../areas/heat/path.ts'
import { landingOf } from '../../areas/landing/facts.ts'
import { type Measurement, requiredPattern } from '../../calc/measurement.ts'
import type { F } from '../../model/field.ts'
import type { Instrument } from '../../model/generated/documents.ts'
import { durationText } from '../../model/heat-words.ts'
import type { SettingValue } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import { formatQuantity, formatSi } from '../../quantities/format.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import { listed } from '../../rules/support/words.ts'

/** As many prints of one pattern as anybody makes. */
const MAX_REPEATS = 5

/** Each rests on those before it: what moves heat, pull or drop afterwards voids length, bands and alignment (common practice). */
export function testPrints(setup: Setup): readonly string[] {
  return [
    'Nozzle test: clean until it is complete. What a missing nozzle leaves looks like bands, a wrong feed or thin ink.',
    loading(setup),
    roughInkPrint(setup),
    heatPrint(setup),
    alignmentPrint(setup),
    ...feedPrint(setup),
    ...finePrint(setup),
    inkPrint(setup),
  ]
}

const zonesSet = (setup: Setup): readonly Zone[] => heatOf(setup).zones.filter(({ heater, set }) => heater && set)

function loading(setup: Setup): string {
  const { profile } = setup
  const { suction } = profile
  const tension = profile.web?.tension
  const size = ({ value, called }: F<SettingValue>): string =>
    called ?? (typeof value === 'object' ? formatQuantity(value) : String(value))
  const pulls = [
    ...(suction === undefined ? [] : [`suction (${size(suction)})`]),
    ...(tension === undefined ? [] : [`tension (${size(tension)})`]),
  ]
  const until =
    pulls.length > 0
      ? `and change ${pulls.join(' and ')} until it lies flat and runs straight`
      : 'until it lies flat and runs straight'
  const warm = zonesSet(setup).length > 0 ? 'let the heaters get steady, ' : ''
  const gap = profile.gap ? ` Settle the gap (${formatQuantity(profile.gap.value)}) here.` : ''
  return `Load the roll square, ${warm}${until}. Look along both edges and the middle before the carriage moves, hands clear of it.${gap}`
}

const solids = 'print a series of solids, and find the most that does not pool, cockle or fill in'

function roughInkPrint({ profile }: Setup): string {
  const limit = profile.colour?.['ink-limit']
  return `Ink limit, roughly: ${solids}${limit ? `, about the ${formatQuantity(limit.value)} set` : ''}. Write it as colour, ink-limit.`
}

/** Heat and pause are settled at the ink there is to dry, and before what is measured on the web. */
function heatPrint(setup: Setup): string {
  const zones = zonesSet(setup)
  const where = zones.map(({ zone, set }) => `${zone} at ${formatQuantity(set!.value)}`).join(', ')
  const { needed } = dryingOf(setup)
  const after = needed.ok ? ` It is typically dry after ${durationText(needed.value.time)}.` : ''
  const read =
    zones.length > 0
      ? ` When it is dry, read the web at each heater (${where}) with the strip running, and write that under heat, readings.`
      : ''
  return `${zones.length > 0 ? 'Heat and drying' : 'Drying'}: print a solid at that limit. Stop the machine before hands go near and keep off what is hot; then touch the solid with a gloved finger where it is wound.${after} Change what dries it until it is dry there, and wind a metre, to be unrolled the next day.${read} What is measured below holds only for what is settled here.`
}

function feedPrint(setup: Setup): readonly string[] {
  const { printer, shop } = setup
  if (!printer?.feed) return []
  const lengths = [...(printer.feed['pattern-lengths']?.items ?? [])].map((length) => length.value).sort((a, b) => a.si - b.si)
  const tolerance = formatSi(shop.tolerance.length.value, 'relative', { unit: '%', digits: 3 })
  const cool = `laid flat, at ${formatSi(shop.referenceTemperature.value, 'temperature', { system: shop.units, digits: 4 })}`
  const plan = bestPlan(setup, lengths)
  const rules = rulesOf(setup)
  const reach = Math.max(...rules.map(([, { length }]) => length?.value.si ?? Number.POSITIVE_INFINITY))
  const longest = lengths.findLast(({ si }) => si <= reach) ?? lengths.at(-1)
  const what = plan
    ? `${plan.repeats === 1 ? 'one pattern' : `${plan.repeats} patterns`} of ${planWords(plan)}, ${cool}: that proves the shop's ±${tolerance}`
    : `the longest pattern${longest ? ` (${formatQuantity(longest)})` : ''}, ${cool}. No rule of the shop proves its ±${tolerance} on it; ${longer(setup)}`
  return [`Feed pattern: ${what}. ${reachText(rules)}Write each under feed, checks; key in what follows, and print once more.`]
}

/** Nobody measures a pattern by putting a rule on twice (common practice). */
function reachText(rules: readonly Rule[]): string {
  const unsaid = rules.filter(([, { length }]) => !length).map(([id]) => id)
  if (rules.length > 0 && unsaid.length === 0) return ''
  const which = unsaid.length === 1 ? `${unsaid[0]} is` : `${listed(unsaid)} are`
  return `Measure with a rule longer than the pattern${unsaid.length > 0 ? `; the shop does not say how long ${which}` : ''}. `
}

const planWords = (plan: Plan): string => `${plan.length}${plan.with === undefined ? '' : ` measured with ${plan.with}`}`

/** What would prove the tolerance where no pattern of the printer does. */
function longer(setup: Setup): string {
  const plan = bestPlan(setup, [])
  if (plan?.repeats !== 1) return 'find a better or a longer rule'
  return `two marks ${plan.length} apart${plan.with === undefined ? '' : `, measured with ${plan.with},`} would`
}

interface Plan {
  readonly with: string | undefined
  readonly length: string
  readonly repeats: number
}

type Rule = readonly [id: string, rule: Instrument]

const rulesOf = ({ shop }: Setup): readonly Rule[] =>
  [...shop.instruments].filter(([, { kind }]) => kind?.value === 'rule' || kind?.value === 'tape')

/**
 * The fewest prints, then the shortest pattern, over the shop's rules and tapes that reach it; without any, with the rule that is taken for granted.
 */
function bestPlan(setup: Setup, lengths: readonly Quantity[]): Plan | undefined {
  const rules: readonly (readonly [string | undefined, Instrument | undefined])[] = rulesOf(setup)
  for (let repeats = 1; repeats <= MAX_REPEATS; repeats++) {
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
      if (length > (rule?.length?.value.si ?? Number.POSITIVE_INFINITY) + 1e-9) continue
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
    fine.rows?.items.length && rowsText(fine.rows.items.map(({ value }) => value)),
    fine.patches && `${fine.patches.value} patches`,
    fine.step && `steps of ${formatQuantity(fine.step.value)}`,
  ]
  const words = size.filter((w) => w !== undefined && w !== 0).join(', ')
  return [
    `Fine feed pattern${words && ` (${words})`}, with the correction keyed in: pick the patch without bands in each row. Write them under feed, fine, with date, applied and the state they were printed in (under).`,
  ]
}

const rowsText = (rows: readonly string[]): string => (rows.length === 1 ? `the ${rows[0]} row` : `rows ${listed(rows)}`)

function alignmentPrint(setup: Setup): string {
  const { printer, profile } = setup
  const { offset, twoWay } = landingOf(setup)
  const apart =
    twoWay && offset.ok
      ? `; before compensation out and back land about ${formatSi(offset.value.offset.typical, 'length', { system: setup.shop.units, digits: 2 })} apart`
      : ''
  const at = profile.gap ? ` at the gap of ${formatQuantity(profile.gap.value)}` : ''
  const lacks = printer?.alignment
    ? ''
    : ` The document of ${profile.printer!.value} lacks alignment (its patches and their step), so no pick can be judged: write it in first.`
  return `Alignment pattern, one way${twoWay === false ? '' : ' and two ways'}${at && `,${at}`}${apart}. Write the picks under alignment, with date, thickness and the state they were printed in (under).${lacks}`
}

function inkPrint({ profile }: Setup): string {
  const limit = profile.colour?.['ink-limit']
  return `Ink limit again${limit ? ` (${formatQuantity(limit.value)} is set)` : ''}: ${solids}, small reversed text beside them. Colour comes last.`
}
