// What somebody has looked at and accepted for a while, said in the document itself where a reviewer reads it: a comment
// `# rollbook-accept RULE until YYYY-MM-DD: why`, above what it is about or behind it on its line; above the first entry it is about the document.
// What can hurt somebody or a machine is answered by a measurement, never by a comment.
import type { Span } from '../../base/span.ts'
import { isDate } from '../../model/read.ts'
import { lastStartingBefore, locate } from '../../syntax/locate.ts'
import type { Node, Pair } from '../../syntax/tree.ts'
import type { Finding, Rule } from '../rule.ts'
import { lineAt, nextLine } from './lines.ts'

export interface Acceptance {
  /** The comment, from its sign. */
  readonly span: Span
  /** The code as it is written, and where; an empty one where the comment ends before it. */
  readonly code: string
  readonly codeSpan: Span
  /** A day that there is; undefined where none is written. The last day that counts. */
  readonly until: string | undefined
  /** Undefined where no reason is written. */
  readonly reason: string | undefined
  /** A finding that begins in here is meant. */
  readonly about: Span
}

const WORD = 'rollbook-accept'

/** The sign and the word, at a line's start or behind a blank: a comment, wherever no quoted text holds it. */
const COMMENT = /(?<=^|[ \t])#[ \t]*rollbook-accept(?![\w-])([^\r\n]*)/gm

/** Code, day and reason, as far as they are written. */
const PARTS = /^[ \t]*([\w-]*)(?:[ \t]+until[ \t]+([\d-]+))?[ \t]*(?::[ \t]*(.*?))?[ \t]*$/

/** No more than these are read of a document. */
const MOST = 200

interface Readable {
  readonly text: string
  readonly root: Node | undefined
}

/** All that a document accepts, in the order of the text. */
export function acceptancesOf({ text, root }: Readable): readonly Acceptance[] {
  if (!text.includes(WORD)) return []
  const out: Acceptance[] = []
  for (const { index, 0: comment, 1: rest = '' } of text.matchAll(COMMENT)) {
    if (out.length === MOST) break
    const node = locate(root, index)?.node
    if (node?.kind === 'scalar' && node.start < index && index < node.end) continue
    const [, code = '', day, reason] = PARTS.exec(rest) ?? []
    const from = index + comment.length - rest.length
    const at = from + rest.length - rest.trimStart().length
    out.push({
      span: { start: index, end: index + comment.trimEnd().length },
      code,
      codeSpan: code === '' ? { start: index, end: index + comment.trimEnd().length } : { start: at, end: at + code.length },
      until: day !== undefined && isDate(day) ? day : undefined,
      reason: reason?.trim() || undefined,
      about: aboutOf({ text, root }, index),
    })
  }
  return out
}

/** Why a rule's findings are not accepted by anybody: an error about heat, clearance, vapour or tension. */
export const isNeverAccepted = ({ risk, severity }: Pick<Rule, 'risk' | 'severity'>): boolean =>
  risk === 'harm' && severity === 'error'

/** Whether it can hold back a finding at all, apart from its day. */
export const isWhole = ({ code, until, reason }: Acceptance): boolean =>
  code !== '' && until !== undefined && reason !== undefined

/** Each finding as it is told: the accepted ones say so. What was of use is added to `used`. */
export function withAcceptances(
  findings: readonly Finding[],
  acceptances: readonly Acceptance[],
  ruleOf: (code: string) => Rule | undefined,
  today: string,
  used: Set<Acceptance>,
): readonly Finding[] {
  return findings.map((finding) => {
    const about = acceptances.filter(
      (one) => one.code === finding.code && one.about.start <= finding.span.start && finding.span.start <= one.about.end,
    )
    for (const one of about) used.add(one)
    const rule = ruleOf(finding.code)
    const whole = rule && !isNeverAccepted(rule) ? about.filter(isWhole) : []
    const by = whole.find(({ until }) => until! >= today)
    if (by) return { ...finding, accepted: { until: by.until!, reason: by.reason! } }
    return whole.length > 0 ? { ...finding, lapsed: true } : finding
  })
}

/** What a comment is about: the entry whose line it ends, or the one that begins under it; from the first entry on, the whole document. */
function aboutOf({ text, root }: Readable, comment: number): Span {
  const nothing = { start: comment, end: comment }
  if (!root) return { start: 0, end: text.length }
  const line = lineAt(text, comment)
  const own = text.slice(line.start, comment).search(/\S/)
  if (own >= 0) return entryAt(text, root, line.start + own) ?? nothing
  for (let at = nextLine(text, comment); at < text.length; at = nextLine(text, at)) {
    const { start, end } = lineAt(text, at)
    const first = text.slice(start, end).search(/\S/)
    if (first < 0 || text[start + first] === '#') continue
    return start + first <= root.start ? { start: 0, end: text.length } : (entryAt(text, root, start + first) ?? nothing)
  }
  return nothing
}

/** The entry that begins at an offset: a key with all that stands under it, or an item of a list from its dash on. */
function entryAt(text: string, root: Node, offset: number): Span | undefined {
  let node: Node = root
  for (;;) {
    if (node.kind === 'map') {
      const pair: Pair | undefined = node.pairs[lastStartingBefore(node.pairs, offset)]
      if (!pair) return undefined
      if (pair.start === offset) return { start: offset, end: Math.max(pair.end, pair.value.end) }
      node = pair.value
    } else if (node.kind === 'seq') {
      const index = lastStartingBefore(node.items, offset)
      const next = node.items[index + 1]
      if (next && /^-[ \t]*$/.test(text.slice(offset, Math.min(next.start, offset + LONGEST_DASH))))
        return { start: offset, end: next.end }
      const item = node.items[index]
      if (!item) return undefined
      if (item.start === offset) return { start: offset, end: item.end }
      node = item
    } else return undefined
  }
}

/** A dash and the blanks behind it. */
const LONGEST_DASH = 40
