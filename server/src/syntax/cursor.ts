// Where a cursor stands in text that may be half typed: found from indentation and brackets alone, so that it works where the tree is broken.
// For completion. Reads at most the top-level entry that holds the cursor.

import { startOfLine } from '../base/lines.ts'

export interface Cursor {
  /** Keys and indices down to the value being typed (role 'value') or to the mapping or list being filled (role 'key'). */
  readonly path: readonly (string | number)[]
  readonly role: 'key' | 'value'
  /** The word before the cursor, and to where it goes on behind it: what a completion replaces. */
  readonly start: number
  readonly end: number
  /** Inside { } or [ ]. */
  readonly flow: boolean
  /** The column of the word in a block; for a nested key to come. */
  readonly column: number
  /** A colon stands behind the word already. */
  readonly colonFollows: boolean
}

/** The cursor's place; undefined in a comment, a block of text, or where a value stands already that a deeper line would go on. */
export function cursorAt(source: string, offset: number): Cursor | undefined {
  const text = source.charCodeAt(0) === 0xfeff ? `\n${source.slice(1)}` : source
  const lineStart = startOfLine(text, offset)
  const entryStart = startOfEntry(text, lineStart)
  const scan = scanTo(text, entryStart, offset)
  if (scan === 'comment' || scan === 'text') return undefined
  return scan.length > 0 ? inFlow(text, offset, scan, entryStart) : inBlock(text, offset, lineStart)
}

interface Frame {
  readonly open: '{' | '['
  readonly at: number
  /** Items before, in a list. */
  index: number
  key: string | undefined
  /** Where the current key or value began. */
  tokenStart: number
  role: 'key' | 'value'
}

