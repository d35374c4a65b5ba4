// One or two lines about the document, instrument, mode or lot that a name leads to.

import { code, escapeMarkdown } from '../base/markdown.ts'
import type { RollDocument } from '../model/document.ts'
import type { F } from '../model/field.ts'
import type { State, TimeInDoubt } from '../model/generated/documents.ts'
import type { Setup } from '../model/setup.ts'
import { madeUnder } from '../model/state-evidence.ts'
import { AS_TODAY, differenceWords, evidenceWords, stateRows } from '../model/state-words.ts'
import { statesOf } from '../model/states.ts'
import { formatQuantity } from '../quantities/format.ts'
import type { Quantity } from '../quantities/quantity.ts'
import { schemaAt } from '../schema/schema.ts'
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
    case 'state': {
      const state = setup && statesOf(setup).get(id)
      return state && stateSummary(setup, id, state)
    }
    default:
      return undefined
  }
}

/** What was so in some time: 'dropped, 2026-11-02 to 2026-11-10'. */
const timed = ({ from, to }: Pick<TimeInDoubt, 'from' | 'to'>, what: string | undefined): string | undefined =>
  from && [what, to ? `${from.value} to ${to.value}` : `since ${from.value}`].filter((part) => part !== undefined).join(', ')

/** What was set, what of it is otherwise today, who says so, and which evidence is under it. */
export function stateSummary(setup: Setup, name: string, state: State): string {
  const words = differenceWords(setup, state)
  const under = evidenceWords(madeUnder(setup.own).filter((made) => made.under?.value === name))
  const source = state.from && meaningOfSource(state.from.value)
  return [
    words === AS_TODAY ? 'As today.' : `Unlike today: ${escapeMarkdown(words)}.`,
    facts(stateRows(state)),
    `${source === undefined ? '' : `${source} `}${under === undefined ? 'No evidence is under it.' : `Under it: ${under}.`}`,
  ].join('\n\n')
}

function meaningOfSource(source: string): string | undefined {
  const schema = schemaAt('media', ['conditions', '*', 'from'])
  const types = schema?.kind === 'leaf' ? schema.accepts : []
  return types.flatMap((type) => (type.type === 'choice' ? type.values : [])).find(({ value }) => value === source)?.meaning
}

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
