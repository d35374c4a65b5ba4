// The evidence of a profile as flat entries: what was measured, picked, seen and read back, found by the schema alone, so that a list that is added
// there is here too. An entry is a row of cells; a cell is a dotted key, the unit it is written in, and a number or a text.
import type { Quantity } from '../quantities/quantity.ts'
import { childOf, type DocumentKind, type MapSchema, type SchemaNode, schemaOf } from '../schema/schema.ts'
import { resolveAlias } from '../syntax/tree.ts'
import type { RollDocument } from './document.ts'
import type { F, List, Place, Section, Table } from './field.ts'

/** A place for evidence in a profile: a list of entries, or a section that is one entry. */
export interface EvidenceKind {
  /** 'feed.checks' */
  readonly name: string
  readonly path: readonly string[]
  readonly form: 'list' | 'section'
  readonly entry: MapSchema
  /** Whose it is where it is no profile's: the events of a printer. */
  readonly document?: DocumentKind
}

/** What a cell holds of its value: the value itself, or its uncertainty. */
export type Part = 'value' | 'spread'

export interface Cell {
  /** From the entry down, lists counted from 1: 'climate.temperature', 'picks.2'. */
  readonly key: string
  readonly part: Part
  /** The unit it is written in; undefined for what has none. */
  readonly unit: string | undefined
  /** A number in plain digits, with a point and a minus sign, or a text. */
  readonly text: string
  readonly isNumber: boolean
  /** What it means, whatever it is written in: equal for equal values. */
  readonly meaning: string
  /** Where its value stands. */
  readonly place: Place
}

export interface Entry {
  readonly kind: EvidenceKind
  readonly cells: readonly Cell[]
}

const DATE = 'date'

/** In the order of the schema. Evidence is what has a day of its own. */
export const EVIDENCE: readonly EvidenceKind[] = kindsBelow(schemaOf('media'), [])

function kindsBelow(schema: MapSchema, path: readonly string[]): readonly EvidenceKind[] {
  return [...schema.properties].flatMap(([key, node]): readonly EvidenceKind[] => {
    const at = [...path, key]
    const name = at.join('.')
    if (node.kind === 'list') {
      const { items } = node
      return items.kind === 'map' && items.properties.has(DATE) ? [{ name, path: at, form: 'list', entry: items }] : []
    }
    if (node.kind !== 'map') return []
    return node.properties.has(DATE) ? [{ name, path: at, form: 'section', entry: node }] : kindsBelow(node, at)
  })
}

export const evidenceKind = (name: string): EvidenceKind | undefined => EVIDENCE.find((kind) => kind.name === name)

/** What a profile itself holds of evidence, in its order. What cannot be read is not in it. */
export function evidenceIn(document: RollDocument<'media'>): readonly Entry[] {
  return EVIDENCE.flatMap((kind) => entriesOf(document, kind))
}

export function entriesOf({ content }: RollDocument, kind: EvidenceKind): readonly Entry[] {
  const held = valueAt(content, kind.path)
  if (held === undefined) return []
  const values = kind.form === 'list' ? ((held as List<unknown>).items ?? []) : [held]
  return values.map((value) => ({ kind, cells: cellsOf(value, kind.entry, '') }))
}

/** The settings of a profile as cells: all that is no evidence and no note. Of a profile joined with its bases, `place` tells whose each is. */
export function settingCells(profile: unknown): readonly Cell[] {
  const apart = new Set(['profile', ...EVIDENCE.map(({ name }) => name)])
  const walk = (value: unknown, schema: MapSchema): readonly Cell[] =>
    [...schema.properties.values()].flatMap((node) => {
      const inner = (value as Readonly<Record<string, unknown>>)[lastKey(node.path)]
      if (inner === undefined || apart.has(node.path)) return []
      return node.kind === 'map' ? walk(inner, node) : cellsOf(inner, node, node.path)
    })
  return profile === undefined ? [] : walk(profile, schemaOf('media'))
}

/** The schema of a cell's value: a leaf, or free below a key that begins with x-. */
export function cellSchema(kind: EvidenceKind, key: string): SchemaNode | undefined {
  const node = key.split('.').reduce<SchemaNode | undefined>((at, step) => at && below(at, step), kind.entry)
  return node?.kind === 'leaf' || node?.kind === 'any' ? node : undefined
}

function below(node: SchemaNode, step: string): SchemaNode | undefined {
  if (node.kind === 'any' || step === '') return undefined
  if (node.kind === 'list') return /^[1-9]\d{0,3}$/.test(step) ? childOf(node, Number(step) - 1) : undefined
  return childOf(node, step)
}

/** The same for entries that mean the same. */
export const meaningOf = (cells: readonly Cell[]): string =>
  cells
    .map(({ key, part, meaning }) => `${key} ${part} ${meaning}`)
    .sort()
    .join('\n')

