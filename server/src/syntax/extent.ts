// Where what a node says begins and ends, for code that looks at the lines around it.
import { startOfLine } from '../base/lines.ts'
import type { Span } from '../base/span.ts'

/** A stretch without the blank lines behind it: a block of text ends with those that follow it. */
export const extentOf = ({ start, end }: Span, text: string): Span => ({ start, end: withoutBlanks(text, start, end) })

function withoutBlanks(text: string, start: number, end: number): number {
  let at = end
  while (at > start && /\s/.test(text[at - 1]!)) at--
  return at
}

/** The dash of a list's item: it stands under that of the first one, where the list begins. Undefined in brackets and in broken texts. */
export function dashOf(text: string, listStart: number, itemStart: number): number | undefined {
  const column = listStart - startOfLine(text, listStart)
  for (let end = itemStart; end >= listStart; ) {
    const line = startOfLine(text, end)
    const at = line + column
    if (at >= listStart && at <= itemStart && text[at] === '-' && /\s/.test(text[at + 1] ?? ' ')) return at
    end = line - 1
  }
  return undefined
}
