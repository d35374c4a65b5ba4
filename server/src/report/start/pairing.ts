// Whether a stock can run on a printer at all, and the mode to start in. Each refusal says why and what would change it.

import { heatOf } from '../../areas/heat/facts.ts'
import { HEATER } from '../../areas/heat/path.ts'
import { LEAST_FLIGHT } from '../../areas/landing/facts.ts'
import { nearestOrHolding } from '../../base/nearest.ts'
import type { Facts } from '../../model/facts.ts'
import type { Setup } from '../../model/setup.ts'
import type { Shelf } from '../../model/shelf.ts'
import { formatQuantity, formatSi } from '../../quantities/format.ts'

/** Why this stock cannot run on this printer; undefined where nothing known forbids it. */
export function impossible(setup: Setup): string | undefined {
  return tooWide(setup) ?? tooThick(setup) ?? tooHot(setup)
}

function tooWide({ stock, printer, profile }: Setup): string | undefined {
  const bed = printer?.carriage?.['bed-width']?.value
  const widths = stock?.widths?.items.map((width) => width.value) ?? []
  if (!bed || widths.length === 0 || widths.some((width) => width.si <= bed.si * (1 + 1e-9))) return undefined
  const narrowest = widths.reduce((a, b) => (b.si < a.si ? b : a))
  return `The narrowest roll of ${profile.stock!.value} is ${formatQuantity(narrowest)} wide, and the bed of ${profile.printer!.value} takes ${formatQuantity(bed)}.`
}

function tooThick({ stock, printer, profile, material }: Setup): string | undefined {
  const { thickness } = material
  if (thickness === undefined) return `${profile.stock!.value} does not give its thickness: write it into its document first.`
  const gaps = printer?.carriage?.gaps?.items.map((gap) => gap.value) ?? []
  if (gaps.length === 0) return undefined
  const widest = gaps.reduce((a, b) => (b.si > a.si ? b : a))
  if (widest.si >= thickness + LEAST_FLIGHT - 1e-9) return undefined
  return `${profile.stock!.value} is ${formatQuantity(stock!.thickness!.value)} thick, and the widest gap of ${profile.printer!.value} is ${formatQuantity(widest)}: at least ${formatSi(LEAST_FLIGHT, 'length')} must be left above the stock.`
}

/** A heater cannot be set below its range, and no other is known to be switched off. */
function tooHot(setup: Setup): string | undefined {
  const { profile, printer } = setup
  const { limit, zones } = heatOf(setup)
  if (!limit) return undefined
  for (const { zone, range } of zones) {
    const lowest = printer?.heaters?.[zone]?.range?.items[0]?.value
    if (!range || !lowest || range[0] <= limit.range.low) continue
    const bears = formatSi(limit.range.low, 'temperature', { unit: lowest.unit, digits: 4 })
    const own = limit.key === 'softens-at' ? 'softens at' : 'bears'
    return limit.origin === 'given'
      ? `The ${HEATER[zone]} of ${profile.printer!.value} begins at ${formatQuantity(lowest)}, and ${profile.stock!.value} ${own} ${bears}.`
      : `The ${HEATER[zone]} of ${profile.printer!.value} begins at ${formatQuantity(lowest)}, and stock of this family may bear no more than ${bears} (typical): look max-web-temperature up in its data sheet and write it into ${profile.stock!.value} first.`
  }
  return undefined
}

/** The mode asked for, the printer's only one, or the one most of the shop's profiles on it use. */
export function modeFor(
  setup: Setup,
  shelf: Shelf,
  wanted?: string,
): { readonly mode: string; readonly why: string } | { readonly refused: string } {
  const printer = setup.profile.printer!.value
  const modes = [...(setup.printer?.modes?.entries.keys() ?? [])]
  if (wanted !== undefined && modes.includes(wanted)) return { mode: wanted, why: 'Chosen by whoever started the profile.' }
  if (wanted !== undefined) {
    const meant = nearestOrHolding(wanted, modes)
    const has =
      modes.length === 0
        ? 'Its document gives no modes.'
        : meant === undefined
          ? `It has ${modes.join(', ')}.`
          : `Do you mean '${meant}'?`
    return { refused: `${printer} has no mode '${wanted}'. ${has}` }
  }
  if (modes.length === 0) return { refused: `The document of ${printer} gives no modes: write at least one into it first.` }
  if (modes.length === 1) return { mode: modes[0]!, why: `The only mode of ${printer}.` }
  const used = new Map<string, number>()
  for (const facts of shelf.all('media')) {
    if (inherited(shelf, facts, 'printer') !== printer) continue
    const mode = inherited(shelf, facts, 'mode')
    if (mode !== undefined) used.set(mode, (used.get(mode) ?? 0) + 1)
  }
  const count = (mode: string): number => used.get(mode) ?? 0
  const most = modes.reduce((a, b) => (count(b) > count(a) ? b : a))
  const times = count(most)
  return {
    mode: most,
    why:
      times === 0
        ? `The first mode of ${printer}; no profile of the shop runs on it yet.`
        : `The mode most used on ${printer}: by ${times} profile${times === 1 ? '' : 's'}.`,
  }
}

/** What a closed profile gives, or takes from its bases. */
export function inherited(shelf: Shelf, facts: Facts, key: 'printer' | 'mode' | 'stock'): string | undefined {
  const seen = new Set<string>()
  for (let at: Facts | undefined = facts; at && !seen.has(at.file); ) {
    seen.add(at.file)
    const own = at.values[key]
    if (own) return own.text
    at = at.values.base && shelf.withId('media', at.values.base.text)[0]
  }
  return undefined
}
