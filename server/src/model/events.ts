// What was done to a machine, and which kinds of evidence it opens: what was measured before proves nothing after it. Which event opens what
// by default stands in the schema and nowhere else.
import { recorded } from '../base/recorder.ts'
import { type ChoiceValue, schemaAt } from '../schema/schema.ts'
import { nodeAt, resolveAlias } from '../syntax/tree.ts'
import type { List } from './field.ts'
import type { Event, KindOfEvidence, MachineEvent, PrinterDocument } from './generated/documents.ts'

/** An event whose `what` is missing or misspelt: it may have been any. */
export const UNREAD = 'an event that cannot be read'

const NO_DAY = 'a day that nobody wrote down'

/** One event with its day and what was done. */
export interface Opening {
  /** YYYY-MM-DD, or in words that nobody wrote it down. */
  readonly date: string
  readonly what: Event | typeof UNREAD
  readonly opens: readonly KindOfEvidence[]
}

/**
 * The event that makes evidence of `date` doubtful: the earliest after that day, and not after today, that opens its kind. Evidence of the event's own
 * day counts as made after it (`openedOn` tells of it). Else one whose day is missing or cannot be read, or a list that holds something else: it may have
 * been at any time.
 */
export function openedSince(
  printer: PrinterDocument | undefined,
  kind: KindOfEvidence,
  date: string,
  today: string,
): Opening | undefined {
  let first: Opening | undefined
  let undated: Opening | undefined =
    printer && hasUnread(printer) ? { date: NO_DAY, what: UNREAD, opens: everyKind() } : undefined
  for (const item of printer?.events?.items ?? []) {
    const one = openingOf(item)
    if (!item.date) undated ??= opensKind(openingOn(item, NO_DAY), kind)
    if (!one || one.date <= date || one.date > today || !one.opens.includes(kind)) continue
    if (!first || one.date < first.date) first = one
  }
  return first ?? undated
}

/** The event of that same day that opens the kind: evidence of the day counts as made after it, and whoever counts it so says it. */
export function openedOn(printer: PrinterDocument | undefined, kind: KindOfEvidence, date: string): Opening | undefined {
  for (const item of printer?.events?.items ?? []) {
    const one = openingOf(item)
    if (one?.date === date && one.opens.includes(kind)) return one
  }
  return undefined
}

/** What an event opens: what it says itself, or what such an event opens by default; where that cannot be read, all. Undefined for one without a day. */
export function openingOf(event: MachineEvent): Opening | undefined {
  return event.date && openingOn(event, event.date.value)
}

const opensKind = (one: Opening, kind: KindOfEvidence): Opening | undefined => (one.opens.includes(kind) ? one : undefined)

function openingOn(event: MachineEvent, date: string): Opening {
  const { what, opens } = event
  const misread = opens ? holdsOther(opens) : !what
  const kinds = misread ? everyKind() : opens?.items.map(({ value }) => value)
  return { date, what: what?.value ?? UNREAD, opens: kinds ?? opensByDefault(what!.value) }
}

/** Whether `events` is no list, or one that holds what is no event. */
const hasUnread = recorded('unread events', ({ $, events }: PrinterDocument): boolean => {
  if (events) return holdsOther(events)
  const given = resolveAlias(nodeAt($.node, ['events']))
  return given !== undefined && !(given.kind === 'scalar' && given.style === 'empty')
})

/** Whether a list holds more than what could be read of it. */
function holdsOther({ $, items }: List<unknown>): boolean {
  const list = resolveAlias($.node)
  return list?.kind === 'seq' && list.items.length > items.length
}

const everyKind = (): readonly KindOfEvidence[] => kindsOfEvidence().map(({ value }) => value as KindOfEvidence)

/** Whether what it opens differs so much from case to case that nothing is assumed: it says so itself, or opens nothing. */
export const mustSay = (what: Event): boolean => opensByDefault(what).length === 0

/** The kinds of evidence that such an event opens where it does not say otherwise. */
export const opensByDefault = (what: Event): readonly KindOfEvidence[] => defaults().get(what) ?? []

/** All kinds of evidence there are, in the order of the format. */
export const kindsOfEvidence = (): readonly ChoiceValue[] => choices(['events', '*', 'opens', '*'])

let kept: ReadonlyMap<string, readonly KindOfEvidence[]> | undefined

function defaults(): ReadonlyMap<string, readonly KindOfEvidence[]> {
  kept ??= new Map(
    choices(['events', '*', 'what']).map(({ value, opens }) => [value, (opens ?? []) as readonly KindOfEvidence[]]),
  )
  return kept
}

function choices(path: readonly string[]): readonly ChoiceValue[] {
  const node = schemaAt('printer', path)
  return node?.kind === 'leaf' ? node.accepts.flatMap((type) => (type.type === 'choice' ? type.values : [])) : []
}
