// The feed correction in numbers: what each check asks for, all of them together, the fine picks, what is keyed in, and the drift.
import { ok } from '../../base/outcome.ts'
import { chanceParts } from '../../calc/feed-combine.ts'
import { DAY } from '../../model/dates.ts'
import type { Reckoned, ReckonedInput } from '../../model/reckoned.ts'
import { computedInput, givenInput } from '../../model/reckoned-inputs.ts'
import type { Setup } from '../../model/setup.ts'
import { advanceOf } from '../advance/advance.ts'
import { type AreaQuantities, type Family, known, type Quantity, type Step } from '../quantity.ts'
import type { Carry } from './carry.ts'
import { carryText, LAW_WORDS } from './doubt-words.ts'
import { driftPoints, feedDriftOf } from './drift.ts'
import type { FeedEvidence } from './evidence.ts'
import { type FeedFacts, feedOf, resultOf } from './facts.ts'
import { verdictOf } from './verdict.ts'
import { verdictSentences } from './verdict-words.ts'

const GUM = 'JCGM 100:2008 (GUM) 5.1.6, G.4.1'

/** What each check that counts asks for, and how well that is known. */
const checks: Family = (setup) => {
  const facts = feedOf(setup)
  return facts.counted.flatMap((evidence) => ofCheck(facts, evidence))
}

function ofCheck(facts: FeedFacts, evidence: FeedEvidence): readonly Quantity[] {
  const { check, index, id } = evidence
  const { implied, reason } = resultOf(facts, evidence) ?? { reason: facts.problem?.reason }
  const key = `feed.check.${index + 1}`
  const correction: Quantity = {
    key,
    title: `Correction that the check of ${check.date?.value ?? id} asks for`,
    dimension: 'relative',
    formula: 'correction = (1 + applied) · commanded / (measured + change) − 1',
    source: 'pure scale; ISO 1:2022 for the length at reference temperature',
    inputs: () => ({
      commanded: givenInput('commanded', check.commanded, 'length'),
      measured: givenInput('measured', check.measured, 'length'),
      applied: givenInput('applied', check.applied, 'relative'),
      change:
        implied &&
        computedInput('change to the reference temperature, relaxed', implied.measured.length - implied.measured.read, 'length'),
    }),
    value: () => known(implied?.correction, 'feed.checks', reason ?? ''),
    problem: () => (implied ? undefined : told('feed.checks', reason)),
  }
  if (!implied) return [correction]
  const { u, measured } = implied
  const spread: Quantity = {
    key: `${key}.u`,
    title: 'Its standard uncertainty',
    dimension: 'relative',
    formula: 'u = (1 + correction) · spread / length',
    source: GUM,
    inputs: () => ({
      correction: computedInput('correction it asks for', implied.correction, 'relative'),
      spread: computedInput('standard uncertainty of the length', measured.u, 'length'),
      length: computedInput('length at the reference temperature, relaxed', measured.length, 'length'),
    }),
    value: () => ok(u),
  }
  return [correction, spread]
}

/** Why it is not known, by the key to mend. */
const told = (input: string, reason: string | undefined): Reckoned['problem'] =>
  reason === undefined ? undefined : { input, reason }

const combinedOf = (setup: Setup) => feedOf(setup).reckoning?.combined

const correction: Quantity = {
  key: 'feed.correction',
  title: 'Feed correction the checks ask for together',
  dimension: 'relative',
  formula: 'correction = 1 / (1 + error) − 1',
  source: GUM,
  applies: (setup) => feedOf(setup).problem !== undefined || combinedOf(setup) !== undefined,
  inputs: (setup) => {
    const { reckoning } = feedOf(setup)
    if (!reckoning?.combined) return {}
    const error = reckoning.checks.reduce((sum, { weight, now = 0 }) => sum + weight * (1 / (1 + now) - 1), 0)
    return {
      checks: computedInput('checks', reckoning.combined.n, 'number'),
      error: computedInput('mean length error with no correction and the settings of now, weighted', error, 'relative'),
    }
  },
  value: (setup) => known(combinedOf(setup)?.correction, 'feed.checks', feedOf(setup).problem?.reason ?? ''),
  problem: (setup) => told('feed.checks', feedOf(setup).problem?.reason),
}

