// Where the dots land in this profile's numbers: for hovers on the gap and on the alignment.

import { code, escapeMarkdown, table } from '../../base/markdown.ts'
import type { Outcome } from '../../base/outcome.ts'
import type { PickSpread } from '../../calc/landing.ts'
import type { Range } from '../../calc/range.ts'
import type { NumbersSection } from '../../features/numbers.ts'
import type { Setup } from '../../model/setup.ts'
import { shown } from '../../model/shown.ts'
import { type LandingFacts, landingOf } from './facts.ts'
import { pixelsText, shiftText } from './words.ts'

export const hover: NumbersSection = {
  paths: ['gap', 'alignment'],
  render(setup, path) {
    const [first, second, ink] = path
    if (first === 'gap') return gapNumbers(setup)
    if (second === 'one-way' || second === 'two-way')
      return ink === undefined ? picksNumbers(setup, second) : pickNumbers(setup, second, String(ink))
    return sinceNumbers(setup)
  },
}

function gapNumbers(setup: Setup): string | undefined {
  if (!setup.printer && !setup.stock) return undefined
  const facts = landingOf(setup)
  const { flight, offset, twoWay } = facts
  if (!flight.ok) return `The flight of the drops cannot be told: ${flight.problem.reason}.`
  const gap = setup.profile.gap!.value.si
  const rows = [
    [
      'flight',
      `${shown(setup, gap, 'length')} − ${shown(setup, gap - flight.value, 'length')} of stock = **${shown(setup, flight.value, 'length')}**`,
    ],
  ]
  if (offset.ok) {
    const { offset: apart, perGap } = offset.value
    rows.push(['out and back', `${rangeText(setup, apart)} apart before compensation${pixelsText(facts, apart.typical)}`])
    rows.push([`each ${shown(setup, 1e-4, 'length', 2)} of gap or stock`, sensitivity(setup, facts, perGap)])
  }
  rows.push(...sinceRows(setup, facts))
  const notes = [
    !offset.ok && `How far dots land apart cannot be told: ${offset.problem.reason}.`,
    twoWay === false && 'This mode prints one way: out and back do not meet.',
    offset.ok && 'Straight flight; air carried along adds up to a fifth. The pattern decides.',
  ].filter((t) => typeof t === 'string')
  return [table(['at this gap', ''], rows), notes.join(' ')].join('\n\n').trim()
}

const sensitivity = (setup: Setup, facts: LandingFacts, perGap: Range): string => {
  const at = { low: perGap.low * 1e-4, typical: perGap.typical * 1e-4, high: perGap.high * 1e-4 }
  return `${rangeText(setup, at)}${pixelsText(facts, at.typical)}`
}

function sinceNumbers(setup: Setup): string | undefined {
  const facts = landingOf(setup)
  if (!facts.since || !setup.printer) return undefined
  const rows = sinceRows(setup, facts)
  if (rows.length === 0) return 'Gap, thickness and carriage speed are as they were when this pattern was printed.'
  return table(['since this pattern was printed', 'moves out and back'], rows)
}

function sinceRows(setup: Setup, facts: LandingFacts): string[][] {
  const { since } = facts
  if (!since) return []
  const parts = [
    ['gap', 'length', since.gap],
    ['thickness', 'length', since.thickness],
    ['carriage speed', 'speed', since.speed],
  ] as const
  return parts.flatMap(([name, dimension, part]) => {
    if (!part) return []
    const from = `${name} ${shown(setup, part.before, dimension)} → ${shown(setup, part.now, dimension)}`
    return [[from, part.shift.ok ? shiftText(setup, facts, part.shift.value) : `cannot be told: ${part.shift.problem.reason}`]]
  })
}

function picksNumbers(setup: Setup, way: 'one-way' | 'two-way'): string | undefined {
  const found = landingOf(setup).picks[way]
  if (!found || !setup.printer) return undefined
  if (!found.ok) return `What the picks come to cannot be told: ${found.problem.reason}.`
  const { channels, median, spread, apart } = found.value
  const rows = channels
    .slice(0, 8)
    .map(({ channel, offset, deviation }) => [
      escapeMarkdown(channel),
      length(setup, offset),
      deviation === 0 ? '0' : length(setup, deviation),
    ])
  const verdict = apart.length
    ? `${apart.map(({ channel }) => code(channel)).join(', ')} stands apart from the rest.`
    : 'No ink stands apart.'
  const sum = `Median ${length(setup, median)}, from least to greatest ${shown(setup, spread, 'length')}. ${verdict}`
  return [table(['ink', 'pick', 'from the median'], rows), sum].join('\n\n')
}

function pickNumbers(setup: Setup, way: 'one-way' | 'two-way', ink: string): string | undefined {
  const facts = landingOf(setup)
  const found: Outcome<PickSpread> | undefined = facts.picks[way]
  const channel = found?.ok ? found.value.channels.find((c) => c.channel === ink) : undefined
  if (!channel) return undefined
  const from =
    channel.deviation === 0 ? 'as the median of all inks' : `${length(setup, channel.deviation)} from the median of all inks`
  return `${length(setup, channel.offset)}${pixelsText(facts, channel.offset)}, ${from}.`
}

const length = (setup: Setup, si: number): string =>
  si > 0 ? `+${shown(setup, si, 'length')}` : si === 0 ? '0' : shown(setup, si, 'length')

const rangeText = (setup: Setup, r: Range): string =>
  r.low === r.high
    ? `**${shown(setup, r.typical, 'length')}**`
    : `**${shown(setup, r.typical, 'length')}** (${shown(setup, r.low, 'length')} to ${shown(setup, r.high, 'length')})`
