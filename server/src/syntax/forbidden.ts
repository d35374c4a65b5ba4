// What YAML forbids and the library lets pass: control characters, which it also takes for signs of its own, and directives that lead nowhere.
import type { SyntaxProblem } from './problem.ts'

/** More of these in one document are not told one by one. */
const MAX_TOLD = 64

// biome-ignore lint/suspicious/noControlCharactersInRegex: these characters are what is looked for.
const CONTROL = /[\u0000-\u0008\u000b\u000c\u000e-\u001f]/

const LONE_RETURN = /\r(?!\n)/

/** The control characters of a text (YAML 1.2.2, 5.1: of those below the space only tab, line feed and carriage return may stand). */
export function controlCharacters(text: string): readonly SyntaxProblem[] {
  if (!CONTROL.test(text)) return []
  const problems: SyntaxProblem[] = []
  for (let i = 0; i < text.length && problems.length < MAX_TOLD; i++) {
    if (!CONTROL.test(text[i]!)) continue
    const code = text.charCodeAt(i).toString(16).toUpperCase().padStart(4, '0')
    problems.push({
      code: 'syntax',
      start: i,
      end: i + 1,
      detail: `A control character (U+${code}) stands here. It cannot be seen; delete it.`,
    })
  }
  return problems
}

/**
 * The text as the library is to read it, every offset the same: a control character stands for no letter, and a lone carriage return
 * is the line break that YAML takes it for.
 */
export function readable(text: string): string {
  const clean = CONTROL.test(text) ? text.replace(new RegExp(CONTROL, 'g'), '\ufffd') : text
  return clean.includes('\r') && LONE_RETURN.test(clean) ? clean.replace(new RegExp(LONE_RETURN, 'g'), '\n') : clean
}

/** Lines that begin with % before a document: each leads to a document, and the version is told once (YAML 1.2.2, 6.8). */
export function directiveProblems(text: string): readonly SyntaxProblem[] {
  if (!/^%/m.test(text)) return []
  const problems: SyntaxProblem[] = []
  let inDocument = false
  let versions = 0
  let open: SyntaxProblem | undefined
  for (let start = 0; start < text.length; ) {
    const next = text.indexOf('\n', start)
    const end = next < 0 ? text.length : next
    const line = text.slice(start, end)
    const here = { code: 'syntax' as const, start, end: start + line.trimEnd().length }
    if (inDocument) inDocument = !/^\.\.\.(?:\s|$)/.test(line)
    else if (line.startsWith('%')) {
      if (/^%YAML\s/.test(line) && versions++ > 0)
        problems.push({ ...here, detail: 'The YAML version is told twice. Delete this line.' })
      open = { ...here, detail: 'This line speaks to YAML itself, and no document follows it. Delete it.' }
    } else if (!/^\s*(?:#|$)/.test(line)) {
      inDocument = !line.startsWith('...')
      if (inDocument) open = undefined
      versions = 0
    }
    start = end + 1
  }
  return open ? [...problems, open] : problems
}
