// Completion of keys and values, from the schema and the shop's own documents. The cursor's place comes from indentation and brackets, so it
// works in half-typed text; keys that are there already are left out. Nothing is invented: a value that is measured or decided is never
// offered as an example, a number that was typed stays that number, and where a whole value stands there is nothing to offer.

import { stop, stopBefore } from '../assists/new-check.ts'
import { type NamedProposal, statesToName, stateToChange } from '../assists/state-under.ts'
import { startOfLine } from '../base/lines.ts'
import { isDate } from '../model/read.ts'
import { differenceWords, stateOf } from '../model/state-words.ts'
import type { UnitSystem } from '../quantities/display-unit.ts'
import { parseQuantity } from '../quantities/parse.ts'
import { unitsOf } from '../quantities/units.ts'
import { RULES } from '../rules/generated/index.ts'
import { explain, explanationMarkdown } from '../schema/explain.ts'
import {
  type LeafSchema,
  type LeafType,
  type ListSchema,
  type MapSchema,
  type SchemaNode,
  schemaAt,
  type TableSchema,
} from '../schema/schema.ts'
import { wordMeaning } from '../schema/words.ts'
import { type Cursor, cursorAt, endOfValue } from '../syntax/cursor.ts'
import { nodeAt, resolveAlias } from '../syntax/tree.ts'
import type { Completion, FeatureContext } from './context.ts'
import { namedByFile, namesFor, offered } from './offers.ts'
import { entrySnippet, itemSnippets, skeleton, unitOf, withEdits } from './snippets.ts'
import { typeWords } from './type-words.ts'

export function complete(context: FeatureContext, offset: number): readonly Completion[] {
  const { document } = context
  const cursor = cursorAt(document.text, offset)
  if (!cursor) return []
  const schema = schemaAt(document.kind, cursor.path)
  if (!schema || schema.kind === 'any') return []
  if (cursor.role === 'value') return valuesFor(context, cursor, schema, offset)
  switch (schema.kind) {
    case 'map':
      return [...newItemFor(context, cursor), ...keysFor(context, cursor, schema)]
    case 'table':
      return tableKeysFor(context, cursor, schema)
    case 'list':
      return itemsFor(context, cursor, schema, offset)
    case 'leaf':
      return valuesFor(context, { ...cursor, role: 'value', end: endOfValue(document.text, offset) }, schema, offset)
  }
}

function keysFor(context: FeatureContext, cursor: Cursor, schema: MapSchema): readonly Completion[] {
  const present = presentKeys(context, cursor)
  const missing = [...schema.properties].filter(([key]) => !present.has(key))
  const items = missing.map(([key, property], order): Completion => {
    const required = schema.required.includes(key)
    const { text, snippet } = cursor.colonFollows
      ? { text: key, snippet: false }
      : keyText(key, property, cursor, context.setup?.shop.units ?? 'metric')
    const page = explain(context.document.kind, property.path)
    return {
      label: key,
      kind: 'key',
      detail: required ? `${typeWords(property)}, needed` : typeWords(property),
      documentation: page ? explanationMarkdown(page) : property.description,
      edit: { start: cursor.start, end: cursor.end, newText: text },
      snippet,
      ...(text.includes('\n') && { indented: true }),
      sort: `${required ? 0 : 1}${String(order).padStart(3, '0')}`,
    }
  })
  const whole = cursor.path.length === 0 && present.size === 0 ? skeleton(context, cursor) : undefined
  return whole ? [whole, ...items] : items
}

/** What is inserted for a key: with its colon, and the beginning of a section where one is due. */
function keyText(key: string, schema: SchemaNode, cursor: Cursor, system: UnitSystem): { text: string; snippet: boolean } {
  const deeper = `\n${' '.repeat(cursor.column + 2)}`
  if (schema.kind === 'list' && schema.tuple) return { text: `${key}: [\${1}, \${2}]`, snippet: true }
  if (schema.kind === 'list' && !schema.single && schema.minItems === 2 && schema.maxItems === 2) {
    const unit = unitOf(schema.items, system)
    const [low, high] = [1, 2].map((n) => (unit === undefined ? stop(n) : stopBefore(n, unit)))
    return { text: `${key}: [${low}, ${high}]`, snippet: true }
  }
  if (cursor.flow)
    return schema.kind === 'map' || schema.kind === 'table'
      ? { text: `${key}: { \${1} }`, snippet: true }
      : { text: `${key}: `, snippet: false }
  if (schema.kind === 'map' || schema.kind === 'table') return { text: `${key}:${deeper}`, snippet: false }
  if (schema.kind === 'list' && !schema.single) return { text: `${key}:${deeper}- `, snippet: false }
  return { text: `${key}: `, snippet: false }
}

