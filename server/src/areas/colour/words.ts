// Colour in words: one way of writing files, patches and differences for rules and hovers.
import { lastPart } from '../../base/uri.ts'
import type { NamedFile } from '../../model/attached.ts'
import { wordText } from '../../model/cgats.ts'
import type { ColourFile } from '../../model/colour-file.ts'
import { classWords } from '../../model/icc.ts'
import type { ComparedPatch, Patch } from '../../model/patches.ts'
import type { ToleranceKey } from './facts.ts'

/** A colour difference to a hundredth. */
export const differenceText = (value: number): string => value.toFixed(2)

/** A file by its name alone, in quotes: the path stands in the document. */
export const fileText = ({ field }: NamedFile): string => `'${lastPart(String(field.value).replaceAll('\\', '/')).slice(0, 60)}'`

/** "magenta", or "patch 12" where it has no name. */
export const patchText = ({ id, name }: Patch): string => wordText(name ?? `patch ${id}`)

/** "1 patch", "12 patches". */
export const patchesText = (count: number): string => `${count} ${count === 1 ? 'patch' : 'patches'}`

/** "blue 4.10, red 3.21": the worst first, so many at most. */
export const worstText = (patches: readonly ComparedPatch[], most: number): string =>
  patches
    .slice(0, most)
    .map(({ reference, difference }) => `${patchText(reference)} ${differenceText(difference)}`)
    .join(', ')

/** What a number is called that a tolerance is held against. */
export const SPREAD_WORDS: Readonly<Record<ToleranceKey, string>> = {
  max: 'maximum',
  percentile: '95th percentile',
  mean: 'mean',
}

/** What a file is, after "it is". */
export function kindText(file: ColourFile): string {
  if (file.format === 'icc') return `an ICC profile (${classWords(file.icc.deviceClass)})`
  return file.format === 'cgats' ? 'a measurement file (CGATS text)' : file.looks
}
