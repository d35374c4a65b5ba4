// Our own reader of the YAML that people write: block mappings and lists, flow on one line or several, plain and quoted words, comments.
// It makes the very nodes that the library's tree is turned into, at a small part of the cost, and judges nothing: whatever it does not know
// for certain (anchors, tags, texts of several lines, escapes, tabs, every mistake) it leaves to the library, which also tells what is wrong.
// Tests compare the two over generated and damaged documents (`npm run test:long` over many).
import { type Anchor, MapNode, type Node, Pair, ScalarNode, type ScalarStyle, SeqNode } from './tree.ts'

/** Longer stretches are left to the library, which bounds what it reads by the number of its parts. */
const LONGEST = 100_000

/** Deeper nests too: it bounds their depth. */
const DEEPEST = 64

/** YAML bounds a key, with its colon, at 1024 characters. */
const LONGEST_KEY = 1000

export type BlockReader = typeof readBlock

/**
 * Reads the block in [start, end) of a text, which ends at a line's start or with the text; its nodes stand relative to `origin`, where the
 * anchor is. Undefined where anything is not certain, for nothing can be told of it here.
 */
export function readBlock(
  text: string,
  start: number,
  end: number,
  anchor: Anchor,
  origin: number,
): MapNode | SeqNode | undefined {
  return end - start > LONGEST ? undefined : new Reader(text, start, end, anchor, origin).root()
}

const TAB = 9
const LF = 10
const CR = 13
const SPACE = 32
const DOUBLE_QUOTE = 34
const HASH = 35
const SINGLE_QUOTE = 39
const COMMA = 44
const DASH = 45
const DOT = 46
const COLON = 58
const OPEN_LIST = 91
const BACKSLASH = 92
const CLOSE_LIST = 93
const OPEN_MAP = 123
const CLOSE_MAP = 125
const BYTE_ORDER_MARK = 0xfeff

/** Signs of YAML's own that begin no plain word; `-`, `?` and `:` begin one when a letter follows, and only `-` is taken here. */
const SIGNS: ReadonlySet<number> = new Set([...'?:,[]{}#&*!|>\'"%@`'].map((sign) => sign.charCodeAt(0)))
const NO_START = Uint8Array.from({ length: 128 }, (_, c) => (c <= SPACE || c === 127 || SIGNS.has(c) ? 1 : 0))

const isBreakOrSpace = (c: number): boolean => c === SPACE || c === LF || c === CR || c === TAB || Number.isNaN(c)
const isFlowSign = (c: number): boolean => c === COMMA || c === OPEN_LIST || c === CLOSE_LIST || c === OPEN_MAP || c === CLOSE_MAP

class Reader {
  private at: number
  /** The column of the line that `at` begins, where a line was just gone to; -1 at the end. */
  private column = -1
  private depth = 0

  constructor(
    private readonly text: string,
    start: number,
    private readonly end: number,
    private readonly anchor: Anchor,
    private readonly origin: number,
  ) {
    this.at = start
  }

  root(): MapNode | SeqNode | undefined {
    this.nextLine()
    if (this.column < 0) return undefined
    const node = this.block()
    // A line that belongs to none of the blocks begun so far is where they all end, and the text does not.
    return this.column < 0 ? node : undefined
  }

  /** From a line's start to the next word of the block, behind blank lines and comments. */
  private nextLine(): void {
    const { text, end } = this
    let at = this.at
    for (;;) {
      const line = at
      while (at < end && text.charCodeAt(at) === SPACE) at++
      if (at >= end) {
        this.at = end
        this.column = -1
        return
      }
      const c = text.charCodeAt(at)
      if (c === LF) at++
      else if (c === HASH) at = this.behindBreak(at)
      else if (c === CR && text.charCodeAt(at + 1) === LF) at += 2
      else {
        this.at = at
        this.column = at - line
        return
      }
    }
  }

  private behindBreak(at: number): number {
    const next = this.text.indexOf('\n', at)
    return next < 0 ? this.end : next + 1
  }

