// Cuts a block of YAML text into its entries by looking at line starts alone, so that an edit re-parses one entry and not the document.
// An entry begins at a line of exactly the block's indentation that reads `key:` or `- `; every deeper line, blank line and comment
// belongs to the entry above it. This is exact for valid YAML (inside an entry no continuation may return to the block's own
// indentation), and where a line fits neither form the block is not cut at all.

/** One entry of a block, as offsets into the text. */
export interface Cut {
  start: number
  end: number
  /** End of the key's text, where the entry begins with a plain `key:`; -1 otherwise. */
  keyEnd: number
  /** Offset behind the colon, when nothing but a comment follows on that line; -1 otherwise. */
  bodyStart: number
}

export interface Cuts {
  readonly kind: 'map' | 'seq'
  readonly entries: Cut[]
}

const KEY = /[A-Za-z0-9_$][^\s:#{}[\],&*!|>'"%@`]*(?=[ ]*:(?:[ \t\r\n]|$))/y
const STRAY = /[A-Za-z0-9_][^:#{}[\]&*!|>'"%@`\r\n]*(?=\r?\n|$)/y
const NOTHING = /[ \t]*(?:#[^\n]*)?\r?(?:\n|$)/y

/**
 * Cuts [start, end) of `text`, whose entries stand at `indent` spaces, into entries. Undefined where some line at that
 * indentation is neither `key:` nor `- `, where a line is less indented, or where document markers or directives stand.
 * A line of bare words at the root (a key being typed) becomes an entry of its own.
 */
export function cutBlock(text: string, start: number, end: number, indent: number): Cuts | undefined {
  const entries: Cut[] = []
  let kind: Cuts['kind'] | undefined
  let regular = false
  for (let line = start; line < end; ) {
    const at = skipSpaces(text, line, end)
    const next = lineBreakAfter(text, at, end)
    const first = at < end ? text.charCodeAt(at) : 10
    if (first === HASH || first === LF || first === CR || at - line > indent) {
      if (entries.length === 0 && at - line > indent && first !== HASH && first !== LF && first !== CR) return undefined
      line = next
      continue
    }
    // A line that a tab begins is no entry; valid YAML has it only inside the entry above.
    if (first === TAB && indent === 0 && entries.length > 0) {
      line = next
      continue
    }
    if (at - line < indent) return undefined
    const dash = first === DASH && isBreakOrSpace(text, at + 1, end)
    if (dash || first === CLOSE_BRACKET || first === CLOSE_BRACE) {
      if (dash && kind !== 'map') {
        kind = 'seq'
        regular = true
        open(entries, line, -1, -1)
      } else if (entries.length === 0) return undefined
      line = next
      continue
    }
    if (kind === 'seq') return undefined
    KEY.lastIndex = at
    if (KEY.test(text) && KEY.lastIndex < end) {
      const keyEnd = KEY.lastIndex
      const colon = text.indexOf(':', keyEnd)
      NOTHING.lastIndex = colon + 1
      open(entries, line, keyEnd, NOTHING.test(text) ? colon + 1 : -1)
      regular = true
    } else {
      STRAY.lastIndex = at
      if (indent > 0 || first === DASH || !STRAY.test(text)) return undefined
      open(entries, line, -1, -1)
    }
    kind = 'map'
    line = next
  }
  if (!kind || !regular) return undefined
  for (let i = 0; i < entries.length; i++) entries[i]!.end = entries[i + 1]?.start ?? end
  return { kind, entries }
}

/** The indentation of the first line in [start, end) that is neither blank nor a comment; -1 where there is none. */
export function firstIndent(text: string, start: number, end: number): number {
  for (let line = start; line < end; ) {
    const at = skipSpaces(text, line, end)
    const first = at < end ? text.charCodeAt(at) : LF
    if (first !== HASH && first !== LF && first !== CR) return at - line
    line = lineBreakAfter(text, at, end)
  }
  return -1
}

/** The offset behind the line break that ends the line holding `at`. */
export function lineBreakAfter(text: string, at: number, end: number): number {
  const next = text.indexOf('\n', at)
  return next < 0 || next >= end ? end : next + 1
}

const TAB = 9
const LF = 10
const CR = 13
const HASH = 35
const DASH = 45
const CLOSE_BRACKET = 93
const CLOSE_BRACE = 125

function open(entries: Cut[], start: number, keyEnd: number, bodyStart: number): void {
  entries.push({ start, end: start, keyEnd, bodyStart })
}

function skipSpaces(text: string, from: number, end: number): number {
  let at = from
  while (at < end && text.charCodeAt(at) === 32) at++
  return at
}

function isBreakOrSpace(text: string, at: number, end: number): boolean {
  if (at >= end) return true
  const c = text.charCodeAt(at)
  return c === 32 || c === 9 || c === LF || c === CR
}
