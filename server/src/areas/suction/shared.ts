// What the suction rules share: the settings a finding rests on, and the fixes: a level up or down, and a gap that leaves room.
import type { Range } from '../../calc/range.ts'
import type { SuctionRow } from '../../calc/suction-window.ts'
import type { RollDocument } from '../../model/document.ts'
import type { Place } from '../../model/field.ts'
import type { Setup } from '../../model/setup.ts'
import { formatQuantity } from '../../quantities/format.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import type { Fix } from '../../rules/rule.ts'
import { writeSetting } from '../../rules/support/setting.ts'
import { LEAST_FLIGHT } from '../landing/facts.ts'
import { gapsOf, gapsWithRoom, leavesRoom } from '../landing/head-room.ts'
import type { SuctionFacts, SuctionStep } from './facts.ts'
import { smallText, stepText } from './words.ts'

/** The settings of a profile that decide what a suction does, besides itself. */
export const suctionPlaces = ({ profile }: Setup): readonly ({ readonly place: Place } | undefined)[] => [
  profile.stock,
  profile.printer,
  profile.mode,
  profile.gap,
]

/** Sets the level beside the current one, where it holds. */
export const nextLevel = (document: RollDocument, row: SuctionRow<SuctionStep> | undefined): Fix | undefined =>
  row?.verdict === 'holds' ? setLevel(document, row) : undefined

function setLevel(document: RollDocument, row: SuctionRow<SuctionStep> | undefined): Fix | undefined {
  const level = row?.level.name
  if (level === undefined) return undefined
  return writeSetting(document, ['suction'], level, `Set suction ${level}`)
}

/** Sets the level below the current one, where it holds; refused where the edges may then stand up to the heads. */
export function lowerLevel(document: RollDocument, setup: Setup, { down }: SuctionFacts): Fix | undefined {
  const fix = nextLevel(document, down)
  const gap = setup.profile.gap?.value.si
  const { thickness } = setup.material
  if (!fix || !down || gap === undefined || thickness === undefined || leavesRoom(gap, thickness, down.curl.rise)) return fix
  const { units } = setup.shop
  const refused = `At ${stepText(down.level, units)} a curl may stand ${smallText(down.curl.rise.high, units)} high, and of the ${smallText(Math.max(0, gap - thickness), units)} below the heads at least ${smallText(LEAST_FLIGHT, units)} should stay free.`
  return { title: fix.title, edits: [], refused }
}

/**
 * What keeps lifted edges off the heads by more than the least flight, at the far end of what is known of their height: more suction, a higher gap,
 * or both where one is not enough. Where nothing of the printer does, the reason.
 */
export function liftFixes(document: RollDocument, setup: Setup, facts: SuctionFacts): readonly (Fix | undefined)[] {
  const { current, window } = facts
  const { gap } = setup.profile
  const { thickness } = setup.material
  if (!current || !gap || thickness === undefined) return []
  // A curl that still blurs the print is told of next; a level that stretches or dimples is no way out.
  const stronger = (window.ok ? window.value.rows : []).filter(
    ({ pressure, faults }) => pressure > current.pressure && faults.every((fault) => fault === 'curl'),
  )
  const suction = setLevel(
    document,
    stronger.find((row) => leavesRoom(gap.value.si, thickness, row.curl.rise)),
  )
  const lowest = gapsWithRoom(setup, current.curl.rise)[0]
  const higher = lowest && setGap(document, lowest, 'and align again')
  if (suction || higher) return [suction, higher]
  const best = stronger.at(-1)
  const both = best && gapsWithRoom(setup, best.curl.rise)[0]
  const [level, above] = [setLevel(document, best), both && setGap(document, both, 'and align again')]
  if (level && above) return [together(`${level.title}, ${startLower(above.title)}`, level, above)]
  return [noRoom(setup, best?.curl.rise ?? current.curl.rise)]
}

/** Sets the gap to one of the printer's. */
export function setGap(document: RollDocument, gap: Quantity, why: string): Fix {
  const text = formatQuantity(gap)
  return writeSetting(document, ['gap'], text, `Set the gap to ${text}, ${why}`)
}

/** What is said in place of a gap where no gap of the printer leaves room enough. */
export function noRoom(setup: Setup, rise: Range | undefined): Fix | undefined {
  const { thickness } = setup.material
  const widest = gapsOf(setup).at(-1)
  if (thickness === undefined || !widest) return undefined
  const { units } = setup.shop
  const edges = rise ? ` and edges that may stand ${smallText(rise.high, units)} high` : ''
  return {
    title: 'Raise the gap',
    edits: [],
    refused: `The widest gap of ${setup.profile.printer!.value} is ${formatQuantity(widest)}: it does not leave ${smallText(LEAST_FLIGHT, units)} below the heads above ${smallText(thickness, units)} of stock${edges}.`,
  }
}

function together(title: string, ...fixes: readonly Fix[]): Fix {
  const refused = fixes.find((fix) => fix.refused !== undefined)?.refused
  return {
    title,
    edits: refused === undefined ? fixes.flatMap((fix) => fix.edits) : [],
    ...(refused !== undefined && { refused }),
  }
}

const startLower = (text: string): string => text.slice(0, 1).toLowerCase() + text.slice(1)
