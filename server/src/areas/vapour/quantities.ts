// Vapour in numbers: what evaporates, the heat that takes of water, and the air to breathe and against explosion, apart.
import type { Outcome } from '../../base/outcome.ts'
import type { Range } from '../../calc/range.ts'
import { handbookFactor, LEL_LOSS, MIXING, WATER_LATENT_HEAT } from '../../calc/vapour.ts'
import type { F } from '../../model/field.ts'
import type { ReckonedInput } from '../../model/reckoned.ts'
import { assumedInput, computedInput, givenInput } from '../../model/reckoned-inputs.ts'
import type { Setup } from '../../model/setup.ts'
import { dryingOf } from '../drying/facts.ts'
import { inkInputs } from '../drying/quantities.ts'
import type { AreaQuantities, Family, Inputs, Quantity } from '../quantity.ts'
import { pick } from '../quantity.ts'
import { type VapourFacts, vapourOf } from './facts.ts'
import { breathingSentence, explosionSentence, vapourSentence } from './words.ts'

const applies = ({ printer, mode }: Setup): boolean => printer?.ink !== undefined && mode !== undefined

const NO_DESIGN = 'an estimate, no design: safety data sheet, local codes and licensed practice come first'

const loadInput = (setup: Setup): ReckonedInput | undefined => {
  const { load } = vapourOf(setup)
  return load.ok ? computedInput('what evaporates of a square metre', load.value, 'grammage') : undefined
}

function rateInputs(setup: Setup): Inputs {
  const { pass } = dryingOf(setup)
  return {
    load: loadInput(setup),
    output: pass.ok ? computedInput('output', pass.value.areaRate, 'area-rate') : undefined,
  }
}

const load: Quantity = {
  key: 'vapour.load',
  title: 'What evaporates of a square metre',
  dimension: 'grammage',
  formula: 'load = drop · across · along · limit · strikes · density · volatile',
  source: 'mass balance; an upper estimate: every dot is one full drop, all over at the ink limit',
  applies,
  inputs: (setup) => {
    const { ink } = setup.printer ?? {}
    const { density, volatile } = vapourOf(setup)
    return {
      ...inkInputs(setup),
      density: spreadInput('density of the ink', ink?.density, density, 'density'),
      volatile: spreadInput('share that evaporates', ink?.volatile, volatile, 'relative'),
    }
  },
  value: (setup) => vapourOf(setup).load,
  sentence: vapourSentence,
}

const rate: Quantity = {
  key: 'vapour.rate',
  title: 'What evaporates where all of the width is printed so',
  dimension: 'number',
  unit: 'kg/s',
  formula: 'rate = load · output',
  source: 'mass balance; an upper estimate',
  applies,
  inputs: rateInputs,
  value: (setup) => vapourOf(setup).rate,
}

/** Of an ink from which nothing evaporates, nothing else need be known. */
const evaporation: Family = (setup) => {
  const { volatile } = vapourOf(setup)
  if (volatile?.high !== 0) return [load, rate]
  const inputs = (): Inputs => ({
    volatile: givenInput('share that evaporates', setup.printer?.ink?.volatile, 'relative') ?? {
      name: 'share that evaporates, the ink being set by light',
      value: 0,
      dimension: 'relative',
      origin: 'default',
    },
  })
  return [load, rate].map((one) => ({ ...one, formula: { text: 'none of the ink evaporates', kind: 'choice' }, inputs }))
}

const heat: Quantity = {
  key: 'vapour.heat',
  title: 'Heat to evaporate it, as water',
  dimension: 'number',
  unit: 'W',
  formula: 'heat = load · output · latent',
  source: 'latent heat',
  applies: (setup) => applies(setup) && vapourOf(setup).heat !== undefined,
  inputs: (setup) => ({
    ...rateInputs(setup),
    latent: assumedInput('latent heat in J/kg', WATER_LATENT_HEAT, 'number', 'water at 40 °C, from memory'),
  }),
  value: (setup) => vapourOf(setup).heat!,
}

/** What the volume of the vapour stands on: `VOLUME` in a formula. */
const vapourInputs = (setup: Setup): Inputs => ({
  ...rateInputs(setup),
  molar: givenInput('molar mass', setup.printer?.ink?.['molar-mass'], 'molar-mass'),
  room: computedInput("air, the middle of the shop's climate", vapourOf(setup).air, 'temperature'),
})

/** m³/s of vapour, an ideal gas at one atmosphere. */
const VOLUME = 'load · output / molar · 8.314462618 · (room + 273.15) / 101325'

const airOf = (dilution: VapourFacts['breathing']): Outcome<number | Range> => pick(dilution!, ({ air }) => air)

const breathing: Quantity = {
  key: 'vapour.breathing',
  title: 'Air that thins it to breathe; says nothing of explosion',
  dimension: 'number',
  unit: 'm³/s',
  formula: `air = ${VOLUME} · mixing / limit`,
  source: `dilution ventilation, ACGIH Industrial Ventilation; ${NO_DESIGN}`,
  applies: (setup) => applies(setup) && vapourOf(setup).breathing !== undefined,
  inputs: (setup) => ({
    ...vapourInputs(setup),
    limit: givenInput('exposure limit', setup.printer?.ink?.['exposure-limit'], 'relative'),
    mixing: assumedInput('mixing factor', MIXING, 'number', 'from memory'),
  }),
  value: (setup) => airOf(vapourOf(setup).breathing),
  sentence: breathingSentence,
}

const explosion: Quantity = {
  key: 'vapour.explosion',
  title: 'Air that keeps a quarter of the explosive limit; far from enough to breathe',
  dimension: 'number',
  unit: 'm³/s',
  formula: `air = ${VOLUME} · 4 / (limit · min(step, 1 − loss · max(0, hottest − 25)))`,
  source: `dilution to a quarter of the limit (NFPA 86); the limit in the warm by ACGIH (from memory) and Ludwig, table 7-22; ${NO_DESIGN}`,
  applies: (setup) => applies(setup) && vapourOf(setup).explosion !== undefined,
  inputs: (setup) => {
    const { hottest } = vapourOf(setup)
    return {
      ...vapourInputs(setup),
      limit: givenInput('lower explosive limit', setup.printer?.ink?.['lower-explosive-limit'], 'relative'),
      hottest: hottest.ok ? computedInput('warmest place', hottest.value, 'temperature') : undefined,
      loss: assumedInput('loss of that limit a kelvin above 25 °C', LEL_LOSS, 'number', 'Ludwig, table 7-22, and Zabetakis'),
      step: hottest.ok
        ? assumedInput(
            'share of that limit left there by the handbook',
            handbookFactor(hottest.value),
            'number',
            'ACGIH, from memory',
          )
        : undefined,
    }
  },
  value: (setup) => airOf(vapourOf(setup).explosion),
  sentence: explosionSentence,
}

/** A given value with its uncertainty, as it was used. */
const spreadInput = (
  name: string,
  field: F<{ readonly si: number }> | undefined,
  used: Range | undefined,
  dimension: ReckonedInput['dimension'],
): ReckonedInput | undefined => {
  const given = givenInput(name, field, dimension)
  return given && used && used.low < used.high ? { ...given, value: used } : given
}

export const quantities: AreaQuantities = [evaporation, heat, breathing, explosion]
