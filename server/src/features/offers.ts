// Values that the shop's other documents offer for a key: ids, instruments, modes, levels, gaps. For completion.

import { ID_KEY, isOutOfUse } from '../model/facts.ts'
import type { F } from '../model/field.ts'
import type { PrinterDocument } from '../model/generated/documents.ts'
import { type LevelSetting, levelNamesOf, levelsOf, levelWords } from '../model/level-names.ts'
import type { Setup } from '../model/setup.ts'
import { madeUnder } from '../model/state-evidence.ts'
import { AS_TODAY, differenceWords } from '../model/state-words.ts'
import { statesOf } from '../model/states.ts'
import { formatQuantity } from '../quantities/format.ts'
import type { Quantity } from '../quantities/quantity.ts'
import type { FeatureContext } from './context.ts'

export interface Named {
  readonly name: string
  readonly detail?: string
}

/** The names of a kind of thing that can be referred to here. */
export function namesFor({ shelf, setup, document, today }: FeatureContext, ref: string): readonly Named[] {
  switch (ref) {
    case 'stock':
    case 'printer':
    case 'media': {
      const names: (Named & { readonly out: boolean })[] = []
      for (const facts of shelf.all(ref)) {
        const { title, retired, 'replaced-by': by, [ID_KEY[ref]]: id } = facts.values
        if (id === undefined || facts.file === document.file) continue
        const out = isOutOfUse(facts, today)
        const detail = out ? `retired on ${retired!.text}${by ? `, replaced by ${by.text}` : ''}` : title?.text
        names.push({ name: id.text, ...(detail !== undefined && { detail }), out })
      }
      // What is out of use comes last: it may be named still, for the record.
      return names.sort((a, b) => Number(a.out) - Number(b.out) || (a.name < b.name ? -1 : 1)).map(({ out: _, ...name }) => name)
    }
    case 'instrument':
      return [...(setup?.shop.instruments ?? [])].map(([name, instrument]) => ({
        name,
        ...(instrument.kind && { detail: instrument.kind.value }),
      }))
    case 'mode':
      return [...(setup?.printer?.modes?.entries ?? [])].map(([name, mode]) => ({
        name,
        ...(mode.passes && {
          detail: `${mode.passes.value} passes${mode.resolution ? `, ${formatQuantity(mode.resolution.value)}` : ''}`,
        }),
      }))
    case 'channel':
      return (setup?.printer?.heads?.channels?.items ?? []).map((channel) => ({ name: channel.value }))
    case 'lot':
      return (setup?.stock?.lots?.items ?? []).flatMap((lot) =>
        lot.lot ? [{ name: String(lot.lot.value), ...(lot.received && { detail: `received ${lot.received.value}` }) }] : [],
      )
    case 'state':
      return setup ? statesFor(setup) : []
    default:
      return []
  }
}

/** The stock or the printer that the file's name speaks of, as `canvas-380-bay-1` does of both; undefined where none of the shop's is in it, or several. */
export function namedByFile(context: FeatureContext, ref: string | undefined): string | undefined {
  const { baseName } = context.document
  const isIn = (name: string): boolean => `-${baseName}-`.includes(`-${name}-`)
  if (ref !== 'stock' && ref !== 'printer') return undefined
  const found = namesFor(context, ref).filter(({ name }) => isIn(name))
  // Where one name is part of another, the longer one is meant.
  const whole = found.filter(({ name }) => !found.some((other) => other.name !== name && `-${other.name}-`.includes(`-${name}-`)))
  return whole.length === 1 ? whole[0]!.name : undefined
}

/** The states of the profile: as today first, then those that evidence was made under last, and each with how it differs from today. */
function statesFor(setup: Setup): readonly Named[] {
  const made = madeUnder(setup.own)
  const states = [...statesOf(setup)].map(([name, state], written) => {
    const days = made.flatMap(({ under, date }) => (under?.value === name && date ? [date.value] : []))
    return { name, detail: differenceWords(setup, state), last: days.sort().at(-1) ?? '', written }
  })
  const isNow = ({ detail }: Named): number => (detail === AS_TODAY ? 1 : 0)
  return states.sort((a, b) => isNow(b) - isNow(a) || (a.last < b.last ? 1 : a.last > b.last ? -1 : b.written - a.written))
}

/** What this printer can be set to, for a setting of the profile. */
export function offered({ setup }: FeatureContext, path: string): readonly { readonly text: string; readonly detail?: string }[] {
  const printer = setup?.printer
  return printer ? (OFFERS[path.replace(/^conditions\.\*\./, '')]?.(printer) ?? []) : []
}

/** As the printer's document spells it: 2.0 mm stays 2.0 mm. */
const asWritten = ({ value, place: { node } }: F<Quantity>): string =>
  node.kind === 'scalar' && node.style === 'plain' ? node.text : formatQuantity(value)

const slackWays = ({ web }: PrinterDocument): readonly { text: string; detail?: string }[] =>
  (web?.['slack-watch']?.items ?? []).map(({ value }) => ({
    text: value,
    detail:
      value === 'at-intervals' && web?.['slack-interval'] ? `every ${asWritten(web['slack-interval'])}` : 'a way of this printer',
  }))

const names = (printer: PrinterDocument, key: LevelSetting): readonly { text: string; detail: string }[] =>
  [...(levelNamesOf(printer, key)?.entries ?? [])].map(([text, { value }]) => ({ text, detail: levelWords(printer, key, value) }))

/** By their names where they have some, and then by their numbers. */
const levels = (printer: PrinterDocument, key: LevelSetting): readonly { text: string; detail: string }[] => [
  ...names(printer, key),
  ...[...(levelsOf(printer, key)?.entries ?? [])].map(([text, { value }]) => ({ text, detail: formatQuantity(value) })),
]

const OFFERS: Readonly<Record<string, (printer: PrinterDocument) => readonly { text: string; detail?: string }[]>> = {
  gap: (printer) =>
    (printer.carriage?.gaps?.items ?? []).map((gap) => ({ text: asWritten(gap), detail: 'a gap of this printer' })),
  suction: (printer) => levels(printer, 'suction'),
  'keyed.*.suction': (printer) => names(printer, 'suction'),
  'web.tension': (printer) => levels(printer, 'web.tension'),
  'keyed.*.tension': (printer) => names(printer, 'web.tension'),
  'web.slack-watch': slackWays,
  'keyed.*.slack-watch': slackWays,
}
