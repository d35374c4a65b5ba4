// The colour files that a profile names in its own text, for the rules that judge them: what a base names is told at the base.
import { everyFile, type NamedFile } from '../../model/attached.ts'
import type { ColourFile } from '../../model/colour-file.ts'
import type { Setup } from '../../model/setup.ts'
import { cgatsOf } from './facts.ts'

export const ownFiles = (setup: Setup): readonly NamedFile[] =>
  everyFile(setup.colourFiles).filter((named) => isOwn(setup, named))

export const isOwn = ({ file }: Setup, { field }: NamedFile): boolean => field.place.file === file

/** What a file must be where it is named. */
export const wantedFormat = ({ colourFiles }: Setup, named: NamedFile): 'icc' | 'cgats' =>
  named === colourFiles.icc ? 'icc' : 'cgats'

export const readOf = ({ attached }: NamedFile): ColourFile | undefined =>
  attached?.state === 'read' ? attached.file : undefined

/** The measurement files of a profile's own text that were read as such. */
export const ownMeasurements = (setup: Setup): readonly NamedFile[] =>
  ownFiles(setup).filter((named) => wantedFormat(setup, named) === 'cgats' && cgatsOf(named) !== undefined)
