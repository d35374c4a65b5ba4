// Whether a memory place holds another profile's numbers: somebody keyed one profile in where another belongs, or the machine was loaded from a wrong place.
import { agree, keyedOf } from '../../areas/machine/read-back.ts'
import { retiredOf } from '../../model/retired.ts'
import { settingAt } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'

export interface Holds {
  /** The profiles whose numbers they are; two that are keyed in alike cannot be told apart. */
  readonly profiles: readonly { readonly profile: string; readonly slot: number | undefined }[]
  /** How many settings were read back and compared, and how many of them are not this profile's own. */
  readonly compared: number
  readonly apart: number
  readonly date: string | undefined
}

/** Fewer settings agree by chance: two profiles of one printer share most of them. */
const LEAST_COMPARED = 3
/** One that differs may be a slip of whoever keyed it in. */
const LEAST_APART = 2

/** One without a date may be the newest. */
const UNDATED = 'z'

/** The other profiles of the printer that have every setting as it was read back last, where this one has not. */
export function holdsOf(setup: Setup, others: readonly Setup[]): Holds | undefined {
  const all = keyedOf(setup).filter(({ key, since }) => key !== 'slot' && since === undefined)
  const day = (found: (typeof all)[number]): string => found.date?.value ?? UNDATED
  const date = all.map(day).toSorted().at(-1) ?? ''
  const read = all.filter((found) => day(found) === date)
  const apart = read.filter(({ same }) => same === false).length
  if (apart < LEAST_APART) return undefined
  const profiles = others.flatMap((other) => {
    if (other.file === setup.file || retiredOf(other)) return []
    const compared = read.flatMap(({ key, path, keyed }) => {
      const theirs = settingAt(other.profile, path)
      return theirs ? [agree(other, key, keyed.value, theirs.value)] : []
    })
    const fits = compared.length >= LEAST_COMPARED && compared.length === read.length && compared.every((same) => same)
    const profile = other.own.profile?.value
    return fits && profile !== undefined ? [{ profile, slot: other.own.slot?.value }] : []
  })
  return profiles.length === 0 ? undefined : { profiles, compared: read.length, apart, date: date === UNDATED ? undefined : date }
}

/** "slot 1 holds the numbers of a (slot 2)". */
export function holdsText(slot: number | undefined, { profiles, compared, apart, date }: Holds): string {
  const whose = profiles.map(({ profile, slot: own }) => `${profile}${own === undefined ? '' : ` (slot ${own})`}`).join(' or of ')
  const when = date === undefined ? '' : ` on ${date}`
  return `${slot === undefined ? 'The machine' : `Slot ${slot}`} holds the numbers of ${whose}: all ${compared} settings that were read back${when} are theirs, and ${apart} are not this profile's. Key this profile in again; no number was changed by hand.`
}
