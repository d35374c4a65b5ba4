// Finds the word a person most likely meant by a mistyped one.

/** Longer words are compared as they are: nobody mistypes a page. */
const LONGEST = 64

/**
 * The candidate that differs least from the word, when it differs little enough: capitals, spaces, underscores and hyphens count for
 * nothing, a letter more, less, wrong or swapped with its neighbour counts one, and a third of the letters may be wrong. The same words
 * in another order are taken too. Of equals the first wins.
 */
export function nearest(word: string, candidates: readonly string[]): string | undefined {
  if (word.length > LONGEST) return undefined
  const wanted = plain(word)
  if (wanted === '') return undefined
  let best: string | undefined
  let least = Math.floor(wanted.length / 3) + 1
  for (const candidate of candidates) {
    const other = plain(candidate)
    if (Math.abs(other.length - wanted.length) >= least) continue
    const distance = editDistance(wanted, other)
    if (distance < least) {
      best = candidate
      least = distance
    }
  }
  if (best !== undefined) return best
  const words = sorted(word)
  for (const candidate of candidates) if (sorted(candidate) === words) return candidate
  return undefined
}

/** The nearest candidate, or else the first that holds the word: `banner` means `banner-510`. */
export function nearestOrHolding(word: string, candidates: readonly string[]): string | undefined {
  const wanted = word.trim().toLowerCase()
  return nearest(word, candidates) ?? (wanted.length < 3 ? undefined : candidates.find((c) => c.toLowerCase().includes(wanted)))
}

const plain = (word: string): string => word.toLowerCase().replace(/[\s_-]+/g, '')

const sorted = (word: string): string =>
  word
    .toLowerCase()
    .split(/[\s_-]+/)
    .sort()
    .join('-')

/** Damerau–Levenshtein distance in its optimal string alignment form: no part of the word is changed twice. */
function editDistance(a: string, b: string): number {
  let beforeLast: number[] = []
  let last = Array.from({ length: b.length + 1 }, (_, j) => j)
  for (let i = 1; i <= a.length; i++) {
    const row = [i]
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1]
      let cost = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + (same ? 0 : 1))
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) cost = Math.min(cost, beforeLast[j - 2]! + 1)
      row.push(cost)
    }
    beforeLast = last
    last = row
  }
  return last[b.length]!
}
