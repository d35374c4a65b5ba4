// A new entry of evidence, or of another list, from cells that come from elsewhere, as from a table: each read as its key needs it, written as the samples are, and the
// whole refused in a sentence where a document could not hold it as evidence. What no cell says is not written.
import { parseQuantity } from '../quantities/parse.ts'
import { findUnit } from '../quantities/units.ts'
import { childOf, type LeafSchema, type LeafType, type SchemaNode } from '../schema/schema.ts'
import type { StructureIssue } from '../schema/structure.ts'
import { nodeAt } from '../syntax/tree.ts'
import { LiveDocument } from './document.ts'
import { plainOrQuoted } from './edit.ts'
import { cellSchema, type Entry, type EvidenceKind, entriesOf, type Part, plainNumber } from './evidence.ts'
import { isDate, isLevelName } from './read.ts'

/** A cell as it is given: its text without blanks around it, and never empty. */
export interface Given {
  readonly key: string
  readonly part: Part
  /** As the table spells it. */
  readonly unit: string | undefined
  readonly text: string
}

export interface NewEntry {
  readonly entry: Entry
  /** YAML on one line. */
  readonly flow: string
  /** YAML of a section, a key a line. */
  readonly lines: readonly string[]
}

export type Made = { readonly ok: true; readonly made: NewEntry } | { readonly ok: false; readonly reason: string }

/** A value's YAML, or what stands below a key. */
type Branch = string | Map<string, Branch>

/** A number and its unit, as somebody types them: '42 °C' is '42' and '°C'; a word stays whole. */
export function apart(text: string): readonly [text: string, unit: string | undefined] {
  const [, number, unit] = /^([-+−]?[\d.,]+(?: \d+\/\d+)?)\s*([^\d\s.,].*)$/.exec(text) ?? []
  return number === undefined ? [text, undefined] : [number.replace(/^\+/, ''), unit]
}

/** `partly` for one that is still being asked for: what it lacks is no fault yet. */
export function newEntry(kind: EvidenceKind, given: readonly Given[], partly = false): Made {
  const values = new Map<string, Given>()
  const spreads = new Map<string, Given>()
  for (const cell of given) {
    const into = cell.part === 'value' ? values : spreads
    if (into.has(cell.key)) return refused(`two columns give ${cell.key}${cell.part === 'spread' ? ' ±' : ''}`)
    into.set(cell.key, cell)
  }
  const root = new Map<string, Branch>()
  for (const [key, { unit, text }] of values) {
    const spread = spreads.get(key)
    spreads.delete(key)
    if (spread && spread.unit !== unit) return refused(`${key} and its ± are given in different units`)
    const schema = cellSchema(kind, key)
    if (!schema) return refused(`${kind.name} has no ${key}`)
    const written = schema.kind === 'leaf' ? leafText(schema, text, unit, spread?.text) : freeText(text)
    if (typeof written !== 'string') return refused(`${key}: ${written.reason}`)
    if (!put(root, key.split('.'), written)) return refused(`${key} is given twice`)
  }
  for (const key of spreads.keys()) return refused(`an uncertainty is given, and no ${key}`)
  const gap = gapIn(root, kind.entry, '')
  if (gap !== undefined) return refused(`${gap} is missing: what comes after it would move up`)
  const pairs = [...ordered(root, kind.entry)].map(([key, branch, schema]) => `${key}: ${flowOf(branch, schema)}`)
  return verified(kind, `{ ${pairs.join(', ')} }`, pairs, partly)
}

const refused = (reason: string): Made => ({ ok: false, reason })

