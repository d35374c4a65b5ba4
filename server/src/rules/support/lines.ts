// Lines of a text around an offset, without the cost of indexing all of them.
import { startOfLine } from '../../base/lines.ts'
import type { Span } from '../../base/span.ts'

/** The line that holds an offset, without its line break. */
export function lineAt(text: string, offset: number): Span {
  const start = startOfLine(text, offset)
  const next = text.indexOf('\n', offset)
  const end = next < 0 ? text.length : next
  return { start, end: end > start && text[end - 1] === '\r' ? end - 1 : end }
}

/** The offset behind the line break that ends the line of an offset. */
export function nextLine(text: string, offset: number): number {
  const next = text.indexOf('\n', offset)
  return next < 0 ? text.length : next + 1
}

/** The blanks a line begins with. */
export const indentOf = (text: string, lineStart: number): string => /^[ \t]*/.exec(text.slice(lineStart, lineStart + 400))![0]

/**
 * The span cut to its first line and stretched to at least one character, so that it can be seen; an empty one at the end of the text
 * steps back onto a character.
 */
export function visible(text: string, { start, end }: Span): Span {
  const line = lineAt(text, Math.min(start, text.length))
  const to = Math.min(end, Math.max(line.end, start))
  let from = Math.min(start, text.length)
  if (to > from) return { start: from, end: to }
  while (from > 0 && /\s/.test(text[from] ?? ' ')) from--
  return { start: from, end: Math.min(from + 1, text.length) }
}
