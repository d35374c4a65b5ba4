// What is known of a profile's colour: its ICC profile, its measurements held against what is aimed at, and the shop's own tolerance.

import { type Outcome, refuse } from '../../base/outcome.ts'
import { recorded } from '../../base/recorder.ts'
import type { MeasuredFile, NamedFile } from '../../model/attached.ts'
import type { CgatsFile } from '../../model/cgats.ts'
import type { F } from '../../model/field.ts'
import { channelsOf, type IccProfile } from '../../model/icc.ts'
import { type Comparison, compareColours, patchesOf } from '../../model/patches.ts'
import type { Setup } from '../../model/setup.ts'

export interface ColourFacts {
  readonly icc: IccProfile | undefined
  /** How many inks an ICC profile drives by itself; undefined for one that leaves them to the printer (RGB, grey), and where there is none. */
  readonly iccInks: number | undefined
  /** How many inks the printer has; undefined where it does not say. */
  readonly inks: number | undefined
  /** The newest measurement, and what is beyond the shop's tolerance in it. */
  readonly newest: NewestColours | undefined
}

export interface NewestColours {
  readonly file: MeasuredFile
  readonly comparison: Outcome<Comparison>
  readonly beyond: readonly Beyond[]
}

export interface Beyond {
  readonly what: ToleranceKey
  readonly found: number
  readonly tolerance: F<number>
}

export type ToleranceKey = 'mean' | 'percentile' | 'max'

/** The shop's tolerances in the order they are told in: the worst patch first, as it is the one to look at. */
export const TOLERANCE_KEYS: readonly ToleranceKey[] = ['max', 'percentile', 'mean']

/** Of a comparison what a tolerance is held against. */
export const spreadValue = ({ spread }: Comparison, what: ToleranceKey): number =>
  what === 'percentile' ? spread.p95 : spread[what]

export const colourOf = recorded('colour', (setup: Setup): ColourFacts => {
  const { icc: named, measured } = setup.colourFiles
  const icc = named?.attached?.state === 'read' && named.attached.file.format === 'icc' ? named.attached.file.icc : undefined
  const file = newestOf(measured)
  const comparison = file && comparisonOf(setup, file)
  const channels = setup.printer?.heads?.channels?.items.length
  const driven = icc && channelsOf(icc.space)
  return {
    icc,
    iccInks: icc && icc.space !== 'RGB ' && icc.space !== 'GRAY' ? driven : undefined,
    inks: channels === 0 ? undefined : channels,
    newest: file && comparison && { file, comparison, beyond: comparison.ok ? beyondOf(setup, comparison.value) : [] },
  }
})

/** Of one day, and of those without a day, the one that stands later. */
const newestOf = (measured: readonly MeasuredFile[]): MeasuredFile | undefined =>
  measured.reduce<MeasuredFile | undefined>((newest, one) => ((one.date ?? '') < (newest?.date ?? '') ? newest : one), undefined)

/** The text of a measurement file, where it was read and is one. */
export const cgatsOf = ({ attached }: NamedFile): CgatsFile | undefined =>
  attached?.state === 'read' && attached.file.format === 'cgats' ? attached.file.cgats : undefined

const compared = new WeakMap<CgatsFile, { readonly aim: CgatsFile; readonly comparison: Outcome<Comparison> }>()

/** A measurement held against the profile's reference. */
export function comparisonOf({ colourFiles: { reference } }: Setup, measured: NamedFile): Outcome<Comparison> {
  const aim = reference && cgatsOf(reference)
  const found = cgatsOf(measured)
  if (!reference) return refuse('colour.reference', 'no file of the colours aimed at is named')
  if (!aim) return refuse('colour.reference', 'the file of the colours aimed at is not read')
  if (!found) return refuse('colour.measured', 'the file of the measured colours is not read')
  const before = compared.get(found)
  if (before?.aim === aim) return before.comparison
  const comparison = compareColours(patchesOf(aim), patchesOf(found))
  compared.set(found, { aim, comparison })
  return comparison
}

function beyondOf({ shop }: Setup, comparison: Comparison): readonly Beyond[] {
  return TOLERANCE_KEYS.flatMap((what) => {
    const tolerance = shop.document?.tolerance?.colour?.[what]
    const found = spreadValue(comparison, what)
    // Held against each other as they are told: nobody is warned of 1.50 above 1.5.
    return tolerance && Math.round(found * 100) / 100 > tolerance.value ? [{ what, found, tolerance }] : []
  })
}
