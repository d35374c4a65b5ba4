// Heat as quantities: zone by zone the time over the heater, the web's temperature, how soon it is as warm as it gets and the heat it takes; then the
// web at the roll, its margin to what the stock bears, and its growth.
import { refuse } from '../../base/outcome.ts'
import { AIR_LOSS } from '../../calc/heat.ts'
import { exactly, isExact } from '../../calc/range.ts'
import type { ReckonedInput } from '../../model/reckoned.ts'
import { assumedInput, computedInput, givenInput, profileInput, propertyInput, shopInput } from '../../model/reckoned-inputs.ts'
import type { Setup } from '../../model/setup.ts'
import { type AreaQuantities, type Family, type Inputs, known, pick, type Quantity } from '../quantity.ts'
import { heatOf, SETTLED_SHARE, settlingTime } from './facts.ts'
import { HEATER, WHERE, type Zone } from './path.ts'
import { growthSentence, hottestSentence, powerSentence, readingsText, webSentence } from './words.ts'

const LUMPED =
  'lumped heat balance of a web (Incropera; Cengel), valid to a Biot number of 0.1, an estimate to 0.3; in still air and without what evaporates: a fan and ' +
  'drying ink leave the web cooler'

const zones: Family = (setup) => heatOf(setup).zones.flatMap((zone) => [dwell(zone), web(zone), settling(zone), power(zone)])

const applies = (setup: Setup): boolean => heatOf(setup).zones.length > 0

const dwell = ({ zone, heater, web }: Zone): Quantity => ({
  key: `heat.${zone}.dwell`,
  title: `Time over the ${HEATER[zone]}`,
  dimension: 'time',
  formula: 'dwell = length / speed',
  source: 'geometry',
  inputs: (setup) => ({
    length: givenInput('length of the heater', heater?.length, 'length'),
    speed: speedInput(setup),
  }),
  value: () => pick(web, ({ dwell }) => dwell),
})

const web = (zone: Zone): Quantity => ({
  key: `heat.${zone.zone}.web`,
  title: `Web ${WHERE[zone.zone]}`,
  dimension: 'temperature',
  formula:
    'web = enter + ((coupling · set + loss · air) / (coupling + loss) − enter) · (1 − exp(−dwell · (coupling + loss) / (grammage · capacity)))',
  source: LUMPED,
  inputs: (setup) => ({
    set: setInput(setup, zone),
    enter: enterInput(zone),
    air: roomInput(setup),
    ...couplingInputs(zone),
    ...bodyInputs(setup),
    dwell: zone.web.ok ? computedInput(`time over the ${HEATER[zone.zone]}`, zone.web.value.dwell, 'time') : undefined,
  }),
  value: () => pick(zone.web, ({ leave }) => leave),
  sentence: (setup) => webSentence(setup, zone),
})

const settling = (zone: Zone): Quantity => ({
  key: `heat.${zone.zone}.settling`,
  title: `Time until the web ${WHERE[zone.zone]} is as warm as it gets`,
  dimension: 'time',
  digits: 2,
  formula: 'time = −ln(1 − share) · grammage · capacity / (coupling + loss)',
  source: LUMPED,
  inputs: (setup) => ({
    share: { ...computedInput('share of the way that counts as all of it', SETTLED_SHARE, 'relative'), origin: 'default' },
    ...couplingInputs(zone),
    ...bodyInputs(setup),
  }),
  value: (setup) => settlingTime(heatOf(setup), zone),
})

const power = (zone: Zone): Quantity => ({
  key: `heat.${zone.zone}.power`,
  title: `Heat the web takes ${WHERE[zone.zone]}`,
  dimension: 'number',
  unit: 'W',
  formula: 'power = max(0, grammage · width · speed · capacity · (leave − enter))',
  source: 'heat balance',
  applies: (setup) => heatOf(setup).power.has(zone.zone),
  inputs: (setup) => {
    const { pass } = heatOf(setup)
    return {
      ...bodyInputs(setup),
      width: pass.ok ? computedInput('width of the job', pass.value.width, 'length') : undefined,
      speed: speedInput(setup),
      enter: enterInput(zone),
      leave: zone.web.ok ? computedInput('web as it leaves', zone.web.value.leave, 'temperature') : undefined,
    }
  },
  value: (setup) => known(heatOf(setup).power.get(zone.zone), 'heat', 'the web cannot be followed'),
  sentence: (setup) => powerSentence(setup, zone),
})

