// Colour files in numbers: what an ICC profile is, how many patches a measurement has, and how far it is from the colours aimed at.

import { escapeMarkdown } from '../../base/markdown.ts'
import type { NumbersSection } from '../../features/numbers.ts'
import type { NamedFile } from '../../model/attached.ts'
import { type CgatsFile, isSpectral } from '../../model/cgats.ts'
import { channelsOf, classWords, type IccProfile, signatureText } from '../../model/icc.ts'
import { type Comparison, leftOut, patchesOf } from '../../model/patches.ts'
import type { Setup } from '../../model/setup.ts'
import { cgatsOf, comparisonOf, spreadValue, TOLERANCE_KEYS } from './facts.ts'
import { differenceText, fileText, kindText, patchesText, SPREAD_WORDS, worstText } from './words.ts'

/** How many measurements the list's own hover tells of, the newest ones. */
const MOST_TOLD = 5
const MOST_WORST = 5

export const hover: NumbersSection = {
  paths: ['colour.icc', 'colour.reference', 'colour.measured'],
  render(setup, [, key, index]) {
    const { icc, reference, measured } = setup.colourFiles
    if (key === 'icc') return icc && about(icc, () => undefined)
    if (key === 'reference') return reference && about(reference, () => undefined)
    if (typeof index !== 'number')
      return measured.length === 0
        ? undefined
        : measured
            .slice(-MOST_TOLD)
            .map((file) => line(setup, file))
            .join('\n')
    // Only the newest of a very long list are looked for, and they are counted from its end.
    const written = setup.profile.colour?.measured?.items.length ?? 0
    const file = measured[index - (written - measured.length)]
    return file && about(file, () => compared(setup, file))
  },
}

function about({ attached }: NamedFile, more: () => string | undefined): string | undefined {
  if (!attached) return undefined
  if (attached.state === 'unread') return `**Not read:** ${escapeMarkdown(attached.reason)}.`
  const { file } = attached
  const told =
    file.format === 'icc' ? iccLines(file.icc) : file.format === 'cgats' ? cgatsLines(file.cgats) : [`It is ${kindText(file)}.`]
  return [...told, more()].filter((text) => text !== undefined).join('\n\n')
}

function iccLines(icc: IccProfile): readonly string[] {
  const { deviceClass, space, connection, version, created, description, tags, problems } = icc
  const channels = channelsOf(space)
  const count = channels === undefined ? '' : ` (${channels} ${channels === 1 ? 'channel' : 'channels'})`
  const what = classWords(deviceClass)
  const line =
    `**${what[0]!.toUpperCase()}${what.slice(1)}** for ${escapeMarkdown(signatureText(space))}${count}, connection space ${escapeMarkdown(signatureText(connection))}, ` +
    `ICC version ${version}, ${created === undefined ? 'no day given' : `made on ${created}`}, ${tags.size} tags.`
  return [
    line,
    ...(description === undefined ? [] : [`It calls itself "${escapeMarkdown(description)}".`]),
    ...problems.slice(0, 5).map((problem) => `**Broken:** ${escapeMarkdown(problem)}.`),
  ]
}

function cgatsLines(cgats: CgatsFile): readonly string[] {
  const { patches, faults, keywords } = patchesOf(cgats)
  const spectral = cgats.tables.reduce((sum, { fields }) => sum + fields.filter(isSpectral).length, 0)
  const created = keywords.get('CREATED')
  const descriptor = keywords.get('DESCRIPTOR') ?? keywords.get('FILE_DESCRIPTOR')
  return [
    `**${patchesText(patches.length)}** with L\\*, a\\* and b\\*${created === undefined ? '' : `, made on ${escapeMarkdown(created.slice(0, 40))}`}.` +
      (spectral > 0 ? ` ${spectral} spectral columns are kept and not used.` : ''),
    ...(descriptor === undefined ? [] : [`It calls itself "${escapeMarkdown(descriptor.slice(0, 200))}".`]),
    ...faults.slice(0, 5).map((fault) => `**Not compared:** ${escapeMarkdown(fault)}.`),
  ]
}

/** The differences of one measurement in full. */
function compared(setup: Setup, file: NamedFile): string | undefined {
  const { reference } = setup.colourFiles
  if (!cgatsOf(file)) return undefined
  const comparison = comparisonOf(setup, file)
  if (!reference || !comparison.ok) return `No colour difference: ${reasonOf(comparison)}.`
  const { value } = comparison
  const left = leftOut(value)
  return [
    `**ΔE00** against ${escapeMarkdown(fileText(reference))}: ${spreadText(setup, value)}.`,
    `Worst: ${escapeMarkdown(worstText(value.patches, MOST_WORST))}.`,
    ...(left > 0 ? [`${patchesText(left)} of the two files ${left === 1 ? 'is' : 'are'} not compared.`] : []),
    ...value.conditions.map(
      (one) =>
        `**Measured otherwise:** ${escapeMarkdown(`${one.keyword} ${one.measured} instead of ${one.reference}`.slice(0, 200))}.`,
    ),
  ].join('\n\n')
}

/** One measurement in a line. */
function line(setup: Setup, file: NamedFile): string {
  const { attached } = file
  const name = escapeMarkdown(fileText(file))
  if (attached?.state !== 'read') return `- ${name}: not read`
  const comparison = comparisonOf(setup, file)
  return `- ${name}: ${comparison.ok ? `ΔE00 ${spreadText(setup, comparison.value)}` : reasonOf(comparison)}`
}

function spreadText({ shop }: Setup, comparison: Comparison): string {
  const each = [...TOLERANCE_KEYS].reverse().map((what) => {
    const allowed = shop.document?.tolerance?.colour?.[what]?.value
    return `${SPREAD_WORDS[what]} ${differenceText(spreadValue(comparison, what))}${allowed === undefined ? '' : ` (the shop allows ${allowed})`}`
  })
  return `${each.join(', ')}, over ${patchesText(comparison.spread.count)}`
}

const reasonOf = (outcome: ReturnType<typeof comparisonOf>): string =>
  outcome.ok ? 'nothing is aimed at' : outcome.problem.reason
