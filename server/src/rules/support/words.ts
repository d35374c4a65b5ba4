// Small helpers for the wording of findings: whole sentences, lists of words, values in quotes.
import { shortened } from '../../base/shortened.ts'
import { lastPart } from '../../base/uri.ts'

/** A whole sentence of a phrase: a capital in front, a full stop behind. */
export function sentence(phrase: string): string {
  const first = phrase.slice(0, 1).toUpperCase() + phrase.slice(1)
  return /[.?!]$/.test(first) ? first : `${first}.`
}

/** `a, b and c`; `or` for a choice. */
export function listed(words: readonly string[], last: 'and' | 'or' = 'and'): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} ${last} ${words.at(-1)}`
}

/** A text in quotes on one line, cut short. */
export const quoted = (text: string, most = 40): string => `'${shortened(text, most)}'`

/** The name of a file in quotes, whatever folder it is in. */
export const quotedFile = (path: string): string => quoted(lastPart(path), 60)

/** A sentence in which no name is longer than one that a shop gives its documents: what stands where a name is due may be of any length. */
export const withShortNames = (text: string): string =>
  text.length <= LONGEST_NAME ? text : text.replace(LONG_NAME, (name) => `${[...name].slice(0, LONGEST_NAME).join('')}…`)

const LONGEST_NAME = 80
const LONG_NAME = new RegExp(`[^\\s'\\u2026]{${LONGEST_NAME + 1},}`, 'gu')

/** A description of the schema inside a sentence: `Length the pattern came out at.` gives `length the pattern came out at`. */
export function asPhrase(description: string): string {
  const phrase = description.replace(/\.$/, '')
  return /^[A-Z][a-z]/.test(phrase) ? phrase[0]!.toLowerCase() + phrase.slice(1) : phrase
}

export const plural = (count: number, word: string, several = `${word}s`): string => `${count} ${count === 1 ? word : several}`

/** The last name of a dotted path, without indices: `climate.temperature.0` gives `temperature`. */
export function lastName(path: string): string {
  return (
    path
      .split('.')
      .filter((step) => step !== '*' && !/^\d+$/.test(step))
      .at(-1) ?? path
  )
}
