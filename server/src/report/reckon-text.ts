// Every computed quantity of a setup as text for a terminal: area by area, each with its formula, what went in and from where, and its source.

import { asRange, isExact, type Range } from '../calc/range.ts'
import { rangeText, valueText } from '../model/range-words.ts'
import type { Reckoned, ReckonedInput, ReckonedStep } from '../model/reckoned.ts'
import type { Setup } from '../model/setup.ts'
import { plainNumber } from '../model/shown.ts'
import { formatSi } from '../quantities/format.ts'
import { wrapped } from './wrap.ts'

const WIDTH = 100

/**
 * The text, lines of at most 100 characters. Says so where there is nothing to reckon with. `notRead`: what it rests on and could not be
 * read, a sentence each.
 */
export function reckonedText(setup: Setup, quantities: readonly Reckoned[], notRead: readonly string[]): string {
  const areas = new Map<string, Reckoned[]>()
  for (const one of quantities) {
    const prefix = one.key.slice(0, one.key.indexOf('.'))
    const area = AREA_TITLES[prefix] ?? prefix
    areas.set(area, [...(areas.get(area) ?? []), one])
  }
  const title = titleOf(setup)
  const out = [...wrapped(title, WIDTH), '='.repeat(Math.min(WIDTH, [...title].length))]
  for (const sentence of notRead) out.push('', ...wrapped(`Reckoned without this, and so perhaps otherwise: ${sentence}`, WIDTH))
  if (areas.size === 0) out.push('', 'There is nothing to reckon with: the profile names no stock and no printer that are known.')
  for (const [area, list] of areas) {
    out.push('', area, '-'.repeat([...area].length))
    for (const one of list) out.push('', ...quantityLines(one, setup))
  }
  return `${out.join('\n')}\n`
}

/** The headings, by the first part of a quantity's key. */
export const AREA_TITLES: Readonly<Record<string, string>> = {
  feed: 'Feed',
  advance: 'Advance and output',
  throughput: 'Advance and output',
  bands: 'Bands',
  landing: 'Landing of the drops',
  heat: 'Heat',
  drying: 'Drying',
  vapour: 'Vapour',
  suction: 'Suction',
  web: 'Web',
  room: 'Room',
  colour: 'Colour',
}

function titleOf({ own, profile, today }: Setup): string {
  const given = [
    profile.stock?.value,
    profile.printer && `on ${profile.printer.value}`,
    profile.mode && `in ${profile.mode.value}`,
  ].filter((w) => w !== undefined)
  return `${own.profile?.value ?? 'This profile'}${given.length ? `: ${given.join(' ')}` : ''}, reckoned on ${today}`
}

function quantityLines(one: Reckoned, setup: Setup): readonly string[] {
  const { key, title, formula, value, source, problem } = one
  const amount = value === undefined ? 'not known' : valueWords(value, one, setup, one.digits)
  const texts = [
    ...(problem === undefined ? [] : [`${value === undefined ? 'Why' : 'But'}: ${problem.reason}`]),
    formula,
    ...(one.steps ?? []).map(stepWords),
    ...(one.inputs.length > 0 ? [`with ${one.inputs.map((input) => inputWords(input, setup)).join('; ')}`] : []),
    `source: ${source}`,
    ...(one.validity === undefined ? [] : [`mind: ${one.validity}`]),
  ]
  return [
    ...wrapped(`${title}: ${amount}  [${key}]`, WIDTH, '', '    '),
    ...texts.flatMap((text) => wrapped(text, WIDTH, '    ', '      ')),
  ]
}

/** "step, in SI units: dry = 0.3 · running + … = 350 with running = 446". */
function stepWords({ formula, with: given = {}, value }: ReckonedStep): string {
  const symbols = Object.entries(given).map(([symbol, number]) => `${symbol} = ${plainNumber(number, 4)}`)
  return `step, in SI units: ${formula} = ${plainNumber(value, 4)}${symbols.length > 0 ? `, with ${symbols.join('; ')}` : ''}`
}

/** "way = 1400 mm (way from print to roll, given)": by the symbol it has in the formula. */
function inputWords({ name, symbol = name, value, dimension, origin, source }: ReckonedInput, setup: Setup): string {
  const amount = valueWords(value, { key: '', dimension }, setup, origin === 'computed' ? 4 : 6)
  const from = `${ORIGINS[origin]}${source === undefined ? '' : `: ${source}`}`
  return symbol === name ? `${name} = ${amount} (${from})` : `${symbol} = ${amount} (${name}, ${from})`
}

const ORIGINS: Readonly<Record<ReckonedInput['origin'], string>> = {
  given: 'given',
  inherited: 'from a base',
  typical: 'typical',
  default: 'default',
  computed: 'computed',
}

/** SI units that no dimension has, as a technician reads them: how many there are in one of SI, and their name. */
const SHOWN: Readonly<Record<string, readonly [factor: number, unit: string]>> = {
  'm³/m²': [1e6, 'mL/m²'],
  'kg/s': [3.6e6, 'g/h'],
  'm³/s': [3600, 'm³/h'],
  '1/°': [1, 'cycles per degree'],
}

/** A range with two digits, one value with so many. What is keyed in and corrections are told to the last digit that counts. */
export function valueWords(
  value: number | Range,
  { key, dimension, unit }: Pick<Reckoned, 'key' | 'dimension' | 'unit'>,
  { shop }: Setup,
  digits = key === 'feed.key-in' ? 6 : 4,
): string {
  const range = asRange(value)
  const exact = isExact(range)
  if (dimension === 'number') {
    const [factor, name] = unit === undefined ? [1, ''] : (SHOWN[unit] ?? [1, unit])
    const number = (n: number): string => plainNumber(n * factor, exact ? digits : 2)
    return `${number(range.typical)}${name && ` ${name}`}${exact ? '' : ` (${number(range.low)} to ${number(range.high)})`}`
  }
  if (dimension === 'relative' && key.startsWith('feed.'))
    return formatSi(range.typical, 'relative', { unit: '%', decimals: 4, sign: !/\.[uU]$/.test(key) })
  // What is typed is told as it is; what is reckoned, in degrees.
  if (exact && key === '') return valueText(range.typical, dimension, { units: shop.units, digits })
  return rangeText(range, dimension, { units: shop.units, digits: exact ? digits : 2 })
}
