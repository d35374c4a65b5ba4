// Where the dots land, in words: how far drops fly, how far out and back lie apart and what has moved them, and what the picks of an alignment say.
import { code, escapeMarkdown, table } from '../../base/markdown.ts'
import { mapRange, type Range } from '../../calc/range.ts'
import { type Numbers, withVerdict } from '../../features/numbers.ts'
import type { Setup } from '../../model/setup.ts'
import { plainNumber, shown } from '../../model/shown.ts'
import { type LandingFacts, landingOf, pixelsOf, type Way } from './facts.ts'

/** "143 µm (4 pixels)", the pixels where the resolution is known. */
export function offsetText(setup: Setup, si: number, digits = 3): string {
  return `${shown(setup, si, 'length', digits)}${pixelsText(landingOf(setup), si)}`
}

/** " (4 pixels)", or nothing where the resolution is not known. */
function pixelsText(facts: LandingFacts, si: number): string {
  const pixels = pixelsOf(facts, Math.abs(si))
  return pixels.ok && si !== 0 ? ` (${countText(pixels.value.typical)})` : ''
}

const countText = (pixels: number): string => {
  const count = plainNumber(pixels)
  return `${count} pixel${count === '1' ? '' : 's'}`
}

/** m of gap, or of stock, by which the sensitivity is told. */
const GAP_STEP = 1e-4

/** m by which out and back move apart for each {@link GAP_STEP}. */
export const perGapStep = (perGap: Range): Range => mapRange(perGap, (g) => g * GAP_STEP)

/** The flight at this gap, and what it makes of out and back. */
export function gapNumbers(setup: Setup): Numbers {
  const { flight, offset, twoWay } = landingOf(setup)
  if (!flight.ok) return { verdict: `The flight of the drops cannot be told: ${flight.problem.reason}.` }
  const gap = setup.profile.gap!.value.si
  const rows = [
    [
      'flight',
      `${shown(setup, gap, 'length')} − ${shown(setup, gap - flight.value, 'length')} of stock = **${shown(setup, flight.value, 'length')}**`,
    ],
  ]
  if (offset.ok) {
    const apart = offset.value.offset
    const perStep = perGapStep(offset.value.perGap)
    rows.push([
      'out and back',
      `${apartText(setup, apart)} apart before compensation${pixelsText(landingOf(setup), apart.typical)}`,
    ])
    rows.push([
      `each ${shown(setup, GAP_STEP, 'length', 2)} of gap or stock`,
      `${apartText(setup, perStep)}${pixelsText(landingOf(setup), perStep.typical)}`,
    ])
  }
  rows.push(...sinceRows(setup))
  const notes = [
    !offset.ok && `How far dots land apart cannot be told: ${offset.problem.reason}.`,
    twoWay === false && 'This mode prints one way: out and back do not meet.',
    offset.ok && 'Straight flight; air carried along adds up to a fifth. The pattern decides.',
  ].filter((t) => typeof t === 'string')
  return {
    verdict: `The drops fly ${shown(setup, flight.value, 'length')}.`,
    told: [table(['at this gap', ''], rows), notes.join(' ')],
  }
}

const apartText = (setup: Setup, { low, typical, high }: Range): string => {
  const [least, expected, most] = [low, typical, high].map((si) => shown(setup, si, 'length'))
  return low === high ? `**${expected}**` : `**${expected}** (${least} to ${most})`
}

/** How far apart out and back land, as a person counts it on the pattern. Nothing where they do not meet. */
export function pixelsSentence(setup: Setup): string | undefined {
  const { pixels, twoWay } = landingOf(setup)
  if (!pixels.ok || twoWay === false) return undefined
  const { low, typical, high } = pixels.value
  const ends = low === high ? '' : ` (${plainNumber(low)} to ${plainNumber(high)})`
  return `By straight flight out and back land ${countText(typical)}${ends} apart before compensation.`
}

/** What has moved out and back since the alignment was printed; nothing where that is not known. */
export function sinceText(setup: Setup): string | undefined {
  const rows = sinceRows(setup)
  if (rows.length === 0)
    return landingOf(setup).since?.doubt
      ? undefined
      : 'Gap, thickness and carriage speed are as they were when this pattern was printed.'
  return table(['since this pattern was printed', 'moves out and back'], rows)
}

function sinceRows(setup: Setup): string[][] {
  const { since } = landingOf(setup)
  const parts = [
    ['gap', 'length', since?.gap],
    ['thickness', 'length', since?.thickness],
    ['carriage speed', 'speed', since?.speed],
  ] as const
  return parts.flatMap(([name, dimension, part]) => {
    if (!part) return []
    const from = `${name} ${shown(setup, part.before, dimension)} → ${shown(setup, part.now, dimension)}`
    return [[from, part.shift.ok ? shiftText(setup, part.shift.value) : `cannot be told: ${part.shift.problem.reason}`]]
  })
}

/** "143 µm (4 pixels) further apart", or "the other way" where they would cross. */
const shiftText = (setup: Setup, { typical }: Range): string =>
  `${offsetText(setup, Math.abs(typical))} ${typical < 0 ? 'the other way' : 'further apart'}`

/** No more inks are listed than a person reads. */
const MAX_INKS = 8

/** The picks of one way, ink by ink. */
export function picksNumbers(setup: Setup, way: Way): Numbers | undefined {
  const found = landingOf(setup).picks[way]
  if (!found) return undefined
  if (!found.ok) return { verdict: `What the picks come to cannot be told: ${found.problem.reason}.` }
  const rows = found.value.channels
    .slice(0, MAX_INKS)
    .map(({ channel, offset, deviation }) => [escapeMarkdown(channel), signedText(setup, offset), signedText(setup, deviation)])
  return withVerdict(spreadSentence(setup, way), table(['ink', 'pick', 'from the median'], rows))
}

export function spreadSentence(setup: Setup, way: Way): string | undefined {
  const found = landingOf(setup).picks[way]
  if (!found?.ok) return undefined
  const { median, spread, apart } = found.value
  const verdict = apart.length
    ? `${apart.map(({ channel }) => code(channel)).join(', ')} stands apart from the rest.`
    : 'No ink stands apart.'
  return `Median ${signedText(setup, median)}, from least to greatest ${shown(setup, spread, 'length')}. ${verdict}`
}

/** The pick of one ink. */
export function pickText(setup: Setup, way: Way, ink: string): string | undefined {
  const found = landingOf(setup).picks[way]
  const channel = found?.ok ? found.value.channels.find((c) => c.channel === ink) : undefined
  if (!channel) return undefined
  const { offset, deviation } = channel
  const from = deviation === 0 ? 'as the median of all inks' : `${signedText(setup, deviation)} from the median of all inks`
  return `${signedText(setup, offset)}${pixelsText(landingOf(setup), offset)}, ${from}.`
}

const signedText = (setup: Setup, si: number): string =>
  si > 0 ? `+${shown(setup, si, 'length')}` : si === 0 ? '0' : shown(setup, si, 'length')
