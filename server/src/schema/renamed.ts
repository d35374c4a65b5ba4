// Names that keys, words, switches and rules had before. The old one is no alias: nothing is read from it, but whoever writes it is told the new one.

const KEYS: Readonly<Record<string, string>> = { travel: 'turn-at' }

const WORDS: Readonly<Record<string, string>> = { image: 'print-edge', bed: 'bed-end', none: 'never' }

/** What a switch said of a machine, in the words of which it is a list now. */
const SWITCHES: Readonly<Record<string, readonly string[]>> = { true: ['never', 'at-intervals'], false: ['never'] }

const RULES: Readonly<Record<string, string>> = {
  'feed-check-slip': 'feed-check-miswritten',
  'travel-bed-narrow': 'turn-at-bed-end',
}

/** What a key is called now, with its section where it was given with one; undefined where none of the known ones had its name. */
export function renamedKey(key: string, known: readonly string[]): string | undefined {
  const at = key.lastIndexOf('.') + 1
  const now = nowOf(KEYS, key.slice(at))
  return now === undefined ? undefined : among(key.slice(0, at) + now, known)
}

/** What a word is called now; undefined where none of those that can stand here had its name. */
export const renamedWord = (word: string, allowed: readonly string[]): string | undefined => among(nowOf(WORDS, word), allowed)

/** The words that say what a switch said; undefined where those that can stand here say something else. */
export function renamedSwitch(text: string, allowed: readonly string[]): readonly string[] | undefined {
  const words = Object.hasOwn(SWITCHES, text) ? SWITCHES[text]! : []
  return words.length > 0 && words.every((word) => allowed.includes(word)) ? words : undefined
}

/** What a rule is called now; undefined where none had its name. */
export const renamedRule = (code: string, codes: readonly string[]): string | undefined => among(nowOf(RULES, code), codes)

const nowOf = (names: Readonly<Record<string, string>>, was: string): string | undefined =>
  Object.hasOwn(names, was) ? names[was] : undefined

const among = (now: string | undefined, known: readonly string[]): string | undefined =>
  now !== undefined && known.includes(now) ? now : undefined
