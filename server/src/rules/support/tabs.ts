// Tabs that indent: where they stand, and the spaces that are meant where that is beyond doubt.
import { startOfLine } from '../../base/lines.ts'
import type { Span } from '../../base/span.ts'
import type { TextEdit } from '../../base/text-edit.ts'
import type { DocumentKind } from '../../schema/schema.ts'
import type { SyntaxProblem } from '../../syntax/problem.ts'
import { entryAround, keysAt, lineText, pathAt } from './entries.ts'
import { indentOf, lineAt, nextLine } from './lines.ts'
import type { TextMistake } from './text-mistakes.ts'
import { unclosedIn } from './unclosed.ts'

/** The first line of a region that a tab indents, where that is what its problem is about. */
export function firstTabbed(
  text: string,
  region: Span,
  problem: SyntaxProblem,
  all: readonly SyntaxProblem[],
): number | undefined {
  const told = all.some((p) => p.code === 'tab-indent' && p.start >= region.start && p.start < region.end)
  if (!told && !indentOf(text, lineAt(text, problem.start).start).includes('\t')) return undefined
  for (let at = region.start; at < region.end; at = nextLine(text, at)) if (indentOf(text, at).includes('\t')) return at
  return undefined
}

/** The mistake of a line that begins at `at`. */
export function tabMistake(text: string, kind: DocumentKind, at: number, region: Span): TextMistake {
  const indent = indentOf(text, at)
  const start = at + indent.indexOf('\t')
  const edits = untabbed(text, kind, region)
  const message = 'A tab stands where spaces must indent. What it indents cannot be read; the rest of the document is.'
  const fixes = edits ? [{ title: 'Indent with spaces', edits, preferred: true, form: true as const }] : []
  return { code: 'tab-indent', start, end: at + indent.length, message, fixes, region }
}

/**
 * Spaces for the tabs of an entry's lines: one tab a level, two spaces a level. Beyond doubt only where every line with tabs has nothing but
 * tabs before its text or the spaces of the line above followed by tabs.
 */
function untabbed(text: string, kind: DocumentKind, region: Span): readonly TextEdit[] | undefined {
  const edits: TextEdit[] = []
  let above = ''
  let tabsAbove = ''
  for (let at = region.start; at < region.end; at = nextLine(text, at)) {
    const indent = indentOf(text, at)
    if (/^\s*(?:#|$)/.test(lineText(text, at))) continue
    if (!indent.includes('\t')) {
      above = indent
      tabsAbove = ''
      continue
    }
    const spaces = indent === tabsAbove ? above : spacesFor(text, kind, at, indent, above, tabsAbove)
    if (spaces === undefined) return undefined
    edits.push({ start: at, end: at + indent.length, newText: spaces })
    above = spaces
    tabsAbove = indent
  }
  return edits
}

function spacesFor(
  text: string,
  kind: DocumentKind,
  at: number,
  indent: string,
  above: string,
  tabsAbove: string,
): string | undefined {
  if (unclosedIn(text, entryAround(text, at).start, at)) return `${above}    `
  const previous = lineText(text, startOfLine(text, at - 1))
  const opens = /:[ \t]*(?:#.*)?$/.test(previous)
  if (opens) return indent.length > tabsAbove.length || tabsAbove === '' ? `${above}  ` : undefined
  if (tabsAbove !== '') return undefined
  // Aligned with the line above: with its dash, or with the key behind it.
  const dash = /^ *(- +)[\w-]+:/.exec(previous)?.[1]
  const isItem = text[at + indent.length] === '-'
  const key = /^[\w-]+/.exec(text.slice(at + indent.length, at + 400))?.[0] ?? ''
  const column = above.length + (dash?.length ?? 0)
  // A key that is at home beside the one above; elsewhere the tab may have stood for less.
  if (!isItem && !keysAt(kind, pathAt(text, lineAt(text, at - 1).start + column)).includes(key)) return undefined
  if (dash === undefined || isItem) return above
  return above + ' '.repeat(dash.length)
}
