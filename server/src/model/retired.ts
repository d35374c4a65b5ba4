// What is out of use: a profile, or the stock it prints on. It stays on record with all that was measured; nothing is asked of it.
import { recorded } from '../base/recorder.ts'
import type { Setup } from './setup.ts'

export interface Retired {
  /** The day it was retired, YYYY-MM-DD. */
  readonly since: string
  readonly what: 'profile' | 'stock'
  /** The id of what is used instead: of a profile, or of a stock. */
  readonly replacedBy: string | undefined
}

/** Whether and since when a profile is out of use, by its own word or by its stock's. A day that is still to come retires nothing. */
export const retiredOf = recorded('retired', (setup: Pick<Setup, 'own' | 'stock' | 'today'>): Retired | undefined => {
  for (const [what, document] of [
    ['profile', setup.own],
    ['stock', setup.stock],
  ] as const) {
    const since = document?.retired?.value
    // The day is asked for only where it matters: what rests on it is judged anew each day.
    if (since !== undefined && since <= setup.today) return { since, what, replacedBy: document?.['replaced-by']?.value }
  }
  return undefined
})

/** "retired on 2026-10-01, replaced by banner-510", of a stock "its stock was retired on …". */
export function retiredText({ since, what, replacedBy }: Retired): string {
  const by = replacedBy === undefined ? '' : `, replaced by ${replacedBy}`
  return `${what === 'stock' ? 'its stock was ' : ''}retired on ${since}${by}`
}
