// Where each line of a document should begin, by what stands on it: two columns a level, lists one level below their key, as the samples have it.
import { LineIndex } from '../base/line-index.ts'
import type { Span } from '../base/span.ts'
import { dashOf } from '../syntax/extent.ts'
import type { MapNode, Node, ScalarNode, SeqNode } from '../syntax/tree.ts'

const STEP = 2

/** What stands before a key, item or value on its own line: nothing, anchors and tags, or the dashes of the lists that it begins. */
const FIRST = /^ *(?:[&!]\S*[ \t]+)*$/
const DASHED = /^ *(?:-[ \t]+)+(?:[&!]\S*[ \t]+)*$/

export class Layout {
  readonly lines: LineIndex
  /** False where something is written in a way that is not known here: then nothing may be moved. */
  known = true
  /** Blanks that should be one: behind colons and dashes. */
  readonly gaps: Span[] = []
  /** The column at which a line should begin. */
  private readonly columns = new Map<number, number>()
  /** Lines that go on with what another one begins, and move with it. */
  private readonly goingOn = new Map<number, number>()
  private readonly texts: ScalarNode[] = []

  constructor(
    private readonly text: string,
    root: Node | undefined,
  ) {
    this.lines = new LineIndex(text)
    if (root) this.value(root, 0, -1)
    if (root) this.comments()
  }

  /** By how many columns a line moves to the right. */
  shiftOf(line: number): number {
    const owner = this.goingOn.get(line)
    if (owner !== undefined) return this.shiftOf(owner)
    const column = this.columns.get(line)
    return column === undefined ? 0 : column - this.columnOf(line)
  }

  /** The texts of several lines: what looks like blanks there is theirs. */
  get longTexts(): readonly ScalarNode[] {
    return this.texts
  }

  isBlank(line: number): boolean {
    return /^[ \t]*$/.test(this.lineText(line))
  }

  startOf(line: number): number {
    const start = this.lines.lineStart(line)
    return start === 0 && this.text.charCodeAt(0) === 0xfeff ? 1 : start
  }

  /** How many spaces a line begins with. */
  columnOf(line: number): number {
    return /^ */.exec(this.lineText(line))![0].length
  }

  private lineText(line: number): string {
    return this.text.slice(this.startOf(line), this.lines.lineEnd(line))
  }

  private value(node: Node, column: number, keyLine: number): void {
    if (node.kind === 'map' && !node.flow) this.map(node, column)
    else if (node.kind === 'seq' && !node.flow) this.list(node, column)
    else if (node.kind !== 'scalar' || node.style !== 'empty') this.single(node, column, keyLine)
  }

  private single(node: Node, column: number, keyLine: number): void {
    const line = this.lines.lineAt(node.start)
    if (line !== keyLine) this.place(node.start, column)
    if (node.kind === 'scalar') this.longText(node, line)
    else if (node.kind !== 'alias') this.flow(node, line)
  }

  private map(map: MapNode, column: number): void {
    for (const { key, value } of map.pairs) {
      if (!key) {
        this.known = false
        continue
      }
      this.place(key.start, column)
      if (!this.gapBehindColon(key)) this.known = false
      this.value(value, column + STEP, this.lines.lineAt(key.end))
    }
  }

  private list(list: SeqNode, column: number): void {
    for (const item of list.items) {
      const dash = dashOf(this.text, list.start, item.start)
      if (dash === undefined) {
        this.known = false
        continue
      }
      this.place(dash, column)
      this.gap(dash + 1)
      this.value(item, column + STEP, this.lines.lineAt(dash))
    }
  }

  /** What begins its line is to stand in a column. */
  private place(offset: number, column: number): void {
    const line = this.lines.lineAt(offset)
    const before = this.text.slice(this.startOf(line), offset)
    if (FIRST.test(before)) this.columns.set(line, column)
    else if (!DASHED.test(before)) this.known = false
  }

  private gapBehindColon(key: ScalarNode): boolean {
    const colon = /[ \t]*:/y
    colon.lastIndex = key.end
    if (!colon.test(this.text)) return false
    this.gap(colon.lastIndex)
    return true
  }

  /** Blanks on one line with something behind them that is no comment. */
  private gap(start: number): void {
    let end = start
    while (this.text[end] === ' ' || this.text[end] === '\t') end++
    if (end < this.text.length && !/[\r\n#]/.test(this.text[end]!)) this.gaps.push({ start, end })
  }

  /** In brackets everything stays as it is, but for blanks behind colons; its lines move together. */
  private flow(node: MapNode | SeqNode, line: number): void {
    for (let next = line + 1; next <= this.lines.lineAt(node.end - 1); next++) this.goingOn.set(next, line)
    const inside = (at: Node): void => {
      if (at.kind === 'seq') at.items.forEach(inside)
      else if (at.kind === 'scalar' && this.lines.lineAt(at.start) !== this.lines.lineAt(at.end)) this.texts.push(at)
      else if (at.kind === 'map')
        for (const { key, value } of at.pairs) {
          if (key) this.gapBehindColon(key)
          inside(value)
        }
    }
    inside(node)
  }

  private longText(node: ScalarNode, line: number): void {
    const last = this.lines.lineAt(Math.max(node.start, node.end - 1))
    if (last === line) return
    this.texts.push(node)
    for (let next = line + 1; next <= last; next++) this.goingOn.set(next, line)
  }

  /**
   * Comments on lines of their own keep standing with what they stood with: the line below, or one of those above that are still open. Any other
   * line that is not known is none of ours to move, and what is around it may rest on where it stands.
   */
  private comments(): void {
    const { lines } = this
    const open: { readonly from: number; readonly to: number }[] = []
    let next = 0
    for (let line = 0; line < lines.lineCount; line++) {
      if (this.goingOn.has(line) || this.isBlank(line)) continue
      const column = this.columnOf(line)
      const to = this.columns.get(line)
      if (to !== undefined) {
        while (open.length > 0 && open.at(-1)!.from >= column) open.pop()
        open.push({ from: column, to }, ...this.insideDashes(line, to))
        continue
      }
      const text = this.lineText(line).trimStart()
      if (!text.startsWith('#')) {
        if (!/^(?:---|\.\.\.|%)/.test(text)) this.known = false
        continue
      }
      next = Math.max(next, line)
      while (next < lines.lineCount && !this.columns.has(next)) next++
      const below = this.columns.get(next)
      if (below !== undefined && this.columnOf(next) === column) this.columns.set(line, below)
      else {
        const above = open.findLast(({ from }) => from === column)
        if (above) this.columns.set(line, above.to)
      }
    }
  }

  /** The columns in which what follows a line's dashes stands. */
  private insideDashes(line: number, to: number): { from: number; to: number }[] {
    const dashes = /^ *((?:-[ ]+)*)/.exec(this.lineText(line))![1]!.match(/-[ ]+/g) ?? []
    let at = { from: this.columnOf(line), to }
    return dashes.map((dash) => {
      at = { from: at.from + dash.length, to: at.to + STEP }
      return at
    })
  }
}
