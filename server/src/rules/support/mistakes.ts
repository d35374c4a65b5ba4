// One mistake, one finding: a slip of the keyboard breaks the text, leaves a key unknown, another one missing and a value unread. This file
// decides, once a version of a document, which of these is told, so that every rule can take what it is given at its word.
import { recorded, runtimeOf } from '../../base/recorder.ts'
import type { Span } from '../../base/span.ts'
import { type PlacedIssue, type RollDocument, spanOf } from '../../model/document.ts'
import type { BadValue } from '../../model/read.ts'
import type { SyntaxCode } from '../../syntax/problem.ts'
import { type Node, type Pair, resolveAlias } from '../../syntax/tree.ts'
import { keysAt, keyWithoutColon } from './entries.ts'
import { lineAt } from './lines.ts'
import { joinedNumbers, type SplitNumber, splitNumbers, withoutRepeats } from './number-mistakes.ts'
import { keySpanOf, spotOf } from './places.ts'
import { noColon, type TextMistake, textMistakes } from './text-mistakes.ts'
import { unseenLetters, withoutUnseen } from './unseen.ts'

export interface Mistakes {
  readonly texts: readonly TextMistake[]
  readonly splits: readonly SplitNumber[]
  readonly issues: readonly PlacedIssue[]
  readonly bad: readonly BadValue[]
  /** Whether a stretch of the document is in doubt because its text is broken. */
  inDoubt(span: Span): boolean
}

/** The mistakes of a document's newest text. A text without any is like every other such text to whoever asks through a recorder. */
export function mistakesOf(document: RollDocument): Mistakes {
  return runtimeOf(document) ? recordedMistakes(document) : mistakesNow(document)
}

const NONE: Mistakes = { texts: [], splits: [], issues: [], bad: [], inDoubt: () => false }

const recordedMistakes = recorded('mistakes', mistakesNow)

function mistakesNow(document: RollDocument): Mistakes {
  const before = kept.get(document.tree)
  if (before) return before
  const found = sort(document)
  const { texts, splits, issues, bad } = found
  const made = texts.length + splits.length + issues.length + bad.length === 0 ? NONE : found
  kept.set(document.tree, made)
  return made
}

/** Whether a key or value is mistyped somewhere: what seems missing may only be misspelt, and its own finding comes first. */
export function isMistyped(document: RollDocument): boolean {
  const { issues, bad, texts, splits } = mistakesOf(document)
  return issues.some(({ issue }) => issue.issue !== 'missing-key') || bad.length + texts.length + splits.length > 0
}

export function pairOf(node: Node, key: string): Pair | undefined {
  const map = resolveAlias(node)
  return map?.kind === 'map' ? map.pair(key) : undefined
}

/** More issues than these help nobody, and looking at each takes time. */
const MAX_ISSUES = 500

const kept = new WeakMap<object, Mistakes>()

/** Problems of texts that are not read, or not to their end. */
const UNREAD: ReadonlySet<SyntaxCode> = new Set(['too-deep', 'too-large', 'unread'])

function sort(document: RollDocument): Mistakes {
  const { tree, kind } = document
  // What was not read is not missing.
  const structure = tree.problems.some((p) => UNREAD.has(p.code)) ? [] : document.structure().slice(0, MAX_ISSUES)
  const read = withoutRepeats(document.read().bad.slice(0, MAX_ISSUES))
  const splits = splitNumbers(document, read)
  const texts = [...textMistakes(tree, kind), ...joinedNumbers(document, read, structure), ...unseenLetters(document)]
  const inDoubt = (span: Span): boolean =>
    texts.some((t) => inside(span, t.region)) || splits.some((s) => s.list !== undefined && inside(span, s.list))
  const told = new Set<string>()
  const first: PlacedIssue[] = []
  for (const placed of structure) {
    if (echoes(document, placed, texts, splits, inDoubt)) continue
    const line = lineWithoutColon(document, placed)
    if (line) texts.push(line)
    else if (isNew(told, placed)) first.push(placed)
  }
  const issues = first.filter((placed) => !isOfBareLine(document, placed, texts))
  const numbers = new Set(issues.flatMap(({ issue, node }) => (issue.issue === 'out-of-range' ? [node] : [])))
  const bad = read.filter(({ place: { node } }) => !numbers.has(node) && !isLost(document, node, texts, splits))
  return { texts, splits, issues, bad, inDoubt }
}