/** The entry as a document of its own would hold it: only what reads back whole is one. */
function verified(kind: EvidenceKind, flow: string, lines: readonly string[], partly: boolean): Made {
  const head = kind.path.map((key, depth) => `${'  '.repeat(depth)}${key}:`).join('\n')
  const document = new LiveDocument('', kind.document ?? 'media', `${head}${kind.form === 'list' ? ` [${flow}]` : ` ${flow}`}\n`)
  if (document.tree.problems.length > 0) return refused('it holds signs that no document can hold')
  const inside = kind.form === 'list' ? [...kind.path, 0] : kind.path
  const node = nodeAt(document.tree.root, inside)
  for (const { issue, node: at } of document.structure()) {
    // What is wrong with the document is that it holds nothing else. Items of lists are checked each on its own, and their paths begin there.
    if (
      node === undefined ||
      at.start < node.start ||
      (partly && (issue.issue === 'missing-key' || issue.issue === 'wrong-count'))
    )
      continue
    const whole = inside.every((step, i) => issue.path[i] === step)
    return refused(
      issueText(
        issue,
        issue.path
          .slice(whole ? inside.length : 0)
          .map(shownStep)
          .join('.'),
      ),
    )
  }
  for (const { place, problem } of document.read().bad) {
    if (problem.code === 'implausible') continue
    const key = place.key?.text ?? kind.name
    const beyond = 'bound' in problem ? `it is ${BOUNDS[problem.side]} ${problem.bound}` : problem.message
    return refused(`${key}: ${beyond}`)
  }
  const [entry] = entriesOf(document, kind)
  return entry && entry.cells.length > 0 ? { ok: true, made: { entry, flow, lines } } : refused('nothing is given')
}

const shownStep = (step: string | number): string => (typeof step === 'number' ? String(step + 1) : step)

const BOUNDS = { 'at-least': 'at least', 'at-most': 'at most', above: 'always above', below: 'always below' } as const

function issueText(issue: StructureIssue, key: string): string {
  switch (issue.issue) {
    case 'missing-key':
      return `${key === '' ? '' : `${key}.`}${issue.key} is missing`
    case 'unknown-value':
      return `${key}: '${issue.value}' is none of ${issue.allowed.join(', ')}`
    case 'out-of-range':
      return `${key}: it is ${BOUNDS[issue.bound]} ${issue.limit}`
    case 'bad-date':
      return `${key}: '${issue.value}' is no day of the calendar written as 2026-03-14`
    case 'bad-id':
      return `${key}: '${issue.value}' is no name: lower-case words joined by hyphens are`
    case 'bad-key':
      return `${key === '' ? '' : `${key}.`}${issue.key} is no name: ${issue.expected} is`
    case 'wrong-kind':
      return `${key}: ${issue.found} stands where ${issue.expected} is due`
    case 'wrong-count':
      return `${key}: there are ${issue.found} values, and too few or too many`
    case 'unknown-key':
      return `${key === '' ? '' : `${key}.`}${issue.key} is not known`
  }
}

/** Puts a value at the end of a path. False where something stands there, or on the way. */
function put(root: Map<string, Branch>, path: readonly string[], text: string): boolean {
  let at = root
  for (const step of path.slice(0, -1)) {
    const next = at.get(step) ?? new Map<string, Branch>()
    if (typeof next === 'string') return false
    at.set(step, next)
    at = next
  }
  const last = path.at(-1)!
  if (at.has(last)) return false
  at.set(last, text)
  return true
}

/** The first place of a list that is not given though a later one is. */
function gapIn(branch: Branch, schema: SchemaNode | undefined, key: string): string | undefined {
  if (typeof branch === 'string' || schema === undefined) return undefined
  if (schema.kind === 'list')
    for (let place = 1; place <= branch.size; place++) if (!branch.has(String(place))) return `${key}.${place}`
  for (const [step, inner] of branch) {
    const gap = gapIn(
      inner,
      childOf(schema, schema.kind === 'list' ? Number(step) - 1 : step),
      key === '' ? step : `${key}.${step}`,
    )
    if (gap !== undefined) return gap
  }
  return undefined
}

