// Suction in numbers: what it holds, drags and stretches, how deep it dimples, what curl it leaves standing, and the suction that a curl needs.
import { type Outcome, ok, refuse } from '../../base/outcome.ts'
import { asRange } from '../../calc/range.ts'
import { holdingShare } from '../../calc/suction.ts'
import type { SuctionRow } from '../../calc/suction-window.ts'
import type { ReckonedInput } from '../../model/reckoned.ts'
import { assumedInput, computedInput, givenInput, profileInput, propertyInput, shopInput } from '../../model/reckoned-inputs.ts'
import type { Setup } from '../../model/setup.ts'
import type { AreaQuantities, Inputs, Quantity, Step } from '../quantity.ts'
import { pick } from '../quantity.ts'
import { bendingOf, type SuctionStep, suctionNeeded, suctionOf } from './facts.ts'
import { dragSentence, neededSentence } from './words.ts'

const FRICTION = 'Coulomb friction over the suction zone; ASTM D1894 and ISO 8295 for friction'
const FLATTENED = 'derived: the bending moment that flattens the strip is what the suction on it gives'

const applies = (setup: Setup): boolean => setup.profile.suction !== undefined || suctionOf(setup).levels.length > 0

/** What the suction that is set does, or why that is not known. */
function rowOf(setup: Setup): Outcome<SuctionRow<SuctionStep>> {
  const { window, current, misfit } = suctionOf(setup)
  if (!window.ok) return window
  if (current) return ok(current)
  return refuse('suction', misfit ? 'the suction in the profile is none that the printer has' : 'the profile gives no suction')
}

const pressure = (setup: Setup): ReckonedInput | undefined => {
  const { set } = suctionOf(setup)
  return set && profileInput(setup, 'suction', setup.profile.suction, 'pressure', set.pressure)
}

function share({ printer }: Setup): ReckonedInput | undefined {
  const open = printer?.suction?.['open-area']
  const share = open && holdingShare({ openArea: open.value.si })
  return share?.ok
    ? assumedInput('share of the platen that holds', share.value, 'relative', 'assumption: from the openings alone to all of it')
    : undefined
}

const depth = ({ printer }: Setup): ReckonedInput | undefined =>
  givenInput('length of the suction zone', printer?.suction?.depth, 'length')

/** What bends over a hole and along an edge. */
function bent({ material, stock }: Setup): Inputs {
  const bending = bendingOf(material)
  return {
    modulus: bending
      ? computedInput('modulus in bending', bending, 'modulus')
      : propertyInput('modulus', material.property('modulus'), 'modulus'),
    thickness: givenInput('thickness', stock?.thickness, 'length'),
    poisson: propertyInput('poisson', material.property('poisson'), 'number'),
  }
}

function curled(setup: Setup): Inputs {
  const { value, from } = suctionOf(setup).riseLimit
  return {
    ...bent(setup),
    radius: propertyInput('curl radius', setup.material.property('curl-radius'), 'length'),
    allowed:
      from === 'assumed'
        ? assumedInput('rise allowed', value, 'length', 'from memory')
        : computedInput('rise allowed', value, 'length'),
  }
}

const holding: Quantity = {
  key: 'suction.holding',
  title: 'Force that holds the web, per metre of width',
  dimension: 'line-tension',
  formula: 'holding = pressure · share · depth',
  source: 'pressure on the covered area; the share is an assumption',
  applies,
  inputs: (setup) => ({ pressure: pressure(setup), share: share(setup), depth: depth(setup) }),
  value: (setup) => pick(rowOf(setup), (row) => row.holding),
}

const drag: Quantity = {
  key: 'suction.drag',
  title: 'Drag of the suction, per metre of width',
  dimension: 'line-tension',
  formula: 'drag = friction · pressure · share · depth',
  source: FRICTION,
  applies,
  inputs: (setup) => ({
    friction: propertyInput('friction', setup.material.property('friction'), 'number'),
    ...holding.inputs(setup),
  }),
  value: (setup) => pick(rowOf(setup), (row) => row.drag),
  sentence: dragSentence,
}

