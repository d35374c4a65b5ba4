// A number in the units the shop reads, for hovers and findings.
import { formatSi } from '../quantities/format.ts'
import type { Dimension } from '../quantities/units.ts'
import type { Setup } from './setup.ts'

/** An SI value in the shop's units, three significant digits unless told. */
export const shown = ({ shop }: Pick<Setup, 'shop'>, si: number, dimension: Dimension, digits = 3): string =>
  formatSi(si, dimension, { system: shop.units, digits })

/** A plain number with so many significant digits, without an exponent or trailing zeros. */
export const plainNumber = (value: number, digits = 2): string => {
  const rounded = Number(value.toPrecision(digits))
  return Math.abs(rounded) >= 1e15 || (rounded !== 0 && Math.abs(rounded) < 1e-6)
    ? value.toExponential(digits - 1)
    : String(rounded)
}

/** A share as whole per cent: "12 %". */
export const percentText = (share: number): string => `${Math.round(share * 100)} %`
