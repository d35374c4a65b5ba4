// Text broken into lines between words.

/** Lines of at most `width` characters, where no word is longer; the first begins with `first`, the others with `rest`. */
export function wrapped(text: string, width: number, first = '', rest = first): readonly string[] {
  const lines: string[] = []
  let line = first
  let empty = true
  for (const word of text.split(' ')) {
    if (!empty && [...line].length + 1 + [...word].length > width) {
      lines.push(line)
      line = rest
      empty = true
    }
    line += empty ? word : ` ${word}`
    empty = false
  }
  return [...lines, line]
}
