// A review as JSON for other programs, in SI units; json-schema.ts says what stands in it.
import type { Range } from '../calc/range.ts'
import { siSymbol } from '../quantities/si-symbols.ts'
import type { ChangeSet, Consequence, Reckoning } from './change-set.ts'

/** Another number where a program that reads the format could fail; keys that are added leave it. */
export const FORMAT = 1

/** `version` is Rollbook's. Null where a quantity is not known. */
export function reviewJson(set: ChangeSet, version: string): object {
  const { before, after, date, totals, documents, profiles, findings, keyIn, notCompared } = set
  return {
    version,
    format: FORMAT,
    before,
    after,
    date,
    totals,
    documents,
    profiles: profiles.map(({ consequences, ...profile }) => ({ ...profile, consequences: consequences.map(consequenceJson) })),
    findings,
    keyIn,
    notCompared,
  }
}

const consequenceJson = ({ before, after, ...one }: Consequence): object => ({
  ...one,
  before: before ? reckoningJson(before) : null,
  after: after ? reckoningJson(after) : null,
  difference: one.difference ?? null,
})

const reckoningJson = ({ value, inputs, ...one }: Reckoning): object => ({
  ...one,
  value: plain(value),
  inputs: inputs.map(({ name, symbol = name, value: given, dimension, origin, source }) => ({
    name,
    symbol,
    value: plain(given),
    unit: siSymbol(dimension),
    origin,
    ...(source !== undefined && { source }),
  })),
})

const plain = (value: number | Range | undefined): number | Range | null => value ?? null
