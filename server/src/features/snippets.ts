// Ready-made text: a new document of each kind, an entry of a table, an item of a list, a feed check or a
// read-back filled in from the one before.

import { escapeSnippet, newCheck, stop, stopBefore } from '../assists/new-check.ts'
import { startOfLine } from '../base/lines.ts'
import type { MediaDocument } from '../model/generated/documents.ts'
import { settingAt } from '../model/setting.ts'
import { displayUnit, type UnitSystem } from '../quantities/display-unit.ts'
import { parseQuantity } from '../quantities/parse.ts'
import type { LeafType, ListSchema, MapSchema, SchemaNode, TableSchema } from '../schema/schema.ts'
import type { Cursor } from '../syntax/cursor.ts'
import type { Completion, FeatureContext } from './context.ts'

/** The keys a new document must have, with stops to fill in: a section is opened with a stop below it. */
export function skeleton({ document }: FeatureContext, cursor: Cursor): Completion | undefined {
  const { schema } = document
  const lines = dueLines(schema, new Stops(), (property) =>
    isOfType(property, (type) => type.type === 'text' && type.id === true) ? escapeSnippet(document.baseName) : undefined,
  )
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

/** One item of a list of mappings, on one line. */
export function itemSnippet(context: FeatureContext, cursor: Cursor, schema: ListSchema): Completion | undefined {
  if (schema.items.kind !== 'map') return undefined
  const body = itemBody(context, schema.path, schema.items)
  const text = context.document.text
  const afterDash = cursor.flow || /-[ ]+$/.test(text.slice(startOfLine(text, cursor.start), cursor.start))
  return {
    label: ITEM_LABELS[schema.path] ?? `a new ${schema.path.split('.').at(-1)} entry`,
    kind: 'snippet',
    edit: { start: cursor.start, end: cursor.end, newText: afterDash ? body : `- ${body}` },
    snippet: true,
    sort: '00',
    filter: '{',
  }
}

const ITEM_LABELS: Readonly<Record<string, string>> = { 'feed.checks': 'a feed check', keyed: 'a read-back' }

function itemBody(context: FeatureContext, path: string, schema: MapSchema): string {
  const own = context.document.content as MediaDocument | undefined
  if (path === 'feed.checks') return newCheck(own, context.setup, context.today)
  return path === 'keyed' ? newReadBack(schema, own, context) : newItem(schema, context)
}

/** Today's date and the settings that were read back last, or the correction: of each only the unit stands there. What was read then stays as it is. */
function newReadBack(schema: MapSchema, own: MediaDocument | undefined, { setup, today }: FeatureContext): string {
  const last = own?.keyed?.items.at(-1)
  const stops = new Stops()
  const given = [...schema.properties].flatMap(([key, { readsBack }]) => {
    const value = settingAt(last, [key])?.value
    if (readsBack === undefined || value === undefined) return []
    return [`${key}: ${stops.next(typeof value === 'object' ? value.unit.id : undefined)}`]
  })
  const asLength = setup?.printer?.feed?.entry?.value === 'measured-length'
  const length = displayUnit(1, 'length', setup?.shop.units ?? 'metric').id
  const parts = given.length > 0 ? given : [`correction: ${stops.next(asLength ? length : '%')}`]
  return `{ date: ${today}, ${parts.join(', ')} }`
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

function newItem(schema: MapSchema, { setup, today }: FeatureContext): string {
  const stops = new Stops()
  const parts = dueKeys(schema).map(([key, property]) => {
    const value = isOfType(property, (type) => type.type === 'date')
      ? today
      : stops.next(unitOf(property, setup?.shop.units ?? 'metric'))
    return `${key}: ${value}`
  })
  return `{ ${parts.join(', ')} }`
}

function dueKeys({ properties, required, requiredUnless }: MapSchema): readonly (readonly [string, SchemaNode])[] {
  const due = [...required, ...(requiredUnless?.keys ?? [])]
  return due.length > 0 ? [...properties].filter(([key]) => due.includes(key)) : [...properties].slice(0, 3)
}

/** The unit that all usual values of a setting are written in; undefined where that depends on the value. */
function unitOf(schema: SchemaNode, system: UnitSystem): string | undefined {
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
