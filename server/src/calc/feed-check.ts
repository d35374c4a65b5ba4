// One feed check: from what was commanded and measured to the correction it implies, with the uncertainty that belongs to it.
import { type CalcProblem, firstProblem, type Outcome, ok, refuse } from '../base/outcome.ts'
import { type MeasuredLength, type Measurement, measuredLength } from './measurement.ts'

/** A test print: with `applied` keyed in, a pattern meant to be `commanded` long came out `measured` long. Lengths in m, `applied` a fraction. */
export interface FeedCheckInput extends Measurement {
  readonly id: string
  readonly commanded: number
  readonly applied: number
  /** Checks with the same instrument share its error; all checks that name none count as made with one and the same. */
  readonly instrument?: string | undefined
  /** Why the check is left out; it is then reckoned and shown, and counts for nothing. */
  readonly skipped?: string | undefined
  /** Prints of one day and one state share a part of the scatter: what names the two together. */
  readonly day?: string | undefined
  readonly lot?: string | undefined
  /** Days from the check to today. */
  readonly age?: number | undefined
  /** What brings it from the conditions it was made under to those of today. */
  readonly carries?: readonly FeedCarry[] | undefined
  /** Whether it is the strip of the check before it, measured once more. */
  readonly samePrint?: boolean | undefined
}

/** A change of conditions by one law: it errs alike for all checks that it carries, so its uncertainty is shared by them and never divided by n. */
export interface FeedCarry {
  /** What all checks carried by the same law have in common. */
  readonly law: string
  /** Added to the correction, a fraction. */
  readonly shift: number
  /** Standard uncertainty of the shift. */
  readonly u: number
}

export interface ImpliedCorrection {
  readonly measured: MeasuredLength
  /** commanded · (1 + applied): how long the pattern would be if the printer and the web added nothing of their own; m. */
  readonly expected: number
  /** What they add: measured length / expected, 1 where nothing. */
  readonly gain: number
  /** The correction the check asks for, 1/gain − 1 = (1 + applied)·commanded/measured − 1, whatever was applied. */
  readonly correction: number
  /** Correction per metre of measured length, (1 + correction)/length: turns each part of `measured` into a part of the correction. */
  readonly perMetre: number
  /** Standard uncertainties of the correction. */
  readonly uRandom: number
  readonly uSystematic: number
  readonly u: number
}

/**
 * The correction one check implies: (1 + applied)·commanded/length − 1, exactly and never by adding differences, with the length at the
 * reference temperature (degC) and relaxed. A pure scale error is taken for granted: the pattern spans many turns of the feed roller.
 * u(c)/(1 + c) = u(length)/length, what was commanded being exact. Source: GUM 5.1.6.
 * Refuses what `measuredLength` refuses, and lengths that differ by more than a factor of two, which is a slip of the pen and no feed error.
 */
export function impliedCorrection({
  check,
  referenceTemperature,
}: {
  check: FeedCheckInput
  referenceTemperature: number
}): Outcome<ImpliedCorrection> {
  const problem = commandProblem(check)
  if (problem) return { ok: false, problem }
  const measured = measuredLength({ measurement: check, referenceTemperature, nominal: check.commanded })
  if (!measured.ok) return measured
  const expected = check.commanded * (1 + check.applied)
  const { length, uRandom, uSystematic, u } = measured.value
  const gain = length / expected
  if (!(gain > 0.5 && gain < 2))
    return refuse(
      'measured',
      `${millimetres(check.measured)} was measured where about ${millimetres(expected)} was to be expected; look for a slipped decimal point or a wrong unit`,
    )
  const correction = (expected - length) / length
  const perMetre = (1 + correction) / length
  return ok({
    measured: measured.value,
    expected,
    gain,
    correction,
    perMetre,
    uRandom: uRandom * perMetre,
    uSystematic: uSystematic * perMetre,
    u: u * perMetre,
  })
}

function commandProblem({ commanded, applied }: FeedCheckInput): CalcProblem | undefined {
  if (!(commanded >= 1e-3 && commanded <= 1e3))
    return firstProblem({ commanded }, ['commanded']) ?? { input: 'commanded', reason: 'a pattern is between 1 mm and 1 km long' }
  return correctionProblem('applied', applied)
}

/** A correction of a half or more is no feed correction. */
export function correctionProblem(input: string, value: number): CalcProblem | undefined {
  if (!Number.isFinite(value)) return { input, reason: `${input} is not a finite number` }
  return Math.abs(value) < 0.5 ? undefined : { input, reason: 'a feed correction lies within ± 50 %' }
}

const millimetres = (metres: number): string => `${Number((metres * 1e3).toPrecision(6))} mm`
