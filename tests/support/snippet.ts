// Snippets as an editor puts them in: the text that stands then, and its stops in the order in which Tab goes through them.

export interface Stop {
  readonly start: number
  readonly end: number
}

/** A snippet's text, and its stops from 1 on with the last one, $0 or the end, behind them. */
export function readSnippet(snippet: string): { readonly text: string; readonly stops: readonly Stop[] } {
  const found: { readonly n: number; readonly start: number; readonly end: number }[] = []
  let text = ''
  const token = /\$\{(\d+)\|((?:\\.|[^\\|])*)\|\}|\$\{(\d+)(?::((?:\\.|[^\\}])*))?\}|\$(\d+)|\\([\\$}])/gs
  let at = 0
  for (const match of snippet.matchAll(token)) {
    text += snippet.slice(at, match.index)
    at = match.index + match[0].length
    const [, choice, choices, stop, inner, bare, escaped] = match
    const start = text.length
    if (escaped !== undefined) text += escaped
    else text += (choices === undefined ? (inner ?? '') : firstOf(choices)).replace(/\\(.)/g, '$1')
    if (escaped === undefined) found.push({ n: Number(choice ?? stop ?? bare), start, end: text.length })
  }
  text += snippet.slice(at)
  const rank = (n: number): number => (n === 0 ? Number.POSITIVE_INFINITY : n)
  const stops = found.sort((a, b) => rank(a.n) - rank(b.n) || a.start - b.start)
  return { text, stops: stops.some(({ n }) => n === 0) ? stops : [...stops, { start: text.length, end: text.length }] }
}

const firstOf = (choices: string): string => /^(?:\\.|[^\\,])*/s.exec(choices)![0]
