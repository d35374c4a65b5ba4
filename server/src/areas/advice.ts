// What this setup's numbers say about one setting as the cause of one fault.
import type { RollDocument } from '../model/document.ts'
import type { Fault } from '../model/generated/documents.ts'
import type { Setup } from '../model/setup.ts'
import type { Fix } from '../rules/rule.ts'
import type { Way } from '../schema/explain.ts'

export interface Asked {
  readonly document: RollDocument
  readonly setup: Setup
  readonly fault: Fault
  readonly way: Way | undefined
}

export interface Assessment {
  /** 0 to 1: how much the numbers of this setup speak for it. */
  readonly weight: number
  /** A sentence part with the numbers: "level 4 stretches the web by 1.2 mm/m, more than the 0.5 mm/m the shop allows". */
  readonly reason: string
  /** The one step on this machine that is safe to try. */
  readonly step?: Fix | undefined
  /** The numbers rule it out: it is told apart from what is to be tried. */
  readonly against?: boolean
  /** To be measured before it is moved one way or the other. */
  readonly look?: boolean
}

/** Undefined where the setup says nothing about it: then the trade's order holds. */
export type Assess = (asked: Asked) => Assessment | undefined

/** Weights for what the numbers say. The trade's own order lies between LIKELY and UNLIKELY. */
export const PROVEN = 0.95
export const LIKELY = 0.8
export const POSSIBLE = 0.45
export const UNLIKELY = 0.1

/** What the numbers of this setup rule out. */
export const ruledOut = (reason: string): Assessment => ({ weight: 0, reason, against: true })

/** Weight by how large the effect is beside what is allowed; one too small to matter is ruled out. */
export function bySize(ratio: number, reason: string, step: Assessment['step']): Assessment {
  if (ratio > 1) return { weight: Math.min(LIKELY + 0.12, LIKELY + 0.04 * ratio), reason, step }
  return ratio > 0.3 ? { weight: POSSIBLE, reason, step } : ruledOut(`${reason}: too little to matter`)
}

/** What an area has to say, by the setting that is asked about. */
export type AreaAdvice = Readonly<Record<string, Assess>>
