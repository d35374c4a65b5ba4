// One or two lines about the document, instrument, mode or lot that a name leads to.

import { code, escapeMarkdown } from '../base/markdown.ts'
import type { RollDocument } from '../model/document.ts'
import type { F } from '../model/field.ts'
import type { TimeInDoubt } from '../model/generated/documents.ts'
import { formatQuantity } from '../quantities/format.ts'
import type { Quantity } from '../quantities/quantity.ts'
import type { FeatureContext } from './context.ts'

export function referenceSummary(context: FeatureContext, ref: string, id: string): string | undefined {
  const { shelf, setup } = context
  switch (ref) {
    case 'stock':
      return stockSummary(shelf.document('stock', id))
    case 'printer':
      return printerSummary(shelf.document('printer', id))
    case 'media': {
      const base = shelf.document('media', id)?.content
      return base?.title ? escapeMarkdown(base.title.value) : undefined
    }
    case 'instrument': {
      const instrument = setup?.shop.instruments.get(id)
      if (!instrument) return undefined
      return facts([
        ['kind', text(instrument.kind)],
        ['division', quantity(instrument.division as F<Quantity> | undefined)],
        ['calibrated', text(instrument.calibrated)],
        ['due', text(instrument.due)],
        ...(instrument.errors?.items ?? []).map((one) => ['error', timed(one, quantity(one.error))] as const),
        ...(instrument.suspect?.items ?? []).map((one) => ['in doubt', timed(one, text(one.why))] as const),
      ])
    }
    case 'mode': {
      const mode = setup?.printer?.modes?.entries.get(id)
      return (
        mode &&
        facts([
          ['resolution', quantity(mode.resolution)],
          ['passes', text(mode.passes)],
          ['carriage speed', quantity(mode['carriage-speed'])],
          ['directions', text(mode.directions)],
        ])
      )
    }
    case 'lot': {
      const lot = setup?.stock?.lots?.items.find((l) => String(l.lot?.value) === id)
      return (
        lot &&
        facts([
          ['received', text(lot.received)],
          ['note', text(lot.note)],
        ])
      )
    }
    default:
      return undefined
  }
}

/** What was so in some time: 'dropped, 2026-11-02 to 2026-11-10'. */
const timed = ({ from, to }: Pick<TimeInDoubt, 'from' | 'to'>, what: string | undefined): string | undefined =>
  from && [what, to ? `${from.value} to ${to.value}` : `since ${from.value}`].filter((part) => part !== undefined).join(', ')

function stockSummary(document: RollDocument<'stock'> | undefined): string | undefined {
  const stock = document?.content
  if (!stock) return undefined
  const line = facts([
    ['family', text(stock.family)],
    ['thickness', quantity(stock.thickness)],
    ['limit', quantity(stock['max-web-temperature'])],
    ['wound', text(stock.wound)],
  ])
  return stock.title ? `${escapeMarkdown(stock.title.value)}\n\n${line}` : line
}

function printerSummary(document: RollDocument<'printer'> | undefined): string | undefined {
  const printer = document?.content
  if (!printer) return undefined
  const line = facts([
    ['modes', [...(printer.modes?.entries.keys() ?? [])].join(', ') || undefined],
    ['feed entry', text(printer.feed?.entry)],
    ['feed step', quantity(printer.feed?.step as F<Quantity> | undefined)],
  ])
  return printer.title ? `${escapeMarkdown(printer.title.value)}\n\n${line}` : line
}

const facts = (pairs: readonly (readonly [string, string | undefined])[]): string =>
  pairs.flatMap(([name, value]) => (value === undefined ? [] : [`${name} ${code(value)}`])).join(' · ')

const text = (field: F<string | number> | undefined): string | undefined =>
  field === undefined ? undefined : String(field.value)

const quantity = (field: F<Quantity> | undefined): string | undefined =>
  field === undefined ? undefined : formatQuantity(field.value)
