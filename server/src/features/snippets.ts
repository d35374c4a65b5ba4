// Ready-made text: a new document of each kind, an entry of a table, an item of a list, a feed check or a
// read-back filled in from the one before.

import { RECORDINGS } from '../areas/generated/recordings.ts'
import { choice, dateStop, escapeSnippet, newCheck, stop, stopBefore } from '../assists/new-check.ts'
import { readingFlow, readingLines } from '../assists/new-reading.ts'
import { namesToChoose, statesToName } from '../assists/state-under.ts'
import { startOfLine } from '../base/lines.ts'
import type { TextEdit } from '../base/text-edit.ts'
import { displayUnit, type UnitSystem } from '../quantities/display-unit.ts'
import { parseQuantity } from '../quantities/parse.ts'
import type { LeafType, ListSchema, MapSchema, SchemaNode, TableSchema } from '../schema/schema.ts'
import type { Cursor } from '../syntax/cursor.ts'
import type { Completion, FeatureContext } from './context.ts'
import { namedByFile } from './offers.ts'

/** The keys a new document must have, with stops to fill in: a section is opened with a stop below it. */
export function skeleton(context: FeatureContext, cursor: Cursor): Completion | undefined {
  const { document } = context
  const { schema } = document
  const lines = dueLines(schema, new Stops(), (property) => {
    const known = isOfType(property, (type) => type.type === 'text' && type.id === true)
      ? document.baseName
      : property.kind === 'leaf'
        ? namedByFile(context, property.accepts.flatMap((type) => (type.type === 'text' && type.ref ? [type.ref] : []))[0])
        : undefined
    return known === undefined ? undefined : escapeSnippet(known)
  })
  const name = document.kind === 'media' ? 'profile' : document.kind
  return {
    label: `new ${name}`,
    kind: 'snippet',
    detail: `the keys a ${name} needs`,
    edit: { start: cursor.start, end: cursor.end, newText: `${lines.join('\n')}\n` },
    snippet: true,
    sort: '00',
  }
}

/** One entry of a table whose names the shop chooses: its name to come, and the keys it must have below. */
export function entrySnippet(cursor: Cursor, schema: TableSchema): Completion | undefined {
  if (schema.values.kind !== 'map' || schema.keyRef || cursor.flow || cursor.colonFollows) return undefined
  const stops = new Stops()
  const lines = [`${stops.next()}:`, ...dueLines(schema.values, stops).map((line) => ' '.repeat(cursor.column + 2) + line)]
  return {
    label: `a new ${schema.path.split('.').at(-1)} entry`,
    kind: 'snippet',
    detail: 'its name, and the keys it needs',
    edit: { start: cursor.start, end: cursor.end, newText: lines.join('\n') },
    snippet: true,
    indented: true,
    sort: '00',
    filter: ':',
  }
}

/** One item of a list of mappings, on one line: of evidence, each way to record it. */
export function itemSnippets(context: FeatureContext, cursor: Cursor, schema: ListSchema): readonly Completion[] {
  if (schema.items.kind !== 'map') return []
  const states = schema.items.properties.has('under') ? statesToName(context) : []
  // Which of several ran is asked for where it is named.
  const state = states.length === 1 ? states[0] : undefined
  const { text } = context.document
  const afterDash = cursor.flow || /-[ ]+$/.test(text.slice(startOfLine(text, cursor.start), cursor.start))
  return itemBodies(context, schema.path, schema.items, namesToChoose(context, states)).map(({ label, body }, n) => ({
    label,
    kind: 'snippet',
    ...withEdits(
      text,
      { start: cursor.start, end: cursor.end, newText: afterDash ? body : `- ${body}` },
      state?.edits ?? [],
      true,
    ),
    snippet: true,
    sort: `00${n}`,
    filter: '{',
  }))
}