const stretch: Quantity = {
  key: 'suction.stretch',
  title: 'Stretch of the web by that drag',
  dimension: 'relative',
  formula: 'stretch = drag / stiffness',
  source: `Hooke's law; ${FRICTION}`,
  applies,
  inputs: (setup) => {
    const row = rowOf(setup)
    return {
      drag: row.ok ? computedInput('drag', row.value.drag, 'line-tension') : undefined,
      stiffness: propertyInput('modulus · thickness', setup.material.stiffness(), 'line-tension'),
      allowed: shopInput('length tolerance', setup.shop.tolerance.length, 'relative'),
    }
  },
  value: (setup) => pick(rowOf(setup), (row) => row.strain),
}

/** Depth of a plate that only bends, and of a membrane too limp to bend. */
const BENT = '12 · (1 − poisson²) · pressure · (hole / 2)⁴ / (64 · modulus · thickness³)'
const MEMBRANE = '0.662 · hole / 2 · (pressure · hole / (2 · modulus · thickness))^(1 / 3)'

const dimple: Quantity = {
  key: 'suction.dimple',
  title: 'Depth of a dimple over a suction hole',
  dimension: 'length',
  formula: {
    text: `dimple = min(plate, membrane); plate · (1 + 0.488 · plate² / thickness²) = ${BENT}; membrane = ${MEMBRANE}`,
    kind: 'search',
    steps: dimpleSteps,
  },
  source: 'Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, sections 2, 97 and 100 (from memory)',
  applies,
  inputs: (setup) => ({
    pressure: pressure(setup),
    hole: givenInput('suction hole', setup.printer?.suction?.hole, 'length'),
    ...bent(setup),
  }),
  value: (setup) => pick(rowOf(setup), (row) => row.dimple),
}

/** At the typical values: a plate that only bends, one that stretches too, a membrane too limp to bend, and the shallower of the last two. */
function dimpleSteps(setup: Setup): readonly Step[] {
  const { web, current } = suctionOf(setup)
  if (!web.ok || !current) return []
  const { thickness, holeDiameter, bendingModulus, modulus } = web.value
  const radius = holeDiameter / 2
  const pressed = current.pressure / asRange(bendingModulus ?? modulus).typical
  const bent = (12 * (1 - asRange(web.value.poisson).typical ** 2) * pressed * radius ** 4) / (64 * thickness ** 3)
  // The one real root, by the hyperbolic form of Cardano's rule.
  const scale = Math.sqrt(3 * 0.488)
  const root = ((2 * thickness) / scale) * Math.sinh(Math.asinh((1.5 * bent * scale) / thickness) / 3)
  return [
    { formula: `bent = ${BENT}`, value: bent },
    { formula: 'plate = bent / (1 + 0.488 · root² / thickness²)', with: { root }, value: root },
    { formula: `membrane = ${MEMBRANE}`, value: 0.662 * radius * Math.cbrt((pressed * radius) / thickness) },
    { formula: 'dimple = min(plate, membrane)', value: current.dimple.typical },
  ]
}

const rise: Quantity = {
  key: 'suction.rise',
  title: 'Height at which a curled edge is left standing',
  dimension: 'length',
  formula: 'rise = min(2 · radius, modulus · thickness³ / (12 · (1 − poisson²) · radius² · pressure · share))',
  source: FLATTENED,
  applies,
  inputs: (setup) => ({ pressure: pressure(setup), share: share(setup), ...curled(setup) }),
  value: (setup) => pick(rowOf(setup), (row) => row.curl.rise),
}

const needed: Quantity = {
  key: 'suction.needed',
  title: 'Suction that lays the curl down to the rise allowed',
  dimension: 'pressure',
  formula: 'needed = modulus · thickness³ / (12 · (1 − poisson²) · radius² · allowed · share)',
  source: FLATTENED,
  applies,
  inputs: (setup) => ({ share: share(setup), ...curled(setup) }),
  value: (setup) => suctionNeeded(suctionOf(setup)),
  sentence: neededSentence,
}

export const quantities: AreaQuantities = [holding, drag, stretch, dimple, rise, needed]
