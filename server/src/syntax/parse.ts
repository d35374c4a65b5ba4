// Text to tree, incrementally: the document is cut into entries (see split.ts), each is read on its own by reader.ts or, where that is not
// certain, parsed by the `yaml` library, and an entry whose text did not change is kept from the version before, moved to its new place. A
// document that cannot be cut (several documents, anchors, flow style at the root) is parsed whole. What is parsed fresh and what is kept
// never differs: a test holds it.
import { clean } from './clean.ts'
import { type Composed, compose, composeAll, composeRun, duplicate, MAX_MISTAKES, unreadFrom } from './compose.ts'
import type { Conflict } from './conflicts.ts'
import { controlCharacters, directiveProblems } from './forbidden.ts'
import type { SyntaxProblem } from './problem.ts'
import { type BlockReader, ownCopy, readBlock } from './reader.ts'
import { type Cut, type Cuts, cutBlock, firstIndent } from './split.ts'
import { type Anchor, MapNode, type Node, Pair, ScalarNode, SeqNode } from './tree.ts'

/** Texts beyond this many characters are not read. A year of hourly checks is a tenth of it. */
export const MAX_TEXT = 2 * 1024 * 1024

/** Texts of more lines are not read: each may be an entry of its own. A year of hourly checks, each on five lines, is less than half of it. */
export const MAX_LINES = 100_000

/** Entries shorter than this are parsed in one go even when they could be cut further. */
const CUT_FROM = 1200

/** New entries are parsed together up to so many characters: enough to spread what each parse costs, little enough to go again where one is wrong. */
const RUN = 8192

/** Blocks nested deeper are not cut: every cut reads all of its block, and the format nests no long lists below this. */
const DEEPEST_CUT = 4

export class SyntaxTree {
  private constructor(
    readonly text: string,
    readonly root: Node | undefined,
    readonly problems: readonly SyntaxProblem[],
    readonly conflicts: readonly Conflict[],
    private readonly masked: string,
    private readonly pieces: Pieces | undefined,
    /** How many characters this version had to parse; the rest was kept. */
    readonly parsedCharacters: number,
    /** In how many entries a mistake stands. */
    private readonly broken: number,
    private readonly read: BlockReader,
  ) {}

  /** `read` is asked for each entry before the library is: a test compares what it reads with what the library alone would. */
  static parse(text: string, read: BlockReader = readBlock): SyntaxTree {
    return SyntaxTree.build(text, undefined, read)
  }

  /** The tree of the next version of the text. This tree must not be used afterwards: its kept entries have moved. */
  update(text: string): SyntaxTree {
    return text === this.text ? this : SyntaxTree.build(text, this, this.read)
  }

  private static build(text: string, before: SyntaxTree | undefined, read: BlockReader): SyntaxTree {
    const tooLarge = sizeProblem(text)
    if (tooLarge) return new SyntaxTree(text, undefined, [tooLarge], [], text, undefined, 0, 0, read)
    const { text: masked, conflicts } = clean(text)
    const problems: SyntaxProblem[] = conflicts.map((c) => ({ code: 'conflict-markers', start: c.start, end: c.end, detail: '' }))
    if (masked !== text) problems.push(...controlCharacters(text))
    const work = new Build(masked, before?.masked, before?.pieces, read)
    const pieces = work.cut()
    // Where the reading stops for mistakes is told by the text alone: never by what was kept of an older one.
    if (before?.pieces && before.broken + work.broken >= MAX_MISTAKES) return SyntaxTree.build(text, undefined, read)
    if (pieces) {
      const broken = collectProblems(pieces, problems)
      const { unread } = work
      if (unread !== undefined) problems.push(unreadFrom(unread))
      const kept = unread === undefined ? pieces : undefined
      return new SyntaxTree(text, pieces.node(), problems, conflicts, masked, kept, work.parsed, broken, read)
    }
    const whole = composeAll(masked, { start: 0 })
    // One by one: a call takes only so many arguments, and a broken text may hold more problems.
    for (const problem of directiveProblems(masked)) problems.push(problem)
    for (const problem of whole.problems) problems.push(problem)
    return new SyntaxTree(text, whole.contents, problems, conflicts, masked, undefined, masked.length, 0, read)
  }
}

