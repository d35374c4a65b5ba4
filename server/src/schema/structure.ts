// Checks the shape of a document on plain values: keys, kinds of value, words, counts, names and dates. Quantities are not read here.
// The generated checks find the faults; this file puts each into the shop's terms and keeps one issue for one mistake.

import { nearest } from '../base/nearest.ts'
import { dimensionInUnits } from '../quantities/units.ts'
import { CHECKS } from './generated/checks.ts'
import { idPattern } from './generated/documents.ts'
import type { RawError } from './generated/validators.js'
import { renamedKey, renamedWord } from './renamed.ts'
import {
  childOf,
  type DocumentKind,
  type LeafType,
  type ListSchema,
  type NumberType,
  type SchemaNode,
  schemaAt,
  schemaOf,
  walk,
} from './schema.ts'

export type StructureIssue = {
  /** Where it is, from the value that was checked: the mapping for a key that is unknown, missing or badly formed, else the value. */
  readonly path: readonly (string | number)[]
} & (
  | {
      readonly issue: 'unknown-key'
      readonly key: string
      /** The known key beside it that was most likely meant: the one that had this name before, or the one that is spelt nearest. */
      readonly nearest?: string
      /** Dotted paths of the same kind of document where exactly this key is known. */
      readonly elsewhere: readonly string[]
    }
  | { readonly issue: 'missing-key'; readonly key: string; readonly why?: string }
  /** `expected` and `found` are ready for a sentence: 'a list', 'a length (mm, m, µm or in)'; 'nothing', 'a whole number'. */
  | { readonly issue: 'wrong-kind'; readonly wanted: SchemaNode['kind']; readonly expected: string; readonly found: string }
  | { readonly issue: 'unknown-value'; readonly value: string; readonly allowed: readonly string[]; readonly nearest?: string }
  | {
      readonly issue: 'out-of-range'
      readonly value: number
      readonly bound: 'at-least' | 'at-most' | 'above' | 'below'
      readonly limit: number
    }
  | { readonly issue: 'bad-key'; readonly key: string; readonly expected: string; readonly suggestion?: string }
  | { readonly issue: 'bad-date'; readonly value: string; readonly suggestion?: string }
  | { readonly issue: 'bad-id'; readonly value: string; readonly suggestion?: string }
  | { readonly issue: 'wrong-count'; readonly least: number; readonly most?: number; readonly found: number }
)

/** More issues than this help nobody; what is beyond them shows when the first are mended. */
const MAX_ISSUES = 500

/**
 * Every structural issue of a document, or of one item of a list of mappings (`at` is one of ITEM_PATHS). Values are plain: null,
 * booleans, numbers, texts, arrays, and objects with or without a prototype. A bare number where a quantity is due is no issue here: the
 * reader of quantities says which unit it lacks.
 */
export function checkStructure(
  kind: DocumentKind,
  value: unknown,
  at: 'root' | (string & {}) = 'root',
): readonly StructureIssue[] {
  const check = CHECKS.get(at === 'root' ? kind : `${kind} ${at}`)
  if (check === undefined || check(value)) return []
  const root = schemaAt(kind, at === 'root' ? [] : at.split('.'))!
  const issues: StructureIssue[] = []
  for (const error of check.errors ?? []) {
    const issue = issueOf(error, kind, root, value)
    if (issue !== undefined) issues.push(issue)
    if (issues.length === MAX_ISSUES) break
  }
  return withoutEchoes(issues, root)
}

/** A name made of what was written: lower-case words joined by hyphens. Undefined when nothing is left of it. */
export function idFrom(text: string): string | undefined {
  const words = text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replaceAll('ß', 'ss')
    .split(/[^a-z0-9]+/)
    .filter((word) => word !== '')
  const id = words.join('-')
  return isId(id) && id.length <= LONGEST_NAME ? id : undefined
}

/** No longer name is made of a text: that is a description, and what to call it is for a person to say. */
const LONGEST_NAME = 80

/** A calendar date made of what was written, where year, month and day are beyond doubt. */
export function dateFrom(text: string): string | undefined {
  const parts =
    /^\s*(\d{4})\s*[-/.\s]\s*(\d{1,2})\s*[-/.\s]\s*(\d{1,2})\.?\s*$/.exec(text) ?? /^(\d{4})(\d{2})(\d{2})$/.exec(text)
  if (parts === null) return undefined
  const [year, month, day] = [Number(parts[1]), Number(parts[2]), Number(parts[3])] as const
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0
  const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1] ?? 0
  if (day < 1 || day > days) return undefined
  return `${parts[1]}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`
}

