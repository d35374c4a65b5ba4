// The web in numbers: what pull and winding do to it, the most and the least it takes, and its roll: torque, length, mass, and the pull at its core.
import type { ReckonedInput } from '../../model/reckoned.ts'
import { assumedInput, computedInput, givenInput, profileInput, propertyInput, shopInput } from '../../model/reckoned-inputs.ts'
import type { Setup } from '../../model/setup.ts'
import type { AreaQuantities, Quantity } from '../quantity.ts'
import { pick } from '../quantity.ts'
import { emptyingOf, massOf, SAG_PART, type TakeUp, webOf } from './facts.ts'
import { emptyingSentence, guardRow, leastRow, massSentence, rowSentence, stretchRow, torqueRow } from './words.ts'

/** Digits of what rests on a table of the trade, on an assumed sag, on a modulus or on a brake that drags alike all the time. */
const ROUGH = 2

const applies = ({ profile, stock }: Setup): boolean => profile.web !== undefined || stock?.roll !== undefined

function tension(setup: Setup): ReckonedInput | undefined {
  const set = webOf(setup).tension
  return set && profileInput(setup, 'web tension', setup.profile.web?.tension, 'line-tension', set.value)
}

const thickness = ({ stock }: Setup): ReckonedInput | undefined => givenInput('thickness', stock?.thickness, 'length')

function width(setup: Setup): ReckonedInput | undefined {
  const { width } = webOf(setup)
  return width === undefined ? undefined : computedInput('widest roll that fits the bed', width, 'length')
}

const core = ({ stock }: Setup): ReckonedInput | undefined => givenInput('core', stock?.roll?.core, 'length')

function full(setup: Setup): ReckonedInput | undefined {
  const { takeUp } = webOf(setup)
  return (
    givenInput('full roll', setup.stock?.roll?.outside, 'length') ??
    (takeUp.ok ? computedInput('full roll', takeUp.value.full, 'length') : undefined)
  )
}

const DIAMETER = { core, full } as const

const stress: Quantity = {
  key: 'web.stress',
  title: 'Stress of the web by its pull',
  dimension: 'modulus',
  formula: 'stress = tension / thickness',
  source: 'definition',
  applies,
  inputs: (setup) => ({ tension: tension(setup), thickness: thickness(setup) }),
  value: (setup) => webOf(setup).stress,
}

const stretch: Quantity = {
  key: 'web.stretch',
  title: 'Stretch of the web by its pull',
  dimension: 'relative',
  digits: ROUGH,
  formula: 'stretch = tension / stiffness',
  source: "Hooke's law, below the yield stress; cloth is not linear",
  applies,
  inputs: (setup) => ({
    tension: tension(setup),
    stiffness: propertyInput('modulus · thickness', webOf(setup).stiffness, 'line-tension'),
    allowed: shopInput('length tolerance', setup.shop.tolerance.length, 'relative'),
  }),
  value: (setup) => webOf(setup).strain,
  sentence: rowSentence(stretchRow),
}

const guard: Quantity = {
  key: 'web.guard',
  title: 'Pull that the material takes',
  dimension: 'line-tension',
  digits: ROUGH,
  formula: 'guard = stress · thickness',
  source: 'two converting-trade tables of web tension; a ceiling, made for lines that run without pause',
  applies,
  inputs: (setup) => ({
    stress: propertyInput('guard stress', setup.material.property('tension-guard'), 'modulus'),
    thickness: thickness(setup),
  }),
  value: (setup) => webOf(setup).guard,
  sentence: rowSentence(guardRow),
}

const least: Quantity = {
  key: 'web.least',
  title: 'Least pull that keeps the free path from hanging',
  dimension: 'line-tension',
  digits: ROUGH,
  formula: 'least = grammage · 9.80665 · span / (8 · sag)',
  source:
    'shallow catenary under standard gravity, 9.80665 m/s²; the path is taken as one free span, which bars and the platen shorten',
  applies,
  inputs: (setup) => ({
    grammage: propertyInput('grammage', setup.material.grammage(), 'grammage'),
    span: givenInput('path to winding, taken as one span', setup.printer?.drying?.['path-to-winding'], 'length'),
    sag: assumedInput('sag as a share of the span', 1 / SAG_PART, 'relative', 'assumption'),
  }),
  value: (setup) => webOf(setup).least,
  sentence: rowSentence(leastRow),
}

const torque = (on: keyof TakeUp, title: string): Quantity => ({
  key: `web.torque-${on}`,
  title,
  dimension: 'number',
  unit: 'N·m',
  formula: 'torque = tension · width · diameter / 2',
  source: 'statics of a roll; core and full roll as the stock comes',
  applies,
  inputs: (setup) => ({ tension: tension(setup), width: width(setup), diameter: DIAMETER[on](setup) }),
  value: (setup) => pick(webOf(setup).torque, (torque) => torque[on]),
  sentence: rowSentence(torqueRow),
})

const faceStrain = (on: keyof TakeUp, title: string): Quantity => ({
  key: `web.face-strain-${on}`,
  title,
  dimension: 'relative',
  formula: 'strain = thickness / (diameter + thickness)',
  source: 'geometry of a bent strip',
  applies,
  inputs: (setup) => ({ thickness: thickness(setup), diameter: DIAMETER[on](setup) }),
  value: (setup) => pick(webOf(setup).faceStrain, (strain) => strain[on]),
})

const metres: Quantity = {
  key: 'web.metres',
  title: 'Length of web on a full roll',
  dimension: 'length',
  formula: 'length = π · (full² − core²) / (4 · thickness)',
  source: 'area of the ring over the thickness; air wound in makes it less',
  applies,
  inputs: (setup) => ({
    full: givenInput('full roll', setup.stock?.roll?.outside, 'length'),
    core: core(setup),
    thickness: thickness(setup),
  }),
  value: (setup) => webOf(setup).metres,
}

const emptying: Quantity = {
  key: 'web.emptying',
  title: 'Pull near the core, with the brake left as it is set on the full roll',
  dimension: 'line-tension',
  digits: ROUGH,
  formula: 'pull = tension · full / core',
  source: 'statics of a roll, one torque on both diameters',
  validity: 'Holds for a brake that is set once, not for one that follows the roll or the pull',
  applies,
  inputs: (setup) => ({ tension: tension(setup), full: full(setup), core: core(setup) }),
  value: (setup) => emptyingOf(webOf(setup)),
  sentence: emptyingSentence,
}

const mass: Quantity = {
  key: 'web.mass',
  title: 'What a full roll weighs, its core not counted',
  dimension: 'number',
  unit: 'kg',
  digits: ROUGH,
  formula: 'mass = grammage · width · length',
  source: 'definition of grammage (ISO 536)',
  validity: 'Core, flanges and wrapping come on top',
  applies,
  inputs: (setup) => {
    const { metres } = webOf(setup)
    return {
      grammage: propertyInput('grammage', setup.material.grammage(), 'grammage'),
      width: width(setup),
      length:
        givenInput('length on a full roll', setup.stock?.roll?.length, 'length') ??
        (metres.ok ? computedInput('length on a full roll', metres.value, 'length') : undefined),
    }
  },
  value: (setup) => massOf(setup, webOf(setup)),
  sentence: massSentence,
}

export const quantities: AreaQuantities = [
  stress,
  stretch,
  guard,
  least,
  torque('core', 'Torque of the take-up on the empty core'),
  torque('full', 'Torque of the take-up on the full roll'),
  faceStrain('core', 'Strain of the faces wound on the core'),
  faceStrain('full', 'Strain of the faces on the full roll'),
  metres,
  emptying,
  mass,
]