/** The one problem of a text that is too large to be read. */
export function sizeProblem(text: string): SyntaxProblem | undefined {
  const lines = text.length > MAX_LINES ? countLines(text) : 0
  if (text.length <= MAX_TEXT && lines <= MAX_LINES) return undefined
  const detail =
    text.length > MAX_TEXT
      ? `it is ${(text.length / 1048576).toFixed(1)} MB large, and documents up to 2 MB are read.`
      : `it has ${lines.toLocaleString('en-US')} lines, and documents of up to ${MAX_LINES.toLocaleString('en-US')} are read.`
  return { code: 'too-large', start: 0, end: Math.min(text.length, text.indexOf('\n') >>> 0), detail }
}

/** How many lines a text has, a lone carriage return being the break that YAML takes it for. */
function countLines(text: string): number {
  let lines = 1
  for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) lines++
  for (let at = text.indexOf('\r'); at >= 0; at = text.indexOf('\r', at + 1)) if (text.charCodeAt(at + 1) !== 10) lines++
  return lines
}

/** One entry of a block: what it parsed to, or the entries below it. */
class Piece {
  readonly anchor: Anchor
  pairs: readonly Pair[] = []
  items: readonly Node[] = []
  problems: readonly SyntaxProblem[] = []
  below: Pieces | undefined

  constructor(
    public start: number,
    public end: number,
    readonly key: ScalarNode | undefined,
    anchor: Anchor,
  ) {
    this.anchor = anchor
  }

  move(by: number): void {
    if (by === 0) return
    this.start += by
    this.end += by
    this.anchor.start += by
    this.below?.move(by)
  }
}

class Pieces {
  private made: MapNode | SeqNode | undefined
  readonly anchor: Anchor

  constructor(
    readonly kind: Cuts['kind'],
    readonly list: readonly Piece[],
    start: number,
    private readonly indent: number,
  ) {
    this.anchor = { start }
  }

  move(by: number): void {
    this.anchor.start += by
    for (const piece of this.list) piece.move(by)
  }

  /** The block as one node, which stands where it would stand had the document been read whole. */
  node(): MapNode | SeqNode {
    this.made ??= this.make()
    return this.made
  }

  private make(): MapNode | SeqNode {
    if (this.kind === 'map') {
      const pairs = this.list.flatMap((p) => p.pairs)
      const from = (pairs[0]?.start ?? this.anchor.start) - this.anchor.start
      return new MapNode(this.anchor, from, this.endOf(pairs, from), false, pairs)
    }
    const items = this.list.flatMap((p) => p.items)
    return new SeqNode(this.anchor, this.indent, this.endOf(items, this.indent + 1), false, items)
  }

  private endOf(entries: readonly { readonly end: number }[], otherwise: number): number {
    const last = entries.at(-1)
    return last ? last.end - this.anchor.start : otherwise
  }
}

class Build {
  parsed = 0
  /** In how many of the entries parsed here a mistake stands. */
  broken = 0
  /** From here on nothing was read, for all the mistakes above. */
  unread: number | undefined
  /** Up to here a run has failed: its entries are parsed one by one. */
  private oneByOneTo = 0
  private readonly prefix: number
  private readonly suffixFrom: number
  private readonly delta: number

  constructor(
    private readonly text: string,
    private readonly oldText: string | undefined,
    private readonly old: Pieces | undefined,
    private readonly readBlock: BlockReader,
  ) {
    this.prefix = oldText === undefined ? 0 : commonPrefix(text, oldText)
    const suffix = oldText === undefined ? 0 : commonSuffix(text, oldText, this.prefix)
    this.suffixFrom = text.length - suffix
    this.delta = oldText === undefined ? 0 : text.length - oldText.length
  }

  /** The document in pieces; undefined where it must be read whole. */
  cut(): Pieces | undefined {
    const start = this.text.charCodeAt(0) === 0xfeff ? 1 : 0
    const cuts = cutBlock(this.text, start, this.text.length, 0)
    if (!cuts) return undefined
    return this.pieces(cuts, this.old, 0, 0)
  }

