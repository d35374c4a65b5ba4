// What to try for a fault, in order: the causes of its page (common practice), moved by what this setup's numbers say for and against each.

import type { RollDocument } from '../../model/document.ts'
import type { Fault, MediaDocument } from '../../model/generated/documents.ts'
import { writtenText } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import type { Fix } from '../../rules/rule.ts'
import { type Cause, explainFault, type Way, wayWords } from '../../schema/explain.ts'
import { type Assess, type Assessment, UNLIKELY } from '../advice.ts'
import { ADVICE } from '../generated/advice.ts'
import { keyedOf } from '../machine/read-back.ts'
import { climateOf } from '../room/facts.ts'

type Seen = NonNullable<MediaDocument['observed']>['items'][number]

export interface Remedy {
  /** The setting to look at, dotted. */
  readonly setting: string
  /** Undefined where it is looked at and not moved one way. */
  readonly way: Way | undefined
  readonly weight: number
  /** What is wrong, by the trade. */
  readonly words: string
  /** With numbers of this setup, or undefined where the trade's order is all there is. */
  readonly reason: string | undefined
  readonly step: Fix | undefined
}

export interface Advice {
  /** What to look at before any setting is moved. */
  readonly first: string
  /** Likeliest first. */
  readonly remedies: readonly Remedy[]
  /** What the numbers of this setup rule out, each with its reason. */
  readonly against: readonly Remedy[]
  readonly caution: string | undefined
}

/** By setting. */
const ASSESS: Readonly<Record<string, Assess>> = Object.assign({}, ...ADVICE)

/** What the feed checks were made with: after a step of one of these they count no longer. */
const UNDER_THE_FEED = /^(?:suction|web\.tension|heat\.\w+)$/

/** Weight of the first place of the trade's order, and how much each further place lacks. */
const FIRST = 0.4
const STEP = 0.04

/** What to try for a fault on this setup. `seen` is the entry it was written down in. */
export function adviceFor(document: RollDocument, setup: Setup, fault: Fault, seen?: Seen): Advice | undefined {
  const page = explainFault(fault)
  if (!page) return undefined
  const all = page.causes
    .filter((cause) => fitsStock(setup, cause))
    .flatMap((cause, place): readonly (Remedy & { readonly against: boolean })[] => {
      const { setting, way, words } = cause
      if (setting === undefined) return []
      const said = readOtherwise(setup, setting) ?? ASSESS[setting]?.({ document, setup, fault, way })
      const contrary = way && wantedOtherwise(setup, setting, way, seen)
      // Among equals the trade's order decides.
      const weight = (said?.weight ?? FIRST - STEP * place) - place * 1e-6
      return [
        {
          setting,
          way: said?.look ? undefined : way,
          weight: contrary ? Math.min(weight, UNLIKELY) : weight,
          words,
          reason: [said?.reason, contrary].filter((part) => part !== undefined).join('; ') || undefined,
          step: contrary ? undefined : toTry(setup, setting, said?.step),
          against: said?.against ?? false,
        },
      ]
    })
    .sort((a, b) => b.weight - a.weight)
  const { first, caution } = page
  return { first, remedies: all.filter((r) => !r.against), against: all.filter((r) => r.against), caution }
}

/** A setting that was found otherwise on the machine comes before all that the profile's numbers say. */
function readOtherwise(setup: Setup, setting: string): Assessment | undefined {
  const found = keyedOf(setup).find(({ path, same, since }) => same === false && !since && path.join('.') === setting)
  if (!found?.setting) return undefined
  const day = found.date ? ` on ${found.date.value}` : ''
  const reason = `the machine had ${writtenText(found.keyed)} when it was read back${day}, and the profile has ${writtenText(found.setting)}`
  return { weight: 1, reason, look: true }
}

/** Whether a cause that holds for one sort of stock can hold for this one; one that is not known may be either. */
function fitsStock(setup: Setup, { on }: Cause): boolean {
  if (on === undefined || !setup.stock) return true
  return (climateOf(setup).moisture !== undefined) === (on === 'paper')
}

/** Another fault of this profile that wants the setting moved the other way: what cured it must not be taken back unawares. */
function wantedOtherwise(setup: Setup, setting: string, way: Way, seen: Seen | undefined): string | undefined {
  for (const other of setup.own.observed?.items ?? []) {
    if (other === seen || !other.fault) continue
    const cause = explainFault(other.fault.value)?.causes.find((c) => c.setting === setting && c.way !== undefined)
    if (!cause || cause.way === way || (other.fault.value === seen?.fault?.value && other.settled)) continue
    const settled = other.settled ? `, settled on ${other.settled.value},` : ''
    return `${other.fault.value}${other.date ? ` seen on ${other.date.value}` : ''}${settled} may come back: it wants ${setting} ${cause.way === 'up' ? 'raised' : 'lowered'}`
  }
  return undefined
}

/** A step to try. The print shows whether it was right, so it is never the one fix that is right beyond doubt. */
function toTry({ own }: Setup, setting: string, step: Fix | undefined): Fix | undefined {
  if (!step) return undefined
  const again = UNDER_THE_FEED.test(setting) && own.feed?.checks?.items.length
  return { ...step, preferred: false, ...(again && { title: `${step.title}, and check the feed again` }) }
}

/** "lower suction", "raise heat.after", "look at mode". */
export const remedyText = ({ setting, way }: Remedy): string => `${wayWords(way)} ${setting}`
