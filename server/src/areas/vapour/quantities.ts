// The vapour facts as reckoned quantities: what evaporates, the heat water takes for it, and the air to breathe and against explosion, apart.

import { ok } from '../../base/outcome.ts'
import type { Range } from '../../calc/range.ts'
import { MIXING, WATER_LATENT_HEAT } from '../../calc/vapour.ts'
import type { F } from '../../model/field.ts'
import type { Reckoned, ReckonedInput } from '../../model/reckoned.ts'
import { assumedInput, computedInput, givenInput, inputs, line } from '../../model/reckoned-inputs.ts'
import type { Setup } from '../../model/setup.ts'
import { dryingOf } from '../drying/facts.ts'
import { inkInputs } from '../drying/quantities.ts'
import { type AreaQuantities, unchecked } from '../quantity.ts'
import { vapourOf } from './facts.ts'

const rows = (setup: Setup): readonly Reckoned[] => {
  const ink = setup.printer?.ink
  if (!ink || !setup.mode) return []
  const { load, rate, heat, air, hottest, breathing, explosion, volatile, density } = vapourOf(setup)
  const { pass } = dryingOf(setup)
  const evaporates = load.ok ? computedInput('what evaporates of a square metre', load.value, 'grammage') : undefined
  const output = pass.ok ? computedInput('output', pass.value.areaRate, 'area-rate') : undefined
  const vapour = [
    evaporates,
    output,
    givenInput('molar mass', ink['molar-mass'], 'molar-mass'),
    computedInput("air, the middle of the shop's climate", air, 'temperature'),
  ]
  const rows: Reckoned[] = [
    line('vapour.load', 'What evaporates of a square metre', 'load = ink · density · share that evaporates', load, 'grammage', {
      inputs: inputs(
        ...Object.values(inkInputs(setup)),
        spreadInput('density of the ink', ink.density, density, 'density'),
        spreadInput('share that evaporates', ink.volatile, volatile, 'relative'),
      ),
      source: 'mass balance; an upper estimate: every dot is one full drop, all over at the ink limit',
    }),
    line('vapour.rate', 'What evaporates where all of the width is printed so', 'rate = load · output', rate, 'number', {
      inputs: inputs(evaporates, output),
      source: 'mass balance; an upper estimate',
      unit: 'kg/s',
    }),
  ]
  if (heat)
    rows.push(
      line('vapour.heat', 'Heat to evaporate it, as water', 'power = rate · latent heat', heat, 'number', {
        inputs: inputs(
          evaporates,
          output,
          assumedInput('latent heat in MJ/kg', WATER_LATENT_HEAT / 1e6, 'number', 'water at 40 °C, from memory'),
        ),
        source: 'latent heat',
        unit: 'W',
      }),
    )
  if (breathing)
    rows.push(
      line(
        'vapour.breathing',
        'Air that thins it to breathe; says nothing of explosion',
        'air = rate / molar mass · molar volume · mixing / exposure limit',
        breathing.ok ? ok(breathing.value.air) : breathing,
        'number',
        {
          inputs: inputs(
            ...vapour,
            givenInput('exposure limit', ink['exposure-limit'], 'relative'),
            assumedInput('mixing factor', MIXING, 'number', 'from memory'),
          ),
          source:
            'dilution ventilation, ACGIH Industrial Ventilation; an estimate, no design: safety data sheet, local codes and licensed practice come first',
          unit: 'm³/s',
        },
      ),
    )
  if (explosion)
    rows.push(
      line(
        'vapour.explosion',
        'Air that keeps a quarter of the explosive limit; far from enough to breathe',
        'air = rate / molar mass · molar volume · 4 / lower explosive limit at the warmest place',
        explosion.ok ? ok(explosion.value.air) : explosion,
        'number',
        {
          inputs: inputs(
            ...vapour,
            givenInput('lower explosive limit', ink['lower-explosive-limit'], 'relative'),
            hottest.ok ? computedInput('warmest place', hottest.value, 'temperature') : undefined,
          ),
          source:
            'dilution to a quarter of the limit (NFPA 86); the limit in the warm by ACGIH (from memory) and Ludwig, table 7-22; an estimate, no design: safety data sheet, local codes and licensed practice come first',
          unit: 'm³/s',
        },
      ),
    )
  return rows
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

export const quantities: AreaQuantities = [(setup) => unchecked(rows(setup))]