  /** What follows a value on its line may be a comment only; then to the next line. */
  private endLine(): boolean {
    const { text } = this
    const from = this.at
    while (text.charCodeAt(this.at) === SPACE) this.at++
    const c = text.charCodeAt(this.at)
    if (c === HASH) {
      if (this.at === from && text.charCodeAt(from - 1) !== SPACE) return false
    } else if (!this.isLineEnd(c)) return false
    this.at = this.behindBreak(this.at)
    this.nextLine()
    return true
  }

  private isLineEnd(c: number): boolean {
    return c === LF || Number.isNaN(c) || (c === CR && this.text.charCodeAt(this.at + 1) === LF)
  }

  /** The block whose first word is at hand. */
  private block(): MapNode | SeqNode | undefined {
    return this.isDash() ? this.list(this.column) : this.map(this.column)
  }

  private isDash(): boolean {
    return this.text.charCodeAt(this.at) === DASH && isBreakOrSpace(this.text.charCodeAt(this.at + 1))
  }

  private map(column: number): MapNode | undefined {
    if (++this.depth > DEEPEST) return undefined
    const pairs: Pair[] = []
    do {
      const key = this.key()
      if (!key) return undefined
      const value = this.value(column)
      if (!value) return undefined
      pairs.push(this.pair(key, value))
    } while (this.column === column)
    if (hasTwice(pairs)) return undefined
    this.depth--
    const { start } = this.anchor
    return new MapNode(this.anchor, pairs[0]!.start - start, pairs.at(-1)!.end - start, false, pairs)
  }

  private list(column: number): SeqNode | undefined {
    if (++this.depth > DEEPEST) return undefined
    const from = this.at - this.origin
    const items: Node[] = []
    do {
      const item = this.item(column)
      if (!item) return undefined
      items.push(item)
    } while (this.column === column && this.isDash())
    this.depth--
    return new SeqNode(this.anchor, from, items.at(-1)!.end - this.anchor.start, false, items)
  }

  private pair(key: ScalarNode, value: Node): Pair {
    const { start } = this.anchor
    return new Pair(this.anchor, key.start - start, value.end - start, key, value)
  }

  /** A plain key of a block and its colon. */
  private key(): ScalarNode | undefined {
    const from = this.at
    const c = this.text.charCodeAt(from)
    if (c === DASH || c === DOT || !this.beginsWord(c)) return undefined
    const to = this.wordEnd()
    if (to < 0 || this.text.charCodeAt(this.at) !== COLON || this.at - from > LONGEST_KEY) return undefined
    this.at++
    return this.keyNode(from, to)
  }

  /** A merge key makes the document one to be read as a whole. */
  private keyNode(from: number, to: number): ScalarNode | undefined {
    const key = this.scalar(from, to, 'plain')
    return key.text === '<<' ? undefined : key
  }

  /** The value behind a colon of the mapping at `column`. */
  private value(column: number): Node | undefined {
    const { text } = this
    const behind = this.at
    while (text.charCodeAt(this.at) === SPACE) this.at++
    const c = text.charCodeAt(this.at)
    if (c !== HASH && !this.isLineEnd(c)) return this.onLine(c, column + 1)
    if (!this.endLine()) return undefined
    if (this.column > column) return this.block()
    if (this.column === column && this.isDash()) return this.list(column)
    return this.scalar(behind, behind, 'empty')
  }

  /** The item behind a dash at `column`. */
  private item(column: number): Node | undefined {
    const { text } = this
    const dash = this.at++
    while (text.charCodeAt(this.at) === SPACE) this.at++
    const from = this.at
    const c = text.charCodeAt(from)
    if (c === HASH || this.isLineEnd(c)) {
      if (!this.endLine()) return undefined
      return this.column > column ? this.block() : this.scalar(from, from, 'empty')
    }
    if (this.isDash()) return this.list(column + from - dash)
    if (!this.beginsWord(c)) return this.onLine(c, column + 1)
    const to = this.wordEnd()
    if (to < 0) return undefined
    if (text.charCodeAt(this.at) === COLON) {
      this.at = from
      return this.map(column + from - dash)
    }
    return this.endLine() ? this.scalar(from, to, 'plain') : undefined
  }

