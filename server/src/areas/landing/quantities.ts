// Landing as quantities: flight, two-way offset in length and pixels and its sensitivities, the change since the alignment, and the spread of its picks.
import { DRAG_CAUTION } from '../../calc/landing.ts'
import type { ReckonedInput } from '../../model/reckoned.ts'
import { computedInput, givenInput, profileInput } from '../../model/reckoned-inputs.ts'
import type { Setup } from '../../model/setup.ts'
import { type AreaQuantities, type Family, type Inputs, pick, type Quantity } from '../quantity.ts'
import { landingOf, WAYS, type Way } from './facts.ts'
import { pixelsSentence, spreadSentence } from './words.ts'

/** Digits of what leaves the drag of the air out. */
const ROUGH = 2
const FLIGHT = `straight flight in still air. ${DRAG_CAUTION}`
const PATTERN = "the printer's alignment pattern"

const applies = ({ profile, own }: Setup): boolean => profile.gap !== undefined || own.alignment !== undefined

const flight: Quantity = {
  key: 'landing.flight',
  title: 'Flight of the drops',
  dimension: 'length',
  formula: 'flight = gap − thickness',
  source: 'geometry',
  applies,
  inputs: (setup) => ({
    gap: profileInput(setup, 'gap', setup.profile.gap, 'length'),
    thickness: givenInput('thickness of the stock', setup.stock?.thickness, 'length'),
  }),
  value: (setup) => landingOf(setup).flight,
}

const offset: Quantity = {
  key: 'landing.offset',
  title: 'Two-way offset without compensation',
  dimension: 'length',
  digits: ROUGH,
  formula: 'offset = 2 · carriage · flight / drop',
  source: FLIGHT,
  applies,
  inputs: (setup) => ({ flight: flightInput(setup), drop: dropInput(setup), carriage: carriageInput(setup) }),
  value: (setup) => pick(landingOf(setup).offset, ({ offset }) => offset),
}

const pixels: Quantity = {
  key: 'landing.pixels',
  title: 'Two-way offset in pixels across',
  dimension: 'number',
  digits: ROUGH,
  formula: 'pixels = offset · across',
  source: FLIGHT,
  applies,
  inputs: (setup) => {
    const { offset } = landingOf(setup)
    return {
      offset: offset.ok ? computedInput('two-way offset', offset.value.offset, 'length') : undefined,
      across: givenInput('resolution across', setup.mode?.resolution, 'resolution'),
    }
  },
  value: (setup) => landingOf(setup).pixels,
  sentence: pixelsSentence,
}

const perGap: Quantity = {
  key: 'landing.per-gap',
  title: 'Offset per length of gap',
  dimension: 'number',
  digits: ROUGH,
  formula: 'sensitivity = 2 · carriage / drop',
  source: FLIGHT,
  applies,
  inputs: (setup) => ({ drop: dropInput(setup), carriage: carriageInput(setup) }),
  value: (setup) => pick(landingOf(setup).offset, ({ perGap }) => perGap),
}

const early: Quantity = {
  key: 'landing.early',
  title: 'Time to fire early, each way',
  dimension: 'time',
  digits: ROUGH,
  formula: 'time = flight / drop',
  source: FLIGHT,
  applies,
  inputs: (setup) => ({ flight: flightInput(setup), drop: dropInput(setup) }),
  value: (setup) => pick(landingOf(setup).offset, ({ early }) => early),
}

const change: Quantity = {
  key: 'landing.change',
  title: 'Change since the alignment',
  dimension: 'length',
  digits: ROUGH,
  formula: 'change = 2 · (carriage · (gap − thickness) − carriageThen · (gapThen − thicknessThen)) / drop',
  source: FLIGHT,
  applies: (setup) => landingOf(setup).since !== undefined,
  inputs: (setup) => {
    const { then, now } = landingOf(setup).since!
    return {
      gapThen: conditionInput('gap then', then.gap, 'length'),
      gap: conditionInput('gap now', now.gap, 'length'),
      thicknessThen: conditionInput('thickness then', then.thickness, 'length'),
      thickness: conditionInput('thickness now', now.thickness, 'length'),
      carriageThen: conditionInput('carriage speed then', then.speed, 'speed'),
      carriage: conditionInput('carriage speed now', now.speed, 'speed'),
      drop: dropInput(setup),
    }
  },
  value: (setup) => landingOf(setup).since!.total,
}

const picks: Family = (setup) => WAYS.filter((way) => landingOf(setup).picks[way]).flatMap((way) => [median(way), spread(way)])

const median = (way: Way): Quantity => ({
  key: `landing.${way}.median`,
  title: `Median of the ${way} picks`,
  dimension: 'length',
  formula: 'median = (lower + upper) / 2 · step',
  source: PATTERN,
  inputs: (setup) => {
    const sorted = sortedPicks(setup, way)
    const middle = (sorted.length - 1) / 2
    return {
      lower: pickInput('pick in the middle, the lower of two', sorted[Math.floor(middle)]),
      upper: pickInput('pick in the middle, the upper of two', sorted[Math.ceil(middle)]),
      ...stepInputs(setup),
    }
  },
  value: (setup) => pick(landingOf(setup).picks[way]!, ({ median }) => median),
  sentence: (setup) => spreadSentence(setup, way),
})

const spread = (way: Way): Quantity => ({
  key: `landing.${way}.spread`,
  title: `Spread of the ${way} picks`,
  dimension: 'length',
  formula: 'spread = (greatest − least) · step',
  source: PATTERN,
  inputs: (setup) => {
    const sorted = sortedPicks(setup, way)
    return {
      greatest: pickInput('greatest pick', sorted.at(-1)),
      least: pickInput('least pick', sorted[0]),
      ...stepInputs(setup),
    }
  },
  value: (setup) => pick(landingOf(setup).picks[way]!, ({ spread }) => spread),
})

const sortedPicks = ({ own }: Setup, way: Way): readonly number[] =>
  [...(own.alignment?.[way]?.entries.values() ?? [])].map(({ value }) => value).sort((a, b) => a - b)

const pickInput = (name: string, pick: number | undefined): ReckonedInput | undefined =>
  pick === undefined ? undefined : { name, value: pick, dimension: 'number', origin: 'given' }

const stepInputs = ({ printer }: Setup): Inputs => ({
  step: givenInput('step of the pattern', printer?.alignment?.step, 'length'),
})

function flightInput(setup: Setup): ReckonedInput | undefined {
  const { flight } = landingOf(setup)
  return flight.ok ? computedInput('flight', flight.value, 'length') : undefined
}

function dropInput(setup: Setup): ReckonedInput | undefined {
  const { dropSpeed } = landingOf(setup)
  return dropSpeed && { ...computedInput('drop speed', dropSpeed, 'speed'), origin: 'given' }
}

const carriageInput = ({ mode }: Setup): ReckonedInput | undefined =>
  givenInput('carriage speed', mode?.['carriage-speed'], 'speed')

const conditionInput = (name: string, value: number | undefined, dimension: 'length' | 'speed'): ReckonedInput | undefined =>
  value === undefined ? undefined : { name, value, dimension, origin: 'given' }

export const quantities: AreaQuantities = [flight, offset, pixels, perGap, early, change, picks]
