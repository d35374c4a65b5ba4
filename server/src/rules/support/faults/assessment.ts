// What this setup's numbers say about one setting as the cause of one fault.
import type { RollDocument } from '../../../model/document.ts'
import type { Fault } from '../../../model/generated/documents.ts'
import type { Setup } from '../../../model/setup.ts'
import type { Fix } from '../../rule.ts'

/** Which way a setting would have to go to mend a fault. */
export type Way = 'up' | 'down'

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
}

/** Undefined where the setup says nothing about it: then the trade's order holds. */
export type Assess = (asked: Asked) => Assessment | undefined

/** Weights for what the numbers say. The trade's own order lies between LIKELY and UNLIKELY. */
export const PROVEN = 0.95
export const LIKELY = 0.8
export const POSSIBLE = 0.45
export const UNLIKELY = 0.1
