// The pull on the web in words, for rules and hovers alike.

import { valueText } from '../../model/range-words.ts'
import type { UnitSystem } from '../../quantities/display-unit.ts'
import type { Tension } from './tension.ts'

/** "level 2 (15 N/m)", or the pull alone. */
export function tensionText({ value, level }: Pick<Tension, 'value' | 'level'>, units: UnitSystem): string {
  const pull = pullText(value, units)
  return level === undefined ? pull : `level ${level} (${pull})`
}

export const pullText = (value: number, units: UnitSystem): string => valueText(value, 'line-tension', { units })

/** Newton metres in an inch-pound of torque: 4.4482216152605 N over 0.0254 m (NIST SP 811 App. B). */
const INCH_POUND = 4.4482216152605 * 0.0254

/** A torque: no document holds one, so it has no dimension of its own. */
export const torqueText = (torque: number, units: UnitSystem): string =>
  units === 'us' ? `${Number((torque / INCH_POUND).toPrecision(2))} lbf·in` : `${Number(torque.toPrecision(2))} N·m`
