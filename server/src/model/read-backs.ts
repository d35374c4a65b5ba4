// What was read back from the machine, day by day. The list is added to and never written over: what the machine has of a setting is what the newest
// read-back that names it says, and those before it are its history.
import { nodeAt, resolveAlias } from '../syntax/tree.ts'
import type { List } from './field.ts'
import type { ReadBack } from './generated/documents.ts'

/** A key below an entry of `keyed`. */
export type KeyedKey = Exclude<keyof ReadBack, '$'>

/**
 * The read-backs that name a key, not after today: the newest first, and of one day the one that stands later. One without a date that can be read
 * may be the newest, and comes first. A key whose value cannot be read is named all the same: what an older one says of it is no longer what the machine has.
 */
export function readBacksOf(keyed: List<ReadBack> | undefined, key: KeyedKey, today: string): readonly ReadBack[] {
  const day = ({ date }: ReadBack): string => date?.value ?? LAST
  return (keyed?.items ?? [])
    .filter((entry) => (entry.date === undefined || entry.date.value <= today) && names(entry, key))
    .reverse()
    .sort((a, b) => (day(a) > day(b) ? -1 : day(a) < day(b) ? 1 : 0))
}

/** Behind every day. */
const LAST = 'z'

const names = (entry: ReadBack, key: KeyedKey): boolean =>
  entry[key] !== undefined || nodeAt(resolveAlias(entry.$.node), [key]) !== undefined
