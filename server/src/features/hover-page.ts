// A hover in the order a person needs it: what it is, the verdict in bold, the numbers in a table, what else they tell, when to raise and lower and what that costs, one
// caution, the sources. It is never higher than two screens of the widget: what does not fit is left out from the least needed on, and where it is read is said instead.

import { type ExplanationParts, partsText } from '../schema/explain.ts'
import { type Numbers, sentences } from './numbers.ts'

/**
 * The editor's widget shows 250 px and scrolls on; two of these are 500 px, which are 26 lines of 19 px. A line holds 76 letters at the width it has by itself.
 * An estimate from those sizes: what the workbench shows of it has not been measured.
 */
export const MAX_LINES = 26
const LETTERS = 76
/** A row of a table is a little higher than a line, and between two paragraphs there is not quite half of one. */
const ROW = 1.15
const GAP = 0.4

export interface HoverParts {
  readonly heading: string
  /** The value in the shop's unit, what a word means, the document that a name leads to, what a base has: paragraphs, what matters most first. */
  readonly meaning: readonly string[]
  readonly numbers: Numbers | undefined
  readonly explanation: ExplanationParts | string
  /** Where the rest is read, in words. */
  readonly more: string
}

/** Lines that Markdown takes in the widget. */
export function linesOf(markdown: string): number {
  const blocks = markdown.split('\n\n').map((block) => {
    const lines = block.split('\n').filter((line) => !RULE.test(line))
    return lines.reduce((sum, line) => sum + (line.startsWith('|') ? ROW : Math.max(1, Math.ceil(seen(line) / LETTERS))), 0)
  })
  return blocks.reduce((sum, lines) => sum + lines, 0) + GAP * (blocks.length - 1)
}

const RULE = /^\|(?:\s*:?-+:?\s*\|)+$/

/** How many letters of a line are seen: marks are not. */
const seen = (line: string): number => line.replace(/\*\*|`|\\/g, '').length

export function hoverPage(parts: HoverParts): string {
  const explained = typeof parts.explanation === 'string' ? { what: parts.explanation, parts: [] } : parts.explanation
  const told = (parts.numbers?.told ?? []).flatMap((text) => (text ? blocksOf(text) : []))
  const notes = told.filter((block) => !block.startsWith('|'))
  // Numbers about a fault stand in place of what is said of it in general.
  const list = parts.numbers ? undefined : explained.list
  for (const { meaning, keep, what, costs, source } of shorter(parts.meaning.length, notes.length)) {
    const page = [
      parts.heading,
      parts.numbers?.verdict && `**${parts.numbers.verdict.replaceAll('**', '')}**`,
      ...parts.meaning.slice(0, meaning),
      ...told.filter((block) => block.startsWith('|') || notes.indexOf(block) < keep),
      what === 'all' ? explained.what : what === 'first' ? sentences(explained.what)[0] : undefined,
      partsText(explained.parts.flatMap((part) => shortened(part, costs))),
      list,
      cautionOf(parts.numbers, explained, keep === notes.length),
      explained.source && `*Source: ${source === 'all' ? explained.source : explained.source.split('; ')[0]}*`,
      meaning < parts.meaning.length || keep < notes.length || what !== 'all' || costs !== 'all' || source !== 'all'
        ? `*${parts.more}*`
        : undefined,
    ]
      .filter((block) => block)
      .join('\n\n')
    if (linesOf(page) <= MAX_LINES) return page
  }
  return parts.heading
}

interface Shortening {
  /** How many paragraphs of the meaning and of what the numbers tell are kept. */
  readonly meaning: number
  readonly keep: number
  readonly what: 'all' | 'first' | 'none'
  readonly costs: 'all' | 'first' | 'none'
  readonly source: 'all' | 'first'
}

/** From all there is to the least: general words go before numbers of this profile, and both before what to do and what can hurt. */
function* shorter(meaning: number, notes: number): Generator<Shortening> {
  const all = { meaning, keep: notes, what: 'all', costs: 'all', source: 'all' } as const
  yield all
  yield { ...all, what: 'first' }
  const brief = { ...all, what: 'first', costs: 'first' } as const
  for (let keep = notes; keep >= Math.min(notes, 1); keep--) yield { ...brief, keep }
  const least = { ...brief, source: 'first', what: 'none' } as const
  for (let keep = Math.min(notes, 1); keep >= 0; keep--) yield { ...least, keep }
  for (let kept = meaning - 1; kept >= 0; kept--) yield { ...least, keep: 0, meaning: kept }
  yield { ...least, keep: 0, meaning: 0, costs: 'none' }
}

function shortened([label, text]: readonly [string, string], costs: Shortening['costs']): readonly (readonly [string, string])[] {
  if (label !== 'Costs' || costs === 'all') return [[label, text]]
  return costs === 'none' ? [] : [[label, sentences(text)[0]!]]
}

/** One alone: that of the numbers, where they have one. */
const cautionOf = (numbers: Numbers | undefined, { caution }: Partial<ExplanationParts>, allTold: boolean): string | undefined =>
  (allTold ? numbers?.caution : (numbers?.briefCaution ?? numbers?.caution)) ??
  (caution === undefined ? undefined : `Caution: ${caution}`)

/** Paragraphs; a line that ends in a colon stays with the list behind it. */
const blocksOf = (text: string): readonly string[] => text.split(/(?<!:)\n\n/).filter((block) => block !== '')
