// The nearest stock with proven numbers on the same printer: what a new profile borrows from. Nearest by family first, then by thickness and stiffness.
import { type FeedFacts, feedOf } from '../../areas/feed/facts.ts'
import type { Setup } from '../../model/setup.ts'

export interface Neighbour {
  readonly setup: Setup
  /** The profile's id. */
  readonly id: string
  readonly feed: FeedFacts
  /** Steps between the families: the same (0), of one kind (1), alike (2), different (3). */
  readonly apart: number
  readonly sameStock: boolean
}

/** Steps up to which one stock's heat and hold may begin another's: both paper, both film, both cloth (common practice). */
export const ONE_KIND = 1

/** Of all profiles given, those on the same printer whose feed is proven by a check, nearest first. */
export function neighbours(of: Setup, others: readonly Setup[]): readonly Neighbour[] {
  const printer = of.profile.printer?.value
  const found = others.flatMap((setup): (Neighbour & { readonly distance: number })[] => {
    const id = setup.own.profile?.value
    if (id === undefined || setup.file === of.file || !setup.stock || setup.profile.printer?.value !== printer) return []
    const feed = feedOf(setup)
    if (feed.reckoning?.keyIn?.value === undefined || !feed.reckoning.combined) return []
    const sameStock = setup.profile.stock?.value === of.profile.stock?.value
    const apart = familiesApart(setup.stock.family?.value, of.stock?.family?.value)
    return [{ setup, id, feed, sameStock, apart, distance: distance(setup, of) }]
  })
  return found.sort(
    (a, b) =>
      Number(b.sameStock) - Number(a.sameStock) ||
      a.apart - b.apart ||
      a.distance - b.distance ||
      Number(sameMode(b.setup, of)) - Number(sameMode(a.setup, of)) ||
      Number(a.feed.stale) - Number(b.feed.stale) ||
      (a.id < b.id ? -1 : 1),
  )
}

const sameMode = (a: Setup, b: Setup): boolean => a.profile.mode?.value === b.profile.mode?.value

/** How many e-folds thickness and stiffness differ by, together; what is not known counts as one. */
function distance(a: Setup, b: Setup): number {
  const ratio = (x: number | undefined, y: number | undefined): number =>
    x !== undefined && y !== undefined && x > 0 && y > 0 ? Math.abs(Math.log(x / y)) : 1
  return (
    ratio(a.material.thickness, b.material.thickness) +
    ratio(a.material.stiffness()?.range.typical, b.material.stiffness()?.range.typical)
  )
}

/** Families that behave alike on a printer (common practice). */
const ALIKE: readonly (readonly [string, string])[] = [
  ['film', 'banner'],
  ['canvas', 'textile'],
  ['canvas', 'paper'],
]

function familiesApart(a: string | undefined, b: string | undefined): number {
  if (a === undefined || b === undefined) return 3
  if (a === b) return 0
  const [first, second] = [a.split('-')[0]!, b.split('-')[0]!]
  if (first === second) return 1
  return ALIKE.some((pair) => pair.includes(first) && pair.includes(second)) ? 2 : 3
}

/** How near, in words. */
export function nearness({ sameStock, apart, setup }: Neighbour): string {
  if (sameStock) return `the same stock in ${setup.profile.mode?.value ?? 'another mode'}`
  const family = setup.material.family?.title.toLowerCase() ?? 'stock of an unknown family'
  if (apart === 0) return `stock of the same family`
  return apart === 3 ? `${family}, a different family, so expect other numbers` : `${family}, a family like this one`
}
