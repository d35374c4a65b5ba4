// The mistakes of a document's text, one for one: the YAML library reports a missing colon or bracket where it gave up, often several times;
// here each is told once, at the token a person has to mend, with the part of the document that it puts in doubt.

import { nearest } from '../../base/nearest.ts'
import type { Span } from '../../base/span.ts'
import type { TextEdit } from '../../base/text-edit.ts'
import type { DocumentKind } from '../../schema/schema.ts'
import type { SyntaxTree } from '../../syntax/parse.ts'
import type { SyntaxProblem } from '../../syntax/problem.ts'
import { inPlainWords } from '../../syntax/words.ts'
import type { Fix } from '../rule.ts'
import { beginsEntry, entryAround, keysAt, keyWithoutColon, lineText, pathAt } from './entries.ts'
import { indentOf, lineAt, nextLine, visible } from './lines.ts'
import { firstTabbed, tabMistake } from './tabs.ts'
import { unclosedIn } from './unclosed.ts'
import { quoted } from './words.ts'

export interface TextMistake extends Span {
  readonly code: 'syntax' | 'tab-indent' | 'no-colon' | 'conflict-markers' | 'unseen-letter'
  readonly message: string
  readonly fixes: readonly Fix[]
  /** What cannot be trusted while the mistake stands: nothing else is told of it. */
  readonly region: Span
}

const SECOND_COLON = inPlainWords('BLOCK_AS_IMPLICIT_KEY', '')
const LONG_KEY = inPlainWords('MULTILINE_IMPLICIT_KEY', '')
const MISSING = inPlainWords('MISSING_CHAR', '')
const BAD_INDENT = inPlainWords('BAD_INDENT', '')

export function textMistakes(tree: SyntaxTree, kind: DocumentKind): readonly TextMistake[] {
  const { text } = tree
  const left = leftoverMarker(tree)
  if (left) return [left]
  if (tree.problems.some((p) => p.code === 'too-deep')) return []
  const margin = offMargin(tree)
  if (margin) return [margin]
  const end = tree.problems.find((p) => p.code === 'several-documents')?.start ?? text.length
  const problems = tree.problems.filter((p) => TEXTUAL.has(p.code) && p.start <= end).sort((a, b) => a.start - b.start)
  const found: TextMistake[] = []
  for (const problem of problems) {
    const last = found.at(-1)
    // What lies in a stretch that is in doubt already is an echo.
    if (last && problem.start < last.region.end) continue
    if (found.length === MAX_MISTAKES) break
    const mistake = examine(text, kind, problem, problems)
    if (!last || mistake.region.start >= last.region.end) found.push(mistake)
  }
  return found
}

/** The mistake of a line of bare words, wherever it was noticed: `region` is the line itself. */
export function noColon(
  text: string,
  kind: DocumentKind,
  at: Span,
  path?: readonly (string | number)[],
  names?: readonly string[],
): TextMistake {
  const span = visible(text, at)
  const words = text.slice(span.start, span.end)
  const known = names ?? keysAt(kind, path ?? pathAt(text, span.start))
  const [, word = '', joint = '', rest = ''] = /^([A-Za-z0-9][\w-]*)([ \t]*[:=][ \t]*|[ \t]+|$)([\s\S]*)$/.exec(words) ?? []
  const key = known.includes(word) ? word : nearest(word, known)
  const closed = joint.trim() === ':'
  const what = closed
    ? `A space is missing behind the colon of ${quoted(words)}`
    : `${quoted(words)} has no colon between a key and its value`
  const right = key === undefined ? undefined : rest === '' ? `${key}:` : `${key}: ${rest}`
  const message = right === undefined ? `${what}.` : `${what}; did you mean ${quoted(right)}?`
  const edits: TextEdit[] =
    right === undefined
      ? []
      : [{ start: span.start, end: span.start + word.length + joint.length, newText: rest === '' ? `${key}:` : `${key}: ` }]
  const fixes = right === undefined ? [] : [{ title: `Write ${quoted(right)}`, edits, preferred: key === word }]
  return {
    code: 'no-colon',
    ...span,
    message,
    fixes,
    region: { start: lineAt(text, span.start).start, end: nextLine(text, span.start) },
  }
}

/** More mistakes than these help nobody; what is beyond them shows when the first are mended. */
const MAX_MISTAKES = 200

const TEXTUAL: ReadonlySet<string> = new Set(['syntax', 'tab-indent', 'no-colon'])
const MARKER = /^(?:<{7}|>{7})(?: [^\r\n]*)?$/

