// Feed checks to one correction: brought to today's conditions, strips measured twice put together, and the mean over the scatter that is not known.
import { type Outcome, ok } from '../base/outcome.ts'
import { type FeedCheckInput, type ImpliedCorrection, impliedCorrection } from './feed-check.ts'
import { correctionOfGain } from './feed-gain.ts'
import type { LengthCause } from './measurement.ts'
import { mixtureBetween } from './normal-mixture.ts'
import { randomEffects } from './random-effects.ts'
import { fitThroughOrigin } from './regression.ts'
import type { ScatterInput } from './scatter-average.ts'
import { type ScatterMixture, scatterMixture } from './scatter-mixture.ts'
import type { ScatterValue } from './scatter-model.ts'
import type { StatedScatter } from './scatter-nodes.ts'
import { scatterSuspects } from './scatter-suspects.ts'
import type { CommonPart } from './statistics.ts'

/** What is known of the machine and the stock beside the checks. */
export interface FeedScatter {
  /** From print to print, and from lot to lot: as their documents state them. */
  readonly repeatability?: StatedScatter | undefined
  readonly lotSpread?: StatedScatter | undefined
  /** The lot that is printed on now. */
  readonly lotNow?: string | undefined
}

export interface FeedCombination {
  /** How many checks it rests on, and how many prints: a strip measured again is one print. */
  readonly n: number
  readonly prints: number
  readonly correction: number
  /** Standard uncertainties of the correction: what the checks have each for themselves, and what the feed scatters. */
  readonly uReading: number
  readonly uScatter: number
  readonly uLots: number
  readonly uDrift: number
  /** What the checks share, by cause; the rule's own limit of error once for each instrument, a change of conditions once for each law. */
  readonly systematic: readonly SharedPart[]
  readonly u: number
  readonly k: number
  /** Expanded uncertainty: the correction lies within ± U with the coverage asked for. */
  readonly U: number
  /** Scatter from print to print, to be expected and with its 95 % interval, as a fraction. */
  readonly scatter: { readonly expected: number; readonly low: number; readonly high: number }
  /** In gains: what chances are reckoned from. */
  readonly mixture: ScatterMixture
  /** The prints it was reckoned from, in gains. */
  readonly input: ScatterInput
}

export interface SharedPart {
  readonly cause: LengthCause | 'carry'
  /** Of a limit of error: the instrument; of a carry: the law. */
  readonly of?: string
  readonly u: number
}

/** The same checks by other rules, as corrections, for comparison. */
export interface FeedEstimators {
  /** Least squares through the origin: right for equal absolute errors. */
  readonly throughOrigin: number
  /** From the mean of measured over expected: right for equal relative errors. */
  readonly meanOfRatios: number
  /** The random-effects means, which plug an estimate of the scatter in; undefined for one check. */
  readonly derSimonianLaird: RandomEffects | undefined
  readonly mandelPaule: RandomEffects | undefined
}

interface RandomEffects {
  readonly correction: number
  readonly u: number
  /** The scatter it estimates, as a fraction: often nothing, with few checks. */
  readonly scatter: number
}

export interface UsableCheck {
  readonly check: FeedCheckInput
  /** Position among all checks. */
  readonly index: number
  readonly implied: ImpliedCorrection
  /** The correction it asks for under today's conditions. */
  readonly now: number
}

/** The checks put together; the rows of one check stand in the order of `usable`. */
export interface Combined {
  readonly combination: FeedCombination
  /** Share of each check in the correction, sum 1. */
  readonly weights: readonly number[]
  /** By position among all checks: how improbable it is beside all others, n times its probability; the most suspect first. */
  readonly suspects: ReadonlyMap<number, number>
}

/** The correction a check asks for when its carries are added. */
export const carried = (implied: ImpliedCorrection, check: FeedCheckInput): number =>
  (check.carries ?? []).reduce((sum, { shift }) => sum + shift, implied.correction)

/** All checks as one correction. Refuses what `scatterMixture` refuses. */
export function combineChecks(
  usable: readonly UsableCheck[],
  scatter: FeedScatter,
  coverage: number,
  significance: number,
): Outcome<Combined> {
  const prints = printsOf(usable)
  const input = {
    values: prints.map(({ value }) => value),
    ...scatter,
    coverage,
  }
  const mixture = scatterMixture(input)
  if (!mixture.ok) return mixture
  const { value, u, U, k, budget, tau } = mixture.value
  const asked = correctionOfGain({ gain: value, u })
  if (!asked.ok) return asked
  const { correction } = asked.value
  const perGain = asked.value.u / u
  const weights: number[] = []
  for (const [p, { members }] of prints.entries())
    for (const { at, share } of members) weights[at] = mixture.value.weights[p]! * share
  const found = scatterSuspects(input, { first: mixture.value, significance })
  const named = found.ok ? found.value.steps.slice(0, found.value.suspects.length) : []
  return ok({
    combination: {
      n: usable.length,
      prints: prints.length,
      correction,
      uReading: budget.readings * perGain,
      uScatter: Math.hypot(budget.scatter, budget.days, budget.spread) * perGain,
      uLots: budget.lots * perGain,
      uDrift: budget.drift * perGain,
      systematic: budget.shared.map((part) => ({ ...causeOf(part.cause), u: part.u * perGain })),
      u: asked.value.u,
      k,
      U: U * perGain,
      scatter: tau,
      mixture: mixture.value,
      input,
    },
    weights,
    suspects: new Map(
      named.flatMap(({ index, suspicion }) => prints[index]!.members.map(({ at }) => [usable[at]!.index, suspicion] as const)),
    ),
  })
}

