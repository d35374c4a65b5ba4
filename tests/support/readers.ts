// Two readers of YAML compared. What our own reader reads must be what is made of the library's tree, node by node, and nothing may be wrong
// with it; and a document's tree with its problems must be the same whether our reader helps or the library does it all.
import { composeAll } from '../../server/src/syntax/compose.ts'
import { SyntaxTree } from '../../server/src/syntax/parse.ts'
import { readBlock } from '../../server/src/syntax/reader.ts'
import { cutBlock, firstIndent } from '../../server/src/syntax/split.ts'
import type { Anchor, Node, Pair } from '../../server/src/syntax/tree.ts'
import { showNode, showProblems } from '../syntax/show.ts'
import { Chance } from './chance.ts'
import { damaged, readTexts, writtenBy } from './yaml-texts.ts'

export interface Tally {
  readonly seed: number
  /** Documents: those that stand in the repository, generated ones, and every damaged version of either. */
  readonly documents: number
  /** Different stretches of them, whole texts and entries, that our reader read. */
  readonly same: number
  /** Those that it left to the library, and how many of these the library finds nothing wrong with. */
  readonly left: number
  readonly leftThoughRight: number
  /** Said of the first few that differ. */
  readonly differences: readonly string[]
}

export const describeTally = ({ seed, documents, same, left, leftThoughRight, differences }: Tally): string =>
  `seed ${seed}: ${documents} documents; of their stretches ${same} read and compared, ${left} left to the library (${leftThoughRight} of them without a mistake); ${differences.length} differ`

const MAX_DIFFERENCES = 5

/** How many times a document is damaged on, each version compared and the tree brought up to date from the one before. */
const DAMAGES = 4

/** Compares over `documents` documents and all that stand in the repository. */
export function compareReaders({ seed, documents }: { seed: number; documents: number }): Tally {
  const chance = new Chance(seed)
  const comparison = new Comparison()
  const texts = readTexts()
  for (const text of texts) comparison.document(text, SyntaxTree.parse(text))
  while (comparison.documents < texts.length + documents && comparison.differences.length < MAX_DIFFERENCES) {
    let text = chance.once(3) ? chance.one(texts) : writtenBy(chance)
    let tree = SyntaxTree.parse(text)
    comparison.document(text, tree)
    for (let i = 0; i < DAMAGES; i++) {
      text = damaged(text, chance)
      tree = tree.update(text)
      comparison.document(text, tree)
    }
  }
  const { same, left, leftThoughRight, differences } = comparison
  return { seed, documents: comparison.documents, same, left, leftThoughRight, differences }
}

/** A stretch is compared once, while so many are remembered. */
const REMEMBERED = 100_000

class Comparison {
  documents = 0
  same = 0
  left = 0
  leftThoughRight = 0
  readonly differences: string[] = []
  private readonly seen = new Set<string>()

  document(text: string, tree: SyntaxTree): void {
    this.documents++
    this.stretch(text, 0, text.length)
    this.entries(text, 0, text.length, 0, 0)
    const alone = SyntaxTree.parse(text, () => undefined)
    const [ours, theirs] = [showProblems(tree.problems).join('\n'), showProblems(alone.problems).join('\n')]
    if (!sameNode(tree.root, alone.root)) this.differ('tree', text, showNode(tree.root), showNode(alone.root))
    else if (ours !== theirs) this.differ('problems', text, ours, theirs)
  }

  /** The entries as a document is cut into them, and those below. */
  private entries(text: string, start: number, end: number, indent: number, depth: number): void {
    for (const cut of cutBlock(text, start, end, indent)?.entries ?? []) {
      this.stretch(text, cut.start, cut.end)
      const body = cut.bodyStart < 0 || depth > 2 ? 0 : text.indexOf('\n', cut.bodyStart) + 1
      if (body > 0 && body < cut.end) this.entries(text, body, cut.end, firstIndent(text, body, cut.end), depth + 1)
    }
  }

  private stretch(text: string, start: number, end: number): void {
    const part = text.slice(start, end)
    if (this.seen.has(part)) return
    if (this.seen.size > REMEMBERED) this.seen.clear()
    this.seen.add(part)
    const anchor: Anchor = { start }
    const ours = readBlock(text, start, end, anchor, start)
    const theirs = composeAll(part, anchor)
    const right = theirs.problems.length === 0 && !theirs.entangled
    if (!ours) {
      this.left++
      if (right && theirs.contents) this.leftThoughRight++
      return
    }
    this.same++
    if (right && sameNode(ours, theirs.contents)) return
    const why = [...showProblems(theirs.problems), ...(theirs.entangled ? ['entangled'] : [])].join('\n')
    this.differ('stretch', part, showNode(ours), `${showNode(theirs.contents)}\n${why}`)
  }

  private differ(what: string, text: string, ours: string, theirs: string): void {
    if (this.differences.length < MAX_DIFFERENCES)
      this.differences.push(`${what} of ${JSON.stringify(text)}\nours:\n${ours}\nthe library's:\n${theirs}`)
  }
}

/** Whether two trees are the same in kinds, places, styles and texts. */
function sameNode(a: Node | undefined, b: Node | undefined): boolean {
  if (!a || !b) return a === b
  if (a.kind !== b.kind || a.start !== b.start || a.end !== b.end || a.shared !== b.shared) return false
  if (a.kind === 'scalar') return b.kind === 'scalar' && a.text === b.text && a.style === b.style
  if (a.kind === 'alias') return b.kind === 'alias' && a.name === b.name && a.target?.start === b.target?.start
  if (b.kind === 'scalar' || b.kind === 'alias' || a.flow !== b.flow || a.height !== b.height) return false
  if (a.kind === 'seq') return b.kind === 'seq' && sameLists(a.items, b.items, sameNode)
  return b.kind === 'map' && sameLists(a.pairs, b.pairs, samePair)
}

const samePair = (a: Pair, b: Pair): boolean =>
  a.start === b.start && a.end === b.end && sameNode(a.key, b.key) && sameNode(a.value, b.value)

const sameLists = <T>(a: readonly T[], b: readonly T[], same: (a: T, b: T) => boolean): boolean =>
  a.length === b.length && a.every((item, i) => same(item, b[i]!))
