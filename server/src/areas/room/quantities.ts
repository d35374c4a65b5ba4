// The room's climate as reckoned quantities: dew point, growth of the stock over the shop's humidity, and dry air over the platen.

import { ok } from '../../base/outcome.ts'
import type { Reckoned, ReckonedInput } from '../../model/reckoned.ts'
import { computedInput, inputs, line, propertyInput } from '../../model/reckoned-inputs.ts'
import type { Setup } from '../../model/setup.ts'
import { heatOf } from '../heat/facts.ts'
import { type AreaQuantities, unchecked } from '../quantity.ts'
import { climateOf } from './facts.ts'

const MOIST_AIR = 'ASHRAE Handbook of Fundamentals 2017, chapter 1 (by the psychrolib package)'

const rows = (setup: Setup): readonly Reckoned[] => {
  const facts = climateOf(setup)
  const { shop, material } = setup
  const [, warm] = shop.climate.temperature.value
  const [dry, damp] = shop.climate.humidity.value
  const rows: Reckoned[] = [
    line(
      'room.dew-point',
      'Dew point of the warmest and dampest air the shop keeps',
      'e_s(dew point) = humidity · e_s(temperature)',
      facts.dewPoint,
      'temperature',
      {
        inputs: [room(setup, 'warmest air', warm, 'temperature'), room(setup, 'dampest air', damp, 'humidity')],
        source: MOIST_AIR,
      },
    ),
  ]
  const { moisture, overWindow, atPlaten } = facts
  if (!moisture || !overWindow) return rows
  const grows = propertyInput('moisture expansion', moisture, 'moisture-expansion')
  rows.push(
    line(
      'room.growth',
      "Growth of the stock over the shop's humidity",
      'growth = moisture expansion · (dampest − driest)',
      ok(overWindow),
      'relative',
      {
        inputs: inputs(grows, room(setup, 'driest air', dry, 'humidity'), room(setup, 'dampest air', damp, 'humidity')),
        source: 'linear, between about 30 and 70 %RH (common practice)',
      },
    ),
  )
  if (!setup.profile.heat?.platen) return rows
  const platen = heatOf(setup).zones.find((z) => z.zone === 'platen')?.web
  const web = platen?.ok ? computedInput('web on the platen', platen.value.leave, 'temperature') : undefined
  const air = [
    room(setup, 'room, the middle of its temperature', facts.air, 'temperature'),
    room(setup, 'room, the middle of its humidity', facts.humidity, 'humidity'),
  ]
  rows.push(
    line(
      'room.platen-humidity',
      'Humidity of the room’s air warmed to the web on the platen, from the middle of its climate',
      'humidity = room humidity · e_s(room) / e_s(web)',
      atPlaten.ok ? ok(atPlaten.value.humidity) : atPlaten,
      'humidity',
      { inputs: inputs(...air, web), source: MOIST_AIR },
    ),
    line(
      'room.platen-growth',
      'Growth of the stock at rest in that air',
      'growth = moisture expansion · change of humidity + expansion · change of temperature',
      atPlaten.ok ? ok(atPlaten.value.growth) : atPlaten,
      'relative',
      {
        inputs: inputs(grows, propertyInput('expansion', material.property('expansion'), 'expansion'), ...air, web),
        source: 'linear; common practice',
      },
    ),
  )
  return rows
}

const room = ({ shop }: Setup, name: string, value: number, dimension: 'temperature' | 'humidity'): ReckonedInput => ({
  name,
  value,
  dimension,
  origin: shop.climate[dimension].place ? 'given' : 'default',
})

export const quantities: AreaQuantities = [(setup) => unchecked(rows(setup))]
