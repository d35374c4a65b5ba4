// What follows from this profile's numbers, setting by setting: the part of a hover that no general editor can write. One file an area.

import { HOVERS } from '../areas/generated/hovers.ts'
import type { RollDocument } from '../model/document.ts'
import type { Setup } from '../model/setup.ts'

export interface NumbersSection {
  /** Dotted paths of the settings it speaks of, with `*` for items; a path covers everything below it. */
  readonly paths: readonly string[]
  /** Markdown, or undefined where the setup gives too little to say anything. */
  render(setup: Setup, path: readonly (string | number)[], document: RollDocument): string | undefined
}

/** The numbers that belong to a setting of this setup: of the section that names it most closely and has something to say, the first area first. */
export function numbersFor(document: RollDocument, setup: Setup, path: readonly (string | number)[]): string | undefined {
  const dotted = path.map((step) => (typeof step === 'number' ? '*' : step)).join('.')
  const speaking = HOVERS.map((section) => ({ section, length: closeness(section, dotted) }))
    .filter(({ length }) => length > 0)
    .sort((a, b) => b.length - a.length)
  for (const { section } of speaking) {
    const markdown = section.render(setup, path, document)
    if (markdown) return markdown
  }
  return undefined
}

/** The length of the longest path of a section that covers this one; zero where none does. */
const closeness = ({ paths }: NumbersSection, dotted: string): number =>
  Math.max(0, ...paths.filter((p) => dotted === p || dotted.startsWith(`${p}.`)).map((p) => p.length))
