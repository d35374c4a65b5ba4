// Offsets to lines and back, in the position encodings of the protocol. Line ends are LF, CRLF and lone CR, as the protocol has them.
import type { Span } from './span.ts'

export type PositionEncoding = 'utf-8' | 'utf-16' | 'utf-32'

export interface LinePosition {
  readonly line: number
  readonly character: number
}

export class LineIndex {
  private readonly starts: number[] = [0]

  constructor(
    readonly text: string,
    private readonly encoding: PositionEncoding = 'utf-16',
  ) {
    // Searching is many times quicker than looking at each character, and a carriage return is rare.
    let cr = text.indexOf('\r')
    let lf = text.indexOf('\n')
    while (cr >= 0 || lf >= 0) {
      const first = lf < 0 || (cr >= 0 && cr < lf) ? cr : lf
      const end = first === cr && lf === cr + 1 ? lf : first
      this.starts.push(end + 1)
      if (cr >= 0 && cr <= end) cr = text.indexOf('\r', end + 1)
      if (lf >= 0 && lf <= end) lf = text.indexOf('\n', end + 1)
    }
  }

  get lineCount(): number {
    return this.starts.length
  }

  /** The line (from 0) that holds an offset. */
  lineAt(offset: number): number {
    let low = 0
    let high = this.starts.length
    while (high - low > 1) {
      const middle = (low + high) >>> 1
      if (this.starts[middle]! <= offset) low = middle
      else high = middle
    }
    return low
  }

  lineStart(line: number): number {
    return this.starts[Math.min(Math.max(line, 0), this.starts.length - 1)]!
  }

  /** The offset of a line's end, before its line break. */
  lineEnd(line: number): number {
    let end = line + 1 < this.starts.length ? this.starts[line + 1]! : this.text.length
    while (end > this.lineStart(line) && (this.text.charCodeAt(end - 1) === 10 || this.text.charCodeAt(end - 1) === 13)) end--
    return end
  }

  position(offset: number): LinePosition {
    const at = Math.min(Math.max(offset, 0), this.text.length)
    const line = this.lineAt(at)
    const start = this.starts[line]!
    return { line, character: this.encoding === 'utf-16' ? at - start : this.width(start, at) }
  }

  /** The offset of a position; a column past the line's end means its end. */
  offset(position: LinePosition): number {
    if (position.line < 0) return 0
    if (position.line >= this.starts.length) return this.text.length
    const start = this.starts[position.line]!
    const end = this.lineEnd(position.line)
    if (this.encoding === 'utf-16') return Math.min(start + Math.max(position.character, 0), end)
    let units = 0
    let at = start
    while (at < end) {
      const code = this.text.codePointAt(at)!
      units += this.size(code)
      if (units > position.character) return at
      at += code > 0xffff ? 2 : 1
    }
    return at
  }

  range(span: Span): { start: LinePosition; end: LinePosition } {
    return { start: this.position(span.start), end: this.position(span.end) }
  }

  private width(start: number, end: number): number {
    let units = 0
    for (let at = start; at < end; ) {
      const code = this.text.codePointAt(at)!
      units += this.size(code)
      at += code > 0xffff ? 2 : 1
    }
    return units
  }

  private size(code: number): number {
    if (this.encoding === 'utf-32') return 1
    return code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4
  }
}
