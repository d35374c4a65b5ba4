// What pull, winding and speed of the web do on this profile.

import { table } from '../../base/markdown.ts'
import { curlDirection } from '../../calc/curl.ts'
import type { NumbersSection } from '../../features/numbers.ts'
import { rangeText, strainWords, valueText } from '../../model/range-words.ts'
import type { Setup } from '../../model/setup.ts'
import { sentence } from '../../rules/support/words.ts'
import { advanceOf } from '../advance/advance.ts'
import { SAG_PART, strainAt, type WebFacts, webOf } from './facts.ts'
import { tensionText, torqueText } from './words.ts'

export const hover: NumbersSection = {
  paths: ['web'],
  render(setup, path) {
    const facts = webOf(setup)
    if (path[1] === 'tension') return tensionNumbers(setup, facts)
    if (path[1] === 'wound') return woundNumbers(setup, facts)
    return path[1] === 'speed' ? speedNumbers(setup, facts) : undefined
  },
}

function tensionNumbers(setup: Setup, facts: WebFacts): string | undefined {
  if (!setup.profile.web?.tension) return undefined
  const { tension, strain, guard, least, span, torque, width } = facts
  const { units, tolerance } = setup.shop
  if (!tension) return undefined
  const rows: string[][] = []
  if (strain.ok)
    rows.push([
      'stretches the web by',
      `**${rangeText(strain.value, 'relative', strainWords(units))}**; ${valueText(tolerance.length.value, 'relative', strainWords(units))} is the length tolerance`,
    ])
  if (guard.ok)
    rows.push([
      'the material takes',
      `${rangeText(guard.value, 'line-tension', { units })}, a typical ceiling ${bySource(setup)}`,
    ])
  if (least.ok && span !== undefined)
    rows.push([
      'it hangs below',
      `${rangeText(least.value, 'line-tension', { units })}: over the ${valueText(span, 'length', { units })} to the take-up, taken as one free span, it sags by one part in ${SAG_PART}`,
    ])
  if (torque.ok && width !== undefined)
    rows.push([
      'take-up torque',
      `${torqueText(torque.value.core, units)} on the core, ${torqueText(torque.value.full, units)} on the full roll, ${valueText(width, 'length', { units, digits: 4 })} wide`,
    ])
  const notes = [!strain.ok && sentence(strain.problem.reason), levelsNote(setup, facts), torque.ok && growth(torque.value)]
  const text = notes.filter((note) => typeof note === 'string').join(' ')
  return [rows.length > 0 && table([sentence(tensionText(tension, units)).slice(0, -1), ''], rows), text]
    .filter((part) => typeof part === 'string' && part !== '')
    .join('\n\n')
}

/** Where the ceiling comes from: the trade's tables, or memory. */
const bySource = ({ material }: Setup): string =>
  /^(?:published|computed)/.test(material.property('tension-guard')?.source ?? '') ? 'by trade tables' : '(from memory)'

function levelsNote(setup: Setup, { levels, tension, stiffness }: WebFacts): string | undefined {
  const { units } = setup.shop
  const at = levels.findIndex(({ level }) => level === tension?.level)
  if (at < 0) return undefined
  const beside = [levels[at + 1], levels[at - 1]].flatMap((level) => {
    const strain = level && strainAt(level.tension, stiffness)
    if (!strain?.ok) return []
    const text = rangeText(strain.value, 'relative', strainWords(units))
    return [`${text} at ${tensionText({ value: level!.tension, level: level!.level }, units)}`]
  })
  return beside.length > 0 ? `The stretch would be ${beside.join(', and ')}.` : undefined
}

const growth = ({ core, full }: { core: number; full: number }): string =>
  `At one torque the pull on the core is ${Number((full / core).toFixed(1))} times that on the full roll.`

function woundNumbers(setup: Setup, facts: WebFacts): string | undefined {
  const { stock, profile } = setup
  const { faceStrain, takeUp, againstSet } = facts
  const { units } = setup.shop
  const wound = profile.web?.wound?.value
  if (!stock || !wound) return undefined
  const without = setup.material.family?.without('curl-radius')
  if (without !== undefined && !stock['curl-radius']) return without
  if (!takeUp.ok) return sentence(takeUp.problem.reason)
  if (!faceStrain.ok) return sentence(faceStrain.problem.reason)
  const percent = (strain: number): string => valueText(strain, 'relative', { unit: '%', digits: 2 })
  const out = [
    `On a core of ${valueText(takeUp.value.core, 'length', { units })} each face of this web is strained by ${percent(faceStrain.value.core)}, on the full roll (${valueText(takeUp.value.full, 'length', { units })}) by ${percent(faceStrain.value.full)}; taking the core of the stock's own roll. What stays of it grows with time and warmth.`,
    `Run again face up: ${curlDirection(wound)?.towardsHeads}.`,
  ]
  const came = stock.wound?.value
  if (came === wound) out.push(`The stock came wound ${came}: it winds up with its own set.`)
  else if (came !== undefined)
    out.push(
      `The stock came wound ${came}: it winds up against its own set${againstSet.ok ? `, which takes ${rangeText(againstSet.value, 'line-tension', { units })} of the pull on the core` : ''}.`,
    )
  return out.join('  \n')
}

function speedNumbers(setup: Setup, { speedRange }: WebFacts): string | undefined {
  const speed = setup.profile.web?.speed?.value.si
  if (speed === undefined || !(speed > 0)) return undefined
  const { units } = setup.shop
  const time = (length: number): string => valueText(length / speed, 'time', { digits: 2 })
  const advance = advanceOf(setup)
  const out: string[] = []
  if (advance.ok)
    out.push(
      `The step of ${valueText(advance.value.advance, 'length', { units })} after each pass takes ${time(advance.value.advance)}, a metre of blank web ${time(1)}.`,
    )
  if (speedRange) {
    const [low, high] = speedRange.map((end) => valueText(end, 'speed', { units }))
    out.push(`The printer moves the web at ${low} to ${high}.`)
  }
  return out.length > 0 ? out.join(' ') : undefined
}