/** What each law adds to bring checks from the settings of then to those of now. */
const carries: Family = (setup) => {
  const found = new Map<string, Quantity>()
  for (const { carries: made, check } of feedOf(setup).counted)
    for (const carry of made) {
      if (!carry.ends) continue
      const key = `feed.carry.${check.under?.value}.${carry.law}`
      if (!found.has(key)) found.set(key, carryQuantity(key, setup, carry, carry.ends))
    }
  return [...found.values()]
}

const carryQuantity = (key: string, setup: Setup, carry: Carry, { now, before }: NonNullable<Carry['ends']>): Quantity => ({
  key,
  title: `What it adds to the correction: ${carryText(carry, setup).split(':')[0]}`,
  dimension: 'relative',
  formula: { text: 'carry = now − before', ends: 'each' },
  source: 'both ends share their unknowns; GUM 5.2.5',
  inputs: () => ({
    now: computedInput(`${LAW_WORDS[carry.law]} now`, now, 'relative'),
    before: computedInput(`${LAW_WORDS[carry.law]} then`, before, 'relative'),
  }),
  value: () => ok(carry.range),
})

const uncertainty: Quantity = {
  key: 'feed.correction.u',
  title: 'Standard uncertainty of that correction',
  dimension: 'relative',
  formula: 'u = √(readings² + scatter² + lots² + age² + shared²)',
  source:
    'JCGM 100:2008 (GUM) 5.1, 5.2; averaged over every size the scatter may have (A. Gelman et al., Bayesian Data Analysis, 3rd ed., 5.4)',
  applies: (setup) => combinedOf(setup) !== undefined,
  inputs: (setup) => {
    const { uReading, uScatter, uLots, uDrift, systematic } = combinedOf(setup)!
    const shared = Math.hypot(...systematic.map(({ u }) => u))
    return {
      readings: computedInput('readings', uReading, 'relative'),
      scatter: computedInput('scatter of the feed', uScatter, 'relative'),
      lots: computedInput('lots', uLots, 'relative'),
      age: computedInput('age', uDrift, 'relative'),
      shared: computedInput('what the checks share', shared, 'relative'),
    }
  },
  value: (setup) => ok(combinedOf(setup)!.u),
}

const expanded: Quantity = {
  key: 'feed.correction.U',
  title: 'Half-width of its 95 % interval',
  dimension: 'relative',
  formula: 'U = k · u',
  source: 'JCGM 100:2008 (GUM) 6.2; k found from the mixture itself',
  applies: (setup) => combinedOf(setup) !== undefined,
  inputs: (setup) => {
    const { k, u } = combinedOf(setup)!
    return {
      k: computedInput('coverage factor', k, 'number'),
      u: computedInput('standard uncertainty', u, 'relative'),
    }
  },
  value: (setup) => ok(combinedOf(setup)!.U),
}

/** How probable it is that a print made now keeps the shop's tolerance. */
const chance: Quantity = {
  key: 'feed.chance',
  title: 'Share of prints that keep the length tolerance',
  dimension: 'relative',
  formula: {
    text: 'chance = Σ share · (Φ((high − mean) / spread) − Φ((low − mean) / spread)), over every size that the scatter of the feed may have',
    kind: 'integral',
    steps: (setup) => chanceSteps(setup),
  },
  source: 'JCGM 106:2012, 7; Φ the normal distribution, spread² = u² of the mean + scatter²',
  applies: (setup) => feedOf(setup).reckoning?.proof?.set !== undefined,
  inputs: (setup) => ({
    tolerance: given('tolerance', feedOf(setup).tolerance, 'relative'),
    correction: computedInput('correction asked for', combinedOf(setup)!.correction, 'relative'),
  }),
  value: (setup) => ok(feedOf(setup).reckoning!.proof!.set!.print),
  problem: (setup) => {
    const { word, doubtful } = verdictOf(feedOf(setup))
    return word === 'doubtful' && doubtful !== 'between'
      ? { input: 'feed.checks', reason: verdictSentences(feedOf(setup))[0]! }
      : undefined
  },
}