  /** A value on the line of its key or dash, and the line's end. Lines that go on with it stand at `least` or deeper. */
  private onLine(c: number, least: number): Node | undefined {
    let node: Node | undefined
    if (c === OPEN_LIST || c === OPEN_MAP) node = this.flow(least)
    else if (c === DOUBLE_QUOTE || c === SINGLE_QUOTE) node = this.quoted(c)
    else if (this.beginsWord(c)) {
      const from = this.at
      const to = this.wordEnd()
      if (to < 0) return undefined
      node = this.scalar(from, to, 'plain')
    }
    return node && this.endLine() ? node : undefined
  }

  private beginsWord(c: number): boolean {
    if (c >= 128) return c !== BYTE_ORDER_MARK
    if (c === DASH) return !isBreakOrSpace(this.text.charCodeAt(this.at + 1))
    return NO_START[c] === 0
  }

  /** Where the plain word at hand ends; `at` then stands at what ends it: its line's end, a comment's space, a colon. -1 where it is not certain. */
  private wordEnd(): number {
    const { text } = this
    let last = this.at
    for (let i = this.at; ; i++) {
      const c = text.charCodeAt(i)
      if (c > COLON) last = i + 1
      else if (c === SPACE) {
        if (text.charCodeAt(i + 1) !== HASH) continue
        this.at = i
        return last
      } else if (c === COLON && !isBreakOrSpace(text.charCodeAt(i + 1))) last = i + 1
      else if (c > SPACE && c !== COLON) last = i + 1
      else {
        this.at = i
        return c === COLON || this.isLineEnd(c) ? last : -1
      }
    }
  }

  /** The same inside { } or [ ], where a sign of these ends a word too. */
  private flowWordEnd(): number {
    const { text } = this
    let last = this.at
    for (let i = this.at; ; i++) {
      const c = text.charCodeAt(i)
      if (c > SPACE && c !== COLON && !isFlowSign(c)) last = i + 1
      else if (c === SPACE) {
        if (text.charCodeAt(i + 1) !== HASH) continue
        this.at = i
        return last
      } else if (c === COLON && !isBreakOrSpace(text.charCodeAt(i + 1)) && !isFlowSign(text.charCodeAt(i + 1))) last = i + 1
      else {
        this.at = i
        return c === COLON || isFlowSign(c) || this.isLineEnd(c) ? last : -1
      }
    }
  }

  /** A quoted text of one line, without escapes. */
  private quoted(quote: number): ScalarNode | undefined {
    const { text } = this
    const from = this.at
    let doubled = false
    for (let i = from + 1; ; i++) {
      const c = text.charCodeAt(i)
      if (c === quote) {
        if (quote === SINGLE_QUOTE && text.charCodeAt(i + 1) === SINGLE_QUOTE) {
          doubled = true
          i++
          continue
        }
        this.at = i + 1
        const inner = text.slice(from + 1, i)
        const [start, end] = [from - this.origin, i + 1 - this.origin]
        if (quote === DOUBLE_QUOTE) return new ScalarNode(this.anchor, start, end, ownCopy(inner), 'double')
        return new ScalarNode(this.anchor, start, end, ownCopy(doubled ? inner.replaceAll("''", "'") : inner), 'single')
      }
      if (c < SPACE || Number.isNaN(c) || (c === BACKSLASH && quote === DOUBLE_QUOTE)) return undefined
    }
  }