/** Whether a text is a name as the format wants it. */
export const isId = (text: string): boolean => idPattern.test(text)

function issueOf(error: RawError, kind: DocumentKind, root: SchemaNode, checked: unknown): StructureIssue | undefined {
  const found = follow(error.instancePath, root, checked)
  if (found === undefined) return undefined
  const { path, node, value } = found
  switch (error.keyword) {
    case 'additionalProperties':
      return unknownKey(path, node, String(error.params.additionalProperty), kind)
    case 'required':
      return missingKey(path, node, String(error.params.missingProperty))
    case 'pattern':
      return error.propertyName === undefined ? badText(path, node, String(value)) : badKey(path, node, error.propertyName)
    case 'format':
      return { path, issue: 'bad-date', value: String(value), ...optionalSuggestion(dateFrom(String(value))) }
    case 'enum':
      return unknownValue(path, node, value)
    case 'type':
      return { path, issue: 'wrong-kind', wanted: node.kind, expected: expectedOf(node), found: foundOf(value) }
    case 'minItems':
    case 'maxItems':
      return wrongCount(path, node as ListSchema, (value as readonly unknown[]).length)
    case 'minimum':
    case 'maximum':
    case 'exclusiveMinimum':
    case 'exclusiveMaximum':
      return outOfRange(path, node, value as number, error.keyword)
    default:
      // 'if' and 'propertyNames' only say that something below them failed, which is reported itself.
      return undefined
  }
}

/** Walks from the checked value to where an error is; the steps are escaped as RFC 6901 has it. */
function follow(
  pointer: string,
  root: SchemaNode,
  checked: unknown,
): { path: readonly (string | number)[]; node: SchemaNode; value: unknown } | undefined {
  const path: (string | number)[] = []
  let node: SchemaNode | undefined = root
  let value = checked
  for (const part of pointer.split('/').slice(1)) {
    const key = part.replaceAll('~1', '/').replaceAll('~0', '~')
    const step = Array.isArray(value) ? Number(key) : key
    path.push(step)
    node = node && childOf(node, step)
    value = (value as Readonly<Record<string | number, unknown>>)[step]
  }
  return node === undefined ? undefined : { path, node, value }
}

function unknownKey(path: StructureIssue['path'], node: SchemaNode, key: string, kind: DocumentKind): StructureIssue {
  const known = node.kind === 'map' ? [...node.properties.keys()] : []
  // What a state says is named with its section: `tension` there is `web.tension`, and stands in no other place.
  const whole = known.find((one) => one.endsWith(`.${key}`))
  const meant = renamedKey(key, known) ?? whole ?? nearest(key, known)
  const elsewhere =
    whole === undefined ? [...walk(schemaOf(kind))].flatMap(({ steps, path: at }) => (steps.at(-1) === key ? [at] : [])) : []
  return { path, issue: 'unknown-key', key, ...(meant !== undefined && { nearest: meant }), elsewhere }
}

function missingKey(path: StructureIssue['path'], node: SchemaNode, key: string): StructureIssue {
  const unless = node.kind === 'map' && node.requiredUnless?.keys.includes(key) ? node.requiredUnless.unless : undefined
  return {
    path,
    issue: 'missing-key',
    key,
    ...(unless !== undefined && { why: `without '${unless}' there is nowhere to take it from` }),
  }
}

function badText(path: StructureIssue['path'], node: SchemaNode, value: string): StructureIssue {
  const isName = node.kind === 'leaf' && node.accepts.some((type) => type.type === 'text' && type.form === 'id')
  if (!isName) return { path, issue: 'wrong-kind', wanted: node.kind, expected: expectedOf(node), found: 'an empty text' }
  return { path, issue: 'bad-id', value, ...optionalSuggestion(idFrom(value)) }
}

function badKey(path: StructureIssue['path'], node: SchemaNode, key: string): StructureIssue {
  const integer = node.kind === 'table' && node.keyType === 'integer'
  const digits = /\d+/.exec(key)?.[0]
  const suggestion = integer ? digits && String(Number(digits)) : idFrom(key)
  const expected = integer ? 'a whole number' : 'lower-case words joined by hyphens'
  return { path, issue: 'bad-key', key, expected, ...optionalSuggestion(suggestion) }
}

