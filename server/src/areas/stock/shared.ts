// What the rules on stocks share: the units of the shop and the material of the document.

import type { Shelf } from '../../model/shelf.ts'
import type { UnitSystem } from '../../quantities/display-unit.ts'

/** The units in which the shop reads. */
export const unitsOf = (shelf: Shelf): UnitSystem => (shelf.shop()?.content?.units?.value === 'us' ? 'us' : 'metric')

/** Families so open or soft that a roll of them is wound looser or tighter than its thickness says. */
export const CLOTH: ReadonlySet<string> = new Set(['textile-woven', 'textile-knit', 'canvas'])
