// What to try for a fault, in order: the trade's own order (common practice), moved by what this setup's numbers say for and against each setting.
import type { RollDocument } from '../../../model/document.ts'
import type { Fault } from '../../../model/generated/documents.ts'
import type { Setup } from '../../../model/setup.ts'
import { explainFault } from '../../../schema/explain.ts'
import type { Fix } from '../../rule.ts'
import type { Assess, Way } from './assessment.ts'
import { feedCorrection, finePicks } from './feed.ts'
import { heat, pause, runOut } from './heat.ts'
import { alignment, gap } from './landing.ts'
import { suction } from './suction.ts'
import { wayOf } from './ways.ts'
import { tension } from './web.ts'

export interface Remedy {
  /** The setting to look at, dotted. */
  readonly setting: string
  readonly way: Way | undefined
  readonly weight: number
  /** With numbers of this setup, or undefined where the trade's order is all there is. */
  readonly reason: string | undefined
  readonly step: Fix | undefined
}

const ASSESS: Readonly<Record<string, Assess>> = {
  'feed.correction': feedCorrection,
  'feed.fine.picks': finePicks,
  suction,
  'web.tension': tension,
  'heat.before': heat('before'),
  'heat.platen': heat('platen'),
  'heat.after': heat('after'),
  'drying.pause': pause,
  'drying.run-out': runOut,
  'alignment.one-way': alignment('one-way'),
  'alignment.two-way': alignment('two-way'),
  gap,
}

/** Weight of the first place of the trade's order, and how much each further place lacks. */
const FIRST = 0.4
const STEP = 0.04

/** What to try for a fault on this setup, likeliest first. */
export function remediesFor(document: RollDocument, setup: Setup, fault: Fault): readonly Remedy[] {
  const settings = explainFault(fault)?.settings ?? []
  const remedies = settings.map((setting, place): Remedy => {
    const way = wayOf(setting, fault)
    const said = ASSESS[setting]?.({ document, setup, fault, way })
    // Among equals the trade's order decides.
    const weight = (said?.weight ?? FIRST - STEP * place) - place * 1e-6
    return { setting, way, weight, reason: said?.reason, step: said?.step }
  })
  return remedies.sort((a, b) => b.weight - a.weight)
}

/** "lower suction", "raise heat.after", "look at mode". */
export const remedyText = ({ setting, way }: Remedy): string =>
  `${way === 'up' ? 'raise' : way === 'down' ? 'lower' : 'look at'} ${setting}`