interface Print {
  readonly value: ScatterValue
  /** Positions among the usable checks, and the share of each in the print. */
  readonly members: readonly { readonly at: number; readonly share: number }[]
}

/** Readings of one strip are one print: their mean by what each has for itself, and what they share in the same proportion. */
function printsOf(usable: readonly UsableCheck[]): readonly Print[] {
  const groups: number[][] = []
  usable.forEach(({ check, index }, at) => {
    const before = groups.at(-1)
    if (check.samePrint && before && usable[before.at(-1)!]!.index === index - 1) before.push(at)
    else groups.push([at])
  })
  return groups.map((group) => {
    const values = group.map((at) => gainOf(usable[at]!))
    if (values.length === 1) return { value: values[0]!, members: [{ at: group[0]!, share: 1 }] }
    const inverse = values.map(({ u }) => 1 / Math.max(u, 1e-9) ** 2)
    const total = inverse.reduce((a, b) => a + b, 0)
    const shares = inverse.map((one) => one / total)
    const shared = new Map<string, number>()
    values.forEach((value, i) => {
      for (const { cause, u } of value.shared ?? []) shared.set(cause, (shared.get(cause) ?? 0) + shares[i]! * u)
    })
    return {
      value: {
        ...values[0]!,
        value: values.reduce((sum, { value }, i) => sum + shares[i]! * value, 0),
        u: Math.sqrt(1 / total),
        shared: [...shared].map(([cause, u]) => ({ cause, u })),
      },
      members: group.map((at, i) => ({ at, share: shares[i]! })),
    }
  })
}

/** One check as a print, a gain: what it has for itself, and what it shares with others. Refuses what `impliedCorrection` refuses. */
export function asPrint(check: FeedCheckInput, referenceTemperature: number): Outcome<ScatterValue> {
  const implied = impliedCorrection({ check, referenceTemperature })
  if (!implied.ok) return implied
  return ok(gainOf({ check, index: 0, implied: implied.value, now: implied.value.correction }))
}

/** A check as a gain under today's conditions, with what it has for itself and what it shares. */
function gainOf({ check, implied: { measured, perMetre }, now }: UsableCheck): ScatterValue {
  // u(g) = u(c)/(1 + c)², and a longer gain is a smaller correction.
  const perCorrection = -1 / (1 + now) ** 2
  const instrument = check.instrument ?? ''
  const shared: CommonPart[] = []
  for (const { kind, cause, u } of measured.parts)
    if (kind === 'systematic') shared.push({ cause: causeText(cause, instrument), u: -u * perMetre * perCorrection })
  for (const { law, shift, u } of check.carries ?? [])
    shared.push({ cause: `carry:${law}`, u: (shift < 0 ? -u : u) * perCorrection })
  return {
    value: 1 / (1 + now),
    u: measured.uRandom * perMetre * -perCorrection,
    shared,
    day: check.day,
    lot: check.lot,
    age: check.age,
  }
}

/** Each rule has its own error; room, web and tension are the same for all. */
const causeText = (cause: LengthCause, instrument: string): string =>
  cause === 'limit-of-error' || cause === 'rule-error' ? `${cause}:${instrument}` : cause

function causeOf(text: string): Omit<SharedPart, 'u'> {
  const colon = text.indexOf(':')
  if (colon < 0) return { cause: text as LengthCause }
  const of = text.slice(colon + 1)
  return { cause: text.slice(0, colon) as SharedPart['cause'], ...(of !== '' && { of }) }
}

const plugged = ({ mean, u, tau2 }: { readonly mean: number; readonly u: number; readonly tau2: number }): RandomEffects => ({
  correction: mean,
  u,
  scatter: Math.sqrt(tau2),
})

/** Other ways to put the checks together; undefined where there is none. */
export function estimatorsOf(included: readonly UsableCheck[]): FeedEstimators | undefined {
  if (included.length === 0) return undefined
  const x = included.map(({ implied }) => implied.expected)
  const y = included.map(({ implied, now }) => implied.expected / (1 + now))
  const gains = included.map(({ now }) => 1 / (1 + now))
  const ray = fitThroughOrigin({ x, y })
  const meanOfRatios = included.length / gains.reduce((sum, gain) => sum + gain, 0) - 1
  const effects = randomEffects({ values: included.map(({ now }) => now), u: included.map(({ implied }) => implied.u) })
  const asEffects = (of: 'derSimonianLaird' | 'mandelPaule'): RandomEffects | undefined =>
    effects.ok ? plugged(effects.value[of]) : undefined
  return {
    throughOrigin: ray.ok ? 1 / ray.value.slope - 1 : meanOfRatios,
    meanOfRatios,
    derSimonianLaird: asEffects('derSimonianLaird'),
    mandelPaule: asEffects('mandelPaule'),
  }
}

/** Bounds between a small, a middling, a large and a very large scatter from print to print, as fractions. */
const SIZES = [0.1e-3, 0.25e-3, 0.6e-3]

/** The probability that a print lies between two gains, in four parts by the size of the scatter. */
export function chanceParts({ parts }: ScatterMixture, low: number, high: number): readonly [number, number, number, number] {
  const sums: [number, number, number, number] = [0, 0, 0, 0]
  parts.tau.forEach((tau, i) => {
    const at = SIZES.filter((size) => tau >= size).length
    const one = { p: [parts.p[i]!], mean: [parts.mean[i]!], u: [parts.u[i]!], tau: [tau] }
    sums[at]! += mixtureBetween(one, low, high, true)
  })
  return sums
}
