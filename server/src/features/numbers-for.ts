// Which area's numbers stand in a setting's hover.

import { HOVERS } from '../areas/generated/hovers.ts'
import type { RollDocument } from '../model/document.ts'
import type { Setup } from '../model/setup.ts'
import type { Numbers, NumbersSection } from './numbers.ts'

/** The numbers that belong to a setting of this setup: of the section that names it most closely and has something to say, the first area first. */
export function numbersFor(document: RollDocument, setup: Setup, path: readonly (string | number)[]): Numbers | undefined {
  const dotted = path.map((step) => (typeof step === 'number' ? '*' : step)).join('.')
  const speaking = HOVERS.map((section) => ({ section, length: closeness(section, dotted) }))
    .filter(({ length }) => length > 0)
    .sort((a, b) => b.length - a.length)
  for (const { section } of speaking) {
    const numbers = section.render(setup, path, document)
    if (numbers && (numbers.verdict || numbers.told?.some((text) => text))) return numbers
  }
  return undefined
}

/** The length of the longest path of a section that covers this one; zero where none does. */
const closeness = ({ paths }: NumbersSection, dotted: string): number =>
  Math.max(0, ...paths.filter((p) => dotted === p || dotted.startsWith(`${p}.`)).map((p) => p.length))
