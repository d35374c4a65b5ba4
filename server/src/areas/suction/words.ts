// Suction in words, for rules, advice, a started profile and hovers: levels, what each does to the web, and what another would do to the length.
import { table } from '../../base/markdown.ts'
import { curlDirection } from '../../calc/curl.ts'
import type { Range } from '../../calc/range.ts'
import type { SuctionRow } from '../../calc/suction-window.ts'
import { isUnknown, rangeText, strainWords, valueText } from '../../model/range-words.ts'
import type { Setup } from '../../model/setup.ts'
import type { UnitSystem } from '../../quantities/display-unit.ts'
import { allowedStretchText, pullRangeText, strainText } from '../web/words.ts'
import { type SuctionFacts, type SuctionStep, suctionChange, suctionNeeded, suctionOf } from './facts.ts'

type Row = SuctionRow<SuctionStep>

/** "level 3 (320 Pa)", or the pressure where the printer has no levels. */
export function stepText({ name, pressure }: SuctionStep, units: UnitSystem): string {
  const pascals = pressureText(pressure, units)
  return name === undefined ? pascals : `level ${name} (${pascals})`
}

const pressureText = (pressure: number, units: UnitSystem): string => valueText(pressure, 'pressure', { units })

export const dragText = (row: Row, units: UnitSystem): string => pullRangeText(row.drag, units)

export const stretchText = (row: Row, units: UnitSystem): string => strainText(row.strain, units)

export const dimpleText = (row: Row, units: UnitSystem): string =>
  rangeText(row.dimple, 'length', { units, unit: smallUnit(units), least: 1e-7 })

export const riseText = (row: Row, units: UnitSystem): string =>
  rangeText(row.curl.rise, 'length', { units, unit: row.curl.rise.typical < 1e-3 ? smallUnit(units) : undefined, least: 1e-6 })

/** A height or depth of the order of a dot. */
export const smallText = (value: number, units: UnitSystem): string => valueText(value, 'length', { units })

const smallUnit = (units: UnitSystem): string => (units === 'us' ? 'mil' : 'µm')

/** What the curl of this stock lifts: by its winding where that is known. */
export function curlWords({ stock }: Setup): string {
  const lifts = stock?.wound && curlDirection(stock.wound.value)?.lifts
  return lifts === 'middle' ? 'a bow' : lifts === 'edges' ? 'the edges' : 'a curl'
}

/** How high a curl may stand and why, the gravest first: it comes up to the heads, or it is more than prints well. */
export function riseLimitWords({ riseLimit, clearance }: SuctionFacts, rise: Range, units: UnitSystem): string {
  if (clearance !== undefined && rise.typical >= clearance) return `${smallText(clearance, units)} left below the heads`
  const limit = smallText(riseLimit.value, units)
  if (riseLimit.from === 'clearance') return `${limit} left below the heads`
  return riseLimit.from === 'landing'
    ? `${limit} that the registration tolerance allows`
    : `${limit} taken as the most (from memory)`
}

/** " At level 2 (400 Pa) it is 36 µm (20 to 200).", of a level that holds; nothing of another. */
export const betterText = (row: Row | undefined, what: (row: Row, units: UnitSystem) => string, units: UnitSystem): string =>
  row?.verdict === 'holds' ? ` At ${stepText(row.level, units)} it is ${what(row, units)}.` : ''

/** "0.44 mm/m (0.08 to 0.8) shorter": what a change of the stretch does to prints. */
export const lengthChangeText = (change: Range, units: UnitSystem): string =>
  `${strainText(sizeOf(change), units)} ${change.typical > 0 ? 'shorter' : 'longer'}`

const sizeOf = (change: Range): Range =>
  change.typical < 0 ? { low: -change.high, typical: -change.typical, high: -change.low } : change

/** What each level does; for a printer without levels, half the pressure, the pressure and twice the pressure. */
export function levelsTable(setup: Setup): string {
  const { window, levels, set } = suctionOf(setup)
  const { units } = setup.shop
  const rows = (window.ok ? window.value.rows : []).map((row) => {
    const { level, pressure } = row
    const name = level.name ?? pressureText(pressure, units)
    return [
      level === set ? `**${name}, set**` : name,
      ...(levels.length > 0 ? [pressureText(pressure, units)] : []),
      stretchText(row, units),
      dimpleText(row, units),
      `${row.faults.includes('curl') ? 'not held' : 'held'}, ${riseText(row, units)} left`,
    ]
  })
  return table([...(levels.length > 0 ? ['Level', 'Suction'] : ['Suction']), 'Stretches', 'Dimples', 'Curl'], rows)
}

/** What is allowed, and which levels keep to it. */
export function allowedSentence(setup: Setup): string {
  const { riseLimit } = suctionOf(setup)
  return `Typical figures, with their range: ${allowedStretchText(setup)} of stretch and ${smallText(riseLimit.value, setup.shop.units)} of curl are allowed.`
}

/** Which levels hold the web without harm; undefined where the printer has none or it cannot be told. */
export function holdsSentence(setup: Setup): string | undefined {
  const { levels, window } = suctionOf(setup)
  if (levels.length === 0 || !window.ok) return undefined
  if (!window.value.window) return 'No level holds it without harm.'
  const { from, to } = window.value.window
  return `${from === to ? `Level ${from.name} holds` : `Levels ${from.name} to ${to.name} hold`} it without harm.`
}

/** The suction that its curl would need, where no level holds the web without harm. */
export function neededSentence(setup: Setup): string | undefined {
  const facts = suctionOf(setup)
  const strongest = facts.levels.at(-1)
  const needed = suctionNeeded(facts)
  if (!strongest || !facts.window.ok || facts.window.value.window || !needed.ok || isUnknown(needed.value)) return undefined
  const { units } = setup.shop
  const beyond =
    needed.value.typical > strongest.pressure ? `; the strongest level gives ${pressureText(strongest.pressure, units)}` : ''
  return `To lie within ${smallText(facts.riseLimit.value, units)} its curl typically needs ${rangeText(needed.value, 'pressure', { units })}${beyond}.`
}

export function dragSentence(setup: Setup): string | undefined {
  const { current } = suctionOf(setup)
  return current && `Now it drags ${dragText(current, setup.shop.units)}.`
}

/** Share of the length tolerance below which a change of length is not worth a sentence of its own. */
const NOTICED = 0.1

/** What a level up or down does to the length: why a new suction asks for a new check. */
export function couplingSentence(setup: Setup): string | undefined {
  const facts = suctionOf(setup)
  const { current, down, up, levels } = facts
  const { units, tolerance } = setup.shop
  const changes = [up, down].flatMap((row) => {
    const change = row && current && suctionChange(facts, current.pressure, row.pressure)
    return change?.ok ? [{ step: row!.level, change: change.value }] : []
  })
  const most = Math.max(0, ...changes.map(({ change }) => sizeOf(change).high))
  if (most === 0) return undefined
  if (most < NOTICED * tolerance.length.value)
    return `${levels.length > 0 ? 'One level up or down' : 'Half or twice as much'} changes the length by ${valueText(most, 'relative', { ...strainWords(units), digits: 2 })} at most.`
  const told = changes.map(
    ({ step: { name, pressure }, change }) =>
      `${lengthChangeText(change, units)} at ${name === undefined ? pressureText(pressure, units) : `level ${name}`}`,
  )
  return `Prints come out ${told.join(', ')}: a new suction asks for a new length check.`
}
