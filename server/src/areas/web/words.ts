// The web in words, for rules, advice, a started profile and hovers: what pull, winding and speed do to it, and what its roll weighs.
import { table } from '../../base/markdown.ts'
import { curlDirection } from '../../calc/curl.ts'
import { isExact, type Range } from '../../calc/range.ts'
import type { SlackWatch } from '../../model/generated/documents.ts'
import { rangeText, strainWords, valueText } from '../../model/range-words.ts'
import type { Setup } from '../../model/setup.ts'
import { plainNumber } from '../../model/shown.ts'
import type { UnitSystem } from '../../quantities/display-unit.ts'
import { formatQuantity } from '../../quantities/format.ts'
import { listed, sentence } from '../../rules/support/words.ts'
import { advanceOf } from '../advance/advance.ts'
import { throughputOf } from '../advance/facts.ts'
import { emptyingOf, massOf, SAG_PART, strainAt, webOf } from './facts.ts'
import type { Tension } from './tension.ts'

/** "level 2 (15 N/m)", or the pull alone. */
export function tensionText({ value, name }: Pick<Tension, 'value' | 'name'>, units: UnitSystem): string {
  const pull = pullText(value, units)
  return name === undefined ? pull : `level ${name} (${pull})`
}

export const pullText = (value: number, units: UnitSystem, digits = 3): string =>
  valueText(value, 'line-tension', { units, digits })

export const pullRangeText = (range: Range, units: UnitSystem): string => rangeText(range, 'line-tension', { units })

export const strainText = (strain: Range, units: UnitSystem): string => rangeText(strain, 'relative', strainWords(units))

/** How much stretch the shop allows. */
export const allowedStretchText = ({ shop }: Setup): string =>
  valueText(shop.tolerance.length.value, 'relative', strainWords(shop.units))

/** "20 mm/s to 120 mm/s": what the printer moves the web at. */
export const speedRangeText = ([low, high]: readonly [number, number], units: UnitSystem): string =>
  `${valueText(low, 'speed', { units })} to ${valueText(high, 'speed', { units })}`

/** Newton metres in an inch-pound of torque: 4.4482216152605 N over 0.0254 m (NIST SP 811 App. B). */
const INCH_POUND = 4.4482216152605 * 0.0254

/** A torque: no document holds one, so it has no dimension of its own. */
export const torqueText = (torque: number, units: UnitSystem): string =>
  units === 'us' ? `${Number((torque / INCH_POUND).toPrecision(2))} lbf·in` : `${Number(torque.toPrecision(2))} N·m`

/** Kilograms in a pound (exact; NIST SP 811 App. B). */
const POUND = 0.45359237

/** A mass, as little a dimension of documents: `35 kg (33 to 36)`. */
function massText(mass: Range, units: UnitSystem): string {
  const [size, unit] = units === 'us' ? [POUND, 'lb'] : [1, 'kg']
  const text = (kg: number): string => plainNumber(kg / size)
  return `${text(mass.typical)} ${unit}${isExact(mass) ? '' : ` (${text(mass.low)} to ${text(mass.high)})`}`
}

/** What a pull does, and how much: a row of the table of the hover. */
type PullRow = readonly [what: string, amount: string]

export function stretchRow(setup: Setup): PullRow | undefined {
  const { strain } = webOf(setup)
  if (!strain.ok) return undefined
  return [
    'stretches the web by',
    `**${strainText(strain.value, setup.shop.units)}**; ${allowedStretchText(setup)} is the length tolerance`,
  ]
}

export function guardRow(setup: Setup): PullRow | undefined {
  const { guard } = webOf(setup)
  if (!guard.ok) return undefined
  const published = /^(?:published|computed)/.test(setup.material.property('tension-guard')?.source ?? '')
  const by = published ? 'by trade tables' : '(from memory)'
  return ['the material takes', `${pullRangeText(guard.value, setup.shop.units)}, a typical ceiling ${by}`]
}

export function leastRow(setup: Setup): PullRow | undefined {
  const { least, span } = webOf(setup)
  const { units } = setup.shop
  if (!least.ok || span === undefined) return undefined
  return [
    'it hangs below',
    `${pullRangeText(least.value, units)}: over the ${valueText(span, 'length', { units })} to the take-up, taken as one free span, it sags by one part in ${SAG_PART}`,
  ]
}

export function torqueRow(setup: Setup): PullRow | undefined {
  const { torque, width } = webOf(setup)
  const { units } = setup.shop
  if (!torque.ok || width === undefined) return undefined
  const [core, full] = [torqueText(torque.value.core, units), torqueText(torque.value.full, units)]
  return [
    'take-up torque',
    `${core} on the core, ${full} on the full roll, ${valueText(width, 'length', { units, digits: 4 })} wide`,
  ]
}

/** The row as a sentence of its own. */
export const rowSentence =
  (row: (setup: Setup) => PullRow | undefined) =>
  (setup: Setup): string | undefined => {
    const told = row(setup)
    return told && sentence(told.join(' '))
  }

/** What the pull that is set does. */
export function pullTable(setup: Setup): string | undefined {
  const { tension } = webOf(setup)
  const rows = [stretchRow, guardRow, leastRow, torqueRow].flatMap((row) => {
    const told = row(setup)
    return told ? [told] : []
  })
  if (!tension || rows.length === 0) return undefined
  return table([sentence(tensionText(tension, setup.shop.units)).slice(0, -1), ''], rows)
}

