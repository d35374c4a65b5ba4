// What follows from this profile's numbers, setting by setting: the part of a hover that no general editor can write. One file an area.

import type { RollDocument } from '../../model/document.ts'
import type { Setup } from '../../model/setup.ts'
import { climateNumbers } from './climate.ts'
import { colourNumbers } from './colour.ts'
import { dryingNumbers } from './drying.ts'
import { feedNumbers } from './feed.ts'
import { heatNumbers } from './heat.ts'
import { landingNumbers } from './landing.ts'
import { observedNumbers } from './observed.ts'
import { suctionNumbers } from './suction.ts'
import { throughputNumbers } from './throughput.ts'
import { webNumbers } from './web.ts'

export interface NumbersSection {
  /** Dotted paths of the settings it speaks of, with `*` for items; a path covers everything below it. */
  readonly paths: readonly string[]
  /** Markdown, or undefined where the setup gives too little to say anything. */
  render(setup: Setup, path: readonly (string | number)[], document: RollDocument): string | undefined
}

const SECTIONS: readonly NumbersSection[] = [
  climateNumbers,
  feedNumbers,
  dryingNumbers,
  throughputNumbers,
  landingNumbers,
  suctionNumbers,
  heatNumbers,
  webNumbers,
  colourNumbers,
  observedNumbers,
]

/** The numbers that belong to a setting of this setup. */
export function numbersFor(document: RollDocument, setup: Setup, path: readonly (string | number)[]): string | undefined {
  const dotted = path.map((step) => (typeof step === 'number' ? '*' : step)).join('.')
  for (const section of SECTIONS) {
    if (!section.paths.some((p) => dotted === p || dotted.startsWith(`${p}.`))) continue
    const markdown = section.render(setup, path, document)
    if (markdown) return markdown
  }
  return undefined
}