/** Half a conflict: some of its marker lines are gone, so that nothing can be taken as one side or the other. */
function leftoverMarker(tree: SyntaxTree): TextMistake | undefined {
  const { text, conflicts } = tree
  if (!text.includes('<<<<<<<') && !text.includes('>>>>>>>')) return undefined
  let next = 0
  for (let at = 0; at < text.length; at = nextLine(text, at)) {
    while (next < conflicts.length && conflicts[next]!.end <= at) next++
    const inside = next < conflicts.length && at >= conflicts[next]!.start
    if (inside || !MARKER.test(lineText(text, at))) continue
    return {
      code: 'conflict-markers',
      ...lineAt(text, at),
      message:
        'A line of a merge conflict is left over here, and the others of its conflict are gone. Decide which lines stay and delete this one.',
      fixes: [],
      region: { start: 0, end: text.length },
    }
  }
  return undefined
}

/** A first line that is indented while the others begin at the margin: none of them belongs to it. */
function offMargin({ text, problems }: SyntaxTree): TextMistake | undefined {
  if (!problems.some((p) => p.code === 'syntax')) return undefined
  const [, before = '', word = ''] = /^((?:[ \t]*(?:#[^\n]*)?\r?\n)*[ \t]+)([\w-]+):/.exec(text) ?? []
  const at = before.length - indentOf(text, lineAt(text, before.length).start).length
  const below = nextLine(text, before.length)
  if (word === '' || !/^[\w-]+:/m.test(text.slice(below))) return undefined
  const message = `'${word}' is indented, and the lines below it begin at the margin. Lines that belong together begin in one column.`
  const alone = /^[\w-]+:/.test(lineText(text, below))
  const fixes = alone
    ? [{ title: `Move '${word}' to the margin`, edits: [{ start: at, end: before.length, newText: '' }], preferred: true }]
    : []
  return {
    code: 'syntax',
    start: before.length,
    end: before.length + word.length,
    message,
    fixes,
    region: { start: 0, end: text.length },
  }
}

function examine(text: string, kind: DocumentKind, problem: SyntaxProblem, all: readonly SyntaxProblem[]): TextMistake {
  const one = text.slice(problem.start, problem.end)
  if (one.length === 1 && /[^\s\P{Cc}]/u.test(one)) return controlCharacter(problem)
  if (problem.code === 'no-colon') return noColon(text, kind, problem)
  const region = regionOf(text, problem.start)
  const tabbed = firstTabbed(text, region, problem, all)
  if (tabbed !== undefined) return tabMistake(text, kind, tabbed, region)
  const unclosed = unclosedIn(text, region.start, region.end)
  if (unclosed) {
    const name = unclosed.open === '"' || unclosed.open === "'" ? 'quote' : 'bracket'
    const message = `This ${name} is not closed: its ${unclosed.close} is missing. What follows it cannot be read; the rest of the document is.`
    return { code: 'syntax', start: unclosed.at, end: unclosed.at + 1, message, fixes: [], region }
  }
  return (
    colonMistake(text, kind, problem, region) ??
    commaMistake(text, problem, region) ??
    deeperMistake(text, problem, region) ?? {
      code: 'syntax',
      ...visible(text, problem),
      message: wordsFor(text, problem),
      fixes: quoting(text, problem),
      region,
    }
  )
}

/** A character nobody can see: it puts nothing else in doubt. */
function controlCharacter({ start, end, detail }: SyntaxProblem): TextMistake {
  const fixes = [{ title: 'Delete the invisible character', edits: [{ start, end, newText: '' }], preferred: true }]
  return { code: 'syntax', start, end, message: detail, fixes, region: { start, end: start } }
}

/** The region a problem puts in doubt. Where the library only gave up at the next key, it is the entry before that is at fault. */
function regionOf(text: string, at: number): Span {
  const line = lineAt(text, at)
  const margin = text[line.start] ?? ''
  if (at === line.start && at > 0 && (beginsEntry(lineText(text, at)) || margin === '')) return entryAround(text, at - 1)
  if (/\S/.test(margin) && !beginsEntry(lineText(text, at))) return { start: line.start, end: entryAround(text, at).end }
  return entryAround(text, at)
}

/** A key whose colon is missing, or has no space behind it: the line reads on into the next, or the next one has nowhere to belong. */
function colonMistake(text: string, kind: DocumentKind, problem: SyntaxProblem, region: Span): TextMistake | undefined {
  if (problem.detail === LONG_KEY || problem.detail === MISSING) {
    const bare = bareWords(text, problem.start)
    // The line below is drawn into this one, and lost with it.
    if (bare)
      return {
        ...noColon(text, kind, bare),
        region: { start: region.start, end: Math.max(region.end, nextLine(text, problem.end)) },
      }
  }
  if (problem.detail !== BAD_INDENT) return undefined
  const above = lineAt(text, Math.max(lineAt(text, problem.start).start - 1, region.start))
  const bare = bareWords(text, above.start + indentOf(text, above.start).length)
  if (!bare || !keyWithoutColon(text.slice(bare.start, bare.end), keysAt(kind, pathAt(text, bare.start)))) return undefined
  return { ...noColon(text, kind, bare), region }
}

/** The words from an offset to the end of its line, where no colon stands among them. */
function bareWords(text: string, start: number): Span | undefined {
  const words = text
    .slice(start, lineAt(text, start).end)
    .replace(/\s+#.*$/, '')
    .trimEnd()
  return /^[A-Za-z0-9]/.test(words) && !/:(?:[ \t]|$)/.test(words) ? { start, end: start + words.length } : undefined
}

/** `{ date: 2026-03-14 applied: 0 % }`: a comma is missing between two entries. */
function commaMistake(text: string, problem: SyntaxProblem, region: Span): TextMistake | undefined {
  const stretch = text.slice(problem.start, problem.end)
  const match = problem.detail === inPlainWords('BLOCK_IN_FLOW', '') ? /^([^\r\n]*?)[ \t]+([\w-]+):\s/.exec(stretch) : null
  if (!match) return undefined
  const before = problem.start + match[1]!.length
  const start = problem.start + match[0].length - match[2]!.length - 2
  const message = `A comma is missing before '${match[2]}'.`
  const fixes = [{ title: 'Add a comma', edits: [{ start: before, end: before, newText: ',' }], preferred: true }]
  return { code: 'syntax', start, end: start + match[2]!.length, message, fixes, region }
}

/** A line indented deeper than the value above it, which it cannot belong to. */
function deeperMistake(text: string, problem: SyntaxProblem, region: Span): TextMistake | undefined {
  const line = lineAt(text, problem.start)
  const own = text.slice(line.start, line.end)
  if (problem.detail !== SECOND_COLON || /:\s[^#]*:\s/.test(own)) return undefined
  const at = nextLine(text, problem.start)
  const indent = indentOf(text, at)
  const wanted = indentOf(text, line.start)
  if (at >= text.length || indent.length <= wanted.length) return undefined
  const word = /^[^\s:]+/.exec(text.slice(at + indent.length, at + 400))?.[0]
  const above = /^\s*(?:- )?([^\s:]+)/.exec(own)?.[1]
  if (word === undefined || above === undefined) return undefined
  const message = `'${word}' is indented deeper than '${above}' above it, which has a value already. Lines that belong together begin in one column.`
  const alone = indentOf(text, nextLine(text, at)).length <= wanted.length
  const edits = [{ start: at, end: at + indent.length, newText: wanted }]
  const fixes = alone ? [{ title: `Align '${word}' with '${above}'`, edits }] : []
  return { code: 'syntax', start: at + indent.length, end: at + indent.length + word.length, message, fixes, region }
}

function wordsFor(text: string, problem: SyntaxProblem): string {
  if (text[problem.start] === '-' && /\s/.test(text[problem.start + 1] ?? ' '))
    return 'An item of a list stands here outside any list. Indent it below the key it belongs to.'
  return problem.detail
}

/** A value with a second colon in it, or a first character that YAML keeps for itself, is put in quotes. */
function quoting(text: string, problem: SyntaxProblem): readonly Fix[] {
  const line = lineAt(text, problem.start)
  const match = /^(\s*(?:- )?[\w-]+:[ \t]+)([^'"[{\s][^'"]*?)[ \t]*$/.exec(text.slice(line.start, line.end))
  if (!match || / #/.test(match[2]!)) return []
  const start = line.start + match[1]!.length
  if (problem.start !== start) return []
  if (problem.detail !== SECOND_COLON && problem.detail !== inPlainWords('BAD_SCALAR_START', '')) return []
  return [{ title: 'Put the value in quotes', edits: [{ start, end: start + match[2]!.length, newText: `'${match[2]}'` }] }]
}