/** Behind a fresh dash: the whole item on one line, before its single keys. */
function newItemFor(context: FeatureContext, cursor: Cursor): readonly Completion[] {
  const { text } = context.document
  const before = text.slice(startOfLine(text, cursor.start), cursor.start)
  if (cursor.flow || cursor.colonFollows || typeof cursor.path.at(-1) !== 'number' || !/^ *- +$/.test(before)) return []
  const list = schemaAt(context.document.kind, cursor.path.slice(0, -1))
  return list?.kind === 'list' && presentKeys(context, cursor).size === 0 ? itemSnippets(context, cursor, list) : []
}

function tableKeysFor(context: FeatureContext, cursor: Cursor, schema: TableSchema): readonly Completion[] {
  const present = presentKeys(context, cursor)
  const names =
    schema.path === 'rules'
      ? RULES.map((rule) => ({ name: rule.code, detail: rule.summary }))
      : schema.keyRef
        ? namesFor(context, schema.keyRef)
        : []
  const entry = entrySnippet(cursor, schema)
  const items = names
    .filter(({ name }) => !present.has(name))
    .map(
      ({ name, detail }, order): Completion => ({
        label: name,
        kind: 'reference',
        sort: String(order).padStart(4, '0'),
        ...(detail !== undefined && { detail }),
        edit: { start: cursor.start, end: cursor.end, newText: cursor.colonFollows ? name : `${name}: ` },
      }),
    )
  return entry ? [entry, ...items] : items
}

function itemsFor(context: FeatureContext, cursor: Cursor, schema: ListSchema, offset: number): readonly Completion[] {
  if (schema.items.kind === 'leaf') return valuesFor(context, cursor, schema.items, offset)
  return itemSnippets(context, cursor, schema)
}

function valuesFor(context: FeatureContext, cursor: Cursor, schema: SchemaNode, offset: number): readonly Completion[] {
  if (schema.kind === 'list') {
    if (schema.single) return valuesFor(context, cursor, schema.single, offset)
    return schema.items.kind === 'leaf' && cursor.flow ? valuesFor(context, cursor, schema.items, offset) : []
  }
  if (schema.kind !== 'leaf') return []
  const { text } = context.document
  const typed = text.slice(cursor.start, offset)
  const value = text.slice(cursor.start, cursor.end)
  if (isWhole(context, schema, typed.trimEnd()) || (NUMBER.test(typed) && isWhole(context, schema, value))) return []
  const settings = offered(context, schema.path)
  if (settings.some((setting) => setting.text === typed)) return []
  const out: Completion[] = []
  const add: Add = (label, kind, order, detail, documentation) => {
    if (label === value || out.some((item) => item.label === label)) return
    const leading = needsSpace(text, cursor) ? ' ' : ''
    out.push({
      label,
      kind,
      edit: { start: cursor.start, end: cursor.end, newText: leading + label },
      sort: `${order}${String(out.length).padStart(3, '0')}`,
      ...(detail !== undefined && { detail }),
      ...(documentation !== undefined && { documentation }),
    })
  }
  for (const setting of settings)
    if (
      typed === '' ||
      isWord(schema) ||
      (/^[a-z]/i.test(typed) && /^[a-z]/.test(setting.text)) ||
      sameNumber(setting.text, typed)
    )
      add(setting.text, 'value', 0, setting.detail)
  const given = givenBeside(context, cursor)
  // Of a list of words the printer's own are all that can be set; and whoever types a number wants no word that has a digit in it.
  for (const type of schema.accepts)
    if (type.type !== 'choice' || (settings.length === 0 && !/^[-+.\d]/.test(typed))) addValues(context, type, typed, given, add)
  if (isUnder(schema)) out.push(...newStates(context, cursor))
  // Where the printer says what it can be set to, what holds elsewhere only distracts.
  if (typed === '' && settings.length === 0 && schema.default !== undefined) add(schema.default, 'value', 3, 'the default')
  return out
}

const isUnder = ({ accepts }: LeafSchema): boolean => accepts.some((type) => type.type === 'text' && type.ref === 'state')

