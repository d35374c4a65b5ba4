// The room in numbers, at a check: dew point, the web's margin to it, growth of paper with the weather, and static.

import { mapRange, type Range } from '../../calc/range.ts'
import { STATIC_CAUTION } from '../../calc/room.ts'
import type { NumbersSection } from '../../features/numbers.ts'
import { degrees, kelvins } from '../../model/heat-words.ts'
import { rangeText, strainWords } from '../../model/range-words.ts'
import type { Setup } from '../../model/setup.ts'
import { formatSi } from '../../quantities/format.ts'
import { nodeAt } from '../../syntax/tree.ts'
import { type CheckClimate, type ClimateFacts, climateOf } from './facts.ts'

export const hover: NumbersSection = {
  paths: ['feed.checks.*.climate'],
  render(setup, path) {
    const facts = climateOf(setup)
    const item = nodeAt(setup.own.feed?.checks?.$.node, path.slice(2, 3))
    const check = facts.checks.find((c) => c.evidence.check.$.node === item)
    if (!check) return undefined
    const lines = [
      dewSentence(setup, check),
      windowSentence(setup, check),
      paperSentence(setup, facts, check),
      staticSentence(facts, check),
    ]
    const told = lines.filter((line) => line !== undefined)
    return told.length > 0 ? told.join('\n\n') : undefined
  },
}

function dewSentence({ shop }: Setup, { dewPoint, condensation }: CheckClimate): string | undefined {
  if (dewPoint === undefined) return 'The dew point needs both temperature and humidity.'
  const { units } = shop
  const dew = `Water condenses from this air on what is colder than ${degrees(dewPoint, units)}`
  if (!condensation) return `${dew}; keep rolls and platen ${kelvins(3, units)} above that (ISO 8502-4, from memory).`
  const { margin, required, safe } = condensation
  const lies = margin >= 0 ? `${kelvins(margin, units)} above that` : `${kelvins(-margin, units)} below that`
  return `${dew}. The web measured lies ${lies}: ${safe ? 'dry' : `${kelvins(required, units)} above are wanted`} (ISO 8502-4, from memory).`
}

function windowSentence({ shop }: Setup, { temperature, humidity }: CheckClimate): string | undefined {
  const { climate, units } = shop
  const outside = [
    temperature && beyond(temperature.value.si, climate.temperature.value) ? degrees(temperature.value.si, units) : undefined,
    humidity && beyond(humidity.value.si, climate.humidity.value) ? percent(humidity.value.si) : undefined,
  ].filter((t) => t !== undefined)
  if (outside.length === 0) return undefined
  const [cool, warm] = climate.temperature.value
  const [dry, damp] = climate.humidity.value
  return `Outside the shop's climate (${degrees(cool, units)} to ${degrees(warm, units)}, ${percent(dry)} to ${percent(damp)}): ${outside.join(' and ')}.`
}

function paperSentence(
  setup: Setup,
  { moisture, overWindow, atPlaten }: ClimateFacts,
  { fromMiddle }: CheckClimate,
): string | undefined {
  if (!moisture || !overWindow || !fromMiddle) return undefined
  const { units } = setup.shop
  const typical = moisture.origin === 'typical' ? 'typically ' : ''
  const parts = [
    `At rest in this air the stock is ${typical}${changed(fromMiddle, units)} than in the middle of the shop's humidity; from the driest to the dampest it grows by ${rangeText(overWindow, 'relative', strainWords(units))}.`,
  ]
  if (atPlaten.ok)
    parts.push(
      `Over the platen the shop's air has ${rangeText(atPlaten.value.humidity, 'humidity')} left, and the stock comes out ${changed(atPlaten.value.growth, units)} at most.`,
    )
  return parts.join(' ')
}

function staticSentence({ charges }: ClimateFacts, { dry }: CheckClimate): string | undefined {
  return charges && dry ? `Caution: ${STATIC_CAUTION} (Common practice.)` : undefined
}

function changed(growth: Range, units: Setup['shop']['units']): string {
  const shorter = growth.typical < 0
  const size = shorter ? mapRange(growth, (g) => -g) : growth
  return `${rangeText(size, 'relative', strainWords(units))} ${shorter ? 'shorter' : 'longer'}`
}

const beyond = (value: number, [low, high]: readonly [number, number]): boolean => value < low || value > high

const percent = (humidity: number): string => formatSi(humidity, 'humidity', { digits: 2 })
