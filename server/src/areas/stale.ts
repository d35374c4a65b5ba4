// Which of an area's evidence proves nothing of today: a person left it out, it is older than the shop trusts, or what it was made under is no more.
import type { F } from '../model/field.ts'
import type { Setup } from '../model/setup.ts'

/** The days of such evidence of the profile itself, where they stand; one without a day is not told. */
export type AreaStale = (setup: Setup) => readonly (F<string> | undefined)[]
