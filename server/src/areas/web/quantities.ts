// What the pull and the winding of a setup do to its web, quantity by quantity, with formulas, inputs and sources: for `rollbook reckon`.

import type { Outcome } from '../../base/outcome.ts'
import type { Range } from '../../calc/range.ts'
import type { Reckoned } from '../../model/reckoned.ts'
import {
  assumedInput,
  computedInput,
  givenInput,
  inputs,
  profileInput,
  propertyInput,
  shopInput,
} from '../../model/reckoned-inputs.ts'
import type { Setup } from '../../model/setup.ts'
import { type AreaQuantities, unchecked } from '../quantity.ts'
import { SAG_PART, type TakeUp, webOf } from './facts.ts'

const TABLES = 'two converting-trade tables of web tension; a ceiling, made for lines that run without pause'

/** Digits of what rests on a table of the trade, on an assumed sag or on a modulus. */
const ROUGH = 2

const rows = (setup: Setup): readonly Reckoned[] => {
  const facts = webOf(setup)
  const { profile, stock, printer, material, shop } = setup
  if (!profile.web && !stock?.roll) return []
  const pull = profileInput(setup, 'web tension', profile.web?.tension, 'line-tension', facts.tension?.value)
  const thickness = givenInput('thickness', stock?.thickness, 'length')
  const width = facts.width === undefined ? undefined : computedInput('widest roll that fits the bed', facts.width, 'length')
  const core = givenInput('core', stock?.roll?.core, 'length')
  const full = stock?.roll?.outside
    ? givenInput('full roll', stock.roll.outside, 'length')
    : facts.takeUp.ok
      ? computedInput('full roll', facts.takeUp.value.full, 'length')
      : undefined
  const path = givenInput('path to winding, taken as one span', printer?.drying?.['path-to-winding'], 'length')
  const torque = (key: string, title: string, on: keyof TakeUp): Reckoned => ({
    key,
    title,
    formula: 'torque = tension · width · diameter / 2',
    ...resultOf(pick(facts.torque, on)),
    dimension: 'number',
    unit: 'N·m',
    inputs: inputs(pull, width, on === 'core' ? core : full),
    source: 'statics of a roll; core and full roll as the stock comes',
  })
  const face = (key: string, title: string, on: keyof TakeUp): Reckoned => ({
    key,
    title,
    formula: 'strain = t / (D + t)',
    ...resultOf(pick(facts.faceStrain, on)),
    dimension: 'relative',
    inputs: inputs(thickness, on === 'core' ? core : full),
    source: 'geometry of a bent strip',
  })
  return [
    {
      key: 'web.stress',
      title: 'Stress of the web by its pull',
      formula: 'stress = tension / thickness',
      ...resultOf(facts.stress),
      dimension: 'modulus',
      inputs: inputs(pull, thickness),
      source: 'definition',
    },
    {
      key: 'web.stretch',
      title: 'Stretch of the web by its pull',
      formula: 'stretch = tension / (modulus · thickness)',
      ...resultOf(facts.strain),
      dimension: 'relative',
      digits: ROUGH,
      inputs: inputs(
        pull,
        propertyInput('modulus · thickness', facts.stiffness, 'line-tension'),
        shopInput('length tolerance', shop.tolerance.length, 'relative'),
      ),
      source: "Hooke's law, below the yield stress; cloth is not linear",
    },
    {
      key: 'web.guard',
      title: 'Pull that the material takes',
      formula: 'guard = guard stress · thickness',
      ...resultOf(facts.guard),
      dimension: 'line-tension',
      digits: ROUGH,
      inputs: inputs(propertyInput('guard stress', material.property('tension-guard'), 'modulus'), thickness),
      source: TABLES,
    },
    {
      key: 'web.least',
      title: 'Least pull that keeps the free path from hanging',
      formula: 'least = grammage · g · span² / (8 · sag)',
      ...resultOf(facts.least),
      dimension: 'line-tension',
      digits: ROUGH,
      inputs: inputs(
        propertyInput('grammage', material.grammage(), 'grammage'),
        path,
        assumedInput('sag as a share of the span', 1 / SAG_PART, 'relative', 'assumption'),
      ),
      source: 'shallow catenary; the path is taken as one free span, which bars and the platen shorten',
    },
    torque('web.torque-core', 'Torque of the take-up on the empty core', 'core'),
    torque('web.torque-full', 'Torque of the take-up on the full roll', 'full'),
    face('web.face-strain-core', 'Strain of the faces wound on the core', 'core'),
    face('web.face-strain-full', 'Strain of the faces on the full roll', 'full'),
    {
      key: 'web.metres',
      title: 'Length of web on a full roll',
      formula: 'length = π (D² − d²) / (4 · thickness)',
      ...resultOf(facts.metres),
      dimension: 'length',
      inputs: inputs(givenInput('full roll', stock?.roll?.outside, 'length'), core, thickness),
      source: 'area of the ring over the thickness; air wound in makes it less',
    },
  ]
}

const pick = (outcome: Outcome<TakeUp>, on: keyof TakeUp): Outcome<number> =>
  outcome.ok ? { ok: true, value: outcome.value[on] } : outcome

function resultOf(outcome: Outcome<number | Range>): Pick<Reckoned, 'value' | 'problem'> {
  if (!outcome.ok) return { value: undefined, problem: { reason: outcome.problem.reason } }
  const { value } = outcome
  return { value: typeof value !== 'number' && value.low === value.high ? value.typical : value }
}

export const quantities: AreaQuantities = [(setup) => unchecked(rows(setup))]
