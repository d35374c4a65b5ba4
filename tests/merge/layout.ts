// The layouts that are compared: a profile as text in one of them, and that text read again, with what a check of the document would find in it.
import { isMap, parseDocument } from 'yaml'
import {
  CHECK_KEYS,
  type Check,
  type Fields,
  isToolName,
  NEVER_LEFT_OUT,
  nameOf,
  type Profile,
  reading,
  rootsOf,
  STATE_KEYS,
} from './profile.ts'

export interface Layout {
  /** One flow line each; flow over two or three lines; a key a line; flow lines under the name of their state or under their day. */
  readonly checks: 'line' | 'wrapped' | 'block' | 'by state' | 'by day'
  readonly newestCheck: 'last' | 'first'
  readonly states: 'line' | 'wrapped' | 'block'
  readonly newState: 'last' | 'first' | 'by name'
}

/** The layout of the format, which every edit of ours keeps: what was measured for the others stands in DEVELOPERS.md. */
export const CHOSEN: Layout = { checks: 'line', newestCheck: 'last', states: 'line', newState: 'by name' }

/** Columns of the text that are seen at 1280 px with the side bar open. */
export const SEEN = 88

/** Where a check stands that has no state, where checks stand under their state. */
const NO_STATE = 'not-known'

/** What stands in every profile around the evidence: that which both branches leave alone. */
const ABOVE = `profile: banner-510-bay-1
title: Frontlit banner on bay 1
stock: banner-510
printer: bay-1
mode: banner-4-pass
slot: 4
gap: 2.0 mm

feed:
`
const BETWEEN = `
heat: { before: 40 °C, platen: 42 °C, after: 48 °C, fan: true }

drying: { pause: 0 s, run-out: 3 min }

suction: 3

web: { wound: out, tension: 20 N/m, slack-watch: at-intervals, speed: 60 mm/s }
`

export interface Text {
  readonly text: string
  /** The lines that checks and states take, to see how long they are. */
  readonly checkLines: readonly string[]
  readonly stateLines: readonly string[]
}

export function write({ correction, checks, states }: Profile, layout: Layout): Text {
  const checkLines = checkLinesOf(layout.newestCheck === 'last' ? checks : [...checks].reverse(), layout)
  const stateLines = inOrder([...states], layout).flatMap(([name, state]) => stateLinesOf(name, state, layout.states))
  const feed = [`  correction: ${correction}`, ...(checks.length > 0 ? ['  checks:', ...checkLines] : [])]
  const conditions = states.size > 0 ? ['', 'conditions:', ...stateLines] : []
  const text = `${ABOVE}${[...feed, BETWEEN.slice(0, -1), ...conditions].join('\n')}\n`
  return { text, checkLines, stateLines }
}

function inOrder<T>(states: readonly (readonly [string, T])[], { newState }: Layout): readonly (readonly [string, T])[] {
  if (newState === 'last') return states
  return newState === 'first' ? [...states].reverse() : [...states].sort(([a], [b]) => (a < b ? -1 : 1))
}

function checkLinesOf(checks: readonly Check[], { checks: form }: Layout): readonly string[] {
  if (form !== 'by state' && form !== 'by day')
    return checks.flatMap(({ fields, comment }) => [...above(comment, 4), ...itemLines(partsOf(fields), form, 4)])
  const key = form === 'by day' ? 'date' : 'under'
  const groups = new Map<string, Check[]>()
  for (const check of checks) {
    const name = check.fields[key] ?? NO_STATE
    groups.set(name, [...(groups.get(name) ?? []), check])
  }
  return [...groups].flatMap(([name, group]) => [
    `    ${name}:`,
    ...group.flatMap(({ fields, comment }) => [...above(comment, 6), ...itemLines(partsOf(fields, key), 'line', 6)]),
  ])
}

const above = (comment: string | undefined, indent: number): readonly string[] =>
  comment === undefined ? [] : [`${' '.repeat(indent)}# ${comment}`]

const partsOf = (fields: Fields, without?: string): readonly string[] =>
  CHECK_KEYS.filter((key) => fields[key] !== undefined && key !== without).map((key) => `${key}: ${quoted(key, fields[key]!)}`)

const quoted = (key: string, value: string): string => (key === 'skip' || key === 'note' ? JSON.stringify(value) : value)

function itemLines(parts: readonly string[], form: 'line' | 'wrapped' | 'block', indent: number): readonly string[] {
  const dash = `${' '.repeat(indent)}- `
  if (form === 'block') return parts.map((part, i) => (i === 0 ? `${dash}${part}` : `${' '.repeat(indent + 2)}${part}`))
  return form === 'line' ? [`${dash}{ ${parts.join(', ')} }`] : wrapped(`${dash}{ `, parts, indent + 4)
}

function stateLinesOf(name: string, state: Fields, form: Layout['states']): readonly string[] {
  const parts = STATE_KEYS.map((key) => `${key}: ${state[key]}`)
  if (form === 'block') return [`  ${name}:`, ...parts.map((part) => `    ${part}`)]
  return form === 'line' ? [`  ${name}: { ${parts.join(', ')} }`] : wrapped(`  ${name}: { `, parts, 6)
}

