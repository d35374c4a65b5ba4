// Where each calculation stops taking a number: refused just beyond, under the input's own name, and taken just within. What is physically or
// arithmetically impossible is in each docstring; that an edge stands where it says, and for every input that it says it of, is told here.
import { describe, expect, it } from 'vitest'
import type { Outcome } from '../../server/src/base/outcome.ts'
import { advancePlan, coverage, passTime, throughput } from '../../server/src/calc/advance.ts'
import { dryingMargin, pauseToDry, timeToTouchDry, timeToWinding } from '../../server/src/calc/drying.ts'
import { timeToSettle, webAfterZone, webHeatPower } from '../../server/src/calc/heat.ts'
import { limitMargin, paperAtHeat, thermalGrowth } from '../../server/src/calc/heat-effects.ts'
import { offsetChange, offsetInPixels, twoWayOffset } from '../../server/src/calc/landing.ts'
import { densityOf, effectiveThickness, grammageOf, rollDiameter, rollLength, rollMass } from '../../server/src/calc/roll.ts'
import { condensation, dewPoint, humidityAt, sheetGrowth } from '../../server/src/calc/room.ts'
import { holdingForce, suctionDrag, suctionStretch } from '../../server/src/calc/suction.ts'
import { dilutionForFire, dilutionForHealth, evaporationPower, inkVapour } from '../../server/src/calc/vapour.ts'
import { bandVisibility, feedErrorForShift, mostVisibleDistance } from '../../server/src/calc/visibility.ts'
import { leastTension, webStress, windingTorque } from '../../server/src/calc/web.ts'

const EDGES = {
  positive: { refused: [-1, 0], taken: [], says: /must be above zero/ },
  zeroOrMore: { refused: [-1e-9], taken: [0], says: /must not be below zero/ },
  share: { refused: [-1e-9, 1 + 1e-9], taken: [0, 1], says: /must lie between 0/ },
  shareBelowOne: { refused: [-1e-9, 1], taken: [0, 1 - 1e-9], says: /must|share/ },
  celsius: { refused: [-273.15, 1000.1], taken: [-273.1, 1000], says: /absolute zero|1000 °C/ },
  change: { refused: [-1 - 1e-9, 1 + 1e-9], taken: [-1, 1], says: /cannot change/ },
  count: { refused: [0, 1.5], taken: [1], says: /whole number/ },
  four: { refused: [3.999], taken: [4], says: /at least 4/ },
  someShare: { refused: [-1e-9, 0, 1 + 1e-9], taken: [1], says: /must/ },
  any: { refused: [], taken: [-1e-9, 0, 1e-9], says: /not a finite number/ },
} as const

type Edge = keyof typeof EDGES

function edges<I extends object>(
  calculate: (input: I) => Outcome<unknown>,
  good: I,
  of: Readonly<Partial<Record<keyof I & string, Edge>>>,
): void {
  it(calculate.name, () => {
    const refusesIt = (key: string, value: number, says: RegExp): boolean => {
      const outcome = calculate({ ...good, [key]: value })
      if (outcome.ok || outcome.problem.input !== key) return false
      return Number.isNaN(value) ? /not a finite number/.test(outcome.problem.reason) : says.test(outcome.problem.reason)
    }
    expect(calculate(good)).toMatchObject({ ok: true })
    const found = Object.entries(of).flatMap(([key, edge]) => {
      const { refused, taken, says } = EDGES[edge as Edge]
      return [
        ...[...refused, Number.NaN].filter((value) => !refusesIt(key, value, says)).map((value) => `${key} takes ${value}`),
        ...taken.filter((value) => refusesIt(key, value, says)).map((value) => `${key} refuses ${value}`),
      ]
    })
    expect(found).toEqual([])
  })
}