function itemBodies(
  context: FeatureContext,
  path: string,
  schema: MapSchema,
  under: readonly string[] | undefined,
): readonly { readonly label: string; readonly body: string }[] {
  const recording = RECORDINGS.find(({ kind }) => kind === path)
  if (path === 'feed.checks') return [{ label: recording!.words, body: newCheck(context, under) }]
  const readings = context.setup && recording ? recording.entries(context.setup) : []
  if (readings.length > 0)
    return readings.map((reading) => ({
      label: reading.which === undefined ? recording!.words : `${recording!.words} ${reading.which}`,
      body: readingFlow(readingLines(schema, reading, context.today, under)),
    }))
  return [{ label: `a new ${path.split('.').at(-1)} entry`, body: newItem(schema, context, under) }]
}

/** A text with what is written elsewhere with it. What belongs right behind it is part of it: an editor takes no other edit there. */
export function withEdits(
  text: string,
  edit: TextEdit,
  others: readonly TextEdit[],
  snippet: boolean,
): Pick<Completion, 'edit' | 'also' | 'indented'> {
  // What ends where only spaces and a dash stand before the cursor ends above the line that the cursor is on.
  const isBehind = ({ start }: TextEdit): boolean => start <= edit.end && /^[\s-]*$/.test(text.slice(start, edit.start))
  const behind = others.filter(isBehind)
  const also = others.filter((other) => !behind.includes(other))
  const written = behind.map(({ newText }) => (snippet ? escapeSnippet(newText) : newText)).join('')
  return {
    edit: { ...edit, newText: written === '' ? edit.newText : `${edit.newText}${snippet ? '$0' : ''}${written}` },
    ...(also.length > 0 && { also }),
    ...(written !== '' && { indented: true }),
  }
}

/** Numbers the stops of one snippet. */
class Stops {
  private last = 0

  next(unit?: string): string {
    this.last++
    return unit === undefined ? stop(this.last) : stopBefore(this.last, unit)
  }
}

function dueLines(
  schema: MapSchema,
  stops: Stops,
  known: (property: SchemaNode) => string | undefined = () => undefined,
): readonly string[] {
  return dueKeys(schema).flatMap(([key, property]) => {
    if (property.kind === 'map' || property.kind === 'table') return [`${key}:`, `  ${stops.next()}`]
    return [`${key}: ${known(property) ?? stops.next()}`]
  })
}

function newItem(schema: MapSchema, { setup, today }: FeatureContext, under: readonly string[] | undefined): string {
  const stops = new Stops()
  const parts = dueKeys(schema).map(([key, property]) => {
    const value = isOfType(property, (type) => type.type === 'date')
      ? dateStop(DATE_STOP, today)
      : stops.next(unitOf(property, setup?.shop.units ?? 'metric'))
    return `${key}: ${value}`
  })
  if (under !== undefined) parts.push(`under: ${choice(DATE_STOP + 1, under)}`)
  return `{ ${parts.join(', ')} }`
}

/** Behind all that is to be typed: the day is today, or chosen. */
const DATE_STOP = 20

function dueKeys({ properties, required, requiredUnless }: MapSchema): readonly (readonly [string, SchemaNode])[] {
  const due = [...required, ...(requiredUnless?.keys ?? [])]
  return due.length > 0 ? [...properties].filter(([key]) => due.includes(key)) : [...properties].slice(0, 3)
}

/** The unit that all usual values of a setting are written in; undefined where that depends on the value. */
export function unitOf(schema: SchemaNode, system: UnitSystem): string | undefined {
  const [type, ...others] = schema.kind === 'leaf' ? schema.accepts : []
  if (type?.type !== 'quantity' || !type.plausible || others.length > 0) return undefined
  const units = type.plausible.map((bound) => {
    const read = parseQuantity(bound, type.dimension)
    return read.ok ? displayUnit(read.value.si, type.dimension, system).id : undefined
  })
  return units[0] === units[1] ? units[0] : undefined
}

const isOfType = (schema: SchemaNode, is: (type: LeafType) => boolean): boolean =>
  schema.kind === 'leaf' && schema.accepts.some(is)
