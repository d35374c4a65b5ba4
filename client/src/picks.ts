// Picks one key each: digits typed in one go, a minus before those below zero, become the numbers at the stops of a snippet, in their order.
import * as vscode from 'vscode'

/** A row of picks in a snippet: `one-way: { cyan: ${1}, magenta: ${2} \}` or `picks: [${3}, ${4}]`. */
export interface Row {
  /** What is picked: 'one-way'. */
  readonly key: string
  /** What each pick is called; its place where it has no name. */
  readonly names: readonly string[]
  /** The stops as they stand in the snippet. */
  readonly stops: readonly string[]
}

/** The rows of picks in a snippet, in the order in which they stand. */
export function rowsIn(snippet: string): readonly Row[] {
  const rows = snippet.matchAll(/([\w-]+): (?:\{ ((?:[^\s:,{}]+: \$\{\d+\}(?:, )?)+) \\\}|\[((?:\$\{\d+\}(?:, )?)+)\])/g)
  return [...rows].map(([, key = '', named, bare]) => {
    const stops = (named ?? bare ?? '').match(/\$\{\d+\}/g) ?? []
    return { key, stops, names: named?.match(/[^\s:,{}]+(?=: )/g) ?? stops.map((_, i) => vscode.l10n.t('row {0}', i + 1)) }
  })
}

/** The picks that were typed so far; undefined where something else was typed. */
export function picksOf(typed: string): readonly number[] | undefined {
  const text = digitsOf(typed)
  // Zero is zero, with a minus before it or without.
  return /^(?:[-+]?\d)*[-+]?$/.test(text) ? (text.match(/[-+]?\d/g) ?? []).map((pick) => Number(pick) || 0) : undefined
}

const digitsOf = (typed: string): string => typed.replace(/[\s,]/g, '').replaceAll('−', '-')

/** What is still to be typed for a row, or wrong with what was; undefined when every name has its pick. */
export function lacking(typed: string, { names }: Row): string | undefined {
  const picks = picksOf(typed)
  if (picks === undefined) return vscode.l10n.t('One digit a pick, with a minus before a pick below zero: 00-12.')
  const told = picks.slice(0, names.length).map((pick, i) => `${names[i]} ${pick}`)
  if (picks.length < names.length) return [...told, `${names[picks.length]}?`].join(', ')
  if (picks.length > names.length)
    return vscode.l10n.t('Those are {0} picks, and there are {1}: {2}.', picks.length, names.length, names.join(', '))
  return /[-+]$/.test(digitsOf(typed)) ? vscode.l10n.t('A pick is due behind the last sign.') : undefined
}

/** The snippet with the picks of a row in place of its stops. */
export const withPicks = (snippet: string, { stops }: Row, picks: readonly number[]): string =>
  stops.reduce((text, stop, i) => (picks[i] === undefined ? text : text.replace(stop, String(picks[i]))), snippet)
