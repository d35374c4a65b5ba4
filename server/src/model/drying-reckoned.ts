// The drying facts as reckoned quantities: time to the roll, time to dry, margin, pause, and the ink to dry.

import { ok, refuse } from '../base/outcome.ts'
import { HALVING_STEP } from '../calc/drying.ts'
import { dryingOf } from './drying.ts'
import type { Reckoned, ReckonedInput, Reckoner } from './reckoned.ts'
import { assumedInput, computedInput, givenInput, inputs, line, profileInput } from './reckoned-inputs.ts'
import type { Setup } from './setup.ts'

export const reckonDrying: Reckoner = (setup) => {
  const { printer, mode, stock, profile } = setup
  if (!printer || !mode) return []
  const { winding, needed, dry, margin, pauseToDry, pass, stretches, ink } = dryingOf(setup)
  const path = givenInput('way from print to roll', printer.drying?.['path-to-winding'], 'length')
  const speed = pass.ok ? computedInput('web speed', pass.value.webSpeed, 'speed') : undefined
  const available = winding.ok ? computedInput('time to the roll', winding.value.running, 'time') : undefined
  const takes = dry.ok ? computedInput('time to dry', dry.value, 'time') : undefined
  const atMean = needed.ok ? computedInput('time to dry at the mean rate of the way', needed.value.time, 'time') : undefined
  const web = stretches.ok
    ? stretches.value.map(({ name, mean }) =>
        computedInput(name === 'after' ? 'web behind the platen, mean' : 'free web, mean', mean, 'temperature'),
      )
    : []
  const noDry = refuse('drying', 'the time to the roll or the time to dry is not known')
  const rows: Reckoned[] = [
    line(
      'drying.to-roll',
      'Time from print to roll',
      'time = way / web speed',
      winding.ok ? ok(winding.value.running) : winding,
      'time',
      {
        inputs: inputs(path, speed, profileInput(setup, 'drying.pause', profile.drying?.pause, 'time')),
        source: 'geometry',
      },
    ),
    line(
      'drying.touch-dry',
      'Time to dry to the touch on this way',
      '1 = Σ time on each stretch · 2^((web − at) / halving) / time stated, until it is 1; at the mean rate where it is wound before',
      dry,
      'time',
      {
        inputs: inputs(
          givenInput('dry-touch time', stock?.['dry-touch']?.time, 'time'),
          givenInput('dry-touch at', stock?.['dry-touch']?.at, 'temperature'),
          ...web,
          assumedInput('warming that halves the time', HALVING_STEP, 'temperature-difference', 'common practice'),
        ),
        source: 'halving rule, common practice; rates added along the way, heater first',
      },
    ),
    line(
      'drying.margin',
      'Time left when it is wound',
      'margin = time to the roll − time to dry',
      margin ? ok(margin.margin) : noDry,
      'time',
      {
        inputs: inputs(available, takes),
        source: 'comparison',
      },
    ),
    line(
      'drying.pause-to-dry',
      'Pause with which it is just dry',
      'pause = (time to dry at the mean rate − time without pauses) / passes on the way',
      pauseToDry ? ok(pauseToDry) : noDry,
      'time',
      {
        inputs: inputs(atMean, path, pass.ok ? computedInput('pass time', pass.value.passTime, 'time') : undefined),
        source: 'geometry',
      },
    ),
    line(
      'drying.ink',
      'Ink at the ink limit',
      'ink = drop volume · dots per area · ink limit · strikes',
      ink.ok ? ok(ink.value.perArea) : ink,
      'number',
      {
        inputs: inkInputs(setup),
        source: 'estimate: every dot is one drop',
        unit: 'm³/m²',
      },
    ),
  ]
  return rows
}

/** What the ink on a square metre is reckoned from. */
export const inkInputs = (setup: Setup): readonly ReckonedInput[] =>
  inputs(
    givenInput('drop volume', setup.printer?.heads?.['drop-volume'], 'volume'),
    givenInput('resolution across', setup.mode?.resolution, 'resolution'),
    profileInput(setup, 'colour.ink-limit', setup.profile.colour?.['ink-limit'], 'relative'),
    profileInput(setup, 'carriage.strikes', setup.profile.carriage?.strikes, 'number'),
  )