/** States that are not there yet: as read back, as in this profile, and one to be changed where another setting ran. */
function newStates(context: FeatureContext, cursor: Cursor): readonly Completion[] {
  const leading = needsSpace(context.document.text, cursor) ? ' ' : ''
  const proposed = statesToName(context).filter(({ edits }) => edits.length > 0)
  const other = stateToChange(context)
  const made = (state: NamedProposal, detail: string, order: number): Completion => ({
    label: state.words,
    kind: 'reference',
    detail,
    ...withEdits(
      context.document.text,
      { start: cursor.start, end: cursor.end, newText: leading + state.name },
      state.edits,
      false,
    ),
    sort: `${order}`,
  })
  return [
    ...proposed.map((state, i) =>
      made(state, `writes ${state.name}, ${differenceWords(context.setup!, stateOf(state.fields))}`, i),
    ),
    ...(other ? [made(other, `writes ${other.name} with today's settings: change them there`, 9)] : []),
  ]
}

type Add = (label: string, kind: Completion['kind'], order: number, detail?: string, documentation?: string) => void

function addValues(context: FeatureContext, type: LeafType, typed: string, given: ReadonlySet<string>, add: Add): void {
  switch (type.type) {
    case 'choice':
      for (const word of type.values) if (!given.has(word.value)) add(word.value, 'value', 1, undefined, wordMeaning(word))
      return
    case 'boolean':
      add('true', 'value', 1)
      add('false', 'value', 1)
      return
    case 'date':
      if (typed === '') add(context.today, 'date', 0, 'today')
      return
    case 'text':
      // A lot that is not known yet is the usual case, and L-1 must not become L-17.
      if (type.ref && !(type.ref === 'lot' && /\d/.test(typed)))
        for (const { name, detail } of namesFor(context, type.ref))
          add(name, 'reference', name === namedByFile(context, type.ref) ? 0 : 1, detail)
      if (type.id) add(context.document.baseName, 'value', 0, 'the name of this file')
      return
    case 'quantity': {
      const number = NUMBER.exec(typed)?.[1]
      if (number === undefined) return
      for (const { id, title } of unitsOf(type.dimension)) {
        const value = `${number} ${id}`
        if (parseQuantity(value, type.dimension).ok) add(value, 'unit', 2, title)
      }
      return
    }
    default:
      return
  }
}

/** The items of the list in which a value stands, or is to stand, but for itself: none of them is wanted twice. */
function givenBeside({ document }: FeatureContext, { path, start }: Cursor): ReadonlySet<string> {
  const list = nodeAt(document.tree.root, typeof path.at(-1) === 'number' ? path.slice(0, -1) : path)
  const items = list?.kind === 'seq' ? list.items : []
  return new Set(items.flatMap((item) => (item.kind === 'scalar' && item.start !== start ? [item.text] : [])))
}

/** A number, and what may be the beginning of its unit. */
const NUMBER = /^([-+−]?(?:\d+ \d+\/\d+|\d+\/\d+|\d*\.?\d+))(?: ?[^\d.]*)$/

/** Whether one of a few words is due: those are all offered, and the editor keeps those that fit what was typed. */
const isWord = (schema: LeafSchema): boolean => schema.accepts.some((type) => type.type === 'choice')

/** Whether a setting of the printer is the number that was typed, in more digits or with its unit: 2.0 mm for 2. */
const sameNumber = (setting: string, typed: string): boolean => {
  const number = NUMBER.exec(typed)?.[1]
  return number !== undefined && Number.parseFloat(setting) === Number(number)
}

/** Whether a value needs nothing more. To complete it would be to change it, and Enter behind it is for the next line. */
function isWhole(context: FeatureContext, schema: LeafSchema, value: string): boolean {
  return schema.accepts.some((type) => {
    switch (type.type) {
      case 'choice':
        return type.values.some((choice) => choice.value === value)
      case 'boolean':
        return value === 'true' || value === 'false'
      case 'date':
        return isDate(value)
      case 'text':
        return type.ref !== undefined && namesFor(context, type.ref).some(({ name }) => name === value)
      case 'quantity':
        return parseQuantity(value, type.dimension).ok
      case 'integer':
      case 'number':
        return /^[-+]?\d+(?:\.\d+)?$/.test(value)
      default:
        return false
    }
  })
}

/** `key:` with the cursor right behind the colon: a space is due before the value. */
const needsSpace = (text: string, cursor: Cursor): boolean => cursor.role === 'value' && text[cursor.start - 1] === ':'

function presentKeys({ document }: FeatureContext, cursor: Cursor): ReadonlySet<string> {
  const node = resolveAlias(nodeAt(document.tree.root, cursor.path))
  if (node?.kind !== 'map') return new Set()
  return new Set(
    node.pairs.flatMap(({ key }) => (key && !(key.start <= cursor.start && cursor.start <= key.end) ? [key.text] : [])),
  )
}