/** Flow over as few lines as are all seen, cut behind commas. */
function wrapped(opening: string, parts: readonly string[], indent: number): readonly string[] {
  const lines: string[] = []
  let line = opening
  for (const [i, part] of parts.entries()) {
    const piece = i === parts.length - 1 ? `${part} }` : `${part}, `
    if (line !== opening && line.length + piece.trimEnd().length > SEEN) {
      lines.push(line.trimEnd())
      line = ' '.repeat(indent)
    }
    line += piece
  }
  return [...lines, line]
}

/** What a check of the document finds, by what tells it. The last three are rules: no errors of the format, and two prints can read the same. */
export type Problem =
  | 'not YAML, or a key twice'
  | 'no such key, or one left out'
  | 'under without a state'
  | 'a state that its name does not fit'
  | 'a line twice'
  | 'a reading twice, its remarks or state apart'
  | 'a strip unlike its print'

export interface Read {
  readonly correction: string | undefined
  /** In the order of recording, as far as the text's order says it. */
  readonly checks: readonly { readonly fields: Fields }[]
  readonly roots: readonly number[]
  readonly states: ReadonlyMap<string, Fields>
  readonly problems: ReadonlySet<Problem>
}

export function read(text: string, layout: Layout): Read {
  const problems = new Set<Problem>()
  const document = parseDocument(text, { schema: 'failsafe', uniqueKeys: true })
  const none: Read = { correction: undefined, checks: [], roots: [], states: new Map(), problems }
  if (document.errors.length > 0 || !isMap(document.contents)) {
    problems.add('not YAML, or a key twice')
    return none
  }
  const { feed, conditions } = document.toJS() as { feed?: { correction?: string; checks?: unknown }; conditions?: unknown }
  const states = new Map<string, Fields>(Object.entries(isRecord(conditions) ? conditions : {}))
  const groups = groupsOf(feed?.checks, layout, problems)
  for (const [name, state] of states) {
    if (!isRecord(state) || !hasKeys(state, STATE_KEYS, STATE_KEYS)) problems.add('no such key, or one left out')
    else if (isToolName(name) && nameOf(state) !== name) problems.add('a state that its name does not fit')
  }
  const checks = groups.flat()
  const roots: number[] = []
  for (const group of groups) {
    const start = roots.length
    for (const root of rootsOf(group)) roots.push(start + root)
    for (const [i, { fields }] of group.entries())
      if (fields['same-print'] === 'true' && !isStripOf(fields, group[i - 1]?.fields)) problems.add('a strip unlike its print')
  }
  const seen = new Map<string, Set<string>>()
  for (const { fields } of checks) {
    if (!hasKeys(fields, CHECK_KEYS, NEVER_LEFT_OUT)) problems.add('no such key, or one left out')
    if (fields.under !== undefined && !states.has(fields.under)) problems.add('under without a state')
    const [said, whole] = [reading(fields), JSON.stringify(CHECK_KEYS.map((one) => fields[one]))]
    const before = seen.get(said) ?? new Set()
    if (before.has(whole)) problems.add('a line twice')
    else if (before.size > 0) problems.add('a reading twice, its remarks or state apart')
    seen.set(said, before.add(whole))
  }
  return { correction: feed?.correction, checks, roots, states, problems }
}

/** The lists in which checks stand, each oldest first; one list where they are not grouped. */
function groupsOf(value: unknown, layout: Layout, problems: Set<Problem>): readonly { fields: Fields }[][] {
  const key = layout.checks === 'by state' ? 'under' : layout.checks === 'by day' ? 'date' : undefined
  if (value === undefined) return []
  const lists = key === undefined ? [['', value] as const] : Object.entries(isRecord(value) ? value : { '': value })
  const groups = lists.map(([name, list]) => {
    if (!Array.isArray(list) || !list.every(isRecord)) {
      problems.add('no such key, or one left out')
      return []
    }
    const items = list.map((fields) => ({
      fields: flat(key === undefined || name === NO_STATE ? fields : { [key]: name, ...fields }),
    }))
    return layout.newestCheck === 'last' ? items : items.reverse()
  })
  return layout.newestCheck === 'last' ? groups : groups.reverse()
}

const isRecord = (value: unknown): value is Readonly<Record<string, never>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

/** The room's climate as it is written: the one value that is a group of its own. */
function flat(fields: Readonly<Record<string, unknown>>): Fields {
  const climate = isRecord(fields.climate)
    ? {
        climate: `{ ${Object.entries(fields.climate)
          .map(([key, value]) => `${key}: ${value}`)
          .join(', ')} }`,
      }
    : {}
  return { ...(fields as Fields), ...climate }
}

function hasKeys(value: Fields, known: readonly string[], needed: readonly string[]): boolean {
  const all = Object.entries(value).every(([key, text]) => known.includes(key) && typeof text === 'string')
  return all && needed.every((key) => value[key] !== undefined)
}

/** A strip measured again is of the day, length, correction, lot and state of its print. */
const isStripOf = (strip: Fields, print: Fields | undefined): boolean =>
  print !== undefined && ['date', 'commanded', 'applied', 'lot', 'under'].every((key) => strip[key] === print[key])
