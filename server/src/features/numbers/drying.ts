// Drying in numbers: the time from print to roll, the time to dry to the touch, what pause would be enough, and the ink there is to dry.

import { type DryingFacts, dryingOf } from '../../model/drying.ts'
import { degrees, duration, durationText, heldText, webText } from '../../model/heat-words.ts'
import type { Setup } from '../../model/setup.ts'
import { shown } from '../../model/shown.ts'
import { escapeMarkdown } from '../markdown.ts'
import type { NumbersSection } from './numbers.ts'
import { throughputNumbers } from './throughput.ts'
import { INK_CAUTION, vapourLines, vapourSentence } from './vapour.ts'

export const dryingNumbers: NumbersSection = {
  paths: ['drying', 'colour.ink-limit'],
  render(setup, path, document) {
    if (!setup.printer) return undefined
    const facts = dryingOf(setup)
    if (path[0] === 'colour') return facts.ink.ok ? inkLines(setup, facts).join('\n\n') : undefined
    const lines =
      path[1] === 'run-out'
        ? [lastSentence(setup, facts), neededSentence(setup, facts)]
        : [windingSentence(setup, facts), neededSentence(setup, facts), pauseSentence(facts)]
    if (path[1] === 'pause') lines.push(throughputNumbers.render(setup, path, document), vapourSentence(setup), INK_CAUTION)
    else lines.push(...inkLines(setup, facts))
    const told = lines.filter((line) => line !== undefined)
    return told.length > 1 ? told.join('\n\n') : undefined
  },
}

function windingSentence(setup: Setup, { winding, pass }: DryingFacts): string {
  if (!winding.ok) return `The way to the roll cannot be reckoned: ${escapeMarkdown(winding.problem.reason)}.`
  const { running, passes, pauses } = winding.value
  const speed = pass.ok ? ` at ${shown(setup, pass.value.webSpeed, 'speed', 2)}` : ''
  const paused = pauses > 0 ? `, ${duration(pauses)} of it pauses` : ''
  return `**From print to roll:** ${duration(running)}${speed} (${Math.round(passes)} passes${paused}) while the job goes on.`
}

function neededSentence({ shop, stock }: Setup, { needed, dry, stretches, margin }: DryingFacts): string {
  if (!needed.ok) return `The time to dry cannot be reckoned: ${escapeMarkdown(needed.problem.reason)}.`
  const { units } = shop
  const ways = stretches.ok
    ? stretches.value.map(
        ({ name, share, mean }) =>
          `${Math.round(share * 100)} % of the way ${name === 'after' ? 'behind the platen at' : 'free at'} ${webText(mean, units)}`,
      )
    : []
  const dryTouch = stock?.['dry-touch']
  const stated =
    dryTouch?.time && dryTouch.at ? `${duration(dryTouch.time.value.si)} at ${degrees(dryTouch.at.value.si, units)}` : 'its time'
  const rule = `from the stock's ${stated}, halved by 10 K more (8 to 15, common practice)`
  const far = needed.value.stretched ? ' That is far from the temperature the stock states it for: a rough guess.' : ''
  const verdict = margin ? ` ${VERDICT[margin.verdict]}` : ''
  return `**Dry to the touch** on this way: typically ${durationText(dry.ok ? dry.value : needed.value.time)}, ${rule}; ${ways.join(', ')}.${far}${verdict}`
}

const VERDICT = {
  dry: 'It is dry when it is wound.',
  uncertain: 'Whether it is dry when it is wound only a touch tells, gloved and with the machine stopped.',
  wet: 'It is wound wet.',
} as const

function pauseSentence({ pauseToDry, pauseRange }: DryingFacts): string | undefined {
  if (!pauseToDry || pauseToDry.high <= 0) return undefined
  const beyond = pauseRange && pauseToDry.low > pauseRange[1] ? '; the printer takes no pause so long' : ''
  return `**A pause of** ${durationText(pauseToDry)} after each pass would just make it dry${beyond}.`
}

function lastSentence({ profile, shop }: Setup, { last, held }: DryingFacts): string | undefined {
  const runOut = profile.drying?.['run-out']
  if (!runOut) return undefined
  if (!last)
    return `What was printed last waits ${duration(runOut.value.si)}; when it is on the roll cannot be told without web.speed, the way to winding and the stock's dry-touch.`
  if (!held.ok) return undefined
  const stands = held.value
  // Only what holds where it is held is said to be enough; that it is not, only where the warmest place would not do either.
  const enough =
    last.available >= stands.needed.high
      ? 'long enough'
      : last.available >= last.needed.low
        ? 'perhaps long enough; only a touch tells, gloved and with the machine stopped'
        : 'too short'
  const far = stands.stretched ? ', a rough guess so far from the temperature the stock states' : ''
  return `**The last print** waits ${duration(runOut.value.si)} and is on the roll ${duration(last.wound)} later (at ${shown({ shop }, profile.web!.speed!.value.si, 'speed', 2)}). At the warmest place of its way it would typically need ${durationText(last.needed)}; ${heldText(stands, shop.units)} it typically needs ${durationText(stands.needed)}${far}: ${enough}.`
}

/** The ink to dry and its vapour; or what it would take to tell that, where the printer does not say what the ink is. */
function inkLines(setup: Setup, { ink }: DryingFacts): readonly string[] {
  if (!ink.ok) return [INK_CAUTION]
  const { perArea, rate, limit } = ink.value
  const volume = (m3: number): string => `${Number((m3 * 1e6).toPrecision(2))} mL`
  const hour = rate === undefined ? '' : `, ${Math.round(rate * 3600 * 1e6)} mL an hour where all of the width is printed so`
  const load = `**Ink** at the limit of ${Math.round(limit * 100)} %: about ${volume(perArea)} on a square metre${hour} (estimate: every dot one full drop).`
  const vapour = vapourLines(setup)
  if (vapour) return [`${load} ${vapour[0]}`, ...vapour.slice(1)]
  const unknown =
    `Air to thin its vapour cannot be told: the printer does not give its \`ink\`. How much of it is water or solvent, its molar mass, its limit for breathing and its lower explosive limit stand in the ink's safety data sheet. ` +
    `Those are two answers, air to breathe and air against explosion; the first is often hundreds of times the second.`
  return [`${load} ${unknown}`, INK_CAUTION]
}
