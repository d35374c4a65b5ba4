// What the suction does on this profile, level by level: stretch, dimples and curl, and what one level more or less does to the length.

import { escapeMarkdown, table } from '../../base/markdown.ts'
import type { Range } from '../../calc/range.ts'
import type { SuctionRow } from '../../calc/suction-window.ts'
import type { NumbersSection } from '../../features/numbers.ts'
import { rangeText, strainWords, valueText } from '../../model/range-words.ts'
import type { Setup } from '../../model/setup.ts'
import { sentence } from '../../rules/support/words.ts'
import { type SuctionFacts, type SuctionStep, suctionChange, suctionOf } from './facts.ts'
import { dimpleText, dragText, riseText, smallText, stretchText } from './words.ts'

export const hover: NumbersSection = {
  paths: ['suction'],
  render(setup) {
    const facts = suctionOf(setup)
    const { window } = facts
    if (!window.ok) return setup.profile.suction && escapeMarkdown(sentence(window.problem.reason))
    const { units } = setup.shop
    const rows = window.value.rows.map((row) => [
      nameOf(row, facts, units),
      ...(facts.levels.length > 0 ? [valueText(row.pressure, 'pressure', { units })] : []),
      stretchText(row, units),
      dimpleText(row, units),
      curlCell(row, units),
    ])
    const header = [...(facts.levels.length > 0 ? ['Level', 'Suction'] : ['Suction']), 'Stretches', 'Dimples', 'Curl']
    return [table(header, rows), lines(setup, facts).join('  \n')].join('\n\n')
  },
}

/** Share of the length tolerance below which a change of length is not worth a sentence of its own. */
const NOTICED = 0.1

type Units = Setup['shop']['units']

function nameOf({ level, pressure }: SuctionRow<SuctionStep>, { set }: SuctionFacts, units: Units): string {
  const name = level.level === undefined ? valueText(pressure, 'pressure', { units }) : String(level.level)
  return level === set ? `**${name}, set**` : name
}

function curlCell(row: SuctionRow<SuctionStep>, units: Units): string {
  return `${row.faults.includes('curl') ? 'not held' : 'held'}, ${riseText(row, units)} left`
}

function lines(setup: Setup, facts: SuctionFacts): string[] {
  const { units, tolerance } = setup.shop
  const { current, riseLimit, window } = facts
  const allowed = `${valueText(tolerance.length.value, 'relative', strainWords(units))} of stretch and ${smallText(riseLimit.value, units)} of curl`
  const out = [
    `Typical figures, with their range: ${allowed} are allowed. ${windowText(facts, window.ok && window.value.window)}`.trim(),
  ]
  if (current) out.push(`Now it drags ${dragText(current, units)}. ${coupling(setup, facts)}`.trim())
  if (setup.material.property('curl-radius')?.origin === 'typical')
    out.push('The curl is a guess: nobody has measured the curl radius of this stock.')
  out.push('How far suction reaches under the web is an assumption: from the openings alone to the whole platen.')
  return out
}

function windowText({ levels }: SuctionFacts, window: { from: SuctionStep; to: SuctionStep } | undefined | false): string {
  if (levels.length === 0) return ''
  if (!window) return 'No level holds it without harm.'
  return window.from === window.to
    ? `Level ${window.from.level} holds it without harm.`
    : `Levels ${window.from.level} to ${window.to.level} hold it without harm.`
}

/** What a level up or down does to the length: why a new suction asks for a new check. */
function coupling(setup: Setup, facts: SuctionFacts): string {
  const { units } = setup.shop
  const { current, down, up } = facts
  const changes = [up, down].flatMap((row) => {
    const change = row && current && suctionChange(facts, current.pressure, row.pressure)
    return change?.ok ? [{ row: row!, size: sizeOf(change.value), shorter: change.value.typical > 0 }] : []
  })
  const most = Math.max(0, ...changes.map(({ size }) => size.high))
  if (changes.length === 0 || most === 0) return ''
  const step = facts.levels.length > 0 ? 'One level up or down' : 'Half or twice as much'
  if (most < NOTICED * setup.shop.tolerance.length.value)
    return `${step} changes the length by ${valueText(most, 'relative', { ...strainWords(units), digits: 2 })} at most.`
  const told = changes.map(({ row, size, shorter }) => {
    const name = row.level.level === undefined ? valueText(row.pressure, 'pressure', { units }) : `level ${row.level.level}`
    return `${rangeText(size, 'relative', strainWords(units))} ${shorter ? 'shorter' : 'longer'} at ${name}`
  })
  return `Prints come out ${told.join(', ')}: a new suction asks for a new length check.`
}

const sizeOf = (change: Range): Range =>
  change.typical < 0 ? { low: -change.high, typical: -change.typical, high: -change.low } : change
