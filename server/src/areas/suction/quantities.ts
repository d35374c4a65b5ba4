// What the suction of a setup does, quantity by quantity, with formulas, inputs and sources: for `rollbook reckon`.

import { holdingShare } from '../../calc/suction.ts'
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
import { bendingOf, type SuctionFacts, suctionOf } from './facts.ts'

const DRAG = 'Coulomb friction over the suction zone; ASTM D1894 and ISO 8295 for friction'
const PLATE = 'Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, sections 2, 97 and 100 (from memory)'

const rows = (setup: Setup): readonly Reckoned[] => {
  const facts = suctionOf(setup)
  const { printer, profile, material } = setup
  if (!profile.suction && facts.levels.length === 0) return []
  const row = facts.current
  const problem = problemOf(facts)
  const pressure = profileInput(setup, 'suction', profile.suction, 'pressure', facts.set?.pressure)
  const { depth, hole, 'open-area': open } = printer?.suction ?? {}
  const share = open && holdingShare({ openArea: open.value.si })
  const shareInput = share?.ok
    ? assumedInput('share of the platen that holds', share.value, 'relative', 'assumption: from the openings alone to all of it')
    : undefined
  const length = givenInput('length of the suction zone', depth, 'length')
  const friction = propertyInput('friction', material.property('friction'), 'number')
  const stiffness = propertyInput('modulus · thickness', material.stiffness(), 'line-tension')
  const bending = bendingOf(material)
  const bends = bending
    ? computedInput('modulus in bending', bending, 'modulus')
    : propertyInput('modulus', material.property('modulus'), 'modulus')
  const thickness = givenInput('thickness', setup.stock?.thickness, 'length')
  const poisson = propertyInput('poisson', material.property('poisson'), 'number')
  const rest = { ...(problem && { problem: { reason: problem } }) }
  const { riseLimit } = facts
  return [
    {
      key: 'suction.holding',
      title: 'Force that holds the web, per metre of width',
      formula: 'holding = pressure · share · depth',
      value: row?.holding,
      dimension: 'line-tension',
      inputs: inputs(pressure, shareInput, length),
      source: 'pressure on the covered area; the share is an assumption',
      ...rest,
    },
    {
      key: 'suction.drag',
      title: 'Drag of the suction, per metre of width',
      formula: 'drag = friction · pressure · share · depth',
      value: row?.drag,
      dimension: 'line-tension',
      inputs: inputs(friction, pressure, shareInput, length),
      source: DRAG,
      ...rest,
    },
    {
      key: 'suction.stretch',
      title: 'Stretch of the web by that drag',
      formula: 'stretch = drag / (modulus · thickness)',
      value: row?.strain,
      dimension: 'relative',
      inputs: inputs(
        row && computedInput('drag', row.drag, 'line-tension'),
        stiffness,
        shopInput('length tolerance', setup.shop.tolerance.length, 'relative'),
      ),
      source: `Hooke's law; ${DRAG}`,
      ...rest,
    },
    {
      key: 'suction.dimple',
      title: 'Depth of a dimple over a suction hole',
      formula: 'w (1 + 0.488 w² / t²) = p a⁴ / (64 D), D = E t³ / (12 (1 − ν²)), a half the hole',
      value: row?.dimple,
      dimension: 'length',
      inputs: inputs(pressure, givenInput('suction hole', hole, 'length'), bends, thickness, poisson),
      source: PLATE,
      ...rest,
    },
    {
      key: 'suction.rise',
      title: 'Height at which a curled edge is left standing',
      formula: 'rise = D / (R² · pressure · share), D = E t³ / (12 (1 − ν²))',
      value: row?.curl.rise,
      dimension: 'length',
      inputs: inputs(
        pressure,
        shareInput,
        bends,
        thickness,
        poisson,
        propertyInput('curl radius', material.property('curl-radius'), 'length'),
        riseLimit.from === 'assumed'
          ? assumedInput('rise allowed', riseLimit.value, 'length', 'from memory')
          : computedInput('rise allowed', riseLimit.value, 'length'),
      ),
      source: 'derived: the bending moment that flattens the strip is what the suction on it gives',
      ...rest,
    },
  ]
}

function problemOf({ window, current, set, misfit }: SuctionFacts): string | undefined {
  if (!window.ok) return window.problem.reason
  if (current) return undefined
  if (misfit) return 'the suction in the profile is none that the printer has'
  return set ? undefined : 'the profile gives no suction'
}

export const quantities: AreaQuantities = [(setup) => unchecked(rows(setup))]
