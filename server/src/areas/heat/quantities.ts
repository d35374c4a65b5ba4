// The heat facts as reckoned quantities: web temperatures, dwell, margin, growth and power, each with its formula and inputs.

import { ok, refuse } from '../../base/outcome.ts'
import type { Reckoned, ReckonedInput } from '../../model/reckoned.ts'
import {
  assumedInput,
  computedInput,
  givenInput,
  inputs,
  line,
  pick,
  profileInput,
  propertyInput,
  shopInput,
} from '../../model/reckoned-inputs.ts'
import type { Setup } from '../../model/setup.ts'
import { type AreaQuantities, unchecked } from '../quantity.ts'
import { heatOf } from './facts.ts'
import { HEATER, type HeatPath, WHERE, type Zone } from './path.ts'

const LUMPED =
  'lumped heat balance of a web (Incropera; Cengel), valid to a Biot number of 0.1, an estimate to 0.3; in still air and without what evaporates: a fan and ' +
  'drying ink leave the web cooler'

const rows = (setup: Setup): readonly Reckoned[] => {
  const facts = heatOf(setup)
  const { zones, free, limit, margins, growth, power, hottest } = facts
  if (zones.length === 0) return []
  const rows: Reckoned[] = []
  for (const zone of zones) {
    const { zone: name, web } = zone
    const heated = inputs(...zoneInputs(setup, facts, zone))
    rows.push(
      line(
        `heat.${name}.dwell`,
        `Time over the ${HEATER[name]}`,
        'dwell = length / web speed',
        pick(web, (w) => w.dwell),
        'time',
        {
          inputs: inputs(givenInput('length of the heater', zone.heater?.length, 'length'), speedInput(facts)),
          source: 'geometry',
        },
      ),
      line(
        `heat.${name}.web`,
        `Web ${WHERE[name]}`,
        'T = T∞ + (T in − T∞) e^(−dwell / τ), T∞ = (h set + h air · air) / (h + h air), τ = grammage · heat capacity / (h + h air)',
        pick(web, (w) => w.leave),
        'temperature',
        { inputs: heated, source: LUMPED },
      ),
    )
    const watts = power.get(name)
    if (watts)
      rows.push(
        line(
          `heat.${name}.power`,
          `Heat the web takes ${WHERE[name]}`,
          'power = grammage · width · web speed · heat capacity · rise',
          ok(watts),
          'number',
          { inputs: heated, source: 'heat balance', unit: 'W' },
        ),
      )
  }
  if (free)
    rows.push(
      line(
        'heat.winding.web',
        'Web at the roll',
        'T = air + (T in − air) e^(−2 h air · time / (grammage · heat capacity))',
        pick(free, (w) => w.leave),
        'temperature',
        {
          inputs: inputs(roomInput(setup, facts), speedInput(facts)),
          source: LUMPED,
        },
      ),
    )
  const margin = hottest && margins.get(hottest.zone)
  rows.push(
    line(
      'heat.margin',
      'Margin of the hottest web to what the stock bears',
      'margin = limit − web',
      margin
        ? ok(margin.margin)
        : refuse(
            limit ? 'heat' : 'max-web-temperature',
            limit
              ? 'no web temperature is known'
              : 'the stock gives no max-web-temperature, and no family to take a typical one from',
          ),
      'temperature-difference',
      {
        inputs: inputs(
          propertyInput(limit?.key ?? 'max-web-temperature', limit, 'temperature'),
          hottest?.web.ok ? computedInput('hottest web', hottest.web.value.leave, 'temperature') : undefined,
        ),
        source: 'comparison',
      },
    ),
  )
  if (setup.profile.heat?.platen)
    rows.push(
      line(
        'heat.growth',
        'Growth of the web on the platen from the reference temperature',
        'growth = expansion · (web − reference)',
        growth,
        'relative',
        {
          inputs: inputs(
            propertyInput('expansion', setup.material.property('expansion'), 'expansion'),
            shopInput('reference temperature', setup.shop.referenceTemperature, 'temperature'),
          ),
          source: 'linear expansion',
        },
      ),
    )
  return rows
}

function zoneInputs(setup: Setup, facts: HeatPath, zone: Zone): (ReckonedInput | undefined)[] {
  const { coupling, set, zone: name } = zone
  const { material } = setup
  const via =
    coupling.origin === 'readings'
      ? computedInput(
          `coupling by ${coupling.fit!.readings} reading${coupling.fit!.readings === 1 ? '' : 's'}`,
          coupling.range,
          'coupling',
        )
      : coupling.origin === 'printer'
        ? givenInput('coupling', zone.heater?.coupling, 'coupling')
        : assumedInput('coupling', coupling.range, 'coupling', 'engineering estimate, from memory')
  return [
    profileInput(setup, `heat.${name}`, set, 'temperature'),
    roomInput(setup, facts),
    via,
    assumedInput('loss to the air', coupling.airLoss, 'coupling', 'from memory'),
    propertyInput('grammage', material.grammage(), 'grammage'),
    propertyInput('heat capacity', material.property('heat-capacity'), 'heat-capacity'),
    speedInput(facts),
  ]
}

const roomInput = ({ shop }: Setup, { air }: HeatPath): ReckonedInput => ({
  name: "room, the middle of the shop's climate",
  value: air,
  dimension: 'temperature',
  origin: shop.climate.temperature.place ? 'computed' : 'default',
})

const speedInput = ({ pass }: HeatPath): ReckonedInput | undefined =>
  pass.ok ? computedInput('web speed', pass.value.webSpeed, 'speed') : undefined

export const quantities: AreaQuantities = [(setup) => unchecked(rows(setup))]
