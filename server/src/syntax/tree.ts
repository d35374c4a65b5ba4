// The syntax tree of a document: plain nodes with the stretch of text each stands at. Nodes never change, but for where their piece of
// the document begins: pieces are kept from one version of a document to the next, and an `Anchor` moves with each. A tree is
// therefore a tree of the newest version of its document only; nothing keeps an older one.

/** Where a piece of the document begins in its newest text. Moved by the parser alone. */
export interface Anchor {
  start: number
}

export type Node = MapNode | SeqNode | ScalarNode | AliasNode

abstract class Placed {
  /** Whether an alias stands for this node, or for one it is in: a change here is a change there. Set while the tree is made. */
  shared = false

  constructor(
    readonly anchor: Anchor,
    private readonly from: number,
    private readonly to: number,
  ) {}

  get start(): number {
    return this.anchor.start + this.from
  }

  get end(): number {
    return this.anchor.start + this.to
  }
}

/** 'empty' is the value that is not there: `gap:` with nothing behind it. */
export type ScalarStyle = 'plain' | 'single' | 'double' | 'block' | 'empty'

export class ScalarNode extends Placed {
  readonly kind = 'scalar'
  /** A place for what is derived from this node alone: its value as its key needs it. */
  memo: unknown

  constructor(
    anchor: Anchor,
    from: number,
    to: number,
    readonly text: string,
    readonly style: ScalarStyle,
  ) {
    super(anchor, from, to)
  }
}

export class AliasNode extends Placed {
  readonly kind = 'alias'

  constructor(
    anchor: Anchor,
    from: number,
    to: number,
    readonly name: string,
    /** What the alias stands for; undefined where no such anchor comes before it. */
    readonly target: Node | undefined,
  ) {
    super(anchor, from, to)
  }
}

export class Pair extends Placed {
  constructor(
    anchor: Anchor,
    from: number,
    to: number,
    readonly key: ScalarNode | undefined,
    readonly value: Node,
  ) {
    super(anchor, from, to)
  }
}

/** Of so few pairs one is sooner looked for than an index of them made. */
const FEW = 12

export class MapNode extends Placed {
  readonly kind = 'map'
  private index: Map<string, Pair> | undefined
  /** Places for what is derived from this node alone: its plain value, its model, its faults. A WeakMap would cost time at every collection. */
  plain: unknown
  memo: unknown
  issues: unknown
  /** How many levels of lists and groups stand here, itself included. */
  readonly height: number

  constructor(
    anchor: Anchor,
    from: number,
    to: number,
    readonly flow: boolean,
    readonly pairs: readonly Pair[],
  ) {
    super(anchor, from, to)
    let below = 0
    for (const { value } of pairs) below = Math.max(below, heightOf(value))
    this.height = below + 1
  }

  /** The first pair of this key. */
  pair(key: string): Pair | undefined {
    if (this.pairs.length <= FEW) return this.pairs.find((pair) => pair.key?.text === key)
    if (!this.index) {
      this.index = new Map()
      for (const pair of this.pairs) if (pair.key && !this.index.has(pair.key.text)) this.index.set(pair.key.text, pair)
    }
    return this.index.get(key)
  }
}

export class SeqNode extends Placed {
  readonly kind = 'seq'
  /** As in a mapping. */
  plain: unknown
  memo: unknown
  readonly height: number

  constructor(
    anchor: Anchor,
    from: number,
    to: number,
    readonly flow: boolean,
    readonly items: readonly Node[],
  ) {
    super(anchor, from, to)
    let below = 0
    for (const item of items) below = Math.max(below, heightOf(item))
    this.height = below + 1
  }
}

/** How many levels of lists and groups a node is, itself included; none for a single value. */
export const heightOf = (node: Node): number => (node.kind === 'map' || node.kind === 'seq' ? node.height : 0)

/** What an alias stands for, through at most eight aliases; the node itself where it is none. */
export function resolveAlias(node: Node | undefined): Exclude<Node, AliasNode> | undefined {
  let at = node
  for (let i = 0; i < 8 && at?.kind === 'alias'; i++) at = at.target
  return at?.kind === 'alias' ? undefined : at
}

/** The node at a path of keys and indices, through aliases. */
export function nodeAt(root: Node | undefined, path: readonly (string | number)[]): Node | undefined {
  let at: Node | undefined = root
  for (const step of path) {
    const node = resolveAlias(at)
    if (node?.kind === 'map') at = node.pair(String(step))?.value
    else if (node?.kind === 'seq' && typeof step === 'number') at = node.items[step]
    else return undefined
  }
  return at
}
