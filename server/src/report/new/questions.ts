// The questions of each kind of new document, and each as a person or a program is shown it: with what it takes, its limits and what holds where it is left open,
// all of which the schemas say.
import { dimensionInUnits } from '../../quantities/units.ts'
import { type DocumentKind, type LeafSchema, type LeafType, type SchemaNode, schemaOfKey } from '../../schema/schema.ts'
import { INSTRUMENT } from './instrument.ts'
import { PRINTER } from './printer.ts'
import { PROFILE } from './profile.ts'
import type { NewKind, Question } from './question.ts'
import { SHOP } from './shop.ts'
import { STOCK } from './stock.ts'

export const QUESTIONS: Readonly<Record<NewKind, readonly Question[]>> = {
  shop: SHOP,
  stock: STOCK,
  printer: PRINTER,
  instrument: INSTRUMENT,
  profile: PROFILE,
}

/** The document that the answers go into. */
export const DOCUMENT_OF: Readonly<Record<NewKind, DocumentKind>> = {
  shop: 'shop',
  stock: 'stock',
  printer: 'printer',
  instrument: 'shop',
  profile: 'media',
}

/** A word to choose, and what it means. */
export interface Choice {
  readonly value: string
  readonly meaning?: string
}

/** A question as it is shown. */
export interface Shown {
  readonly key: string
  readonly ask: string
  readonly why: string
  readonly where: string
  readonly must: boolean
  /** What follows from leaving it open, as a sentence; undefined where it must be answered. */
  readonly open?: string
  /** What is typed, in words: 'a length (mm, m, µm or in)'. */
  readonly takes: string
  /** Several are typed, with commas between them. */
  readonly many: boolean
  readonly choices?: readonly Choice[]
  /** Nothing but one of the choices can be typed. */
  readonly closed?: true
  /** Beyond these a value is refused, as in 'above 0 mm, at most 10 mm'. */
  readonly limits?: string
  readonly after?: Question['after']
}

export const schemaOfQuestion = (kind: NewKind, { path }: Question): SchemaNode => schemaOfKey(DOCUMENT_OF[kind], path)!

export function shown(kind: NewKind, question: Question): Shown {
  const { key, ask, why, where, must = false, after } = question
  const schema = schemaOfQuestion(kind, question)
  const leaf = leafOf(schema)
  const choices = choicesOf(schema, leaf)
  const limits = leaf?.accepts.map(limitsOf).find((text) => text !== '')
  return {
    key,
    ask,
    why,
    where,
    must,
    ...(!must && { open: openText(question, schema) }),
    takes: takesText(schema, leaf),
    many: isMany(schema),
    ...(choices.length > 0 && { choices }),
    ...(isClosed(schema, leaf) && { closed: true }),
    ...(limits && { limits }),
    ...(after && { after }),
  }
}

/** What follows from leaving a question open. */
function openText({ without }: Question, schema: SchemaNode): string {
  const { default: holds } = schema
  if (holds !== undefined) return `Left open, ${holds.replace(/^\[|\]$/g, '').replace(/, /g, ' to ')} holds.`
  return without === undefined ? 'It may be left open.' : `Unknown is an answer; not judged then: ${without}.`
}

/** Whether more than one item is typed as the answer. */
export const isMany = (schema: SchemaNode): boolean =>
  schema.kind === 'list' || schema.kind === 'map' || (schema.kind === 'table' && schema.values.kind === 'leaf')

/** Whether the items are words of a text, in which a comma is a comma. */
export const isProse = (schema: SchemaNode): boolean =>
  leafOf(schema)?.accepts.some((type) => type.type === 'text' && type.form === undefined) === true

/** What each item is read as; undefined for names and sections. */
function leafOf(schema: SchemaNode): LeafSchema | undefined {
  if (schema.kind === 'leaf') return schema
  if (schema.kind === 'list') return schema.items.kind === 'leaf' ? schema.items : undefined
  return schema.kind === 'table' && schema.values.kind === 'leaf' ? schema.values : undefined
}

function choicesOf(schema: SchemaNode, leaf: LeafSchema | undefined): readonly Choice[] {
  if (schema.kind === 'map') return [...schema.properties].map(([value, { description }]) => ({ value, meaning: description }))
  const all = [...(leaf?.accepts ?? []), ...(schema.kind === 'list' ? (schema.single?.accepts ?? []) : [])]
  return all.flatMap((type) =>
    type.type === 'choice'
      ? type.values.map(({ value, meaning }) => ({ value, meaning }))
      : type.type === 'boolean'
        ? [{ value: 'true' }, { value: 'false' }]
        : [],
  )
}

function isClosed(schema: SchemaNode, leaf: LeafSchema | undefined): boolean {
  if (schema.kind === 'map') return true
  return leaf?.accepts.every(({ type }) => type === 'choice' || type === 'boolean') === true
}

function takesText(schema: SchemaNode, leaf: LeafSchema | undefined): string {
  if (schema.kind === 'map') return 'one or more of the words'
  if (schema.kind === 'table' && !leaf) return 'a name: lower-case words joined by hyphens'
  const one = (leaf?.accepts ?? []).map(wordsOf).join(' or ')
  if (schema.kind === 'table') return `a level and ${one} for each, as in 'level: value'`
  if (schema.kind !== 'list') return one
  const apart = isProse(schema) ? 'semicolons' : 'commas'
  if (schema.tuple)
    return `${schema.tuple.map((place) => leafOf(place)?.accepts.map(wordsOf).join(' or ')).join(', then ')}${schema.single ? ', or a word' : ''}`
  if (schema.rising) return `two, from low to high, with a comma between them: ${one}`
  return `${one}; several with ${apart} between them`
}

function wordsOf(type: LeafType): string {
  switch (type.type) {
    case 'quantity':
      return dimensionInUnits(type.dimension)
    case 'integer':
      return 'a whole number'
    case 'number':
      return 'a number'
    case 'text':
      return type.form === 'id' ? 'a name: lower-case words joined by hyphens' : 'a few words'
    case 'date':
      return 'a date: year-month-day'
    case 'boolean':
      return 'true or false'
    case 'choice':
      return 'one of the words'
  }
}

function limitsOf(type: LeafType): string {
  if (type.type !== 'quantity' && type.type !== 'integer' && type.type !== 'number') return ''
  const { min, max, above, below } = type
  return [
    min === undefined ? '' : `at least ${min}`,
    above === undefined ? '' : `above ${above}`,
    max === undefined ? '' : `at most ${max}`,
    below === undefined ? '' : `below ${below}`,
  ]
    .filter((part) => part !== '')
    .join(', ')
}
