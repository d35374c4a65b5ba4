// What a profile holds of evidence, as far as merging goes: checks and the states they were made under, by what they say, without any text.
import { createHash } from 'node:crypto'

export type Fields = Readonly<Record<string, string>>

/** One measured pattern. The id says that it is the same measurement in two versions of the file; it is never written. */
export interface Check {
  readonly id: number
  readonly fields: Fields
  /** A line that a person wrote above it. */
  readonly comment?: string
}

/** Checks and states stand in the order in which they were recorded. */
export interface Profile {
  readonly correction: string
  readonly checks: readonly Check[]
  readonly states: ReadonlyMap<string, Fields>
}

/** What a check may say, in the order it is written. The first four are never left out. */
export const CHECK_KEYS = [
  ...['date', 'commanded', 'measured', 'applied'],
  ...['with', 'web', 'climate', 'lot', 'under', 'same-print', 'skip', 'note'],
] as const

export const NEVER_LEFT_OUT = CHECK_KEYS.slice(0, 4)

/** What is no reading: remarks, which are added and changed later. */
const REMARKS: ReadonlySet<string> = new Set(['skip', 'note'])

export const STATE_KEYS = [
  ...['from', 'stock', 'printer', 'mode', 'gap', 'suction', 'web.tension', 'web.speed'],
  ...['heat.before', 'heat.platen', 'heat.after', 'drying.pause', 'drying.run-out'],
] as const

/** What a tool calls a state: `s`, one digit, three signs of [0-9a-z], by what the state says. */
export function nameOf(state: Fields): string {
  const sum = createHash('sha256')
    .update(STATE_KEYS.map((key) => `${key}=${state[key]}`).join('\n'))
    .digest()
    .readUInt32BE(0)
  const signs = Math.floor(sum / 10) % 36 ** 3
  return `s${sum % 10}${signs.toString(36).padStart(3, '0')}`
}

export const isToolName = (name: string): boolean => /^s\d[0-9a-z]{3}$/.test(name)

/**
 * What each check of a list means, as text: two are equal when and only when they say the same measurement, with the same remarks. `roots` says of which
 * print a strip is, by its index in the list; the check itself where it is a print of its own.
 */
export function meanings(
  checks: readonly Pick<Check, 'fields'>[],
  roots: readonly number[],
  states: ReadonlyMap<string, Fields>,
): readonly string[] {
  return checks.map(({ fields }, i) => {
    const root = roots[i]!
    const of = root === i ? '' : reading(checks[root]!.fields)
    const state = fields.under === undefined ? '' : contentOf(states.get(fields.under))
    return [reading(fields), remarksOf(fields), state, of].join(' | ')
  })
}

/** Of each check of a list in the order of recording, the index of the one whose print it is a strip of. */
export function rootsOf(checks: readonly Pick<Check, 'fields'>[]): readonly number[] {
  const roots: number[] = []
  for (const [i, { fields }] of checks.entries()) roots.push(fields['same-print'] === 'true' && i > 0 ? roots[i - 1]! : i)
  return roots
}

/** All of a check but its remarks and the name of its state, which meanings give by content. */
export const reading = (fields: Fields): string => written(fields, (key) => !REMARKS.has(key) && key !== 'under')

const remarksOf = (fields: Fields): string => written(fields, (key) => REMARKS.has(key))

const written = (fields: Fields, wanted: (key: string) => boolean): string =>
  CHECK_KEYS.filter((key) => fields[key] !== undefined && wanted(key))
    .map((key) => `${key}=${fields[key]}`)
    .join(' ')

export const contentOf = (state: Fields | undefined): string =>
  state === undefined ? 'no such state' : STATE_KEYS.map((key) => `${key}=${state[key] ?? '?'}`).join(' ')