/** The sum by the parts of the scatter: small, middling, large, very large. */
function chanceSteps(setup: Setup): readonly Step[] {
  const { reckoning, tolerance, entry, applied, held } = feedOf(setup)
  const set = entry === 'percent' ? applied?.value.si : held?.ok ? held.value.correction : undefined
  const mixture = reckoning?.combined?.mixture
  if (!mixture || set === undefined) return []
  const parts = chanceParts(mixture, (1 - tolerance) / (1 + set), (1 + tolerance) / (1 + set))
  const names = ['small', 'middling', 'large', 'huge']
  const values = Object.fromEntries(names.map((name, i) => [name, parts[i]!]))
  return [{ formula: `chance = ${names.join(' + ')}`, with: values, value: reckoning!.proof!.set!.print }]
}

const fineOf = (setup: Setup) => {
  const fine = feedOf(setup).reckoning?.fine
  return fine?.use === 'unusable' ? undefined : fine
}

const fine: Quantity = {
  key: 'feed.fine',
  title: 'Correction that the fine picks ask for',
  dimension: 'relative',
  formula: 'correction = applied + pick · step / advance',
  source: 'geometry of the pattern',
  applies: (setup) => fineOf(setup) !== undefined,
  inputs: (setup) => {
    const advance = advanceOf(setup)
    return {
      applied: givenInput('applied when they were printed', setup.own.feed?.fine?.applied, 'relative'),
      pick: computedInput('mean pick', fineOf(setup)!.meanPick, 'number'),
      step: givenInput('step of the pattern', setup.printer?.feed?.fine?.step, 'length'),
      advance: advance.ok ? computedInput('advance of a pass', advance.value.advance, 'length') : undefined,
    }
  },
  value: (setup) => {
    const { use, correction, reason } = fineOf(setup)!
    return known(use === 'used' ? correction : undefined, 'feed.fine', reason ?? '')
  },
  problem: (setup) => told('feed.fine', fineOf(setup)!.reason),
}

/** What is keyed in: the correction itself, or the length that the printer is told its pattern came out at. */
const toKeyIn: Family = (setup) => {
  const { reckoning, held, patternLength } = feedOf(setup)
  const { wanted, keyIn } = reckoning ?? {}
  if (!wanted || !keyIn) return []
  const percent = keyIn.entry === 'percent'
  const exact = 'pattern · (1 + held) / (1 + wanted)'
  const wantedInput = computedInput('wanted correction', wanted.correction, 'relative')
  const made: Quantity = {
    key: 'feed.key-in',
    title: percent ? 'Correction to key in' : 'Measured length to key in',
    dimension: percent ? 'relative' : 'length',
    formula: {
      text: `keyed = ${percent ? 'wanted' : exact}, to the nearest step inside the printer’s range`,
      kind: 'steps',
      steps: () => (keyIn.value === undefined ? [] : keyInSteps(setup, percent ? 'wanted' : exact, keyIn.value)),
    },
    source: 'the printer’s document',
    inputs: () => ({
      wanted: wantedInput,
      ...(!percent && {
        held: held?.ok ? given('correction the machine holds', held.value.correction, 'relative') : undefined,
        pattern: patternLength === undefined ? undefined : given('pattern', patternLength, 'length'),
      }),
      step: stepOf(setup, percent),
    }),
    value: () => known(keyIn.value, 'feed.correction', keyIn.reason ?? ''),
    problem: () => told('feed.correction', keyIn.reason),
  }
  const left: Quantity = {
    key: 'feed.key-in.left',
    title: 'Length error that rounding leaves',
    dimension: 'relative',
    formula: 'left = (1 + runs) / (1 + wanted) − 1',
    source: 'arithmetic',
    applies: () => keyIn.value !== undefined,
    inputs: () => ({
      runs: computedInput('correction it then runs with', keyIn.correction, 'relative'),
      wanted: wantedInput,
    }),
    value: () => ok(keyIn.left),
  }
  return [made, left]
}

