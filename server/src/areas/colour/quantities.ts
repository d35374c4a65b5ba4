// Colour in numbers: how far the newest measurement is from the colours aimed at.
import type { Outcome } from '../../base/outcome.ts'
import { type ComparedPatch, type Comparison, leftOut } from '../../model/patches.ts'
import type { Reckoned, ReckonedInput } from '../../model/reckoned.ts'
import { computedInput, givenInput } from '../../model/reckoned-inputs.ts'
import type { Setup } from '../../model/setup.ts'
import { type AreaQuantities, type Formula, type Inputs, pick, type Quantity } from '../quantity.ts'
import { colourOf, spreadValue, type ToleranceKey } from './facts.ts'
import { differenceText, patchesText, patchText, SPREAD_WORDS, toleranceSentence } from './words.ts'

/** Of the newest measurement, where the profile names one. */
const quantity = (what: ToleranceKey, title: string, formula: Formula, from: (comparison: Comparison) => Inputs): Quantity => ({
  key: `colour.${what}`,
  title,
  dimension: 'number',
  formula,
  source: 'CIEDE2000 (ΔE00) with kL = kC = kH = 1: Sharma, Wu and Dalal 2005; ISO/CIE 11664-6. Tolerances are those of the shop',
  applies: (setup) => comparisonIn(setup) !== undefined,
  inputs: (setup) => {
    const comparison = comparisonIn(setup)
    return {
      ...(comparison?.ok && {
        patches: computedInput('patches compared', comparison.value.spread.count, 'number'),
        ...from(comparison.value),
      }),
      tolerance: givenInput("the shop's tolerance", setup.shop.document?.tolerance?.colour?.[what], 'number'),
    }
  },
  value: (setup) => pick(comparisonIn(setup)!, (comparison) => spreadValue(comparison, what)),
  problem: (setup) => against(setup, what),
  sentence: (setup) => {
    const comparison = comparisonIn(setup)
    return comparison?.ok ? toleranceSentence(setup, comparison.value, what) : undefined
  },
})

const comparisonIn = (setup: Setup): Outcome<Comparison> | undefined => colourOf(setup).newest?.comparison

/** That it is more than the shop allows, and that it does not speak of all patches. */
function against(setup: Setup, what: ToleranceKey): Reckoned['problem'] {
  const { newest } = colourOf(setup)
  const beyond = newest?.beyond.find((one) => one.what === what)
  const left = newest?.comparison.ok ? leftOut(newest.comparison.value) : 0
  const reasons = [
    ...(beyond ? [`${differenceText(beyond.found)} is beyond the ${beyond.tolerance.value} that the shop allows`] : []),
    ...(left > 0 ? [`${patchesText(left)} of the two files could not be compared`] : []),
  ]
  return reasons.length === 0 ? undefined : { input: 'colour.measured', reason: reasons.join('; ') }
}

const patchInput = (patch: ComparedPatch | undefined): ReckonedInput | undefined =>
  patch && computedInput(`ΔE00 of ${patchText(patch.reference)}`, patch.difference, 'number')

export const quantities: AreaQuantities = [
  quantity('mean', 'Mean colour difference of the newest measurement', 'mean = sum / patches', ({ patches }) => ({
    sum: computedInput(
      'sum of ΔE00',
      patches.reduce((sum, { difference }) => sum + difference, 0),
      'number',
    ),
  })),
  quantity(
    'percentile',
    `Colour difference of the newest measurement, ${SPREAD_WORDS.percentile}`,
    { text: 'the smallest ΔE00 of a patch that 95 of 100 patches do not exceed', kind: 'choice' },
    // The greatest once the worst twentieth is left out, in whole patches.
    ({ patches }) => ({ patch: patchInput(patches[Math.floor(patches.length / 20)]) }),
  ),
  quantity(
    'max',
    'Greatest colour difference of the newest measurement',
    { text: 'the greatest ΔE00 of all patches', kind: 'choice' },
    ({ patches: [worst] }) => ({ patch: patchInput(worst) }),
  ),
]