  /** Undefined as soon as one piece leans on another: then the document is read whole, and what is cut here was in vain. */
  private pieces(cuts: Cuts, old: Pieces | undefined, indent: number, depth: number): Pieces | undefined {
    const kept = old?.kind === cuts.kind ? old.list : []
    const { entries } = cuts
    const list: Piece[] = new Array(entries.length)
    let front = 0
    while (front < entries.length && front < kept.length && this.keptInFront(entries[front]!, kept[front]!)) {
      list[front] = kept[front]!
      front++
    }
    let back = 0
    while (
      entries.length - back > front &&
      kept.length - back > front &&
      this.keptBehind(entries.at(-1 - back)!, kept.at(-1 - back)!)
    ) {
      const piece = kept.at(-1 - back)!
      piece.move(this.delta)
      list[entries.length - 1 - back] = piece
      back++
    }
    const sameCount = kept.length === entries.length
    if (sameCount) this.keepBetween(entries, kept, front, entries.length - back, list)
    for (let i = front; i < entries.length - back; i++) {
      const piece = list[i] ?? this.read(entries[i]!, cuts.kind, depth)
      if (piece) list[i] = piece
    }
    for (let i = front; i < entries.length - back; ) {
      if (this.broken >= MAX_MISTAKES) {
        this.unread ??= entries[i]!.start
        list.length = i
        break
      }
      if (list[i]) {
        i++
        continue
      }
      let to = i + 1
      while (to < entries.length - back && !list[to]) to++
      const run = this.run(entries, i, to, cuts.kind, depth)
      if (run === 'entangled') return undefined
      for (const piece of run) list[i++] = piece
      if (run.length > 0) continue
      const piece = this.piece(entries[i]!, cuts.kind, sameCount ? kept[i]?.below : undefined, depth)
      if (!piece) return undefined
      list[i++] = piece
    }
    return new Pieces(cuts.kind, list, entries[0]!.start, indent)
  }

  /** Between the first and the last of several changes there may be much that did not change: many places were replaced at once. */
  private keepBetween(entries: readonly Cut[], kept: readonly Piece[], from: number, to: number, into: Piece[]): void {
    for (let i = from; i < to; i++) {
      const [cut, piece] = [entries[i]!, kept[i]!]
      if (cut.end - cut.start !== piece.end - piece.start) continue
      if (this.text.slice(cut.start, cut.end) !== this.oldText!.slice(piece.start, piece.end)) continue
      piece.move(cut.start - piece.start)
      into[i] = piece
    }
  }

  private keptInFront(cut: Cut, piece: Piece): boolean {
    return cut.end <= this.prefix && piece.start === cut.start && piece.end === cut.end
  }

  private keptBehind(cut: Cut, piece: Piece): boolean {
    return cut.start >= this.suffixFrom && piece.start + this.delta === cut.start && piece.end + this.delta === cut.end
  }

  /** An entry as our own reader reads it; undefined where it is to be cut further, or left to the library. */
  private read(cut: Cut, kind: Cuts['kind'], depth: number): Piece | undefined {
    if (this.isCutFurther(cut, depth)) return undefined
    const anchor: Anchor = { start: cut.start }
    const contents = this.readBlock(this.text, cut.start, cut.end, anchor, cut.start)
    if (contents?.kind !== kind) return undefined
    this.parsed += cut.end - cut.start
    return this.filled(new Piece(cut.start, cut.end, undefined, anchor), kind, { contents, problems: NONE, entangled: false })
  }

  /** New entries that follow each other, parsed in one go; none where there is one only, where one is to be cut further, or where they are not well. */
  private run(
    entries: readonly Cut[],
    from: number,
    to: number,
    kind: Cuts['kind'],
    depth: number,
  ): readonly Piece[] | 'entangled' {
    const start = entries[from]!.start
    if (start < this.oneByOneTo) return []
    let end = from
    while (end < to && !this.isCutFurther(entries[end]!, depth) && entries[end]!.end - start <= RUN) end++
    if (end - from < 2) return []
    const cuts = entries.slice(from, end)
    const text = ownCopy(this.text.slice(start, cuts.at(-1)!.end))
    const places = cuts.map((cut) => ({ from: cut.start - start, anchor: { start: cut.start } }))
    const composed = composeRun(text, kind, places)
    if (!composed) {
      this.oneByOneTo = cuts.at(-1)!.end
      return []
    }
    this.parsed += text.length
    if (composed.some((c) => c.entangled)) return 'entangled'
    return cuts.map((cut, i) => this.filled(new Piece(cut.start, cut.end, undefined, places[i]!.anchor), kind, composed[i]!))
  }

  private isCutFurther(cut: Cut, depth: number): boolean {
    return cut.bodyStart >= 0 && cut.end - cut.start > CUT_FROM && depth < DEEPEST_CUT
  }