const winding: Quantity = {
  key: 'heat.winding.web',
  title: 'Web at the roll',
  dimension: 'temperature',
  formula: 'web = air + (enter − air) · exp(−2 · loss · time / (grammage · capacity))',
  source: LUMPED,
  applies: (setup) => heatOf(setup).free !== undefined,
  inputs: (setup) => {
    const { free } = heatOf(setup)
    return {
      air: roomInput(setup),
      enter: free?.ok ? computedInput('web behind the last heater', free.value.enter, 'temperature') : undefined,
      loss: assumedInput('loss to the air, each face', AIR_LOSS, 'coupling', 'from memory'),
      time: free?.ok ? computedInput('time to the roll', free.value.dwell, 'time') : undefined,
      ...bodyInputs(setup),
    }
  },
  value: (setup) => pick(heatOf(setup).free!, ({ leave }) => leave),
}

const margin: Quantity = {
  key: 'heat.margin',
  title: 'Margin of the hottest web to what the stock bears',
  dimension: 'temperature-difference',
  formula: 'margin = limit − web',
  source: 'comparison',
  applies,
  inputs: (setup) => {
    const { limit, hottest } = heatOf(setup)
    return {
      limit: propertyInput(limit?.key ?? 'max-web-temperature', limit, 'temperature'),
      web: hottest?.web.ok ? computedInput('hottest web', hottest.web.value.leave, 'temperature') : undefined,
    }
  },
  value: (setup) => {
    const { limit, hottest, margins } = heatOf(setup)
    if (!limit)
      return refuse('max-web-temperature', 'the stock gives no max-web-temperature, and no family to take a typical one from')
    return known(hottest && margins.get(hottest.zone)?.margin, 'heat', 'no web temperature is known')
  },
  sentence: hottestSentence,
}

const growth: Quantity = {
  key: 'heat.growth',
  title: 'Growth of the web on the platen from the reference temperature',
  dimension: 'relative',
  formula: 'growth = expansion · (web − reference)',
  source: 'linear expansion',
  applies: ({ profile }) => profile.heat?.platen !== undefined,
  inputs: (setup) => ({
    expansion: propertyInput('expansion', setup.material.property('expansion'), 'expansion'),
    web: platenWebInput(setup),
    reference: shopInput('reference temperature', setup.shop.referenceTemperature, 'temperature'),
  }),
  value: (setup) => heatOf(setup).growth,
  sentence: growthSentence,
}

/** The web over the platen, where it is known. */
export function platenWebInput(setup: Setup): ReckonedInput | undefined {
  const web = heatOf(setup).zones.find(({ zone }) => zone === 'platen')?.web
  return web?.ok ? computedInput('web on the platen', web.value.leave, 'temperature') : undefined
}

const setInput = (setup: Setup, { zone, set }: Zone): ReckonedInput | undefined =>
  profileInput(setup, `heat.${zone}`, set, 'temperature')

const enterInput = ({ web }: Zone): ReckonedInput | undefined =>
  web.ok ? computedInput('web as it comes in', web.value.enter, 'temperature') : undefined

/** How well the web takes the heat, and the loss to air that goes with it. */
function couplingInputs({ coupling }: Zone): Inputs {
  const { origin, range, airLoss } = coupling
  const via = {
    readings: computedInput(`coupling by ${readingsText(coupling)}`, range, 'coupling'),
    printer: { ...computedInput('coupling', range, 'coupling'), origin: 'given' },
    typical: assumedInput('coupling', range, 'coupling', 'engineering estimate, from memory'),
  } as const
  const loss = isExact(airLoss) ? airLoss.typical : airLoss
  return { coupling: via[origin], loss: assumedInput('loss to the air', loss, 'coupling', 'from memory') }
}

/** The web as it is reckoned with: of its grammage the typical value alone. */
function bodyInputs({ material }: Setup): Inputs {
  const grammage = material.grammage()
  return {
    grammage: propertyInput('grammage', grammage && { ...grammage, range: exactly(grammage.range.typical) }, 'grammage'),
    capacity: propertyInput('heat capacity', material.property('heat-capacity'), 'heat-capacity'),
  }
}

const roomInput = (setup: Setup): ReckonedInput => ({
  name: "room, the middle of the shop's climate",
  value: heatOf(setup).air,
  dimension: 'temperature',
  origin: setup.shop.climate.temperature.place ? 'computed' : 'default',
})

function speedInput(setup: Setup): ReckonedInput | undefined {
  const { pass } = heatOf(setup)
  return pass.ok ? computedInput('web speed', pass.value.webSpeed, 'speed') : undefined
}

export const quantities: AreaQuantities = [zones, winding, margin, growth]
