// The room's climate in a setup: the dew point, dry air over the platen, growth of paper with the weather, and static.

import { type Outcome, refuse } from '../../base/outcome.ts'
import { recorded } from '../../base/recorder.ts'
import { type PaperHeat, paperAtHeat } from '../../calc/heat-effects.ts'
import type { Range } from '../../calc/range.ts'
import { type Condensation, condensation, dewPoint, STATIC_HUMIDITY, sheetGrowth } from '../../calc/room.ts'
import type { Q } from '../../model/field.ts'
import type { Property } from '../../model/material.ts'
import type { Setup } from '../../model/setup.ts'
import type { FeedEvidence } from '../feed/evidence.ts'
import { feedOf } from '../feed/facts.ts'
import { heatOf } from '../heat/facts.ts'

/** The room at one check. */
export interface CheckClimate {
  readonly evidence: FeedEvidence
  readonly temperature: Q<'temperature'> | undefined
  readonly humidity: Q<'humidity'> | undefined
  /** degC */
  readonly dewPoint: number | undefined
  /** Of the web that was measured, where its temperature is given. */
  readonly condensation: Condensation | undefined
  /** Growth of the stock from the nearest end of the shop's humidity to that of the check, as a fraction; zero inside. */
  readonly growth: Range | undefined
  /** Growth from the middle of the shop's humidity. */
  readonly fromMiddle: Range | undefined
  readonly dry: boolean
}

export interface ClimateFacts {
  /** degC and 0..1: the middle of the shop's climate. */
  readonly air: number
  readonly humidity: number
  /** degC, of the shop's warmest and dampest air: nothing colder than 3 K above it stays dry at all times. */
  readonly dewPoint: Outcome<number>
  /** The stock's moisture expansion, where it matters to its length. */
  readonly moisture: Property | undefined
  /** Growth of the stock over the shop's humidity, from the driest to the dampest, as a fraction. */
  readonly overWindow: Range | undefined
  /** The air and the stock over the platen. */
  readonly atPlaten: Outcome<PaperHeat>
  readonly checks: readonly CheckClimate[]
  /** The newest check that counts and gives the humidity. */
  readonly newest: CheckClimate | undefined
  /** Whether the stock charges in dry air: plastic film and cloth, unlike paper and canvas before they are very dry. */
  readonly charges: boolean
}

/** Growth over the whole of the shop's humidity below which a stock counts as not minding it. */
const NOT_MINDING = 2e-4

/** The climate of a setup, reckoned once. Never throws. */
export const climateOf: (setup: Setup) => ClimateFacts = recorded('climate', reckon)

function reckon(setup: Setup): ClimateFacts {
  const { shop, material, stock } = setup
  const [cool, warm] = shop.climate.temperature.value
  const [dry, damp] = shop.climate.humidity.value
  const [air, humidity] = [(cool + warm) / 2, (dry + damp) / 2]
  const moisture = material.property('moisture-expansion')
  const overWindow = moisture && growth(moisture, damp - dry)
  const minds = overWindow !== undefined && overWindow.typical >= NOT_MINDING
  const checks = feedOf(setup).evidence.flatMap((e) => climateAt(setup, e, minds ? moisture : undefined) ?? [])
  return {
    air,
    humidity,
    dewPoint: dewPoint({ temperature: warm, humidity: damp }),
    moisture: minds ? moisture : undefined,
    overWindow: minds ? overWindow : undefined,
    atPlaten: atPlaten(setup, air, humidity, minds ? moisture : undefined),
    checks,
    newest: newestOf(checks),
    charges: /^(film|banner|textile)-/.test(stock?.family?.value ?? ''),
  }
}

function climateAt({ shop }: Setup, evidence: FeedEvidence, moisture: Property | undefined): CheckClimate | undefined {
  const { climate, web } = evidence.check
  if (!climate) return undefined
  const { temperature, humidity } = climate
  const [t, rh] = [temperature?.value.si, humidity?.value.si]
  const dew = t !== undefined && rh !== undefined ? dewPoint({ temperature: t, humidity: rh }) : undefined
  const surface = web?.value.si
  const wet = dew?.ok && surface !== undefined ? condensation({ temperature: t!, humidity: rh!, surface }) : undefined
  const [low, high] = shop.climate.humidity.value
  const beyond = rh === undefined ? 0 : rh - Math.min(high, Math.max(low, rh))
  return {
    evidence,
    temperature,
    humidity,
    dewPoint: dew?.ok ? dew.value : undefined,
    condensation: wet?.ok ? wet.value : undefined,
    growth: moisture && rh !== undefined ? growth(moisture, beyond) : undefined,
    fromMiddle: moisture && rh !== undefined ? growth(moisture, rh - (low + high) / 2) : undefined,
    dry: rh !== undefined && rh < STATIC_HUMIDITY,
  }
}

function atPlaten(setup: Setup, air: number, humidity: number, moisture: Property | undefined): Outcome<PaperHeat> {
  if (!moisture) return refuse('moisture-expansion', 'the stock hardly grows with humidity')
  const platen = heatOf(setup).zones.find((z) => z.zone === 'platen')
  if (!platen?.set) return refuse('heat.platen', 'no temperature is set on the platen')
  if (!platen.web.ok) return platen.web
  const expansion = setup.material.property('expansion')?.range
  if (!expansion) return refuse('expansion', 'the stock gives neither its expansion nor a family to take a typical one from')
  return paperAtHeat({ air, humidity, web: platen.web.value.leave, moistureExpansion: moisture.range, expansion })
}

function growth({ range }: Property, humidityChange: number): Range | undefined {
  const grown = sheetGrowth({ humidityChange, temperatureChange: 0, moistureExpansion: range, expansion: 0 })
  return grown.ok ? grown.value : undefined
}

function newestOf(checks: readonly CheckClimate[]): CheckClimate | undefined {
  let best: CheckClimate | undefined
  for (const check of checks) {
    const { leftOut, age, recent } = check.evidence
    if (leftOut || age === undefined || !recent || !check.humidity) continue
    if (!best || age <= best.evidence.age!) best = check
  }
  return best
}
