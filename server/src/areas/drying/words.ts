// Drying in words: what hovers say of the way to the roll, of the time to dry and of the pause that would do.
import { escapeMarkdown } from '../../base/markdown.ts'
import { degrees, duration, durationText, webText } from '../../model/heat-words.ts'
import type { Setup } from '../../model/setup.ts'
import type { Shop } from '../../model/shop.ts'
import { shown } from '../../model/shown.ts'
import { dryingOf, type HeldPrint } from './facts.ts'

/** How long the web takes to the roll, and how much of it stands. */
export function windingSentence(setup: Setup): string {
  const { winding, pass } = dryingOf(setup)
  if (!winding.ok) return `The way to the roll cannot be reckoned: ${escapeMarkdown(winding.problem.reason)}.`
  const { running, passes, pauses } = winding.value
  const speed = pass.ok ? ` at ${shown(setup, pass.value.webSpeed, 'speed', 2)}` : ''
  const paused = pauses > 0 ? `, ${duration(pauses)} of it pauses` : ''
  return `**From print to roll:** ${duration(running)}${speed} (${Math.round(passes)} passes${paused}) while the job goes on.`
}

/** How long a print takes to dry on this way, by what rule, and whether that is enough. */
export function neededSentence(setup: Setup): string {
  const { shop, stock } = setup
  const { needed, dry, stretches, margin } = dryingOf(setup)
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

export function pauseSentence(setup: Setup): string | undefined {
  const { pauseToDry, pauseRange } = dryingOf(setup)
  if (!pauseToDry || pauseToDry.high <= 0) return undefined
  const beyond = pauseRange && pauseToDry.low > pauseRange[1] ? '; the printer takes no pause so long' : ''
  return `**A pause of** ${durationText(pauseToDry)} after each pass would just make it dry${beyond}.`
}

/** Where the run-out holds the last print: `held on the platen at 40 °C (38 to 41)`. */
export function heldText({ where, temperature }: HeldPrint, units: Shop['units']): string {
  const web = webText(temperature, units)
  if (where === 'heated') return `held on the platen at ${web}`
  return `held on the platen, ${where === 'unheated' ? 'which is not heated' : 'whose heat is not given'}, at the ${web} of the room`
}
