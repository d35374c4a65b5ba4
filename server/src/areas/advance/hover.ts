// Advance, output and bands in this profile's numbers: for hovers on the mode, the carriage, the feed and the pause.

import { table } from '../../base/markdown.ts'
import type { AdvancePlan, Coverage } from '../../calc/advance.ts'
import type { NumbersSection } from '../../features/numbers.ts'
import type { Setup } from '../../model/setup.ts'
import { percentText, plainNumber, shown } from '../../model/shown.ts'
import { passesThatCover } from './advance.ts'
import { type PassFacts, type ThroughputFacts, throughputOf } from './facts.ts'

export const hover: NumbersSection = {
  paths: ['mode', 'carriage', 'feed'],
  render(setup, path) {
    if (!setup.printer || !setup.mode) return undefined
    switch (path.join('.')) {
      case 'mode':
        return modeNumbers(setup)
      case 'feed':
        return feedNumbers(setup)
      case 'carriage':
      case 'carriage.travel':
        return travelNumbers(setup)
      case 'carriage.strikes':
        return strikesNumbers(setup)
      case 'drying.pause':
        return pauseNumbers(setup)
      default:
        return undefined
    }
  },
}

function modeNumbers(setup: Setup): string {
  const facts = throughputOf(setup)
  const { plan, pass } = facts
  if (!plan.ok) return missing(plan.problem.reason)
  const rows = [
    ...advanceRows(setup, plan.value),
    ...(pass.ok ? passRows(setup, facts, pass.value) : []),
    ...bandRows(setup, facts),
  ]
  const lines = [table(['in this mode', ''], rows)]
  if (!pass.ok) lines.push(missing(pass.problem.reason))
  return lines.join('\n\n')
}

function feedNumbers(setup: Setup): string {
  const facts = throughputOf(setup)
  if (!facts.plan.ok) return missing(facts.plan.problem.reason)
  return table(['in this mode', ''], [...advanceRows(setup, facts.plan.value), ...bandRows(setup, facts)])
}

function travelNumbers(setup: Setup): string {
  const { pass, other, narrow, travel, job } = throughputOf(setup)
  if (!pass.ok) return missing(pass.problem.reason)
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

function strikesNumbers(setup: Setup): string {
  const { pass, strikes } = throughputOf(setup)
  if (!pass.ok) return missing(pass.problem.reason)
  const { areaRate } = pass.value
  const counts = strikes === 1 ? [1, 2] : [1, strikes]
  const rows = counts.map((n) => [
    n === strikes ? `**${n}**` : String(n),
    shown(setup, (areaRate * strikes) / n, 'area-rate'),
    `${n} ×`,
  ])
  return table(['strikes', `output at ${shown(setup, pass.value.width, 'length', 4)} wide`, 'ink'], rows)
}

function pauseNumbers(setup: Setup): string {
  const { pass, pause } = throughputOf(setup)
  if (!pass.ok) return missing(pass.problem.reason)
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

function advanceRows(setup: Setup, plan: AdvancePlan): string[][] {
  const { swath, passes, advance, linesPerAdvance } = plan
  return [
    [
      'advance',
      `${shown(setup, swath, 'length', 4)} swath ÷ ${passes} passes = **${shown(setup, advance, 'length', 4)}**, ${plainNumber(linesPerAdvance, 4)} raster lines`,
    ],
    ['coverage', coverageText(setup, plan.coverage)],
  ]
}

function passRows(setup: Setup, { job, travel }: ThroughputFacts, pass: PassFacts): string[][] {
  const why = job.ok && job.value.from === 'bed' ? 'as the bed; the stock gives no widths' : "the stock's widest width that fits"
  const where = travel === 'bed' ? ', over the whole bed' : ''
  return [
    [
      'a pass',
      `${shown(setup, pass.period, 'time')}${pass.period > pass.passTime ? ' with its pause' : ''}, ${setup.mode?.directions?.value ?? ''}${where}, ${shown(setup, pass.width, 'length', 4)} wide (${why})`,
    ],
    ['output', `**${shown(setup, pass.areaRate, 'area-rate')}**, web ${shown(setup, pass.webSpeed, 'speed')} on average`],
  ]
}

function bandRows(setup: Setup, { bands, quarterPixel }: ThroughputFacts): string[][] {
  const distance = shown(setup, setup.shop.viewingDistance.value, 'length')
  const rows: string[][] = []
  if (bands.ok)
    rows.push([
      'bands',
      `${plainNumber(bands.value.frequency)} cycles per degree from ${distance}; the eye has ${percentText(bands.value.rank)} of its best there (a rank, no limit)`,
    ])
  if (quarterPixel.ok)
    rows.push(['feed error', `${shown(setup, quarterPixel.value, 'relative', 2)} shifts a boundary by a quarter of a pixel`])
  return rows
}

/** What a mode's coverage is, in words. */
export function coverageText(setup: Setup, coverage: Coverage): string {
  if (coverage.kind === 'every-line')
    return coverage.times === 1 ? 'every raster line once' : `every raster line, ${coverage.times} nozzles each`
  const { plan, strikes } = throughputOf(setup)
  const better = plan.ok ? passesThatCover(plan.value, strikes) : []
  return `not every raster line equally${better.length ? `; ${better.join(' or ')} passes would` : ''}`
}

const missing = (reason: string): string => `Output and bands cannot be told: ${reason}.`
