// Writes the pattern of a quantity in the grammar of the documents from the table of units, so that no unit is left without its colour.
import { UNITS } from '../src/quantities/units.ts'

export const GRAMMAR = 'client/syntaxes/rollbook.tmLanguage.json'

const DECIMAL = String.raw`(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?`
const NUMBER = String.raw`\G([+\-−]?(?:\d+\s+\d+/\d+|\d+/\d+|${DECIMAL}))`
const UNCERTAINTY = String.raw`(?:\s*(±|\+/-)\s*(${DECIMAL}))?`
/** A value ends with its line, before what closes it, or before a comment. */
const END = String.raw`(?=\s*(?:$|[,\]}'\"])|\s+#)`

/** The text of the grammar with its pattern of a quantity brought up to date and nothing else touched. */
export function withUnits(grammar: string): string {
  const { match } = JSON.parse(grammar).repository.quantity
  return grammar.replace(JSON.stringify(match), () => JSON.stringify(`${NUMBER}${UNCERTAINTY}\\s*(${unitPattern()})${END}`))
}

/** Longer spellings first: the first alternative that fits is taken, and 'm' begins 'mm'. */
function unitPattern(): string {
  const spellings = [...new Set(UNITS.flatMap((unit) => unit.spellings))]
  return spellings
    .sort((a, b) => b.length - a.length || (a < b ? -1 : 1))
    .map((spelling) => spelling.replace(/[\\^$.*+?()[\]{}|]/g, '\\$&'))
    .join('|')
}