/** Walks from an entry's start to the offset with brackets, quotes, comments and blocks of text in mind. */
function scanTo(text: string, from: number, offset: number): Frame[] | 'comment' | 'text' {
  const frames: Frame[] = []
  let valueMayStart = true
  for (let i = from; i < offset; i++) {
    const c = text[i]!
    const top = frames.at(-1)
    if (c === '\n') {
      valueMayStart = true
      continue
    }
    if (c === ' ' || c === '\t' || c === '\r') continue
    if (c === '#' && (i === from || /\s/.test(text[i - 1]!))) {
      const end = text.indexOf('\n', i)
      if (end < 0 || end >= offset) return 'comment'
      i = end - 1
      continue
    }
    if (valueMayStart && (c === '"' || c === "'")) {
      const end = closingQuote(text, i, c)
      if (end < 0 || end >= offset) return frames
      i = end
      valueMayStart = false
      continue
    }
    if (
      valueMayStart &&
      (c === '|' || c === '>') &&
      frames.length === 0 &&
      /^[|>][-+0-9]*[ \t]*(?:#.*)?\r?$/.test(lineRest(text, i))
    ) {
      const end = endOfTextBlock(text, i)
      if (end >= offset && offset > text.indexOf('\n', i)) return 'text'
      i = Math.min(end, offset) - 1
      valueMayStart = true
      continue
    }
    if (valueMayStart && (c === '{' || c === '[')) {
      frames.push({ open: c, at: i, index: 0, key: undefined, tokenStart: i + 1, role: c === '{' ? 'key' : 'value' })
      continue
    }
    if (top && (c === '}' || c === ']')) {
      frames.pop()
      valueMayStart = false
      continue
    }
    if (top && c === ',') {
      top.index++
      top.key = undefined
      top.tokenStart = i + 1
      top.role = top.open === '{' ? 'key' : 'value'
      valueMayStart = true
      continue
    }
    if (c === ':' && (i + 1 >= text.length || /[\s,{}[\]]/.test(text[i + 1]!))) {
      if (top?.role === 'key') {
        top.key = unquoted(text.slice(top.tokenStart, i).trim())
        top.tokenStart = i + 1
        top.role = 'value'
      }
      valueMayStart = true
      continue
    }
    valueMayStart =
      c === '-' && /\s/.test(text[i + 1] ?? ' ') && /(?:^|\n)[ \t]*(?:-[ \t]+)*$/.test(text.slice(startOfLine(text, i), i))
  }
  return frames
}

function inFlow(text: string, offset: number, frames: readonly Frame[], entryStart: number): Cursor | undefined {
  const [outer] = frames
  const base = blockPath(text, outer!.at, Math.max(startOfLine(text, outer!.at), entryStart))
  if (!base) return undefined
  const path: (string | number)[] = [...base]
  for (const frame of frames.slice(0, -1)) path.push(frame.open === '[' ? frame.index : (frame.key ?? ''))
  const top = frames.at(-1)!
  let start = top.tokenStart
  while (start < offset && /\s/.test(text[start]!)) start++
  const rest = lineRest(text, offset)
  const end = offset + (top.role === 'key' ? /^[^\s,{}[\]:#]*/ : /^(?:[^,{}[\]#\r\n]|(?<=\S)#)*/).exec(rest)![0].trimEnd().length
  const colonFollows = /^\s*:/.test(text.slice(end, end + 10))
  if (top.role === 'value') path.push(top.open === '[' ? top.index : (top.key ?? ''))
  return { path, role: top.role, start, end, flow: true, column: 0, colonFollows }
}

function inBlock(text: string, offset: number, lineStart: number): Cursor | undefined {
  const before = text.slice(lineStart, offset)
  const rest = lineRest(text, offset)
  if (/^[ ]*\t/.test(before)) return undefined
  const value = /^([ ]*(?:-[ ]+)*)([^\s:#"'][^:#]*?|"[^"]*"|'[^']*')[ ]*:(?:[ \t]+(.*))?$/.exec(before)
  const column = (value?.[1] ?? /^[ ]*(?:-[ ]+)*/.exec(before)![0]).length
  const parents = parentsOf(text, lineStart, column)
  if (!parents) return undefined
  const path = [...parents, ...dashIndex(text, lineStart, before.slice(0, column))]
  if (value) {
    const start = offset - (value[3] ?? '').length
    path.push(unquoted(value[2]!))
    return { path, role: 'value', start, end: endOfValue(text, offset), flow: false, column, colonFollows: false }
  }
  return {
    path,
    role: 'key',
    start: lineStart + column,
    end: offset + /^[\w-]*/.exec(rest)![0].length,
    flow: false,
    column,
    colonFollows: /^[\w-]*[ ]*:/.test(rest),
  }
}

/** To where the plain value that holds an offset goes on: the end of its line, without a comment and the spaces before it. */
export function endOfValue(text: string, offset: number): number {
  const rest = lineRest(text, offset)
  return offset + /^(?:[^#\r\n]|(?<=\S)#)*/.exec(rest)![0].trimEnd().length
}

/** The path of the block value that begins at `at`, from its own line's key and the lines above. */
function blockPath(text: string, at: number, lineStart: number): (string | number)[] | undefined {
  const before = text.slice(lineStart, at)
  const match = /^([ ]*(?:-[ ]+)*)(?:([^\s:#"'][^:#]*?|"[^"]*"|'[^']*')[ ]*:[ \t]+)?$/.exec(before)
  const indent = match?.[1] ?? ''
  const parents = parentsOf(text, lineStart, indent.length)
  if (!parents) return undefined
  const path = [...parents, ...dashIndex(text, lineStart, indent)]
  if (match?.[2] !== undefined) path.push(unquoted(match[2]))
  return path
}

/** A line's indentation, its dashes, and the key that it opens a block for. */
const LINE =
  /^([ ]*)((?:-(?:[ ]+|(?=\r?\n)))*)(?:([^\s:#"'-][^:#]*?|"[^"]*"|'[^']*')[ ]*:[ \t]*(?:[&!]\S+[ \t]*)*(?:#.*)?(?=\r?\n))?/

/** The keys and indices that a word at `column` stands under, outermost first; undefined where the line it would be part of holds a value. */
function parentsOf(text: string, lineStart: number, column: number): (string | number)[] | undefined {
  const path: (string | number)[] = []
  const own = /^[ ]*/.exec(lineRest(text, lineStart))![0].length
  // A dash and its list's key may stand at the same column; a word and its mapping's key may not.
  let dash = column > own && text[lineStart + own] === '-'
  let under = dash ? own : column
  for (let end = lineStart; end > 0 && (under > 0 || dash); ) {
    const start = startOfLine(text, end - 1)
    const line = text.slice(start, end)
    end = start
    if (isPassedOver(line)) continue
    if (/^(?:---|\.\.\.)\s/.test(line)) break
    const [, spaces = '', dashes = '', key] = LINE.exec(line)!
    const indent = spaces.length
    if (indent > under || (indent === under && (!dash || dashes !== ''))) continue
    const content = indent + dashes.length
    const bare = /^\s*$/.test(line.slice(content))
    if (content < under || (dash && content === under)) {
      if (key !== undefined) path.unshift(unquoted(key))
      else if (!bare) return undefined
    }
    under = indent
    dash = dashes !== ''
    if (dash) path.unshift(itemIndex(text, start, indent))
  }
  return path
}

/** Lines that tell nothing of where others stand: blank ones, comments, closing brackets, conflict markers. */
const isPassedOver = (line: string): boolean => /^[ ]*(?:#|\r?\n|[}\]])|^(?:<{7}|\|{7}|={7}|>{7})[ \r\n]/.test(line)

/** The index of the item a line's dash begins, where it begins one. */
function dashIndex(text: string, lineStart: number, indent: string): number[] {
  const dash = indent.indexOf('-')
  return dash < 0 ? [] : [itemIndex(text, lineStart, dash)]
}

/** How many items of the same list stand above a line. */
function itemIndex(text: string, lineStart: number, column: number): number {
  let index = 0
  for (let end = lineStart; end > 0; ) {
    const start = startOfLine(text, end - 1)
    const line = text.slice(start, end)
    end = start
    if (isPassedOver(line)) continue
    const indent = /^[ ]*/.exec(line)![0].length
    if (indent < column || (indent === column && line[indent] !== '-')) break
    if (indent === column) index++
  }
  return index
}

/** The start of the top-level entry that holds a line. */
function startOfEntry(text: string, lineStart: number): number {
  let start = lineStart
  while (start > 0 && !/[A-Za-z0-9_"']/.test(text[start] ?? '')) start = startOfLine(text, start - 1)
  return start
}

function closingQuote(text: string, open: number, quote: string): number {
  for (let i = open + 1; i < text.length; i++) {
    if (quote === '"' && text[i] === '\\') i++
    else if (text[i] === quote) {
      if (quote === "'" && text[i + 1] === "'") i++
      else return i
    } else if (text[i] === '\n' && /^[A-Za-z0-9_]/.test(text.slice(i + 1, i + 2))) return i
  }
  return -1
}

function endOfTextBlock(text: string, at: number): number {
  const lineStart = startOfLine(text, at)
  const indent = /^[ ]*/.exec(lineRest(text, lineStart))![0].length
  let end = text.indexOf('\n', at)
  while (end >= 0) {
    const line = lineRest(text, end + 1)
    if (line.trim() !== '' && /^[ ]*/.exec(line)![0].length <= indent) return end + 1
    const next = text.indexOf('\n', end + 1)
    if (next < 0) return text.length
    end = next
  }
  return text.length
}

function lineRest(text: string, from: number): string {
  const end = text.indexOf('\n', from)
  return text.slice(from, end < 0 ? text.length : end)
}

const unquoted = (text: string): string => (/^(['"]).*\1$/.test(text) ? text.slice(1, -1) : text)
