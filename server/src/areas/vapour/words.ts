// Vapour in numbers, for the hovers of the ink limit, the drying and the fan: what evaporates, and the air that thins it, to breathe and
// against explosion apart. Every number is the most there can be, and comes with its caution.

import { escapeMarkdown } from '../../base/markdown.ts'
import type { Range } from '../../calc/range.ts'
import { MIXING, VAPOUR_CAUTION } from '../../calc/vapour.ts'
import { degrees } from '../../model/heat-words.ts'
import type { Setup } from '../../model/setup.ts'
import { plainNumber, shown } from '../../model/shown.ts'
import { type VapourFacts, vapourOf } from './facts.ts'

/** What stands below everything that is said of ink, unless more is said of its vapour. */
export const INK_CAUTION =
  'Caution: ventilate, and keep ignition sources and static away. The safety data sheet of the ink, the machine’s safety documents, local codes and licensed practice come first.'

/** How much evaporates, in one sentence; undefined where the printer says nothing of its ink. */
export function vapourSentence(setup: Setup): string | undefined {
  if (!setup.printer?.ink) return undefined
  const { base, load, rate, heat } = vapourOf(setup)
  if (!load.ok) return `What evaporates of the ink cannot be told: ${escapeMarkdown(load.problem.reason)}.`
  if (load.value.high === 0) return SET_BY_LIGHT
  const area = `At most ${spread(load.value, setup.shop.units === 'us' ? OUNCES : GRAMS)} of ink evaporate${base === 'water' ? ', counted as water' : ''}`
  if (!rate.ok) return `${area}; how much in an hour cannot be told: ${escapeMarkdown(rate.problem.reason)}.`
  const power = heat?.ok ? `, and that takes ${spread(heat.value, WATTS)} of heat` : ''
  return `${area}; that is ${spread(rate.value, massRate(setup, base))} with all of the width at the ink limit${power}.`
}

/** What evaporates, what air thins it, and the caution; undefined where the printer says nothing of its ink. */
export function vapourLines(setup: Setup): readonly string[] | undefined {
  const sentence = vapourSentence(setup)
  if (sentence === undefined) return undefined
  const { base, rate, breathing, explosion } = vapourOf(setup)
  if (base === 'water') return [sentence, WATER, INK_CAUTION]
  // A problem with what evaporates is told once: both airs have the same.
  if (!rate.ok || !breathing || !explosion) return [sentence, INK_CAUTION]
  const same = !breathing.ok && !explosion.ok && breathing.problem.reason === explosion.problem.reason
  if (same) return [sentence, `Air to thin this vapour cannot be told: ${escapeMarkdown(breathing.problem.reason)}.`, INK_CAUTION]
  const airs = `- ${breathingSentence(setup)}\n- ${explosionSentence(setup)}`
  return [sentence, `Air that thins this vapour, two questions with two answers:\n\n${airs}`, `Caution: ${VAPOUR_CAUTION}`]
}

const SET_BY_LIGHT =
  'This ink is set by light and counted as giving off nothing. Until it is set it harms skin and eyes, and its lamps may make ozone: keep the extraction on.'
const WATER =
  'It ends up in the air of the room unless it is led off. What else evaporates with the water, and its limits, stand in the ink’s safety data sheet.'

export function breathingSentence(setup: Setup): string | undefined {
  const { breathing } = vapourOf(setup)
  if (!breathing) return undefined
  const limit = setup.printer?.ink?.['exposure-limit']?.value.si
  const says = breathing.ok
    ? `${spread(breathing.value.air, airRate(setup))} at ${shown(setup, limit!, 'relative')} (mixing factor ${MIXING.low} to ${MIXING.high}, from memory)`
    : `cannot be told: ${escapeMarkdown(breathing.problem.reason)}`
  return `**to breathe:** ${says}`
}

export function explosionSentence(setup: Setup): string | undefined {
  const { explosion, hottest } = vapourOf(setup)
  if (!explosion) return undefined
  const limit = setup.printer?.ink?.['lower-explosive-limit']?.value.si
  const where = hottest.ok ? `, lowered for ${degrees(hottest.value, setup.shop.units)}` : ''
  const says = explosion.ok
    ? `${spread(explosion.value.air, airRate(setup))} at a quarter of the lower explosive limit of ${shown(setup, limit!, 'relative')}${where}`
    : `cannot be told: ${escapeMarkdown(explosion.problem.reason)}`
  return `**against explosion:** ${says}`
}

/** How many there are in one of SI, and their name. */
type Shown = readonly [factor: number, unit: string]

const GRAMS: Shown = [1000, 'g/m²']
/** Exact ratios of NIST SP 811, App. B.8: ounce 28.349523125 g, yard 0.9144 m, pound 453.59237 g, foot 0.3048 m. */
const OUNCES: Shown = [0.9144 ** 2 / 0.028349523125, 'oz/yd²']
const WATTS: Shown = [1, 'W']
/** Water is counted in kilograms, solvent in grams: there is less of it and each counts. */
const massRate = ({ shop }: Setup, base: VapourFacts['base']): Shown =>
  shop.units === 'us' ? [3600 / 0.45359237, 'lb/h'] : base === 'water' ? [3600, 'kg/h'] : [3.6e6, 'g/h']
const airRate = ({ shop }: Setup): Shown => (shop.units === 'us' ? [60 / 0.3048 ** 3, 'ft³/min'] : [3600, 'm³/h'])

/** `200 g/h (190 to 210)`, or one number where two digits tell no difference. */
function spread({ low, typical, high }: Range, [factor, unit]: Shown): string {
  const [a, b] = [plainNumber(low * factor), plainNumber(high * factor)]
  return `${plainNumber(typical * factor)} ${unit}${a === b ? '' : ` (${a} to ${b})`}`
}
