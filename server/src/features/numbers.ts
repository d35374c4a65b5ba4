// What follows from this profile's numbers, setting by setting: the part of a hover that no general editor can write. One file an area: its hover.ts.

import type { RollDocument } from '../model/document.ts'
import type { Setup } from '../model/setup.ts'

/** What the numbers tell of a setting, in Markdown. */
export interface Numbers {
  /** One sentence, which a hover sets in bold: what is to be done, or how it stands. */
  readonly verdict?: string | undefined
  /** What else there is, what matters most first: tables, and paragraphs that a hover leaves out from the end where it would be too long. */
  readonly told?: readonly (string | undefined)[]
  /** The one caution that belongs to these numbers: it stands wherever they do. */
  readonly caution?: string | undefined
  /** The one that stands instead where a hover has no room for all that is told; the same, where none is given. */
  readonly briefCaution?: string | undefined
}

export interface NumbersSection {
  /** Dotted paths of the settings it speaks of, with `*` for items; a path covers everything below it. */
  readonly paths: readonly string[]
  /** Undefined where the setup gives too little to say anything. */
  render(setup: Setup, path: readonly (string | number)[], document: RollDocument): Numbers | undefined
}

/** A text as its first sentence, which is the verdict, and the rest. */
export function withVerdict(text: string | undefined, ...more: readonly (string | undefined)[]): Numbers | undefined {
  if (text === undefined) return more.some((one) => one) ? { told: more } : undefined
  const [verdict, ...rest] = sentences(text)
  return { verdict, told: [rest.join(' '), ...more] }
}

/** A paragraph in its sentences: each ends in a full stop before a blank and something that begins one. */
export const sentences = (text: string): readonly string[] => text.split(/(?<=[.?!])\s+(?=[A-Z0-9+`*(])/)
