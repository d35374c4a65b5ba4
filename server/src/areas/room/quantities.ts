// The room's air as quantities: dew point, growth of the stock over the shop's humidity, and the dry air over the platen and what the stock makes of it.
import { asRange, mapRange, type Range } from '../../calc/range.ts'
import { saturationPressure } from '../../calc/room.ts'
import type { ReckonedInput } from '../../model/reckoned.ts'
import { computedInput, propertyInput } from '../../model/reckoned-inputs.ts'
import type { Setup } from '../../model/setup.ts'
import { platenWebInput } from '../heat/quantities.ts'
import { type AreaQuantities, type Inputs, known, pick, type Quantity, type Step } from '../quantity.ts'
import { climateOf } from './facts.ts'
import { platenSentence } from './words.ts'

const MOIST_AIR = 'ASHRAE Handbook of Fundamentals 2017, chapter 1 (by the psychrolib package)'

const dewPoint: Quantity = {
  key: 'room.dew-point',
  title: 'Dew point of the warmest and dampest air the shop keeps',
  dimension: 'temperature',
  formula: { text: 'saturation(dew point) = humidity · saturation(air)', kind: 'search', steps: dewSteps },
  source: MOIST_AIR,
  inputs: (setup) => {
    const { temperature } = setup.shop.climate
    return {
      air: roomInput(setup, 'warmest air', temperature.value[1], 'temperature'),
      humidity: dampInput(setup),
      saturation: saturationInput('saturation pressure of that air', temperature.value[1]),
    }
  },
  value: (setup) => climateOf(setup).dewPoint,
}

/** K to either side of a dew point, between which saturation pressure goes as the power of e that it very nearly is. */
const BESIDE = 0.001

/** The vapour of the air, and where it lies between the two saturation pressures next to the dew point that was found. */
function dewSteps(setup: Setup): readonly Step[] {
  const { shop } = setup
  const found = climateOf(setup).dewPoint
  if (!found.ok) return []
  const [below, above] = [found.value - BESIDE, found.value + BESIDE]
  const [atBelow, atAbove] = [saturated(below), saturated(above)]
  return [
    {
      formula: 'vapour = humidity · saturation',
      value: shop.climate.humidity.value[1] * saturated(shop.climate.temperature.value[1]),
    },
    {
      formula: 'dew = below + (above − below) · ln(vapour / atBelow) / ln(atAbove / atBelow)',
      with: { below, above, atBelow, atAbove },
      value: found.value,
    },
  ]
}

const minds = (setup: Setup): boolean => climateOf(setup).overWindow !== undefined

const growth: Quantity = {
  key: 'room.growth',
  title: "Growth of the stock over the shop's humidity",
  dimension: 'relative',
  formula: 'growth = moisture · (damp − dry)',
  source: 'linear, between about 30 and 70 %RH (common practice)',
  applies: minds,
  inputs: (setup) => ({
    moisture: moistureInput(setup),
    dry: roomInput(setup, 'driest air', setup.shop.climate.humidity.value[0], 'humidity'),
    damp: dampInput(setup),
  }),
  value: (setup) => known(climateOf(setup).overWindow, 'moisture-expansion', 'the stock hardly grows with humidity'),
}

const overPlaten = (setup: Setup): boolean => minds(setup) && setup.profile.heat?.platen !== undefined

const platenHumidity: Quantity = {
  key: 'room.platen-humidity',
  title: 'Humidity of the room’s air warmed to the web on the platen, from the middle of its climate',
  dimension: 'humidity',
  formula: 'left = min(1, humidity · saturation / saturationWarm)',
  source: MOIST_AIR,
  applies: overPlaten,
  inputs: warmedInputs,
  value: (setup) => pick(climateOf(setup).atPlaten, ({ humidity }) => humidity),
  sentence: platenSentence,
}

const platenGrowth: Quantity = {
  key: 'room.platen-growth',
  title: 'Growth of the stock at rest in that air',
  dimension: 'relative',
  formula: {
    text: 'growth = moisture · (left − humidity) + expansion · (web − air), each at one temperature of the web',
    kind: 'steps',
    steps: (setup) => {
      const { atPlaten } = climateOf(setup)
      if (!atPlaten.ok) return []
      const { humidity, growth } = atPlaten.value
      return [
        { formula: 'left = min(1, humidity · saturation / saturationWarm)', value: humidity.typical },
        { formula: 'growth = moisture · (left − humidity) + expansion · (web − air)', value: growth.typical },
      ]
    },
  },
  source: 'linear; common practice',
  applies: overPlaten,
  inputs: (setup) => ({
    moisture: moistureInput(setup),
    expansion: propertyInput('expansion', setup.material.property('expansion'), 'expansion'),
    ...warmedInputs(setup),
  }),
  value: (setup) => pick(climateOf(setup).atPlaten, ({ growth }) => growth),
}

/** The room's air, and the same air as warm as the web on the platen. */
function warmedInputs(setup: Setup): Inputs {
  const { air, humidity } = climateOf(setup)
  const web = platenWebInput(setup)
  return {
    air: roomInput(setup, 'room, the middle of its temperature', air, 'temperature'),
    humidity: roomInput(setup, 'room, the middle of its humidity', humidity, 'humidity'),
    web,
    saturation: saturationInput('saturation pressure at the room’s temperature', air),
    saturationWarm: web && saturationInput('saturation pressure at the web’s temperature', web.value),
  }
}

/** Pa of saturated vapour; nothing where no equation holds. */
function saturationInput(name: string, celsius: number | Range): ReckonedInput | undefined {
  const pressure = mapRange(asRange(celsius), saturated)
  return Number.isFinite(pressure.low + pressure.high) ? computedInput(name, pressure, 'pressure') : undefined
}

function saturated(temperature: number): number {
  const pressure = saturationPressure({ temperature })
  return pressure.ok ? pressure.value : Number.NaN
}

const moistureInput = (setup: Setup): ReckonedInput | undefined =>
  propertyInput('moisture expansion', climateOf(setup).moisture, 'moisture-expansion')

const dampInput = (setup: Setup): ReckonedInput =>
  roomInput(setup, 'dampest air', setup.shop.climate.humidity.value[1], 'humidity')

const roomInput = ({ shop }: Setup, name: string, value: number, dimension: 'temperature' | 'humidity'): ReckonedInput => ({
  name,
  value,
  dimension,
  origin: shop.climate[dimension].place ? 'given' : 'default',
})

export const quantities: AreaQuantities = [dewPoint, growth, platenHumidity, platenGrowth]