  private piece(cut: Cut, kind: Cuts['kind'], oldBelow: Pieces | undefined, depth: number): Piece | undefined {
    if (this.isCutFurther(cut, depth)) {
      const below = this.cutBelow(cut, oldBelow, depth)
      if (below !== 'whole') return below
    }
    const anchor: Anchor = { start: cut.start }
    const piece = new Piece(cut.start, cut.end, undefined, anchor)
    const text = ownCopy(this.text.slice(cut.start, cut.end))
    this.parsed += text.length
    const composed = compose(text, anchor)
    return composed.entangled ? undefined : this.filled(piece, kind, composed)
  }

  private filled(piece: Piece, kind: Cuts['kind'], { contents, problems }: Composed): Piece {
    const { anchor } = piece
    piece.problems = problems
    if (kind === 'seq') {
      if (contents?.kind === 'seq' && !contents.flow) piece.items = contents.items
    } else if (contents?.kind === 'map' && !contents.flow) {
      piece.pairs = contents.pairs
    } else if (contents?.kind === 'scalar') {
      piece.problems = [
        ...problems,
        { code: 'no-colon', start: contents.start - anchor.start, end: contents.end - anchor.start, detail: contents.text },
      ]
    }
    if (piece.problems.length > 0) this.broken++
    return piece
  }

  /** An entry `key:` whose value is a block of its own, cut further; 'whole' where it cannot be cut. */
  private cutBelow(cut: Cut, old: Pieces | undefined, depth: number): Piece | undefined | 'whole' {
    const bodyLine = this.text.indexOf('\n', cut.bodyStart) + 1
    if (bodyLine === 0 || bodyLine >= cut.end) return 'whole'
    const keyStart = this.text.slice(cut.start, cut.keyEnd).search(/\S/) + cut.start
    const indent = firstIndent(this.text, bodyLine, cut.end)
    const own = keyStart - cut.start
    if (indent < own || (indent === own && this.text.charCodeAt(bodyLine + indent) !== 45)) return 'whole'
    const cuts = cutBlock(this.text, bodyLine, cut.end, indent)
    if (!cuts || (indent === own && cuts.kind !== 'seq')) return 'whole'
    const anchor: Anchor = { start: cut.start }
    const from = keyStart - cut.start
    const to = cut.keyEnd - cut.start
    const key = new ScalarNode(anchor, from, to, ownCopy(this.text.slice(keyStart, cut.keyEnd)), 'plain')
    const piece = new Piece(cut.start, cut.end, key, anchor)
    piece.below = this.pieces(cuts, old, indent, depth + 1)
    if (!piece.below) return undefined
    const value = piece.below.node()
    piece.pairs = [new Pair(anchor, from, value.end - anchor.start, key, value)]
    return piece
  }
}

const NONE: readonly SyntaxProblem[] = []

/** Gathers the problems of all pieces; how many pieces have any. */
function collectProblems(pieces: Pieces, into: SyntaxProblem[]): number {
  const seen = pieces.kind === 'map' ? new Set<string>() : undefined
  let broken = 0
  for (const piece of pieces.list) {
    const { start } = piece.anchor
    if (piece.problems.length > 0) broken++
    for (const p of piece.problems) into.push({ ...p, start: p.start + start, end: p.end + start })
    if (piece.below) broken += collectProblems(piece.below, into)
    for (const { key } of seen ? piece.pairs : []) {
      if (!key || key.style === 'empty') continue
      if (seen!.has(key.text)) into.push(duplicate(key, { start: 0 }))
      seen!.add(key.text)
    }
  }
  return broken
}

/** Texts are compared so many characters at once, natively, before they are compared one by one. */
const STRIDE = 512

function commonPrefix(a: string, b: string): number {
  const length = Math.min(a.length, b.length)
  let i = 0
  while (i + STRIDE <= length && a.slice(i, i + STRIDE) === b.slice(i, i + STRIDE)) i += STRIDE
  while (i < length && a.charCodeAt(i) === b.charCodeAt(i)) i++
  return i
}

function commonSuffix(a: string, b: string, prefix: number): number {
  const length = Math.min(a.length, b.length) - prefix
  let i = 0
  while (i + STRIDE <= length && a.slice(a.length - i - STRIDE, a.length - i) === b.slice(b.length - i - STRIDE, b.length - i))
    i += STRIDE
  while (i < length && a.charCodeAt(a.length - 1 - i) === b.charCodeAt(b.length - 1 - i)) i++
  return i
}
