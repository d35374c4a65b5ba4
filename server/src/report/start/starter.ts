// What an area adds to a new profile: its settings, each with its reason, chosen beside those that stand already.
import { STARTS } from '../../areas/generated/starts.ts'
import type { Chosen } from './chosen.ts'
import type { Draft } from './draft.ts'
import type { Neighbour } from './nearest.ts'

export interface Starter {
  /** The areas whose settings it stands on. */
  readonly after?: readonly string[]
  /** `near` is the nearest profile that is proven; `problems` takes what a person must know before the first print. */
  choose(draft: Draft, near: Neighbour | undefined, problems: string[]): readonly (Chosen | undefined)[]
}

/** All areas, each after those it stands on, else in the order of a print. Throws where two wait for each other. */
export function startersInOrder(starts: readonly (readonly [string, Starter])[] = STARTS): readonly Starter[] {
  const done = new Set<string>()
  const out: Starter[] = []
  while (out.length < starts.length) {
    const next = starts.find(([area, { after = [] }]) => !done.has(area) && after.every((other) => done.has(other)))
    if (!next) throw new Error(`areas wait for each other: ${starts.map(([area]) => area).filter((area) => !done.has(area))}`)
    done.add(next[0])
    out.push(next[1])
  }
  return out
}
