// Text for a terminal: colours where a person looks at one, and nothing in a document that could steer it.

export interface Style {
  bold(text: string): string
  dim(text: string): string
  red(text: string): string
  yellow(text: string): string
  blue(text: string): string
}

const same = (text: string): string => text

const PLAIN: Style = { bold: same, dim: same, red: same, yellow: same, blue: same }

const COLOURS: Style = {
  bold: (text) => paint(1, 22, text),
  dim: (text) => paint(2, 22, text),
  red: (text) => paint(31, 39, text),
  yellow: (text) => paint(33, 39, text),
  blue: (text) => paint(36, 39, text),
}

const paint = (on: number, off: number, text: string): string => `\u001b[${on}m${text}\u001b[${off}m`

/** Colours on a terminal, unless NO_COLOR is set (no-color.org) or the terminal is a dumb one. */
export function styleOf({ isTty, env }: { isTty: boolean; env: Readonly<Record<string, string | undefined>> }): Style {
  return isTty && !env.NO_COLOR && env.TERM !== 'dumb' ? COLOURS : PLAIN
}

/** Text of a document on one line, its control characters replaced: a profile must not be able to steer the terminal. */
export const printable = (text: string): string => text.replace(/[\r\n\t]+/g, ' ').replace(/\p{Cc}/gu, '\ufffd')

const WIDTH = 100

/** Markdown for a person at a terminal: headings bold, code set off, long lines broken between words. */
export function renderMarkdown(markdown: string, style: Style): string {
  const out: string[] = []
  let fenced = false
  for (const line of markdown.split('\n')) {
    if (line.startsWith('```')) fenced = !fenced
    else if (fenced) out.push(`    ${style.blue(printable(line))}`)
    else for (const part of broken(unescaped(printable(line)))) out.push(dressed(part, style))
  }
  return out.join('\n')
}

function dressed(line: string, style: Style): string {
  if (/^#{1,6} /.test(line)) return style.bold(line.replace(/^#+ /, ''))
  return line
    .replace(/\*\*([^*]+)\*\*/g, (_, inner: string) => style.bold(inner))
    .replace(/`([^`]+)`/g, (_, inner: string) => style.blue(inner))
    .replace(/(?<![*\w])\*([^*]+)\*(?!\w)/g, (_, inner: string) => style.dim(inner))
}

/** A line broken between words; what follows a list mark hangs below its text. */
function broken(line: string): readonly string[] {
  const indent = ' '.repeat(/^(?:\s*[-*>] )?\s*/.exec(line)![0].length)
  const parts: string[] = []
  let current = ''
  for (const word of line.split(/(?<=\S) /)) {
    if (current !== '' && current.length + 1 + word.length > WIDTH) {
      parts.push(current)
      current = indent + word
    } else current = current === '' ? word : `${current} ${word}`
  }
  return [...parts, current]
}

/** Escapes of user text undone. */
const unescaped = (line: string): string => line.replace(/\\([\\`*_{}[\]()#+!|<>~-])/g, '$1')
