// What a merge made of the measurements of its sides: each that both together should have and the merged document has not, has twice, or has under
// another state. What one side took out or changed since they parted, and the other left as it was, is meant so.
import type { Measurement } from './measurements.ts'

export interface Sides {
  /** The document where the sides parted; more than one where history parted more than once. Empty where it was not there yet. */
  readonly bases: readonly (readonly Measurement[])[]
  readonly parents: readonly (readonly Measurement[])[]
  readonly merged: readonly Measurement[]
}

export interface Loss {
  /** `returned`: one side had taken it out. */
  readonly what: 'dropped' | 'doubled' | 'state' | 'returned'
  /** As a side had it. */
  readonly measurement: Measurement
  /** The side, by its place among the parents; of what is returned, the one that took it out. */
  readonly parent: number
  /** As it is merged; undefined for what is dropped. */
  readonly merged: Measurement | undefined
}

/** Nothing where the merge is what the sides make of any of its bases. */
export function lossesIn({ bases, parents, merged }: Sides): readonly Loss[] {
  const sides = parents.map(byReading)
  const after = byReading(merged)
  const found = (bases.length > 0 ? bases : [[]]).map((base) => {
    const before = byReading(base)
    const readings = new Set(sides.flatMap((side) => [...side.keys()]))
    for (const reading of before.keys()) readings.add(reading)
    const losses = [...readings].flatMap((reading) => {
      const at = (side: Grouped): Group => side.get(reading) ?? []
      return lossOf(at(before), sides.map(at), at(after), merged)
    })
    return losses.filter((loss) => loss.what !== 'state' || !isGiven(loss, base, parents))
  })
  return found.reduce((least, one) => (one.length < least.length ? one : least))
}

/** Whether one side put the reading right, and another gave the state to what it read before: then the merge says both. */
const isGiven = ({ measurement, parent, merged }: Loss, base: Group, parents: readonly Group[]): boolean =>
  base.some(
    (was) =>
      was.kind === measurement.kind &&
      was.date === measurement.date &&
      was.state === measurement.state &&
      !parents[parent]!.some(({ reading }) => reading === was.reading) &&
      parents.some((side) => side.some(({ reading, state }) => reading === was.reading && state === merged?.state)),
  )

type Group = readonly Measurement[]
type Grouped = ReadonlyMap<string, Group>

function byReading(all: readonly Measurement[]): Grouped {
  const groups = new Map<string, Measurement[]>()
  for (const one of all) {
    const group = groups.get(one.reading)
    if (group) group.push(one)
    else groups.set(one.reading, [one])
  }
  return groups
}

/** Of measurements that read alike, the first thing that is wrong with them. */
function lossOf(base: Group, parents: readonly Group[], merged: Group, all: Group): readonly Loss[] {
  const [least, most] = wanted(base, parents)
  const first = firstOf(parents)
  const states = astray(base, parents, merged, (one) => one.state)
  if (merged.length < least) {
    const missing = states.lacking ?? astray(base, parents, merged, (one) => one.detail).lacking ?? first
    return missing && !isReplaced(missing.measurement, all) ? [{ what: 'dropped', ...missing, merged: undefined }] : []
  }
  if (merged.length > most) {
    const extra = merged.at(-1)!
    const out = parents.findIndex((group) => group.length < base.length)
    // Of a section the older print stands where the newer should: that the newer is gone is told.
    if (out >= 0 && extra.kind.form === 'section') return []
    if (out >= 0) return [{ what: 'returned', measurement: first?.measurement ?? base[0]!, parent: out, merged: extra }]
    // What no side has, somebody wrote down while merging.
    return first ? [{ what: 'doubled', ...first, merged: extra }] : []
  }
  return states.lacking && states.beyond ? [{ what: 'state', ...states.lacking, merged: states.beyond }] : []
}

/** How many there should be, at least and at most: what both sides added may be one measurement or two, unless they tell them apart. */
function wanted(base: Group, parents: readonly Group[]): readonly [number, number] {
  const counts = parents.map((group) => group.length)
  const changed = counts.filter((count) => count !== base.length)
  const adding = parents.filter((group) => group.length > base.length)
  if (changed.length === 0) return [base.length, base.length]
  if (changed.length === 1 || adding.length === 0) return [Math.min(...changed), Math.max(...changed)]
  const added = adding.map((group) => countsOf(group, (one) => one.detail, base))
  const details = new Set(added.flatMap((counts) => [...counts.keys()]))
  let union = 0
  for (const detail of details) union += Math.max(...added.map((counts) => counts.get(detail) ?? 0))
  if (adding.length < changed.length) return [Math.min(...counts), base.length + union]
  return [base.length + union, base.length + union]
}

/** How many there are of each, beyond those of another group. */
function countsOf(group: Group, by: (one: Measurement) => string, without: Group = []): Map<string, number> {
  const counts = new Map<string, number>()
  for (const one of group) counts.set(by(one), (counts.get(by(one)) ?? 0) + 1)
  for (const one of without) {
    const left = (counts.get(by(one)) ?? 0) - 1
    if (left > 0) counts.set(by(one), left)
    else counts.delete(by(one))
  }
  return counts
}

/** Told apart by one thing they say: one that should be there and is not, and one that is there and should not be. */
function astray(
  base: Group,
  parents: readonly Group[],
  merged: Group,
  by: (one: Measurement) => string,
): {
  readonly lacking: { readonly measurement: Measurement; readonly parent: number } | undefined
  readonly beyond: Measurement | undefined
} {
  const was = countsOf(base, by)
  const sides = parents.map((group) => countsOf(group, by))
  const now = countsOf(merged, by)
  let lacking: { measurement: Measurement; parent: number } | undefined
  let beyond: Measurement | undefined
  for (const key of new Set([...was.keys(), ...now.keys(), ...sides.flatMap((side) => [...side.keys()])])) {
    const before = was.get(key) ?? 0
    const counts = sides.map((side) => side.get(key) ?? 0)
    const changed = counts.filter((count) => count !== before)
    const [least, most] = changed.length === 0 ? [before, before] : [Math.min(...changed), Math.max(...changed)]
    const there = now.get(key) ?? 0
    if (there < least && !lacking) {
      const parent = counts.findIndex((count) => count > there)
      const measurement = parents[parent]?.find((one) => by(one) === key)
      if (measurement) lacking = { measurement, parent }
    }
    if (there > most) beyond ??= merged.findLast((one) => by(one) === key)
  }
  return { lacking, beyond }
}

function firstOf(parents: readonly Group[]): { readonly measurement: Measurement; readonly parent: number } | undefined {
  const parent = parents.findIndex((group) => group.length > 0)
  return parent < 0 ? undefined : { measurement: parents[parent]![0]!, parent }
}

/** Of a section there is one: where both sides measured anew, the newer print is kept, and the other is no loss. */
const isReplaced = ({ kind, date }: Measurement, merged: Group): boolean =>
  kind.form === 'section' && merged.some((one) => one.kind === kind && one.date >= date)
