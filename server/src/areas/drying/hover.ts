// Drying in numbers: the time from print to roll, the time to dry to the touch, what pause would be enough, and the ink there is to dry.

import { type NumbersSection, withVerdict } from '../../features/numbers.ts'
import { duration, durationText } from '../../model/heat-words.ts'
import type { Setup } from '../../model/setup.ts'
import { shown } from '../../model/shown.ts'
import { hover as advance } from '../advance/hover.ts'
import { INK_CAUTION, vapourLines, vapourSentence } from '../vapour/words.ts'
import { type DryingFacts, dryingOf } from './facts.ts'
import { heldText, neededSentence, pauseSentence, windingSentence } from './words.ts'

export const hover: NumbersSection = {
  paths: ['drying', 'colour.ink-limit'],
  render(setup, path, document) {
    if (!setup.printer) return undefined
    const facts = dryingOf(setup)
    const ink = inkLines(setup, facts)
    const cautions = { caution: ink.at(-1), briefCaution: INK_CAUTION }
    if (path[0] === 'colour') return facts.ink.ok ? { ...withVerdict(ink[0], ...ink.slice(1, -1)), ...cautions } : undefined
    if (path[1] === 'pause') {
      const pause = pauseSentence(setup)
      const running = advance.render(setup, path, document)
      const told = [pause && windingSentence(setup), running?.verdict, neededSentence(setup), vapourSentence(setup)]
      return { verdict: pause ?? windingSentence(setup), told, caution: INK_CAUTION }
    }
    const last = path[1] === 'run-out' ? lastSentence(setup, facts) : undefined
    const { verdict, told } = last ?? { verdict: windingSentence(setup), told: [pauseSentence(setup)] }
    return { verdict, told: [...told, neededSentence(setup), ...ink.slice(0, -1)], ...cautions }
  },
}

/** Whether what was printed last is dry when it is wound, and why. */
function lastSentence(
  { profile, shop }: Setup,
  { last, held }: DryingFacts,
): { verdict: string; told: readonly string[] } | undefined {
  const runOut = profile.drying?.['run-out']
  if (!runOut) return undefined
  if (!last)
    return {
      verdict: `What was printed last waits ${duration(runOut.value.si)}; when it is on the roll cannot be told without web.speed, the way to winding and the stock's dry-touch.`,
      told: [],
    }
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
  return {
    verdict: `The last print waits ${duration(runOut.value.si)}: ${enough}.`,
    told: [
      `It is on the roll ${duration(last.wound)} later (at ${shown({ shop }, profile.web!.speed!.value.si, 'speed', 2)}). At the warmest place of its way it would typically need ${durationText(last.needed)}; ${heldText(stands, shop.units)} it typically needs ${durationText(stands.needed)}${far}.`,
    ],
  }
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
