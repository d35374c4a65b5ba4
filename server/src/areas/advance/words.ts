// Advance, output and bands in words: what hovers say of a pass, of what a mode makes in an hour, and of how its bands look.
import { table } from '../../base/markdown.ts'
import type { Setup } from '../../model/setup.ts'
import { percentText, plainNumber, shown } from '../../model/shown.ts'
import { passesThatCover } from './advance.ts'
import { type PassFacts, throughputOf } from './facts.ts'

export const cannotBeTold = (reason: string): string => `Output and bands cannot be told: ${reason}.`

export function advanceSentence(setup: Setup): string | undefined {
  const { plan } = throughputOf(setup)
  if (!plan.ok) return undefined
  const { swath, passes, advance, linesPerAdvance } = plan.value
  return `${shown(setup, swath, 'length', 4)} swath ÷ ${passes} passes = **${shown(setup, advance, 'length', 4)}**, ${plainNumber(linesPerAdvance, 4)} raster lines`
}

/** Whether every raster line is printed, and with how many passes it would be. */
export function coverageSentence(setup: Setup): string | undefined {
  const { plan, strikes } = throughputOf(setup)
  if (!plan.ok) return undefined
  const { coverage } = plan.value
  if (coverage.kind === 'every-line')
    return coverage.times === 1 ? 'every raster line once' : `every raster line, ${coverage.times} nozzles each`
  const better = passesThatCover(plan.value, strikes)
  return `not every raster line equally${better.length ? `; ${better.join(' or ')} passes would` : ''}`
}

export function passSentence(setup: Setup): string | undefined {
  const { job, travel, pass } = throughputOf(setup)
  if (!pass.ok) return undefined
  const { period, passTime, width } = pass.value
  const why = job.ok && job.value.from === 'bed' ? 'as the bed; the stock gives no widths' : "the stock's widest width that fits"
  const where = travel === 'bed' ? ', over the whole bed' : ''
  return `${shown(setup, period, 'time')}${period > passTime ? ' with its pause' : ''}, ${setup.mode?.directions?.value ?? ''}${where}, ${shown(setup, width, 'length', 4)} wide (${why})`
}

export function outputSentence(setup: Setup): string | undefined {
  const { pass } = throughputOf(setup)
  if (!pass.ok) return undefined
  return `**${shown(setup, pass.value.areaRate, 'area-rate')}**, web ${shown(setup, pass.value.webSpeed, 'speed')} on average`
}

export function bandsSentence(setup: Setup): string | undefined {
  const { bands } = throughputOf(setup)
  if (!bands.ok) return undefined
  const distance = shown(setup, setup.shop.viewingDistance.value, 'length')
  return `${plainNumber(bands.value.frequency)} cycles per degree from ${distance}; the eye has ${percentText(bands.value.rank)} of its best there (a rank, no limit)`
}

export function seenBestSentence(setup: Setup): string | undefined {
  const { seenBest } = throughputOf(setup)
  return seenBest.ok ? `from about ${shown(setup, seenBest.value, 'length', 2)}` : undefined
}

export function shiftSentence(setup: Setup): string | undefined {
  const { quarterPixel } = throughputOf(setup)
  if (!quarterPixel.ok) return undefined
  return `${shown(setup, quarterPixel.value, 'relative', 2)} shifts a boundary by a quarter of a pixel`
}

/** What the pause costs. */
export function pauseSentence(setup: Setup): string {
  const { pass, pause } = throughputOf(setup)
  if (!pass.ok) return cannotBeTold(pass.problem.reason)
  const { passTime, period, areaRate, width } = pass.value
  const share = pause / period
  const costs =
    share > 0
      ? ` The pause is ${percentText(share)} of it: without it ${shown(setup, (areaRate * period) / passTime, 'area-rate')}.`
      : ''
  return (
    `A pass ${shown(setup, width, 'length', 4)} wide takes ${shown(setup, passTime, 'time')}; ` +
    `pass to pass ${shown(setup, period, 'time')}, ${shown(setup, areaRate, 'area-rate')}.${costs}`
  )
}

/** Travel over the image beside travel over the bed, on the widest and the narrowest width. */
export function travelText(setup: Setup): string {
  const { pass, other, narrow, travel, job } = throughputOf(setup)
  if (!pass.ok) return cannotBeTold(pass.problem.reason)
  const both = [pass.value, ...(other.ok ? [other.value] : [])].sort((a) => (a.travel === 'image' ? -1 : 1))
  const row = (p: PassFacts): string[] => [
    shown(setup, p.width, 'length', 4),
    p.travel === travel ? `**${p.travel}**` : p.travel,
    shown(setup, p.period, 'time'),
    shown(setup, p.areaRate, 'area-rate'),
    shown(setup, p.webSpeed, 'speed'),
  ]
  const rows = [...both.map(row), ...(narrow ? [row(narrow.image), row(narrow.bed)] : [])]
  const least = narrow ?? (other.ok ? { image: both[0]!, bed: both[1]! } : undefined)
  const saves = least && least.image.areaRate / least.bed.areaRate - 1
  const what =
    saves !== undefined && saves > 0.005
      ? `Travel \`image\` prints ${percentText(saves)} more than \`bed\` on ${shown(setup, least!.image.width, 'length', 4)}, and gives ` +
        `${percentText(1 - least!.image.period / least!.bed.period)} less time over the heaters.`
      : undefined
  const widths =
    job.ok && job.value.from === 'bed'
      ? 'The stock gives no widths: reckoned as wide as the bed.'
      : 'Widths are those of the stock.'
  return [table(['job', 'travel', 'pass to pass', 'output', 'web'], rows), [what, widths].filter((t) => t).join(' ')].join('\n\n')
}

/** What one strike and more print in an hour. */
export function strikesText(setup: Setup): string {
  const { pass, strikes } = throughputOf(setup)
  if (!pass.ok) return cannotBeTold(pass.problem.reason)
  const { areaRate, width } = pass.value
  const counts = strikes === 1 ? [1, 2] : [1, strikes]
  const rows = counts.map((n) => [
    n === strikes ? `**${n}**` : String(n),
    shown(setup, (areaRate * strikes) / n, 'area-rate'),
    `${n} ×`,
  ])
  return table(['strikes', `output at ${shown(setup, width, 'length', 4)} wide`, 'ink'], rows)
}