  /** A mapping or list in { } or [ ]; lines that it goes on with stand at `least` or deeper. */
  private flow(least: number): MapNode | SeqNode | undefined {
    if (++this.depth > DEEPEST) return undefined
    const from = this.at - this.origin
    const inMap = this.text.charCodeAt(this.at++) === OPEN_MAP
    const close = inMap ? CLOSE_MAP : CLOSE_LIST
    const pairs: Pair[] = []
    const items: Node[] = []
    for (;;) {
      if (!this.skipInFlow(least)) return undefined
      if (this.text.charCodeAt(this.at) === close) break
      if (inMap) {
        const pair = this.flowPair(least)
        if (!pair) return undefined
        pairs.push(pair)
      } else {
        const item = this.flowValue(least)
        if (!item) return undefined
        items.push(item)
      }
      if (!this.skipInFlow(least)) return undefined
      const c = this.text.charCodeAt(this.at)
      if (c === COMMA) this.at++
      else if (c !== close) return undefined
    }
    if (hasTwice(pairs)) return undefined
    const to = ++this.at - this.origin
    this.depth--
    return inMap ? new MapNode(this.anchor, from, to, true, pairs) : new SeqNode(this.anchor, from, to, true, items)
  }

  private flowPair(least: number): Pair | undefined {
    const from = this.at
    if (!this.beginsFlowWord()) return undefined
    const to = this.flowWordEnd()
    if (to < 0 || this.text.charCodeAt(this.at) !== COLON || this.at - from > LONGEST_KEY) return undefined
    const behind = ++this.at
    const key = this.keyNode(from, to)
    if (!key || !this.skipInFlow(least)) return undefined
    const c = this.text.charCodeAt(this.at)
    const value = c === COMMA || c === CLOSE_MAP ? this.scalar(behind, behind, 'empty') : this.flowValue(least)
    return value && this.pair(key, value)
  }

  private flowValue(least: number): Node | undefined {
    const c = this.text.charCodeAt(this.at)
    if (c === OPEN_LIST || c === OPEN_MAP) return this.flow(least)
    if (c === DOUBLE_QUOTE || c === SINGLE_QUOTE) return this.quoted(c)
    if (!this.beginsFlowWord()) return undefined
    const from = this.at
    const to = this.flowWordEnd()
    return to < 0 ? undefined : this.scalar(from, to, 'plain')
  }

  private beginsFlowWord(): boolean {
    const c = this.text.charCodeAt(this.at)
    return this.beginsWord(c) && !(c === DASH && isFlowSign(this.text.charCodeAt(this.at + 1)))
  }

  /** Over spaces, comments and line breaks between the parts of a flow. */
  private skipInFlow(least: number): boolean {
    const { text } = this
    let line = -1
    while (this.at < this.end) {
      const c = text.charCodeAt(this.at)
      if (c === SPACE) this.at++
      else if (c === LF || (c === CR && text.charCodeAt(this.at + 1) === LF)) {
        this.at += c === LF ? 1 : 2
        line = this.at
      } else if (c === HASH) {
        if (text.charCodeAt(this.at - 1) !== SPACE) return false
        this.at = this.behindBreak(this.at)
        line = this.at
      } else return line < 0 || this.at - line >= least
    }
    return false
  }

  private scalar(from: number, to: number, style: ScalarStyle): ScalarNode {
    return new ScalarNode(this.anchor, from - this.origin, to - this.origin, ownCopy(this.text.slice(from, to)), style)
  }
}

/** Up to so many keys are compared each with each, which for a few is quicker than a set of them. */
const FEW_KEYS = 12

/** Whether a key is given twice, which is a mistake. */
function hasTwice(pairs: readonly Pair[]): boolean {
  if (pairs.length > FEW_KEYS) return new Set(pairs.map(({ key }) => key!.text)).size < pairs.length
  for (let i = 1; i < pairs.length; i++) for (let k = 0; k < i; k++) if (pairs[k]!.key!.text === pairs[i]!.key!.text) return true
  return false
}

/** A string that does not keep the text it was cut from in memory. */
export const ownCopy = (text: string): string => (text.length < 13 ? text : ` ${text}`.slice(1))
