// Lines of a text found from an offset, without an index: for code that looks at one or two lines.

/** The start of the line that holds an offset. (`lastIndexOf` alone takes a negative offset for 0, and finds a break there.) */
export const startOfLine = (text: string, offset: number): number => (offset <= 0 ? 0 : text.lastIndexOf('\n', offset - 1) + 1)

/** The end of the line that holds an offset, before its line feed. */
export function endOfLine(text: string, offset: number): number {
  const at = text.indexOf('\n', offset)
  return at < 0 ? text.length : at
}
