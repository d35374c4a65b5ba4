// The line tension of a setup in newtons per metre of width: given as such, or as one of the printer's levels.
import type { Place } from '../../model/field.ts'
import type { Setup } from '../../model/setup.ts'

export interface Tension {
  /** N/m. */
  readonly value: number
  readonly place: Place
  /** The printer's level, where the profile gives a level. */
  readonly level: number | undefined
  /** What that level is called: its name, or its number. */
  readonly name: string | undefined
}

export function tensionOf({ profile, printer }: Setup): Tension | undefined {
  const field = profile.web?.tension
  if (!field) return undefined
  if (typeof field.value === 'object') return { value: field.value.si, place: field.place, level: undefined, name: undefined }
  if (typeof field.value === 'string') return undefined
  const level = printer?.web?.['tension-levels']?.entries.get(String(field.value))
  return level && { value: level.value.si, place: field.place, level: field.value, name: field.called ?? String(field.value) }
}
