// What a picture is, as plain values: an area says what there is to see, in the units it is read in; how it is drawn is decided in this folder alone.
import type { Span } from '../base/span.ts'

/** Where something stands that a picture shows; a `Place` of the model is one. The spans move with the text. */
export interface At {
  readonly file: string
  readonly node: Span
  readonly key?: Span
}

export interface Picture {
  /** A word for addresses: 'feed'. */
  readonly id: string
  readonly title: string
  /** What to do first, then how sure that is: sentences. */
  readonly said: readonly string[]
  /** Undefined where there is nothing to draw. */
  readonly chart: Chart | undefined
  readonly table: PictureTable
  /** What is to be known beside the table: sentences. */
  readonly notes: readonly string[]
  /** The section of the profile that it shows. */
  readonly at: At | undefined
}

/** The same as the chart, in words: the columns are named, the first cell of a row names it. */
export interface PictureTable {
  readonly header: readonly string[]
  readonly rows: readonly PictureRow[]
}

export interface PictureRow {
  /** Unique in the picture. */
  readonly id: string
  readonly cells: readonly string[]
  readonly at?: At | undefined
}

/** All numbers are in the unit that the axis names; x of a calendar is days from its `today`, x of names their index from 0. */
export interface Chart {
  readonly x:
    | { readonly kind: 'days'; readonly today: string; readonly label: string }
    | { readonly kind: 'number'; readonly label: string }
    | { readonly kind: 'names'; readonly names: readonly string[]; readonly label: string }
  readonly y: { readonly label: string; readonly log?: true; readonly sign?: true }
  /** What lies across the whole chart, from y to y. */
  readonly bands: readonly Band[]
  readonly lines: readonly Line[]
  /** Days and places that something happens at. */
  readonly uprights: readonly Upright[]
  /** Stretches along the upper edge, in order. */
  readonly spans: readonly Stretch[]
  readonly points: readonly Point[]
}

/** How something looks: a colour and a dash or a shape, so that one can be missed. */
export type Look = 'asked' | 'set' | 'tolerance' | 'drift' | 'limit' | 'event' | 'today'

export interface Band {
  readonly low: number
  readonly high: number
  readonly look: Look
  readonly name: string
}

export interface Line {
  readonly points: readonly (readonly [x: number, y: number])[]
  /** Its ends at each point, where it is not known to a line. */
  readonly around?: readonly (readonly [low: number, high: number])[]
  readonly look: Look
  readonly name: string
}

export interface Upright {
  readonly x: number
  readonly look: Look
  /** A letter or a word; what it stands for is a row of the table or a note. */
  readonly mark: string
  readonly name: string
}

export interface Stretch {
  readonly from: number
  readonly to: number
  readonly name: string
}

export type Shape = 'dot' | 'ring' | 'square' | 'diamond' | 'triangle' | 'cross'

export interface Point {
  /** The row of the table that says the same. */
  readonly row: string
  readonly x: number
  readonly y: number
  /** The ends of its interval. */
  readonly low?: number
  readonly high?: number
  /** Where it would lie if nothing had changed since. */
  readonly before?: number | undefined
  readonly shape: Shape
  /** What points of this shape are, for the key. */
  readonly kind: string
  /** All of it in one line: "2026-11-12: +0.24 % ±0.1 %, lot B-4502, counts for 40 %". */
  readonly name: string
  /** Whether the axes need not reach it: it is then drawn at the edge. */
  readonly aside?: true
}
