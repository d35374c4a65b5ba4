// The properties of a stock that calculations need, as ranges: given in the stock's document, or typical of its family and said to be so.
import { exactly, type Range } from '../calc/range.ts'
import { type Family, familyOf } from './families.ts'
import type { Place } from './field.ts'
import type { StockDocument } from './generated/documents.ts'

/** Properties a stock's document may give and a family has typical values for. */
export type MaterialKey =
  | 'density'
  | 'modulus'
  | 'yield'
  | 'poisson'
  | 'expansion'
  | 'moisture-expansion'
  | 'heat-capacity'
  | 'conductivity'
  | 'max-web-temperature'
  | 'softens-at'
  | 'friction'
  | 'curl-radius'
  | 'tension-guard'
  | 'grammage'

export interface Property {
  /** SI units. */
  readonly range: Range
  readonly origin: 'given' | 'typical'
  /** The stock's own document, or the family table's source. */
  readonly source: string
  readonly place: Place | undefined
}

export class Material {
  constructor(readonly stock: StockDocument | undefined) {}

  get family(): Family | undefined {
    return this.stock?.family && familyOf(this.stock.family.value)
  }

  /** Total thickness with all layers, m. */
  get thickness(): number | undefined {
    return this.stock?.thickness?.value.si
  }

  property(key: MaterialKey): Property | undefined {
    const given = this.stock?.[key as keyof StockDocument] as
      | { value: number | { si: number; uncertainty?: number }; place: Place }
      | undefined
    if (given && 'value' in given) {
      const { value, place } = given
      const range = typeof value === 'number' ? exactly(value) : withUncertainty(value.si, value.uncertainty)
      return { range, origin: 'given', source: 'the stock', place }
    }
    return this.typical(this.family, key)
  }

  /** Resistance to stretching, N/m of width: the sum of modulus times thickness over the layers, or of the whole. */
  stiffness(): Property | undefined {
    const layers = this.stock?.layers?.items ?? []
    const parts = layers.map((layer) => ({
      thickness: layer.thickness?.value.si,
      modulus: layer.family && this.typical(familyOf(layer.family.value), 'modulus'),
    }))
    if (parts.length > 0 && parts.every((p) => p.thickness !== undefined && p.modulus) && !this.stock?.modulus) {
      const sum = (end: keyof Range): number => parts.reduce((total, p) => total + p.thickness! * p.modulus!.range[end], 0)
      return {
        range: { low: sum('low'), typical: sum('typical'), high: sum('high') },
        origin: 'typical',
        source: parts[0]!.modulus!.source,
        place: undefined,
      }
    }
    const modulus = this.property('modulus')
    const { thickness } = this
    if (!modulus || thickness === undefined) return undefined
    const { low, typical, high } = modulus.range
    return { ...modulus, range: { low: low * thickness, typical: typical * thickness, high: high * thickness } }
  }

  /** Mass per area, kg/m²: given, or density times thickness. */
  grammage(): Property | undefined {
    const given = this.stock?.grammage
    if (given)
      return {
        range: withUncertainty(given.value.si, given.value.uncertainty),
        origin: 'given',
        source: 'the stock',
        place: given.place,
      }
    const density = this.property('density')
    const { thickness } = this
    if (!density || thickness === undefined) return undefined
    const { low, typical, high } = density.range
    return { ...density, range: { low: low * thickness, typical: typical * thickness, high: high * thickness } }
  }

  private typical(family: Family | undefined, key: MaterialKey): Property | undefined {
    const found = family?.property(key)
    return found && { range: found.range, origin: 'typical', source: found.source, place: undefined }
  }
}

const withUncertainty = (si: number, u: number | undefined): Range =>
  u ? { low: si - u, typical: si, high: si + u } : exactly(si)
