// Colour in words: one way of writing files, patches and differences for rules and hovers.
import { escapeMarkdown } from '../../base/markdown.ts'
import { lastPart } from '../../base/uri.ts'
import type { NamedFile } from '../../model/attached.ts'
import { type CgatsFile, isSpectral, wordText } from '../../model/cgats.ts'
import type { ColourFile } from '../../model/colour-file.ts'
import { channelsOf, classWords, type IccProfile, signatureText } from '../../model/icc.ts'
import { type ComparedPatch, type Comparison, type Patch, patchesOf } from '../../model/patches.ts'
import type { Setup } from '../../model/setup.ts'
import { spreadValue, TOLERANCE_KEYS, type ToleranceKey } from './facts.ts'

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

/** "maximum 2.04 (the shop allows 2)". */
export function toleranceSentence({ shop }: Setup, comparison: Comparison, what: ToleranceKey): string {
  const allowed = shop.document?.tolerance?.colour?.[what]?.value
  return `${SPREAD_WORDS[what]} ${differenceText(spreadValue(comparison, what))}${allowed === undefined ? '' : ` (the shop allows ${allowed})`}`
}

/** Mean, 95th percentile and maximum of one measurement, and over how many patches. */
export function spreadText(setup: Setup, comparison: Comparison): string {
  const each = [...TOLERANCE_KEYS].reverse().map((what) => toleranceSentence(setup, comparison, what))
  return `${each.join(', ')}, over ${patchesText(comparison.spread.count)}`
}

/** What an ICC profile says of itself, a paragraph each. */
export function iccLines({
  deviceClass,
  space,
  connection,
  version,
  created,
  description,
  tags,
  problems,
}: IccProfile): readonly string[] {
  const channels = channelsOf(space)
  const count = channels === undefined ? '' : ` (${channels} ${channels === 1 ? 'channel' : 'channels'})`
  const what = classWords(deviceClass)
  return [
    `**${what[0]!.toUpperCase()}${what.slice(1)}** for ${escapeMarkdown(signatureText(space))}${count}, connection space ${escapeMarkdown(signatureText(connection))}, ` +
      `ICC version ${version}, ${created === undefined ? 'no day given' : `made on ${created}`}, ${tags.size} tags.`,
    ...itself(description),
    ...problems.slice(0, MAX_FAULTS).map((problem) => `**Broken:** ${escapeMarkdown(problem)}.`),
  ]
}

/** How many patches a measurement file has, and what it says of itself, a paragraph each. */
export function cgatsLines(cgats: CgatsFile): readonly string[] {
  const { patches, faults, keywords } = patchesOf(cgats)
  const spectral = cgats.tables.reduce((sum, { fields }) => sum + fields.filter(isSpectral).length, 0)
  const created = keywords.get('CREATED')
  return [
    `**${patchesText(patches.length)}** with L\\*, a\\* and b\\*${created === undefined ? '' : `, made on ${escapeMarkdown(created.slice(0, 40))}`}.` +
      (spectral > 0 ? ` ${spectral} spectral columns are kept and not used.` : ''),
    ...itself((keywords.get('DESCRIPTOR') ?? keywords.get('FILE_DESCRIPTOR'))?.slice(0, 200)),
    ...faults.slice(0, MAX_FAULTS).map((fault) => `**Not compared:** ${escapeMarkdown(fault)}.`),
  ]
}

/** Faults of a file told in full. */
const MAX_FAULTS = 5

const itself = (name: string | undefined): readonly string[] =>
  name === undefined ? [] : [`It calls itself "${escapeMarkdown(name)}".`]

/** What a file is, after "it is". */
export function kindText(file: ColourFile): string {
  if (file.format === 'icc') return `an ICC profile (${classWords(file.icc.deviceClass)})`
  return file.format === 'cgats' ? 'a measurement file (CGATS text)' : file.looks
}
