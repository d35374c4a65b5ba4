// What heat does to the media: its margin to what the material bears, its growth, and the dry air that shrinks paper over a heater.
// Temperatures in degC, differences in K, growth as a fraction (0.001 is 1 mm per m).
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { finished, refusalOf } from './inputs.ts'
import { asRange, combineRanges, isExact, type Range, rangeProblem, subtractRanges } from './range.ts'
import { humidityAt, sheetGrowth } from './room.ts'

export interface HeatMargin {
  /** K below the limit; below zero when over it. */
  readonly margin: Range
  /** `uncertain` when the ranges overlap: only a measurement tells. */
  readonly verdict: 'within' | 'uncertain' | 'over'
}

/**
 * Margin of a web temperature to what the material bears in service (neither its melting point nor, for oriented film, its glass
 * transition). Temperatures in degC. Errors: missing, not finite, out of order; at absolute zero or above 1000 °C.
 */
export function limitMargin(input: { web: number | Range; limit: number | Range }): Outcome<HeatMargin> {
  const refusal = refusalOf(input, { temperature: ['web', 'limit'] })
  if (refusal) return refusal
  const margin = subtractRanges(asRange(input.limit), asRange(input.web))
  const verdict = margin.low >= 0 ? 'within' : margin.high < 0 ? 'over' : 'uncertain'
  return finished('web', { margin, verdict })
}

/**
 * Relative growth (m per m) from one temperature to another, degC: `expansion` in 1/K; below zero when the web cools. Linear: valid for small
 * strains, below where the material softens. Source: definition of linear expansion. Errors: missing, not finite, out of order; a
 * temperature at absolute zero or above 1000 °C.
 */
export function thermalGrowth(input: { expansion: number | Range; from: number | Range; to: number | Range }): Outcome<Range> {
  const { expansion, from, to } = input
  const refusal = refusalOf({ expansion, from, to }, { temperature: ['from', 'to'] })
  if (refusal) return refusal
  const inputs = { alpha: asRange(expansion), rise: subtractRanges(asRange(to), asRange(from)) }
  return finished(
    'expansion',
    combineRanges(inputs, (v) => v.alpha * v.rise),
  )
}

export interface PaperHeat {
  /** Relative humidity (0..1) of room air warmed to the web's temperature. */
  readonly humidity: Range
  /** Relative growth once paper has come to equilibrium with it; a short dwell reaches only part. */
  readonly growth: Range
}

/**
 * What room air (`air` degC, `humidity` 0..1) and paper come to at a heater of `web` degC: the warmed air is dry, so paper
 * shrinks though it warms. `moistureExpansion` as a fraction per fraction of RH, `expansion` in 1/K. Validity and source as
 * `humidityAt` and `sheetGrowth`. Errors: theirs, with the heater's temperature named `web`.
 */
export function paperAtHeat(input: {
  air: number
  humidity: number
  web: number | Range
  moistureExpansion: number | Range
  expansion: number | Range
}): Outcome<PaperHeat> {
  const { air, humidity, moistureExpansion, expansion } = input
  const problem = rangeProblem('web', input.web)
  if (problem) return { ok: false, problem }
  const web = asRange(input.web)
  const ends: { humidity: number; growth: Range }[] = []
  for (const surface of isExact(web) ? [web.typical] : [web.typical, web.low, web.high]) {
    const dry = humidityAt({ temperature: air, humidity, surface })
    if (!dry.ok) {
      const { input: name, reason } = dry.problem
      return refuse(name === 'temperature' ? 'air' : name === 'surface' ? 'web' : name, reason)
    }
    const growth = sheetGrowth({
      humidityChange: dry.value - humidity,
      temperatureChange: surface - air,
      moistureExpansion,
      expansion,
    })
    if (!growth.ok) return growth
    ends.push({ humidity: dry.value, growth: growth.value })
  }
  const spread = (typical: number, values: readonly number[]): Range => ({
    low: Math.min(...values),
    typical,
    high: Math.max(...values),
  })
  return ok({
    humidity: spread(
      ends[0]!.humidity,
      ends.map((end) => end.humidity),
    ),
    growth: spread(
      ends[0]!.growth.typical,
      ends.flatMap(({ growth: { low, high } }) => [low, high]),
    ),
  })
}
