// Drying in numbers: time to the roll, time to dry, what is left, the pause that would do, and the ink there is to dry.
import { ok, refuse } from '../../base/outcome.ts'
import { HALVING_STEP, timeToTouchDry } from '../../calc/drying.ts'
import { assumedInput, computedInput, givenInput, profileInput } from '../../model/reckoned-inputs.ts'
import type { Setup } from '../../model/setup.ts'
import type { AreaQuantities, Inputs, Quantity, Step } from '../quantity.ts'
import { pick } from '../quantity.ts'
import { type DryingStretch, dryingOf } from './facts.ts'
import { neededSentence, pauseSentence, windingSentence } from './words.ts'

const applies = ({ printer, mode }: Setup): boolean => printer !== undefined && mode !== undefined

const NOT_BOTH = refuse('drying', 'the time to the roll or the time to dry is not known')

const toRoll: Quantity = {
  key: 'drying.to-roll',
  title: 'Time from print to roll',
  dimension: 'time',
  formula: 'time = way / speed',
  source: 'geometry',
  applies,
  inputs: (setup) => {
    const { pass } = dryingOf(setup)
    return {
      way: givenInput('way from print to roll', setup.printer?.drying?.['path-to-winding'], 'length'),
      speed: pass.ok ? computedInput('web speed, pauses counted in', pass.value.webSpeed, 'speed') : undefined,
      pause: profileInput(setup, 'drying.pause', setup.profile.drying?.pause, 'time'),
    }
  },
  value: (setup) => pick(dryingOf(setup).winding, ({ running }) => running),
  sentence: windingSentence,
}

/** What a stretch of the way is called in the formulas. */
const SYMBOL = { after: 'heated', free: 'free' } as const

const NAME = { after: 'web behind the platen, mean', free: 'free web, mean' } as const

const touchDry: Quantity = {
  key: 'drying.touch-dry',
  title: 'Time to dry to the touch on this way',
  dimension: 'time',
  formula: {
    text: '1 = Σ time on each stretch · 2^((web − at) / halving) / time stated, until it is 1; at the mean rate where it is wound before',
    kind: 'integral',
    steps: drySteps,
  },
  source: 'halving rule, common practice; rates added along the way, heater first',
  applies,
  inputs: (setup) => {
    const { stretches } = dryingOf(setup)
    const dryTouch = setup.stock?.['dry-touch']
    return {
      stated: givenInput('dry-touch time', dryTouch?.time, 'time'),
      at: givenInput('dry-touch at', dryTouch?.at, 'temperature'),
      ...Object.fromEntries(
        (stretches.ok ? stretches.value : []).map(({ name, mean }) => [
          SYMBOL[name],
          computedInput(NAME[name], mean, 'temperature'),
        ]),
      ),
      halving: assumedInput('warming that halves the time', HALVING_STEP, 'temperature-difference', 'common practice'),
    }
  },
  value: (setup) => dryingOf(setup).dry,
  sentence: neededSentence,
}

