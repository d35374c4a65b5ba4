// The colour differences of the newest measurement as reckoned quantities.

import { ok } from '../../base/outcome.ts'
import { leftOut } from '../../model/patches.ts'
import type { Reckoned } from '../../model/reckoned.ts'
import { computedInput, givenInput, inputs, line } from '../../model/reckoned-inputs.ts'
import type { Setup } from '../../model/setup.ts'
import { type AreaQuantities, unchecked } from '../quantity.ts'
import { colourOf, spreadValue, type ToleranceKey } from './facts.ts'
import { differenceText, patchesText, SPREAD_WORDS } from './words.ts'

/** Nothing where the profile names no measurement. */
const rows = (setup: Setup): readonly Reckoned[] => {
  const { newest } = colourOf(setup)
  if (!newest) return []
  const { comparison, beyond } = newest
  return ROWS.map(([what, title, formula]): Reckoned => {
    const tolerance = setup.shop.document?.tolerance?.colour?.[what]
    const row = line(
      `colour.${what}`,
      title,
      formula,
      comparison.ok ? ok(spreadValue(comparison.value, what)) : comparison,
      'number',
      {
        inputs: inputs(
          comparison.ok ? computedInput('patches compared', comparison.value.spread.count, 'number') : undefined,
          givenInput("the shop's tolerance", tolerance, 'number'),
        ),
        source: SOURCE,
      },
    )
    const against = beyond.find((one) => one.what === what)
    const left = comparison.ok ? leftOut(comparison.value) : 0
    const reasons = [
      ...(against ? [`${differenceText(against.found)} is beyond the ${against.tolerance.value} that the shop allows`] : []),
      ...(left > 0 ? [`${patchesText(left)} of the two files could not be compared`] : []),
    ]
    return reasons.length === 0 ? row : { ...row, problem: { input: 'colour.measured', reason: reasons.join('; ') } }
  })
}

const ROWS: readonly (readonly [what: ToleranceKey, title: string, formula: string])[] = [
  ['mean', 'Mean colour difference of the newest measurement', 'mean = sum of ΔE00 / patches'],
  [
    'percentile',
    `Colour difference of the newest measurement, ${SPREAD_WORDS.percentile}`,
    'the smallest ΔE00 of a patch that 95 of 100 patches do not exceed',
  ],
  ['max', 'Greatest colour difference of the newest measurement', 'the greatest ΔE00 of all patches'],
]

const SOURCE =
  'CIEDE2000 (ΔE00) with kL = kC = kH = 1: Sharma, Wu and Dalal 2005; ISO/CIE 11664-6. Tolerances are those of the shop'

export const quantities: AreaQuantities = [(setup) => unchecked(rows(setup))]
