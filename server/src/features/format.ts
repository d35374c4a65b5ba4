// Puts a document in order without touching what it says: indentation, one space behind colons and dashes, no blanks at the ends of lines, one line
// break at the end. Comments, blank lines, quotes and what stands in brackets stay as they are; nothing but blanks is ever changed.
import type { Span } from '../base/span.ts'
import { applyEdits, editsOf, type TextEdit } from '../base/text-edit.ts'
import type { RollDocument } from '../model/document.ts'
import { lineBreak } from '../model/edit.ts'
import { SyntaxTree } from '../syntax/parse.ts'
import type { Node, ScalarNode } from '../syntax/tree.ts'
import { Layout } from './layout.ts'

/** The edits that put a document, or some lines of it, in order. Undefined where the text has mistakes, or where it would say something else then. */
export function format(document: RollDocument, within?: Span): readonly TextEdit[] | undefined {
  const { text, tree } = document
  if (tree.problems.length > 0) return undefined
  const layout = new Layout(text, tree.root)
  if (!layout.known) return undefined
  const lines = [...indents(layout, text), ...gaps(layout), ...lineEnds(layout, text)]
  const end = ending(text)
  const all = editsOf(text, [...lines, ...end])
  // A text in lines of its own may end in line breaks that are part of it.
  const choices = within ? narrowed(all, layout, tree.root, within) : end.length > 0 ? [all, editsOf(text, lines)] : [all]
  return choices.find((edits) => edits.length === 0 || saysTheSame(text, tree, edits))
}

function* indents(layout: Layout, text: string): Generator<TextEdit> {
  const texts = new Map(layout.longTexts.map((node) => [layout.lines.lineAt(node.start), node]))
  let inText: { readonly end: number; readonly indent: number } | undefined
  for (let line = 0; line < layout.lines.lineCount; line++) {
    const start = layout.startOf(line)
    if (inText && start >= inText.end) inText = undefined
    const shift = layout.shiftOf(line)
    const column = layout.columnOf(line)
    // Of a text in lines of its own, a line that is shorter than its indentation is an empty one.
    const moves = shift !== 0 && (inText ? column >= inText.indent : !layout.isBlank(line))
    if (moves && shift > 0) yield { start, end: start, newText: ' '.repeat(shift) }
    else if (moves) yield { start, end: start + Math.min(-shift, column), newText: '' }
    const begun = texts.get(line)
    if (begun?.style === 'block') inText = { end: begun.end, indent: indentOfText(begun, layout, text) }
  }
}

/** How far the lines of a text in lines of its own are indented. */
function indentOfText(node: ScalarNode, layout: Layout, text: string): number {
  let indent = Number.POSITIVE_INFINITY
  const first = layout.lines.lineAt(node.start) + 1
  for (let line = first; line < layout.lines.lineCount && layout.lines.lineStart(line) < node.end; line++)
    if (/\S/.test(text.slice(layout.lines.lineStart(line), layout.lines.lineEnd(line))))
      indent = Math.min(indent, layout.columnOf(line))
  return indent
}

const gaps = ({ gaps }: Layout): readonly TextEdit[] => gaps.map(({ start, end }) => ({ start, end, newText: ' ' }))

/** Blanks at the ends of lines, but for those in texts of several lines. */
function* lineEnds({ lines, longTexts }: Layout, text: string): Generator<TextEdit> {
  const last = contentEnd(text)
  let next = 0
  const texts = [...longTexts].sort((a, b) => a.start - b.start)
  for (let line = 0; line < lines.lineCount && lines.lineStart(line) < last; line++) {
    const end = lines.lineEnd(line)
    while (next < texts.length && texts[next]!.end < end) next++
    const at = texts[next]
    if (at && at.start < end && (end < at.end || at.style === 'block')) continue
    let start = end
    while (start > lines.lineStart(line) && isBlank(text[start - 1])) start--
    if (start < end) yield { start, end, newText: '' }
  }
}

/** One line break behind the last line. */
function ending(text: string): readonly TextEdit[] {
  const last = contentEnd(text)
  if (last === 0 || (last === 1 && text.charCodeAt(0) === 0xfeff)) return []
  const newline = text.indexOf('\n', last)
  if (newline < 0) return [{ start: text.length, end: text.length, newText: lineBreak(text) }]
  return newline + 1 < text.length ? [{ start: newline + 1, end: text.length, newText: '' }] : []
}

/** Behind the last sign that is no blank and no line break. */
function contentEnd(text: string): number {
  let end = text.length
  while (end > 0 && (isBlank(text[end - 1]) || text[end - 1] === '\n' || text[end - 1] === '\r')) end--
  return end
}

const isBlank = (sign: string | undefined): boolean => sign === ' ' || sign === '\t'

/** The edits on the lines of a stretch; where these alone would not do, on the entries of the document that it touches. */
function narrowed(
  all: readonly TextEdit[],
  { lines }: Layout,
  root: Node | undefined,
  within: Span,
): readonly (readonly TextEdit[])[] {
  const on = (span: Span): readonly TextEdit[] => {
    const from = lines.lineStart(lines.lineAt(span.start))
    // A stretch that ends where a line begins does not reach that line.
    const last = span.end > span.start ? span.end - 1 : span.end
    const to = lines.lineEnd(lines.lineAt(last))
    return all.filter(({ start, end }) => from <= start && end <= to)
  }
  const entries = root?.kind === 'map' ? root.pairs.filter(({ start, end }) => start < within.end && within.start < end) : []
  const wider =
    entries.length > 0
      ? [on({ start: Math.min(within.start, entries[0]!.start), end: Math.max(within.end, entries.at(-1)!.end) })]
      : []
  return [on(within), ...wider]
}

/** Whether a text says the very same after edits that change blanks alone. */
function saysTheSame(text: string, before: SyntaxTree, edits: readonly TextEdit[]): boolean {
  const after = SyntaxTree.parse(applyEdits(text, edits))
  return after.problems.length === 0 && sameNode(before.root, after.root)
}

function sameNode(a: Node | undefined, b: Node | undefined): boolean {
  if (a?.kind === 'scalar') return b?.kind === 'scalar' && a.text === b.text && a.style === b.style
  if (a?.kind === 'alias') return b?.kind === 'alias' && a.name === b.name
  if (a?.kind === 'seq')
    return b?.kind === 'seq' && a.items.length === b.items.length && a.items.every((item, i) => sameNode(item, b.items[i]))
  if (a?.kind !== 'map') return b === undefined
  if (b?.kind !== 'map' || a.pairs.length !== b.pairs.length) return false
  return a.pairs.every(({ key, value }, i) => sameNode(key, b.pairs[i]!.key) && sameNode(value, b.pairs[i]!.value))
}
