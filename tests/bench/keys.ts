// The keystrokes of a person at work in a profile, at one place after the other.

/** One change of a text as an editor sends it: `insert` typed at `at`, after `remove` characters were taken out. */
export interface Keystroke {
  readonly at: number
  readonly remove: number
  readonly insert: string
}

export type PlaceName = 'middle check' | 'newest check' | 'title' | 'setting' | 'notes' | 'new check'

/** Edits of a measurement: what the feed is reckoned from. */
export const MEASUREMENTS: readonly PlaceName[] = ['middle check', 'newest check']
/** Edits that no check of the feed is touched by. */
export const ELSEWHERE: readonly PlaceName[] = ['title', 'setting', 'notes']
/** A bit of everything. */
export const PLACES: readonly PlaceName[] = ['middle check', 'notes', 'setting', 'new check']

export interface Key {
  readonly place: PlaceName
  readonly stroke: Keystroke
}

/** Half the keystrokes of a burst; the other half takes them back. */
const HALF = 12
/** The keystrokes at one place before the next has its turn. */
export const BURST = 2 * HALF
const NEW_CHECK = '\n    - { date: 2026-1'
const WORDS = ' for vehicles'

/**
 * Keystrokes without end over the places in turn, a burst at each: a digit typed and taken back in a check or a setting, some words or a new
 * check typed letter by letter and rubbed out again. After every burst the text is what it was.
 */
export function* keys(text: string, places: readonly PlaceName[]): Generator<Key, never> {
  const bursts = places.map((place) => burst(text, place).map((stroke) => ({ place, stroke })))
  for (;;) for (const one of bursts) yield* one
}

function burst(text: string, place: PlaceName): Keystroke[] {
  const at = placeOf(text, place)
  if (place === 'middle check' || place === 'newest check' || place === 'setting') {
    return Array.from({ length: HALF }, (_, i) => [
      { at, remove: 0, insert: String(1 + (i % 9)) },
      { at, remove: 1, insert: '' },
    ]).flat()
  }
  const letters = [...(place === 'new check' ? NEW_CHECK : WORDS).slice(0, HALF)]
  const typed = letters.map((insert, i) => ({ at: at + i, remove: 0, insert }))
  return [...typed, ...typed.map((stroke) => ({ at: stroke.at, remove: 1, insert: '' })).reverse()]
}

/** Where it is typed. */
export function placeOf(text: string, place: PlaceName): number {
  if (place === 'setting') return text.indexOf('gap: 1.5') + 'gap: 1.'.length
  if (place === 'title') return text.indexOf('\n', text.indexOf('\ntitle: ') + 1)
  if (place === 'notes') return text.lastIndexOf('.')
  if (place === 'new check') return text.indexOf('\n  fine:')
  const checks = [...text.matchAll(/measured: \d+\.\d/g)]
  const check = place === 'newest check' ? checks.at(-1)! : checks[checks.length >> 1]!
  return check.index + check[0].length
}

export const applied = (text: string, { at, remove, insert }: Keystroke): string =>
  text.slice(0, at) + insert + text.slice(at + remove)