const lastKey = (path: string): string => path.slice(path.lastIndexOf('.') + 1)

function valueAt(content: unknown, path: readonly string[]): unknown {
  let at: unknown = content
  for (const key of path)
    at =
      (at as Partial<Table<unknown>> | undefined)?.entries?.get(key) ??
      (at as Readonly<Record<string, unknown>> | undefined)?.[key]
  return at
}

function cellsOf(value: unknown, schema: SchemaNode, key: string): readonly Cell[] {
  const inner = (step: string): string => (key === '' ? step : `${key}.${step}`)
  switch (schema.kind) {
    case 'leaf':
      return leafCells(value as F<string | number | boolean | Quantity>, key)
    case 'list':
      return (value as List<unknown>).items.flatMap((item, i) =>
        cellsOf(item, schema.tuple?.[i] ?? schema.items, inner(String(i + 1))),
      )
    case 'table':
      return [...(value as Table<unknown>).entries].flatMap(([name, at]) => cellsOf(at, schema.values, inner(name)))
    case 'map': {
      const given = value as Readonly<Record<string, unknown>> & Section
      const known = [...schema.properties].flatMap(([name, node]) =>
        given[name] === undefined ? [] : cellsOf(given[name], node, inner(name)),
      )
      return [...known, ...freeCells(given.$, inner)]
    }
    case 'any':
      return []
  }
}

function leafCells({ value, place }: F<string | number | boolean | Quantity>, key: string): readonly Cell[] {
  const cell = { key, part: 'value', unit: undefined, place } as const
  if (typeof value === 'number') return [{ ...cell, text: withoutPower(value), isNumber: true, meaning: String(value + 0) }]
  if (typeof value !== 'object')
    return [{ ...cell, text: String(value), isNumber: false, meaning: JSON.stringify(String(value).trim().replace(/\s+/g, ' ')) }]
  const { dimension, si, second, uncertainty, unit, written, writtenUncertainty } = value
  const own = { ...cell, unit: unit.id }
  const meaning = (number: number): string =>
    `${dimension} ${rounded(number)}${second === undefined ? '' : ` ${rounded(second)}`}`
  // Of a resolution both numbers stand in one cell, and are a text.
  const isNumber = dimension !== 'resolution'
  const out: Cell[] = [{ ...own, text: isNumber ? plainNumber(written) : written, isNumber, meaning: meaning(si) }]
  if (uncertainty !== undefined && writtenUncertainty !== undefined)
    out.push({ ...own, part: 'spread', text: plainNumber(writtenUncertainty), isNumber: true, meaning: meaning(uncertainty) })
  return out
}

/** What stands under keys that begin with x- and is one value: it is nobody's but the shop's, and goes along as it is written. */
function freeCells(place: Place, inner: (step: string) => string): readonly Cell[] {
  const node = resolveAlias(place.node)
  if (node?.kind !== 'map') return []
  return node.pairs.flatMap(({ key, value: at }): readonly Cell[] => {
    const value = resolveAlias(at)
    if (!key?.text.startsWith('x-') || value?.kind !== 'scalar' || value.text === '') return []
    const { text } = value
    const isNumber = value.style === 'plain' && PLAIN_NUMBER.test(text)
    return [
      {
        key: inner(key.text),
        part: 'value',
        unit: undefined,
        text,
        isNumber,
        meaning: JSON.stringify(text.trim().replace(/\s+/g, ' ')),
        place: { file: place.file, node: value },
      },
    ]
  })
}

/** Digits as every program reads them. */
export const PLAIN_NUMBER = /^-?(?:0|[1-9]\d*)(?:\.\d+)?$/

/** Twelve digits: what conversions leave behind does not make a value another. */
const rounded = (value: number): string => (Math.abs(value) < 1e-15 ? '0' : String(Number(value.toPrecision(12))))

/** A well-formed number without plus, with a hyphen for its minus, a nought before its point, and the decimals of a fraction. */
export function plainNumber(written: string): string {
  const negative = /^[-−]/.test(written)
  const body = written.replace(/^[-−+]/, '').trim()
  const text = body.includes('/') ? fraction(body) : body.startsWith('.') ? `0${body}` : body.replace(/^0+(?=\d)/, '')
  return negative && /[1-9]/.test(text) ? `-${text}` : text
}

const withoutPower = (value: number): string => {
  const text = String(value)
  return text.includes('e') ? value.toFixed(20).replace(/\.?0+$/, '') : text
}

/** '19 11/16' is 19.6875. */
function fraction(body: string): string {
  const [over = '', under = ''] = body.split('/')
  const parts = over.trim().split(/\s+/)
  const whole = parts.length > 1 ? Number(parts[0]) : 0
  const value = whole + Number(parts.at(-1)) / Number(under)
  return value.toFixed(12).replace(/\.?0+$/, '')
}