const inside = ({ start }: Span, region: Span): boolean => start >= region.start && start < region.end

/** Whether an issue only follows from a mistake that is told already. */
function echoes(
  document: RollDocument,
  { issue, node }: PlacedIssue,
  texts: readonly TextMistake[],
  splits: readonly SplitNumber[],
  inDoubt: (span: Span) => boolean,
): boolean {
  if (node.kind === 'alias' && !resolveAlias(node)) return true
  const isRoot = node === document.tree.root
  // A key that stands in the text, and is only not read because the text is broken.
  if (issue.issue === 'missing-key' && isRoot)
    return texts.length > 0 && new RegExp(`(?:^|[\\n{,])\\s*${issue.key}\\b`).test(withoutUnseen(document.text))
  if (issue.issue === 'missing-key' && node.kind === 'map')
    return (
      inDoubt(spanOf(node)) ||
      node.pairs.some(({ key }) => key && key.text !== issue.key && withoutUnseen(key.text) === issue.key)
    )
  if (issue.issue === 'unknown-key') {
    const key = keySpanOf(pairOf(node, issue.key))
    return key ? inDoubt(key) || splits.some((s) => inside(key, s)) : texts.length > 0
  }
  return !isRoot && inDoubt(spanOf(node))
}

/** A key that is unknown, or words where keys are due, because a colon is missing. */
function lineWithoutColon(document: RollDocument, { issue, node }: PlacedIssue): TextMistake | undefined {
  const { text, kind } = document
  const { path } = issue.issue === 'missing-key' ? { path: [] } : spotOf(document, node)
  if (issue.issue === 'unknown-key' || issue.issue === 'bad-key') {
    const pair = pairOf(node, issue.key)
    const lone = pair?.key?.style === 'plain' && pair.value.kind === 'scalar' && pair.value.style === 'empty'
    // In a table the shop chose the names: what stands before the value is the name.
    const names = issue.issue === 'bad-key' ? (/^[a-z0-9][a-z0-9-]*/.exec(issue.key) ?? []) : keysAt(kind, path)
    return lone && keyWithoutColon(issue.key, names) ? noColon(text, kind, pair.key!, path, names) : undefined
  }
  if (issue.issue !== 'wrong-kind' || node.kind !== 'scalar' || node.style !== 'plain') return undefined
  if (issue.wanted !== 'map' && issue.wanted !== 'table') return undefined
  const isRoot = node === document.tree.root
  return isRoot || keyWithoutColon(node.text, keysAt(kind, path)) ? noColon(text, kind, node, path) : undefined
}

/** A key that is missing, or a value that is not there, only because its line lacks the colon. */
function isOfBareLine(document: RollDocument, { issue, node }: PlacedIssue, texts: readonly TextMistake[]): boolean {
  const { text, tree } = document
  return texts.some((t) => {
    if (t.code !== 'no-colon') return false
    if (issue.issue !== 'missing-key') return node.start >= t.start && node.start <= t.end
    const within = t.start >= node.start && t.end <= (node === tree.root ? text.length : node.end)
    return within && keyWithoutColon(text.slice(t.start, t.end), [issue.key]) !== undefined
  })
}

function isNew(told: Set<string>, { issue, node }: PlacedIssue): boolean {
  const mark = `${issue.issue} ${node.start} ${node.end} ${'key' in issue ? issue.key : ''}`
  return !told.has(mark) && told.add(mark) !== undefined
}

/** Whether a value could not be read only because the text around it is broken. */
function isLost({ text }: RollDocument, node: Node, texts: readonly TextMistake[], splits: readonly SplitNumber[]): boolean {
  if (splits.some((s) => s.start === node.start || (s.list !== undefined && inside(node, s.list)))) return true
  if (texts.length === 0) return false
  const line = lineAt(text, node.start)
  return texts.some((t) => {
    const reachesIt = lineAt(text, t.start).start === line.start || (t.start >= node.start && t.start < node.end)
    return reachesIt && inside(node, t.region)
  })
}
