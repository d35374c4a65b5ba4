// Landing shifts in words, the same for hovers and findings.
import type { Range } from '../../calc/range.ts'
import type { Setup } from '../../model/setup.ts'
import { plainNumber, shown } from '../../model/shown.ts'
import type { LandingFacts } from './facts.ts'

/** " (4 pixels)", or nothing where the resolution is not known. */
export function pixelsText({ pixel }: Pick<LandingFacts, 'pixel'>, si: number): string {
  if (pixel === undefined || si === 0) return ''
  const count = plainNumber(Math.abs(si) / pixel)
  return ` (${count} pixel${count === '1' ? '' : 's'})`
}

/** "143 µm (4 pixels) further apart", or "closer" where they would cross. */
export function shiftText(setup: Setup, facts: Pick<LandingFacts, 'pixel'>, shift: Range): string {
  const size = Math.abs(shift.typical)
  return `${shown(setup, size, 'length')}${pixelsText(facts, size)} ${shift.typical < 0 ? 'the other way' : 'further apart'}`
}
