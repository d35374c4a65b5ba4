// All ways to work a number out, and each as a page: how it is measured, and with what was measured the arithmetic.
import { type Outcome, refuse } from '../../base/outcome.ts'
import { parseQuantity } from '../../quantities/parse.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import { dimensionInUnits } from '../../quantities/units.ts'
import { items, lines, type Page } from '../page.ts'
import { way as heaterCoupling } from './heater-coupling.ts'
import { way as nozzlePitch } from './nozzle-pitch.ts'
import { way as suctionPressure } from './suction-pressure.ts'
import type { Asked, Typed, Way, WorkedOut } from './way.ts'

export const WAYS: readonly Way[] = [nozzlePitch, suctionPressure, heaterCoupling]

/** The whole page of a way: with nothing typed how it is done, else the arithmetic with the cautions. */
export function workOutPage(way: Way, worked: WorkedOut | undefined): Page {
  const cautions = { heading: 'Caution', blocks: [items(...way.cautions, MACHINE_FIRST)] }
  const formula = { heading: 'Formula', blocks: [lines(way.formula, `Source: ${way.source}`)] }
  if (worked)
    return {
      title: `${way.title}: ${worked.value}`,
      passages: [
        { heading: 'Arithmetic', blocks: [lines(...worked.steps)] },
        { heading: 'Mind', blocks: [items(...worked.remarks)] },
        formula,
        cautions,
      ],
    }
  const typed = way.asks.map(({ key, what }) => `--${key}: ${what}: ${takesOf(way.asks.find((one) => one.key === key)!)}`)
  return {
    title: way.title,
    passages: [
      cautions,
      { heading: 'How', blocks: [items(...way.steps)] },
      { heading: `Then type it: rollbook work-out ${way.name}`, blocks: [items(...typed)] },
      formula,
    ],
  }
}

/** Stands before all that sends somebody to a machine. */
export const MACHINE_FIRST =
  "The machine's and the material's own safety documents, local codes and licensed practice come first. Nothing here says that a guard may be opened or bridged."

const takesOf = ({ dimensions }: Asked): string =>
  dimensions.length === 0 ? 'a whole number' : `${dimensions.map(dimensionInUnits).join(', then ')}, with ± where you know it`

/** What was typed, read; or why it cannot be, with the option at fault as the input. */
export function readTyped(way: Way, words: ReadonlyMap<string, readonly string[]>): Outcome<Typed> {
  const typed = new Map<string, readonly (readonly (Quantity | number)[])[]>()
  for (const asked of way.asks) {
    const given = words.get(asked.key) ?? []
    if (given.length === 0) return refuse(asked.key, `--${asked.key} is missing: ${asked.what}.`)
    if (given.length > 1 && !asked.several) return refuse(asked.key, `--${asked.key} is given once.`)
    const read: (readonly (Quantity | number)[])[] = []
    for (const text of given) {
      const parts = partsOf(asked, text)
      if (!parts.ok) return parts
      read.push(parts.value)
    }
    typed.set(asked.key, read)
  }
  return { ok: true, value: typed }
}

function partsOf({ key, dimensions }: Asked, text: string): Outcome<readonly (Quantity | number)[]> {
  if (dimensions.length === 0)
    return /^\d{1,6}$/.test(text.trim())
      ? { ok: true, value: [Number(text)] }
      : refuse(key, `--${key}: '${text}' is no whole number.`)
  // Between digits a comma is a decimal comma, and is told as one.
  const parts = dimensions.length === 1 ? [text] : text.split(/(?<!\d),|,(?!\d)/)
  if (parts.length !== dimensions.length)
    return refuse(key, `--${key}: '${text}' does not hold ${dimensions.length} values with a comma between them.`)
  const values: Quantity[] = []
  for (const [n, part] of parts.entries()) {
    const parsed = parseQuantity(part, dimensions[n]!)
    if (!parsed.ok) return refuse(key, `--${key}: ${parsed.problem.message}.`)
    values.push(parsed.value)
  }
  return { ok: true, value: values }
}
