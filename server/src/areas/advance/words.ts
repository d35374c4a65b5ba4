// Advance, output and bands in words: what hovers say of a pass, of what a mode makes in an hour, and of how its bands look.
import { table } from '../../base/markdown.ts'
import type { TurnAt } from '../../calc/advance.ts'
import type { Setup } from '../../model/setup.ts'
import { percentText, plainNumber, shown } from '../../model/shown.ts'
import { passesThatCover } from './advance.ts'
import { type PassFacts, type TurnPasses, throughputOf } from './facts.ts'

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
  const { job, turnAt, pass } = throughputOf(setup)
  if (!pass.ok) return undefined
  const { period, passTime, width } = pass.value
  const why = job.ok && job.value.from === 'bed' ? 'as the bed; the stock gives no widths' : "the stock's widest width that fits"
  const where = { 'print-edge': '', 'web-edge': ', over the whole web', 'bed-end': ', over the whole bed' }[turnAt]
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

/** What turning at each place makes of a print over the whole web, of one half as wide, and of one on the narrowest web. */
export function turnText(setup: Setup): string {
  const { pass, full, half, narrow, turnAt, job } = throughputOf(setup)
  if (!pass.ok) return cannotBeTold(pass.problem.reason)
  const rows = [full, half, narrow].flatMap((turns) => (turns ? turnRows(setup, turns, turnAt) : []))
  const least = narrow ?? full
  const wholeWeb = least && more(least, 'bed-end')
  const narrowPrint = half && more(half, 'web-edge')
  const words = [
    least && wholeWeb
      ? `On ${shown(setup, least['print-edge'].web, 'length', 4)} \`print-edge\` prints ${percentText(wholeWeb)} more than \`bed-end\`, and gives ` +
        `${percentText(1 - least['print-edge'].period / least['bed-end'].period)} less time over the heaters.`
      : undefined,
    narrowPrint
      ? `A print half as wide as the web: \`print-edge\` prints ${percentText(narrowPrint)} more than \`web-edge\`, with which all prints on a roll take the same time.`
      : undefined,
    job.ok && job.value.from === 'bed'
      ? 'The stock gives no widths: reckoned as wide as the bed.'
      : 'Widths are those of the stock.',
  ]
  return [
    table(['print', 'on a web of', 'turn-at', 'pass to pass', 'output', 'web speed'], rows),
    words.filter((t) => t).join(' '),
  ].join('\n\n')
}

/** One row for each time there is: on a full web, the edge of the print is that of the web. */
function turnRows(setup: Setup, turns: TurnPasses, chosen: TurnAt): string[][] {
  const groups: PassFacts[][] = []
  for (const one of Object.values(turns)) {
    const same = groups.find(([first]) => Math.abs(first!.period - one.period) <= 1e-9 * one.period)
    if (same) same.push(one)
    else groups.push([one])
  }
  return groups.map((group) => {
    const { width, web, period, areaRate, webSpeed } = group[0]!
    return [
      shown(setup, width, 'length', 4),
      shown(setup, web, 'length', 4),
      group.map((one) => (one.turnAt === chosen ? `**${one.turnAt}**` : one.turnAt)).join(' or '),
      shown(setup, period, 'time'),
      shown(setup, areaRate, 'area-rate'),
      shown(setup, webSpeed, 'speed'),
    ]
  })
}

/** By which share the print's edge prints more than another place; undefined where it is not worth a word. */
function more(turns: TurnPasses, than: 'web-edge' | 'bed-end'): number | undefined {
  const share = turns['print-edge'].areaRate / turns[than].areaRate - 1
  return share > 0.005 ? share : undefined
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
