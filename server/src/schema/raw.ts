// The plain data that is generated from schemas/*.json: every $ref resolved, every alternative merged, nothing left to work out at start.

import type { Dimension } from '../quantities/units.ts'

export type DocumentKind = 'shop' | 'stock' | 'printer' | 'media'

export const DOCUMENT_KINDS: readonly DocumentKind[] = ['shop', 'stock', 'printer', 'media']

/** What a text names, so that it can be followed, completed and renamed. A `key` is a dotted key of a profile. */
export type Reference = 'stock' | 'printer' | 'media' | 'instrument' | 'mode' | 'channel' | 'lot' | 'state' | 'key' | 'rule'

export interface QuantityType {
  readonly type: 'quantity'
  readonly dimension: Dimension
  /** Hard limits, as written: beyond them a value is nonsense. `min` and `max` may be reached, `above` and `below` may not. */
  readonly min?: string
  readonly max?: string
  readonly above?: string
  readonly below?: string
  /** Outside these two a value is possible but unlikely. */
  readonly plausible?: readonly [low: string, high: string]
}

export interface NumberType {
  readonly type: 'integer' | 'number'
  readonly min?: number
  readonly max?: number
  readonly above?: number
  readonly below?: number
  readonly plausible?: readonly [low: number, high: number]
}

export interface TextType {
  readonly type: 'text'
  /** An id is a name of lower-case words joined by hyphens; a label may also be a bare whole number; a level's name stands beside its number. */
  readonly form?: 'id' | 'label' | 'level'
  /** What the text refers to. */
  readonly ref?: Reference
  /** Declares the name of the document or of a channel, instead of referring to one. */
  readonly id?: true
  /** A file relative to the document, or a web address. */
  readonly path?: true
}

export interface ChoiceType {
  readonly type: 'choice'
  readonly name?: string
  readonly values: readonly ChoiceValue[]
}

export interface ChoiceValue {
  readonly value: string
  readonly meaning: string
  /** For what was done to a machine: the kinds of evidence that it opens, none where it has to be asked. */
  readonly opens?: readonly string[]
}

export type LeafType =
  | QuantityType
  | NumberType
  | TextType
  | ChoiceType
  | { readonly type: 'date' }
  | { readonly type: 'boolean' }

/** What every node may carry. Defaults and examples are as a person would write them in a document. */
export interface RawFacts {
  readonly description: string
  /** True where a profile never takes the value from its base. */
  readonly own?: true
  readonly default?: string
  readonly examples?: readonly string[]
  /** In what was read back from a machine: the dotted key of the setting it has to agree with. */
  readonly readsBack?: string
}

export interface RawMap extends RawFacts {
  readonly kind: 'map'
  readonly name: string
  readonly properties: readonly (readonly [key: string, node: RawNode])[]
  readonly required?: readonly string[]
  /** Keys that are due only where `unless` is not given. */
  readonly requiredUnless?: { readonly unless: string; readonly keys: readonly string[] }
  readonly nameKey?: string
}

export interface RawTable extends RawFacts {
  readonly kind: 'table'
  readonly keyType: 'id' | 'integer'
  readonly keyRef?: Reference
  readonly values: RawNode
}

export interface RawList extends RawFacts {
  readonly kind: 'list'
  readonly items: RawNode
  readonly tuple?: readonly RawNode[]
  readonly minItems?: number
  readonly maxItems?: number
  /** A pair from low to high. */
  readonly rising?: true
  /** A single value is accepted in place of the list. */
  readonly single?: RawLeaf
}

export interface RawLeaf extends RawFacts {
  readonly kind: 'leaf'
  readonly accepts: readonly LeafType[]
}

export interface RawAny extends RawFacts {
  readonly kind: 'any'
}

export type RawNode = RawMap | RawTable | RawList | RawLeaf | RawAny