/** The printer's step, where it is one of what is keyed in. */
function stepOf({ printer }: Setup, percent: boolean): ReckonedInput | undefined {
  const step = printer?.feed?.step
  const dimension = percent ? 'relative' : 'length'
  return step?.value.dimension === dimension ? givenInput('step', step, dimension) : undefined
}

/** The exact value, in whole steps, no fewer and no more than the range takes. */
function keyInSteps(setup: Setup, exact: string, value: number): readonly Step[] {
  const { range, patternLength = 0, held } = feedOf(setup)
  const percent = exact === 'wanted'
  const step = stepOf(setup, percent)?.value
  if (typeof step !== 'number') return [{ formula: `keyed = ${exact}`, value }]
  const reach = held?.ok ? patternLength * (1 + held.value.correction) : 0
  // A longer measured length makes a smaller correction, so the ends of the range change places.
  const ends = range && (percent ? range : [reach / (1 + range[1]), reach / (1 + range[0])])
  const count = `round((${exact}) / step)`
  return [
    ends
      ? {
          formula: `count = min(max(${count}, least), most)`,
          with: { least: Math.ceil(ends[0]! / step - 1e-6), most: Math.floor(ends[1]! / step + 1e-6) },
          value: Math.round(value / step),
        }
      : { formula: `count = ${count}`, value: Math.round(value / step) },
    { formula: 'keyed = count · step', value },
  ]
}

const drift: Quantity = {
  key: 'feed.drift',
  title: 'Drift of the correction in thirty days',
  dimension: 'relative',
  formula: {
    text: 'drift = 30 d · Σ (time − mean time) · (correction − mean correction) / Σ (time − mean time)², over all checks, each from the means of its lot',
    kind: 'fit',
    steps: driftSteps,
  },
  source: 'NIST/SEMATECH e-Handbook 4.1.4.1',
  applies: (setup) => feedDriftOf(setup) !== undefined,
  inputs: (setup) => {
    const { n, drift } = feedDriftOf(setup)!
    return {
      checks: given('checks', n, 'number'),
      span: given('time between first and last', drift.last - drift.first || DAY, 'time'),
    }
  },
  value: (setup) => ok(feedDriftOf(setup)!.perMonth),
  problem: (setup) =>
    feedDriftOf(setup)?.drift.real === false
      ? { reason: 'the slope is within the scatter of the checks: no drift is shown' }
      : undefined,
}

function driftSteps(setup: Setup): readonly Step[] {
  const found = feedDriftOf(setup)
  if (!found) return []
  const all = driftPoints(setup)
  let [sxx, sxy] = [0, 0]
  for (const lot of new Set(all.map(({ group }) => group))) {
    const points = all.filter(({ group }) => group === lot)
    const mean = (of: 'at' | 'value'): number => points.reduce((sum, point) => sum + point[of], 0) / points.length
    const [at, value] = [mean('at'), mean('value')]
    for (const point of points) {
      sxx += (point.at - at) ** 2
      sxy += (point.at - at) * (point.value - value)
    }
  }
  return [
    { formula: 'slope = sxy / sxx', with: { sxx, sxy }, value: found.drift.slope },
    { formula: 'drift = slope · month', with: { month: 30 * DAY }, value: found.perMonth },
  ]
}

const given = (name: string, value: number, dimension: ReckonedInput['dimension']): ReckonedInput => ({
  name,
  value,
  dimension,
  origin: 'given',
})

export const quantities: AreaQuantities = [checks, carries, correction, uncertainty, expanded, chance, fine, toKeyIn, drift]
