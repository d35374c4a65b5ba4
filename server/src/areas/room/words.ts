// The room in words: what condenses from its air, whether it is the shop's, how the stock grows in it, and static.
import { STATIC_CAUTION } from '../../calc/room.ts'
import { degrees, kelvins } from '../../model/heat-words.ts'
import { changeText, rangeText, strainWords } from '../../model/range-words.ts'
import type { Setup } from '../../model/setup.ts'
import { formatSi } from '../../quantities/format.ts'
import { type CheckClimate, climateOf } from './facts.ts'

export function dewSentence({ shop: { units } }: Setup, { dewPoint, condensation }: CheckClimate): string | undefined {
  if (dewPoint === undefined) return 'The dew point needs both temperature and humidity.'
  const dew = `Water condenses from this air on what is colder than ${degrees(dewPoint, units)}`
  if (!condensation) return `${dew}; keep rolls and platen ${kelvins(3, units)} above that (ISO 8502-4, from memory).`
  const { margin, required, safe } = condensation
  const lies = margin >= 0 ? `${kelvins(margin, units)} above that` : `${kelvins(-margin, units)} below that`
  return `${dew}. The web measured lies ${lies}: ${safe ? 'dry' : `${kelvins(required, units)} above are wanted`} (ISO 8502-4, from memory).`
}

/** Whether a check was made in other air than the shop keeps. */
export function windowSentence({ shop: { climate, units } }: Setup, { temperature, humidity }: CheckClimate): string | undefined {
  const [cool, warm] = climate.temperature.value
  const [dry, damp] = climate.humidity.value
  const outside = [
    temperature && isBeyond(temperature.value.si, cool, warm) ? degrees(temperature.value.si, units) : undefined,
    humidity && isBeyond(humidity.value.si, dry, damp) ? percent(humidity.value.si) : undefined,
  ].filter((t) => t !== undefined)
  if (outside.length === 0) return undefined
  return `Outside the shop's climate (${degrees(cool, units)} to ${degrees(warm, units)}, ${percent(dry)} to ${percent(damp)}): ${outside.join(' and ')}.`
}

/** How much longer or shorter the stock is at rest in the air of a check, and how much it grows over the shop's. */
export function growthSentence(setup: Setup, { fromMiddle }: CheckClimate): string | undefined {
  const { moisture, overWindow } = climateOf(setup)
  if (!moisture || !overWindow || !fromMiddle) return undefined
  const { units } = setup.shop
  const typical = moisture.origin === 'typical' ? 'typically ' : ''
  return `At rest in this air the stock is ${typical}${changeText(fromMiddle, units)} than in the middle of the shop's humidity; from the driest to the dampest it grows by ${rangeText(overWindow, 'relative', strainWords(units))}.`
}

/** What the platen makes of the shop's air, and that of the stock. */
export function platenSentence(setup: Setup): string | undefined {
  const { atPlaten } = climateOf(setup)
  if (!atPlaten.ok) return undefined
  const { humidity, growth } = atPlaten.value
  return `Over the platen the shop's air has ${rangeText(humidity, 'humidity')} left, and the stock comes out ${changeText(growth, setup.shop.units)} at most.`
}

export const staticSentence = (setup: Setup, { dry }: CheckClimate): string | undefined =>
  climateOf(setup).charges && dry ? `Caution: ${STATIC_CAUTION} (Common practice.)` : undefined

const isBeyond = (value: number, low: number, high: number): boolean => value < low || value > high

const percent = (humidity: number): string => formatSi(humidity, 'humidity', { digits: 2 })
