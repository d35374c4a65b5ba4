// Finds the quote or bracket that is left open: what the YAML library can only say of the place where it gave up.

export interface Unclosed {
  readonly at: number
  readonly open: '"' | "'" | '[' | '{'
  readonly close: '"' | "'" | ']' | '}'
}

const CLOSE = { '[': ']', '{': '}' } as const

/** The outermost quote or bracket opened in [from, to) of the text and not closed there. */
export function unclosedIn(text: string, from: number, to: number): Unclosed | undefined {
  const open: ('[' | '{')[] = []
  const opened: number[] = []
  let atStart = true
  for (let i = from; i < to; i++) {
    const c = text[i]!
    if (c === '#' && (i === from || /\s/.test(text[i - 1]!))) {
      const end = text.indexOf('\n', i)
      if (end < 0 || end >= to) break
      i = end
      atStart = true
    } else if (c === '\n') atStart = true
    else if (c === ' ' || c === '\t' || c === '\r') continue
    else if (atStart && (c === '"' || c === "'")) {
      const end = closing(text, i, to, c)
      if (end < 0) return { at: i, open: c, close: c }
      i = end
      atStart = false
    } else if ((c === '[' || c === '{') && (atStart || open.length > 0)) {
      open.push(c)
      opened.push(i)
      atStart = true
    } else if (open.length > 0 && c === CLOSE[open.at(-1)!]) {
      open.pop()
      opened.pop()
      atStart = false
    } else atStart = startsValue(text, i, open.length > 0)
  }
  return open.length === 0 ? undefined : { at: opened[0]!, open: open[0]!, close: CLOSE[open[0]!] }
}

/** Whether a value may begin behind the character: after a colon, a dash of a list, a comma in brackets. */
function startsValue(text: string, at: number, flow: boolean): boolean {
  const c = text[at]!
  if (c === ',') return flow
  const blankFollows = /\s/.test(text[at + 1] ?? ' ')
  if (c === ':') return blankFollows
  return c === '-' && blankFollows && /(?:^|\n)[ \t]*(?:-[ \t]+)*$/.test(text.slice(Math.max(0, at - 80), at))
}

function closing(text: string, open: number, to: number, quote: string): number {
  for (let i = open + 1; i < to; i++) {
    if (quote === '"' && text[i] === '\\') i++
    else if (text[i] === quote) {
      if (quote === "'" && text[i + 1] === "'") i++
      else return i
    }
  }
  return -1
}
