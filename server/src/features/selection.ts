// What a selection grows to, step by step: the word, the value, its line, the group it is in, and so on up to the whole document.
import { startOfLine } from '../base/lines.ts'
import { type Span, touches } from '../base/span.ts'
import { dashOf, extentOf } from '../syntax/extent.ts'
import { lastStartingBefore } from '../syntax/locate.ts'
import type { MapNode, Node, ScalarNode, SeqNode } from '../syntax/tree.ts'
import type { FeatureContext } from './context.ts'

/** The stretches around an offset, the smallest first; each lies in the next. */
export function selections({ document }: FeatureContext, offset: number): readonly Span[] {
  const { text } = document
  const outside: Span[] = [{ start: 0, end: text.length }]
  const add = (span: Span | undefined): void => {
    const within = outside.at(-1)!
    if (!span || !touches(span, offset) || span.start < within.start || span.end > within.end) return
    if (span.start > within.start || span.end < within.end) outside.push(span)
  }
  const comment = commentAt(text, offset)
  for (let node = document.tree.root; node; ) node = inward(node, text, offset, add)
  if (comment) for (const span of comment) add(span)
  return outside.reverse()
}

/** Adds what a node is made of, from outside in, and returns the node in it where the offset is. */
function inward(node: Node, text: string, offset: number, add: (span: Span | undefined) => void): Node | undefined {
  add(extentOf(node, text))
  if (node.kind === 'map') return inMap(node, text, offset, add)
  if (node.kind === 'seq') return inList(node, text, offset, add)
  if (node.kind === 'scalar') inScalar(node, text, offset, add)
  return undefined
}

function inMap(map: MapNode, text: string, offset: number, add: (span: Span | undefined) => void): Node | undefined {
  if (map.flow) add({ start: map.start + 1, end: map.end - 1 })
  const pair = map.pairs[lastStartingBefore(map.pairs, offset)]
  if (!pair) return undefined
  add(extentOf(pair, text))
  return pair.key && touches(pair.key, offset) ? pair.key : touches(extentOf(pair.value, text), offset) ? pair.value : undefined
}

function inList(list: SeqNode, text: string, offset: number, add: (span: Span | undefined) => void): Node | undefined {
  if (list.flow) add({ start: list.start + 1, end: list.end - 1 })
  const index = lastStartingBefore(list.items, offset)
  // On the dash of the next item.
  const next = list.items[index + 1]
  const dashed = next && !list.flow ? dashOf(text, list.start, next.start) : undefined
  const item = dashed !== undefined && dashed <= offset ? next! : list.items[index]
  if (!item) return undefined
  const dash = list.flow ? undefined : dashOf(text, list.start, item.start)
  if (dash !== undefined) add({ start: dash, end: extentOf(item, text).end })
  return touches(extentOf(item, text), offset) ? item : undefined
}

function inScalar(node: ScalarNode, text: string, offset: number, add: (span: Span | undefined) => void): void {
  const { style } = node
  const quoted = style === 'single' || style === 'double'
  const inner = quoted ? { start: node.start + 1, end: node.end - 1 } : node
  if (quoted) add(inner)
  if (style !== 'block') add(wordAt(text, inner, offset))
}

/** The word that an offset is on, between blanks. */
function wordAt(text: string, within: Span, offset: number): Span | undefined {
  if (!touches(within, offset)) return undefined
  let { start, end } = { start: offset, end: offset }
  while (start > within.start && !/\s/.test(text[start - 1]!)) start--
  while (end < within.end && !/\s/.test(text[end]!)) end++
  return start < end ? { start, end } : undefined
}

/** A comment on lines of its own: all of them, and then the one. */
function commentAt(text: string, offset: number): readonly Span[] | undefined {
  const own = commentOn(text, startOfLine(text, offset))
  if (!own || offset < own.start) return undefined
  let { start, end } = own
  for (let above = commentBefore(text, start); above; above = commentBefore(text, start)) start = above.start
  for (let below = commentBehind(text, end); below; below = commentBehind(text, end)) end = below.end
  return [{ start, end }, own]
}

const commentBefore = (text: string, start: number): Span | undefined => {
  const line = startOfLine(text, start)
  return line === 0 ? undefined : commentOn(text, startOfLine(text, line - 1))
}

const commentBehind = (text: string, end: number): Span | undefined => {
  const line = text.indexOf('\n', end)
  return line < 0 ? undefined : commentOn(text, line + 1)
}

/** The comment on the line that begins at an offset, where nothing else stands on it. */
export function commentOn(text: string, line: number): Span | undefined {
  COMMENT.lastIndex = line
  const match = COMMENT.exec(text)
  return match ? { start: line + match[1]!.length, end: line + match[0].trimEnd().length } : undefined
}

const COMMENT = /([ \t]*)#[^\r\n]*/y
