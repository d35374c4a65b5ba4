// Whether a finding is already told where the profile takes its settings from.
import type { Place } from '../../model/field.ts'
import type { Setup } from '../../model/setup.ts'

/**
 * Whether everything a finding rests on is taken from a base: then the base shows it, once, and no profile built on it repeats it. Places that are
 * undefined count as taken.
 */
export const toldByBase = ({ file, bases }: Setup, ...fields: readonly ({ readonly place: Place } | undefined)[]): boolean =>
  bases.length > 0 && fields.every((field) => field === undefined || field.place.file !== file)