describe('the edges of', () => {
  const INCH = 0.0254
  edges(
    advancePlan,
    { nozzlePitch: INCH / 360, nozzles: 360, resolutionAlong: 720 / INCH, passes: 4, strikes: 1 },
    { nozzlePitch: 'positive', nozzles: 'count', resolutionAlong: 'positive', passes: 'count', strikes: 'count' },
  )
  edges(
    coverage,
    { nozzles: 7, interlace: 2, linesPerAdvance: 7 },
    { nozzles: 'count', interlace: 'positive', linesPerAdvance: 'positive' },
  )
  const pass = { imageWidth: 1, bedWidth: 1.6, overrun: 0.05, carriageSpeed: 1, acceleration: 5, settle: 0.1 }
  edges(
    passTime,
    { ...pass, webWidth: 1.2, turnAt: 'bed-end', directions: 'two-way' },
    {
      imageWidth: 'positive',
      webWidth: 'positive',
      bedWidth: 'positive',
      overrun: 'zeroOrMore',
      carriageSpeed: 'positive',
      acceleration: 'positive',
      settle: 'zeroOrMore',
    },
  )
  edges(
    throughput,
    { advance: 0.003, imageWidth: 1, passTime: 2, pause: 1 },
    { advance: 'positive', imageWidth: 'positive', passTime: 'positive', pause: 'zeroOrMore' },
  )

  const path = { pathToWinding: 1, advance: 0.004, passTime: 2 }
  edges(
    timeToWinding,
    { ...path, pause: 1, runOut: 60 },
    { pathToWinding: 'positive', advance: 'positive', passTime: 'positive', pause: 'zeroOrMore', runOut: 'zeroOrMore' },
  )
  edges(
    pauseToDry,
    { ...path, needed: 300 },
    { pathToWinding: 'positive', advance: 'positive', passTime: 'positive', needed: 'zeroOrMore' },
  )
  edges(
    timeToTouchDry,
    { time: 600, at: 40, temperature: 50, halving: 10 },
    { time: 'positive', at: 'celsius', temperature: 'celsius', halving: 'positive' },
  )
  edges(dryingMargin, { available: 500, needed: 300 }, { available: 'zeroOrMore', needed: 'positive' })

  const web = { grammage: 0.112, heatCapacity: 950, thickness: 80e-6, conductivity: 0.16 }
  edges(
    webAfterZone,
    { ...web, set: 50, enter: 23, air: 23, coupling: 200, airLoss: 15, dwell: 1 },
    {
      grammage: 'positive',
      heatCapacity: 'positive',
      set: 'celsius',
      enter: 'celsius',
      air: 'celsius',
      coupling: 'positive',
      airLoss: 'zeroOrMore',
      dwell: 'zeroOrMore',
    },
  )
  edges(timeToSettle, { timeConstant: 0.5, share: 0.99 }, { timeConstant: 'positive', share: 'shareBelowOne' })
  edges(
    webHeatPower,
    { grammage: 0.1, heatCapacity: 950, webWidth: 1.6, webSpeed: 0.003, rise: 23 },
    { grammage: 'positive', heatCapacity: 'positive', webWidth: 'positive', webSpeed: 'positive', rise: 'any' },
  )
  edges(limitMargin, { web: 46, limit: 60 }, { web: 'celsius', limit: 'celsius' })
  edges(thermalGrowth, { expansion: 7e-5, from: 20, to: 40 }, { expansion: 'any', from: 'celsius', to: 'celsius' })
  edges(
    paperAtHeat,
    { air: 20, humidity: 0.5, web: 40, moistureExpansion: 0.005, expansion: 8e-6 },
    { humidity: 'share', moistureExpansion: 'any', expansion: 'any' },
  )

  edges(
    twoWayOffset,
    { carriageSpeed: 1, gap: 0.002, dropSpeed: 7 },
    { carriageSpeed: 'positive', gap: 'positive', dropSpeed: 'positive' },
  )
  edges(
    offsetChange,
    { carriageSpeed: 1, gap: 0.002, dropSpeed: 7, gapChange: 1e-4 },
    { carriageSpeed: 'positive', gap: 'positive', dropSpeed: 'positive', gapChange: 'any' },
  )
  edges(offsetInPixels, { offset: 1e-5, resolutionAcross: 28000 }, { offset: 'any', resolutionAcross: 'positive' })

  const roll = { outsideDiameter: 0.2, coreDiameter: 0.08, thickness: 1e-4 }
  edges(rollLength, roll, { outsideDiameter: 'positive', coreDiameter: 'positive', thickness: 'positive' })
  edges(
    rollDiameter,
    { length: 50, coreDiameter: 0.08, thickness: 1e-4 },
    { length: 'zeroOrMore', coreDiameter: 'positive', thickness: 'positive' },
  )
  edges(rollMass, { grammage: 0.2, width: 1, length: 50 }, { grammage: 'positive', width: 'positive', length: 'zeroOrMore' })
  edges(
    effectiveThickness,
    { outsideDiameter: 0.2, coreDiameter: 0.08, length: 50 },
    { outsideDiameter: 'positive', coreDiameter: 'positive', length: 'positive' },
  )
  edges(grammageOf, { density: 800, thickness: 1e-4 }, { density: 'positive', thickness: 'positive' })
  edges(densityOf, { grammage: 0.1, thickness: 1e-4 }, { grammage: 'positive', thickness: 'positive' })

  edges(dewPoint, { temperature: 20, humidity: 0.5 }, { humidity: 'someShare' })
  edges(humidityAt, { temperature: 20, humidity: 0.5, surface: 40 }, { humidity: 'share' })
  edges(condensation, { temperature: 20, humidity: 0.5, surface: 18 }, { humidity: 'someShare' })
  edges(
    sheetGrowth,
    { humidityChange: 0.1, moistureExpansion: 0.01, temperatureChange: 5, expansion: 1e-5 },
    { humidityChange: 'change' },
  )

  edges(
    holdingForce,
    { pressure: 1e3, share: 1, width: 1, depth: 0.1 },
    { pressure: 'zeroOrMore', share: 'someShare', width: 'positive', depth: 'positive' },
  )
  edges(
    suctionDrag,
    { pressure: 1e3, share: 1, depth: 0.1, friction: 0.3 },
    { pressure: 'zeroOrMore', share: 'someShare', depth: 'positive', friction: 'zeroOrMore' },
  )
  edges(
    suctionStretch,
    { pressure: 1e3, share: 1, depth: 0.1, friction: 0.3, modulus: 1e9, thickness: 1e-4 },
    { modulus: 'positive', thickness: 'positive' },
  )

  edges(
    inkVapour,
    { inkPerArea: 0.01, areaRate: 0.005, volatileShare: 0.6 },
    { inkPerArea: 'positive', areaRate: 'positive', volatileShare: 'share' },
  )
  edges(evaporationPower, { massRate: 1e-5, latentHeat: 2.4e6 }, { massRate: 'zeroOrMore', latentHeat: 'positive' })
  const source = { massRate: 1e-5, molarMass: 0.118, airTemperature: 25 }
  edges(
    dilutionForHealth,
    { ...source, limit: 20e-6, mixing: 5 },
    { massRate: 'positive', molarMass: 'positive', airTemperature: 'celsius', limit: 'positive', mixing: 'positive' },
  )
  edges(
    dilutionForFire,
    { ...source, lowerExplosiveLimit: 0.011, hottest: 60, safety: 4 },
    { massRate: 'positive', molarMass: 'positive', lowerExplosiveLimit: 'positive', safety: 'four' },
  )

  edges(mostVisibleDistance, { period: 0.003 }, { period: 'positive' })
  edges(
    feedErrorForShift,
    { advance: 0.003, resolutionAlong: 28000, share: 0.25 },
    { advance: 'positive', resolutionAlong: 'positive', share: 'positive' },
  )
  edges(
    bandVisibility,
    { period: 0.003, viewingDistance: 1, repeats: 'periodic' },
    { period: 'positive', viewingDistance: 'positive' },
  )

  edges(webStress, { tension: 30, thickness: 80e-6 }, { tension: 'zeroOrMore', thickness: 'positive' })
  edges(leastTension, { grammage: 0.25, span: 0.5, sag: 2e-3 }, { grammage: 'positive', span: 'positive', sag: 'positive' })
  edges(
    windingTorque,
    { tension: 100, width: 1.6, diameter: 0.2 },
    { tension: 'zeroOrMore', width: 'positive', diameter: 'positive' },
  )
})