function unknownValue(path: StructureIssue['path'], node: SchemaNode, value: unknown): StructureIssue {
  if (value === null || typeof value === 'object')
    return { path, issue: 'wrong-kind', wanted: node.kind, expected: expectedOf(node), found: foundOf(value) }
  const allowed = typesOf(node).flatMap((type) => (type.type === 'choice' ? type.values.map((one) => one.value) : []))
  const meant = renamedWord(String(value), allowed) ?? nearest(String(value), allowed)
  return { path, issue: 'unknown-value', value: String(value), allowed, ...(meant !== undefined && { nearest: meant }) }
}

const BOUNDS = {
  minimum: ['at-least', 'min'],
  maximum: ['at-most', 'max'],
  exclusiveMinimum: ['above', 'above'],
  exclusiveMaximum: ['below', 'below'],
} as const

function outOfRange(path: StructureIssue['path'], node: SchemaNode, value: number, keyword: keyof typeof BOUNDS): StructureIssue {
  const [bound, field] = BOUNDS[keyword]
  const numbers = typesOf(node).filter((type): type is NumberType => type.type === 'integer' || type.type === 'number')
  return { path, issue: 'out-of-range', value, bound, limit: numbers.find((type) => type[field] !== undefined)![field]! }
}

function wrongCount(path: StructureIssue['path'], node: ListSchema, found: number): StructureIssue {
  return {
    path,
    issue: 'wrong-count',
    least: node.minItems ?? 0,
    ...(node.maxItems !== undefined && { most: node.maxItems }),
    found,
  }
}

/** A mistyped key is unknown and leaves the right one missing: that is one mistake, and so is all else that is told twice of one place. */
function withoutEchoes(issues: readonly StructureIssue[], root: SchemaNode): readonly StructureIssue[] {
  const meant = new Set<string>()
  for (const one of issues) {
    if (one.issue !== 'unknown-key' || one.nearest === undefined) continue
    meant.add(placeOf(one, one.nearest))
    const { requiredUnless } = root.kind === 'map' && one.path.length === 0 ? root : {}
    if (requiredUnless?.unless === one.nearest) for (const key of requiredUnless.keys) meant.add(placeOf(one, key))
  }
  const seen = new Set<string>()
  return issues.filter((one) => {
    const place = placeOf(one, 'key' in one ? one.key : undefined)
    if (one.issue === 'missing-key' && meant.has(place)) return false
    return !seen.has(place) && seen.add(place) !== undefined
  })
}

const placeOf = (issue: StructureIssue, key: string | undefined): string => JSON.stringify([issue.path, key])

const typesOf = (node: SchemaNode): readonly LeafType[] =>
  node.kind === 'leaf' ? node.accepts : node.kind === 'list' ? (node.single?.accepts ?? []) : []

/** What a node wants, with its article: 'a list', 'a length (mm, m, µm or in) or a whole number'. */
function expectedOf(node: SchemaNode): string {
  switch (node.kind) {
    case 'map':
    case 'table':
      return 'a group of keys'
    case 'list':
      return ['a list', ...typesOf(node).map(wordsFor)].join(' or ')
    case 'leaf':
      return node.accepts.map(wordsFor).join(' or ')
    case 'any':
      return 'anything'
  }
}

function wordsFor(type: LeafType): string {
  switch (type.type) {
    case 'quantity':
      return dimensionInUnits(type.dimension)
    case 'integer':
      return 'a whole number'
    case 'number':
      return 'a number'
    case 'text':
      return type.form === 'id' ? 'a name' : type.form === 'level' ? 'the name of a level' : 'a text'
    case 'date':
      return 'a date such as 2026-03-14'
    case 'boolean':
      return 'true or false'
    case 'choice':
      return `one of ${type.values.map((one) => one.value).join(', ')}`
  }
}

function foundOf(value: unknown): string {
  if (value === null || value === undefined) return 'nothing'
  if (Array.isArray(value)) return 'a list'
  if (typeof value === 'object') return 'a group of keys'
  if (typeof value === 'boolean') return String(value)
  if (typeof value !== 'number') return value === '' ? 'an empty text' : 'a text'
  if (!Number.isFinite(value)) return 'no finite number'
  return Number.isInteger(value) ? 'a whole number' : 'a number that is not whole'
}

const optionalSuggestion = (suggestion: string | undefined): { readonly suggestion?: string } =>
  suggestion === undefined ? {} : { suggestion }
