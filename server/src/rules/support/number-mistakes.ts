// Numbers that a comma too many cut in two, or a comma too few ran together, inside brackets; and values that are reached more than once.
import type { Span } from '../../base/span.ts'
import { type PlacedIssue, type RollDocument, spanOf } from '../../model/document.ts'
import type { BadValue } from '../../model/read.ts'
import { parseAnyQuantity, parseQuantity } from '../../quantities/parse.ts'
import type { LeafSchema } from '../../schema/schema.ts'
import { scalarValue } from '../../syntax/plain.ts'
import { type MapNode, type Node, nodeAt, resolveAlias, type ScalarNode, type SeqNode } from '../../syntax/tree.ts'
import { spotOf } from './places.ts'
import type { TextMistake } from './text-mistakes.ts'

/** `998,8 mm` inside brackets: the comma ends the value, and what follows becomes an entry of its own. */
export interface SplitNumber extends Span {
  /** Offset of the comma. */
  readonly comma: number
  /** The list it stands in, whose other values have moved out of place. */
  readonly list: Span | undefined
}

export function splitNumbers(document: RollDocument, bad: readonly BadValue[]): readonly SplitNumber[] {
  const { text } = document
  const found: SplitNumber[] = []
  for (const { place, problem } of bad) {
    const { node } = place
    if (problem.code !== 'missing-unit' || node.kind !== 'scalar' || node.style !== 'plain') continue
    if (text[node.end] !== ',' || !/\d/.test(text[node.end + 1] ?? '') || typeof scalarValue(node) !== 'number') continue
    const parent = parentOf(document, node)
    const rest = parent && restBehind(parent, node)
    if (rest?.start !== node.end + 1) continue
    found.push({ start: node.start, end: rest.end, comma: node.end, list: parent?.kind === 'seq' ? spanOf(parent) : undefined })
  }
  return found
}

/** `[18 °C 26 °C]`, `[0 0, 0]`: a comma is missing in a list. */
export function joinedNumbers(
  document: RollDocument,
  bad: readonly BadValue[],
  issues: readonly PlacedIssue[],
): readonly TextMistake[] {
  const found: TextMistake[] = []
  for (const { place, schema, problem } of bad) {
    const { node } = place
    if (node.kind !== 'scalar' || (problem.code !== 'unknown-unit' && problem.code !== 'two-values')) continue
    const list = listOf(document, node)
    const mistake = list && missingComma(node, list, (part) => isValue(part, schema))
    if (mistake) found.push(mistake)
  }
  for (const { issue, node } of issues) {
    if (issue.issue !== 'wrong-kind' || node.kind !== 'scalar') continue
    const list = listOf(document, node)
    const mistake = list && missingComma(node, list, (part) => /^[-+]?\d+(?:\.\d+)?$/.test(part))
    if (mistake) found.push(mistake)
  }
  return found
}

/** A value that is reached twice, through an alias or a merge key, is told of where it is written. */
export function withoutRepeats(bad: readonly BadValue[]): readonly BadValue[] {
  if (bad.length < 2) return bad
  const written = bad.filter((one) => !one.place.aliased)
  const seen = new Set<Node>()
  return bad.filter(({ place, problem }) => {
    const { node } = place
    const target = place.aliased ? resolveAlias(node) : undefined
    const repeats = (one: BadValue): boolean =>
      one.problem.code === problem.code && one.place.node.start >= target!.start && one.place.node.end <= target!.end
    if (target && written.some(repeats)) return false
    return !seen.has(node) && seen.add(node) !== undefined
  })
}

const isValue = (text: string, { accepts }: LeafSchema): boolean =>
  parseAnyQuantity(text) !== undefined ||
  accepts.some((type) => type.type === 'quantity' && parseQuantity(text, type.dimension).ok)

function missingComma(node: ScalarNode, list: SeqNode, isOne: (part: string) => boolean): TextMistake | undefined {
  if (node.style !== 'plain' || node.end - node.start !== node.text.length) return undefined
  for (const gap of node.text.matchAll(/ +(?=[-+\d])/g)) {
    const left = node.text.slice(0, gap.index)
    const right = node.text.slice(gap.index + gap[0].length)
    if (!isOne(left) || !isOne(right)) continue
    const at = node.start + gap.index
    return {
      code: 'syntax',
      start: at + gap[0].length,
      end: node.end,
      message: `A comma is missing before '${right}'.`,
      fixes: [{ title: 'Add a comma', edits: [{ start: at, end: at, newText: ',' }], preferred: true }],
      region: spanOf(list),
    }
  }
  return undefined
}

function listOf(document: RollDocument, node: Node): SeqNode | undefined {
  const parent = parentOf(document, node)
  return parent?.kind === 'seq' && parent.flow ? parent : undefined
}

/** The lone word behind a value in its mapping, or the entry behind it in its list. */
function restBehind(parent: MapNode | SeqNode, node: Node): Node | undefined {
  if (parent.kind === 'seq') return parent.items[parent.items.indexOf(node) + 1]
  const next = parent.pairs[parent.pairs.findIndex((p) => p.value === node) + 1]
  return next?.key && next.value.kind === 'scalar' && next.value.style === 'empty' ? next.key : undefined
}

function parentOf(document: RollDocument, node: Node): MapNode | SeqNode | undefined {
  const parent = resolveAlias(nodeAt(document.tree.root, spotOf(document, node).path.slice(0, -1)))
  return parent?.kind === 'map' || parent?.kind === 'seq' ? parent : undefined
}