/** At the typical values: what each stretch would need alone, then the way walked stretch by stretch until it is dry. */
function drySteps(setup: Setup): readonly Step[] {
  const { stretches, winding, dry } = dryingOf(setup)
  const { time, at } = setup.stock?.['dry-touch'] ?? {}
  if (!stretches.ok || !dry.ok || !time || !at) return []
  const alone = stretches.value.map(
    ({ name, mean, share }): Step & { readonly name: DryingStretch['name']; readonly share: number } => {
      const needed = timeToTouchDry({ time: time.value.si, at: at.value.si, temperature: mean.typical })
      return {
        name,
        share,
        formula: `${SYMBOL[name]}Alone = stated · 2^((at − ${SYMBOL[name]}) / halving)`,
        value: needed.ok ? needed.value.time.typical : Number.NaN,
      }
    },
  )
  const shares = Object.fromEntries(alone.map(({ name, share }) => [`${SYMBOL[name]}Share`, share]))
  const sum = (end: number): string =>
    alone
      .slice(0, end)
      .map(({ name }) => `${SYMBOL[name]}Share / ${SYMBOL[name]}Alone`)
      .join(' + ')
  // Not known how fast it walks, or wound before it is dry: the mean rate of the whole way goes on.
  const meanRate: Step = { formula: `dry = 1 / (${sum(alone.length)})`, with: shares, value: dry.value.typical }
  if (!winding.ok) return [...alone, meanRate]
  const { running } = winding.value
  for (let i = 0, done = 0; i < alone.length; i++) {
    const { name, share, value } = alone[i]!
    done += (share * running) / value
    if (done < 1) continue
    const before = alone.slice(0, i).map((one) => `${SYMBOL[one.name]}Share`)
    const passed = before.length === 0 ? '0' : `(${before.join(' + ')}) · running`
    const left = before.length === 0 ? '1' : `(1 − (${sum(i)}) · running)`
    return [
      ...alone,
      { formula: `dry = ${passed} + ${left} · ${SYMBOL[name]}Alone`, with: { ...shares, running }, value: dry.value.typical },
    ]
  }
  return [...alone, meanRate]
}

const margin: Quantity = {
  key: 'drying.margin',
  title: 'Time left when it is wound',
  dimension: 'time',
  formula: 'margin = roll − dry',
  source: 'comparison',
  applies,
  inputs: (setup) => {
    const { winding, dry } = dryingOf(setup)
    return {
      roll: winding.ok ? computedInput('time to the roll', winding.value.running, 'time') : undefined,
      dry: dry.ok ? computedInput('time to dry', dry.value, 'time') : undefined,
    }
  },
  value: (setup) => {
    const { margin } = dryingOf(setup)
    return margin ? ok(margin.margin) : NOT_BOTH
  },
}

const pauseToDry: Quantity = {
  key: 'drying.pause-to-dry',
  title: 'Pause with which it is just dry',
  dimension: 'time',
  formula: 'pause = max(0, dry − passes · pass) / passes',
  source: 'geometry',
  applies,
  inputs: (setup) => {
    const { needed, winding, pass } = dryingOf(setup)
    return {
      dry: needed.ok ? computedInput('time to dry at the mean rate of the way', needed.value.time, 'time') : undefined,
      passes: winding.ok ? computedInput('passes on the way', winding.value.passes, 'number') : undefined,
      pass: pass.ok ? computedInput('pass time', pass.value.passTime, 'time') : undefined,
    }
  },
  value: (setup) => {
    const { pauseToDry } = dryingOf(setup)
    return pauseToDry ? ok(pauseToDry) : NOT_BOTH
  },
  sentence: pauseSentence,
}

const ink: Quantity = {
  key: 'drying.ink',
  title: 'Ink at the ink limit',
  dimension: 'number',
  unit: 'm³/m²',
  formula: 'ink = drop · across · along · limit · strikes',
  source: 'estimate: every dot is one drop',
  applies,
  inputs: inkInputs,
  value: (setup) => pick(dryingOf(setup).ink, ({ perArea }) => perArea),
}

/** What the ink on a square metre is reckoned from. */
export function inkInputs(setup: Setup): Inputs {
  const { printer, mode, profile } = setup
  const resolution = mode?.resolution
  return {
    drop: givenInput('drop volume', printer?.heads?.['drop-volume'], 'volume'),
    across: givenInput('resolution across', resolution, 'resolution'),
    along: resolution && {
      ...givenInput('resolution along', resolution, 'resolution')!,
      value: resolution.value.second ?? resolution.value.si,
    },
    limit: profileInput(setup, 'colour.ink-limit', profile.colour?.['ink-limit'], 'relative'),
    strikes: profileInput(setup, 'carriage.strikes', profile.carriage?.strikes, 'number') ?? {
      name: 'carriage.strikes',
      value: 1,
      dimension: 'number',
      origin: 'default',
    },
  }
}

export const quantities: AreaQuantities = [toRoll, touchDry, margin, pauseToDry, ink]
