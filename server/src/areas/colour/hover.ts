// Colour files in numbers: what an ICC profile is, how many patches a measurement has, and how far it is from the colours aimed at.

import { escapeMarkdown } from '../../base/markdown.ts'
import { type Numbers, type NumbersSection, withVerdict } from '../../features/numbers.ts'
import type { MeasuredFile, NamedFile } from '../../model/attached.ts'
import { leftOut } from '../../model/patches.ts'
import type { Setup } from '../../model/setup.ts'
import { colourDoubt } from './evidence.ts'
import { cgatsOf, comparisonOf } from './facts.ts'
import { cgatsLines, fileText, iccLines, kindText, patchesText, spreadText, worstText } from './words.ts'

/** How many measurements the list's own hover tells of, the newest ones. */
const MAX_TOLD = 5
const MAX_WORST = 5

export const hover: NumbersSection = {
  paths: ['colour.icc', 'colour.reference', 'colour.measured'],
  render(setup, [, key, index]) {
    const { icc, reference, measured } = setup.colourFiles
    if (key === 'icc') return icc && about(icc, () => undefined)
    if (key === 'reference') return reference && about(reference, () => undefined)
    if (typeof index !== 'number')
      return measured.length === 0
        ? undefined
        : {
            told: [
              measured
                .slice(-MAX_TOLD)
                .map((file) => line(setup, file))
                .join('\n'),
            ],
          }
    const file = measured.find((one) => one.index === index)
    return file && about(file, () => compared(setup, file))
  },
}

function about({ attached }: NamedFile, more: () => Numbers | undefined): Numbers | undefined {
  if (!attached) return undefined
  if (attached.state === 'unread') return { verdict: `Not read: ${escapeMarkdown(attached.reason)}.` }
  const { file } = attached
  const told =
    file.format === 'icc' ? iccLines(file.icc) : file.format === 'cgats' ? cgatsLines(file.cgats) : [`It is ${kindText(file)}.`]
  const other = more()
  return { verdict: other?.verdict, told: [...(other?.told ?? []), ...told] }
}

/** The differences of one measurement in full, and whether it speaks of today. */
function compared(setup: Setup, file: MeasuredFile): Numbers | undefined {
  const { reference } = setup.colourFiles
  if (!cgatsOf(file)) return undefined
  const comparison = comparisonOf(setup, file)
  if (!reference || !comparison.ok) return { verdict: `No colour difference: ${reasonOf(comparison)}.` }
  const { value } = comparison
  const left = leftOut(value)
  const doubt = colourDoubt(setup, file)
  const told = [
    `**ΔE00** against ${escapeMarkdown(fileText(reference))}: ${spreadText(setup, value)}.`,
    `Worst: ${escapeMarkdown(worstText(value.patches, MAX_WORST))}.`,
    ...(left > 0 ? [`${patchesText(left)} of the two files ${left === 1 ? 'is' : 'are'} not compared.`] : []),
    ...value.conditions.map(
      (one) =>
        `**Measured otherwise:** ${escapeMarkdown(`${one.keyword} ${one.measured} instead of ${one.reference}`.slice(0, 200))}.`,
    ),
  ]
  return doubt ? { verdict: `Doubtful: it was ${escapeMarkdown(doubt.reason)}.`, told } : withVerdict(told[0], ...told.slice(1))
}

/** One measurement in a line. */
function line(setup: Setup, file: NamedFile): string {
  const { attached } = file
  const name = escapeMarkdown(fileText(file))
  if (attached?.state !== 'read') return `- ${name}: not read`
  const comparison = comparisonOf(setup, file)
  return `- ${name}: ${comparison.ok ? `ΔE00 ${spreadText(setup, comparison.value)}` : reasonOf(comparison)}`
}

const reasonOf = (outcome: ReturnType<typeof comparisonOf>): string =>
  outcome.ok ? 'nothing is aimed at' : outcome.problem.reason