/** In the order of the schema, then as given. */
function ordered(
  branch: Map<string, Branch>,
  schema: SchemaNode | undefined,
): readonly [string, Branch, SchemaNode | undefined][] {
  const order = schema?.kind === 'map' ? [...schema.properties.keys()] : []
  const place = (key: string): number => (order.includes(key) ? order.indexOf(key) : order.length)
  const rank = schema?.kind === 'list' ? Number : place
  return [...branch]
    .map(([key, inner], given) => ({ key, inner, given }))
    .sort((a, b) => rank(a.key) - rank(b.key) || a.given - b.given)
    .map(({ key, inner }) => [key, inner, schema && childOf(schema, schema.kind === 'list' ? Number(key) - 1 : key)])
}

function flowOf(branch: Branch, schema: SchemaNode | undefined): string {
  if (typeof branch === 'string') return branch
  const inner = ordered(branch, schema)
  if (schema?.kind === 'list') return `[${inner.map(([, at, below]) => flowOf(at, below)).join(', ')}]`
  return `{ ${inner.map(([key, at, below]) => `${plainOrQuoted(key)}: ${flowOf(at, below)}`).join(', ')} }`
}

type Text = string | { readonly reason: string }

function leafText(schema: LeafSchema, text: string, unit: string | undefined, spread: string | undefined): Text {
  if (unit !== undefined) return quantityText(schema, text, unit, spread)
  if (spread !== undefined) return { reason: 'an uncertainty needs a unit' }
  for (const type of schema.accepts) {
    const written = plainText(type, text)
    if (written !== undefined) return written
  }
  return {
    reason: `'${text}' is not what stands there${schema.examples[0] === undefined ? '' : `, as ${schema.examples[0]} would be`}`,
  }
}

function quantityText(schema: LeafSchema, text: string, spelled: string, spread: string | undefined): Text {
  for (const type of schema.accepts) {
    const unit = type.type === 'quantity' ? findUnit(spelled, type.dimension) : undefined
    if (type.type !== 'quantity' || unit === undefined) continue
    // Where a value may be below zero as well, the documents say its sign.
    const signed = type.dimension === 'relative' && type.min?.startsWith('-') && /^[\d.]*[1-9]/.test(text)
    const whole = `${signed ? '+' : ''}${text}${spread === undefined ? '' : ` ±${spread}`} ${unit.id}`
    if (/[^\d\s.,eExX×+\-−±/]/.test(text)) return { reason: `'${text}' is no number alone; its unit stands in the header` }
    const read = parseQuantity(whole, type.dimension)
    return read.ok ? whole : { reason: read.problem.message }
  }
  return { reason: `it is not given in ${spelled}` }
}

/** A value without a unit as YAML; undefined where it is not of the type. */
function plainText(type: LeafType, text: string): string | undefined {
  switch (type.type) {
    case 'quantity':
      return undefined
    case 'integer':
    case 'number':
      return /^[-+−]?\d+(?:\.\d+)?$/.test(text) ? plainNumber(text) : undefined
    case 'boolean':
      return /^(?:true|false)$/i.test(text) ? text.toLowerCase() : undefined
    case 'choice':
    case 'date':
      // What is none of the words, or no day, is told in full where the entry is read back.
      return type.type === 'date' && isDate(text) ? text : textOf(text)
    case 'text':
      if (type.form === 'level') return isLevelName(text) ? text : undefined
      return type.form === 'label' && /^[1-9]\d{0,14}$/.test(text) ? text : textOf(text)
  }
}

const freeText = (text: string): string => (/^-?(?:0|[1-9]\d*)(?:\.\d+)?$/.test(text) ? text : textOf(text))

/** A text that every YAML reader takes for one: what looks like a number, a day or a time is quoted, and what is no sign to be seen is escaped. */
function textOf(text: string): string {
  if (/[\p{Cc}\p{Cs}\u2028\u2029\ufeff]/u.test(text))
    return JSON.stringify(text).replace(
      /[\u007f-\u009f\u2028\u2029\ufeff]/g,
      (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`,
    )
  return /^[-+.]?\d[\w.,:+-]*$/.test(text) ? `'${text}'` : plainOrQuoted(text)
}