/** The stretch at the levels beside the one that is set, the stronger first. */
export function besideSentence(setup: Setup): string | undefined {
  const { levels, tension, stiffness } = webOf(setup)
  const { units } = setup.shop
  const at = levels.findIndex(({ level }) => level === tension?.level)
  if (at < 0) return undefined
  const beside = [levels[at + 1], levels[at - 1]].flatMap((level) => {
    const strain = level && strainAt(level.tension, stiffness)
    if (!strain?.ok) return []
    return [`${strainText(strain.value, units)} at ${tensionText({ value: level!.tension, name: level!.name }, units)}`]
  })
  return beside.length > 0 ? `The stretch would be ${beside.join(', and ')}.` : undefined
}

export function growthSentence(setup: Setup): string | undefined {
  const { torque } = webOf(setup)
  return torque.ok
    ? `At one torque the pull on the core is ${Number((torque.value.full / torque.value.core).toFixed(1))} times that on the full roll.`
    : undefined
}

/** What a brake that is set once makes of the pull as the roll empties. */
export function emptyingSentence(setup: Setup): string | undefined {
  const facts = webOf(setup)
  const { units } = setup.shop
  const pull = emptyingOf(facts)
  if (!pull.ok) return undefined
  const { guard } = facts
  const much = guard.ok && pull.value > guard.value.high ? ', more than the material typically takes' : ''
  return `A brake that is set once for this pull on the full roll pulls ${pullText(pull.value, units, 2)} near the core${much}.`
}

/** What winding does to the faces of the web, and how it comes out again. */
export function windingLines(setup: Setup): readonly string[] {
  const { stock, shop, profile } = setup
  const { faceStrain, takeUp, againstSet } = webOf(setup)
  const { units } = shop
  const wound = profile.web?.wound?.value
  if (!stock || !wound) return []
  if (!takeUp.ok) return [sentence(takeUp.problem.reason)]
  if (!faceStrain.ok) return [sentence(faceStrain.problem.reason)]
  const on = (end: 'core' | 'full'): readonly [diameter: string, strain: string] => [
    valueText(takeUp.value[end], 'length', { units }),
    valueText(faceStrain.value[end], 'relative', { unit: '%', digits: 2 }),
  ]
  const [[core, onCore], [full, onFull]] = [on('core'), on('full')]
  const came = stock.wound?.value
  const against = againstSet.ok ? `, which takes ${pullRangeText(againstSet.value, units)} of the pull on the core` : ''
  return [
    `On a core of ${core} each face of this web is strained by ${onCore}, on the full roll (${full}) by ${onFull}; taking the core of the stock's own roll. What stays of it grows with time and warmth.`,
    `Run again face up: ${curlDirection(wound)?.towardsHeads}.`,
    ...(came === undefined
      ? []
      : [`The stock came wound ${came}: it winds up ${came === wound ? 'with its own set' : `against its own set${against}`}.`]),
  ]
}

/** How long the web takes for a step, at the speed that is set. */
export function stepSentence(setup: Setup): string | undefined {
  const speed = setup.profile.web?.speed?.value.si
  const advance = advanceOf(setup)
  if (speed === undefined || !(speed > 0) || !advance.ok) return undefined
  const time = (length: number): string => valueText(length / speed, 'time', { digits: 2 })
  const step = valueText(advance.value.advance, 'length', { units: setup.shop.units })
  return `The step of ${step} after each pass takes ${time(advance.value.advance)}, a metre of blank web ${time(1)}.`
}

export function speedRangeSentence(setup: Setup): string | undefined {
  const { speedRange } = webOf(setup)
  return speedRange && `The printer moves the web at ${speedRangeText(speedRange, setup.shop.units)}.`
}

/** What stands below every mass: it is read by somebody who is about to lift it. */
export const LIFTING_CAUTION =
  'Caution: rolls hurt backs and crush hands and feet. Lift one with a lifter or with others, in shoes that protect, and keep clear of one that may roll or tip. The safety documents of the machine and the material, and local rules for lifting by hand, come first.'

export function massSentence(setup: Setup): string | undefined {
  const facts = webOf(setup)
  const mass = massOf(setup, facts)
  if (!mass.ok || facts.width === undefined) return undefined
  const { units } = setup.shop
  const wide = valueText(facts.width, 'length', { units, digits: 4 })
  return `**A full roll** ${wide} wide weighs about ${massText(mass.value, units)}, core and flanges not counted.`
}

/** The ways to watch for slack, the one that sees most first. */
export const WATCHING: readonly SlackWatch[] = ['always', 'at-intervals', 'start-of-job', 'never']

/** How much runs between two looks, where the printer looks at intervals; else which ways it has. */
export function slackSentence(setup: Setup): string | undefined {
  const { profile, printer } = setup
  const every = printer?.web?.['slack-interval']?.value
  const ways = printer?.web?.['slack-watch']?.items.map(({ value }) => value)
  if (profile.web?.['slack-watch']?.value !== 'at-intervals' || !every)
    return ways && `${profile.printer?.value} has ${listed(ways.map((way) => `\`${way}\``))}.`
  const looks = `${profile.printer?.value} looks every ${formatQuantity(every)}`
  const { pass } = throughputOf(setup)
  if (!pass.ok) return `${looks}${every.dimension === 'time' ? '' : ' of web'}.`
  const { webSpeed } = pass.value
  return every.dimension === 'time'
    ? `${looks}: about ${valueText(every.si * webSpeed, 'length', { units: setup.shop.units, digits: 2 })} of web run in between, in this mode.`
    : `${looks} of web: about once in ${valueText(every.si / webSpeed, 'time', { digits: 2 })}, in this mode.`
}
