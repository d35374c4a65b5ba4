// What a setting does, when to move it and what that costs; what a fault points to; how a family of material behaves. Read from
// schemas/explain/*.md, which `npx tsx server/tools/explain.ts` turns into data.

import { EXPLAIN_DATA } from './generated/explain-data.ts'
import type { DocumentKind } from './raw.ts'

/** One key explained. A setting has `raise` and `lower` or `change`; everything is one paragraph of Markdown. */
export interface Explanation {
  /** The key, with `*` for items of lists and for keys the shop names itself. */
  readonly path: string
  readonly what: string
  /** What else the trade calls it: words that a person may look for. */
  readonly also?: readonly string[]
  readonly raise?: string
  readonly lower?: string
  readonly change?: string
  readonly costs?: string
  readonly caution?: string
  /** Where the statements come from: common practice, from memory, a published source or a computation. */
  readonly source: string
}

/** Which way a setting has to go. */
export type Way = 'up' | 'down'

/** One cause of a fault. */
export interface Cause {
  /** The key of a profile that cures it; undefined where none does. */
  readonly setting?: string
  /** Undefined where it is no matter of more or less. */
  readonly way?: Way
  /** Holds only for a stock that hardly takes up moisture, or only for one that does. */
  readonly on?: 'film' | 'paper'
  /** What is wrong, as a sentence. */
  readonly words: string
}

export interface FaultExplanation {
  readonly fault: string
  /** What it looks like. */
  readonly what: string
  /** What else the trade calls it: words that a person may look for. */
  readonly also?: readonly string[]
  /** What to look at first. */
  readonly first: string
  /** The likeliest first: what the page lists, and what advice on a profile is made from. */
  readonly causes: readonly Cause[]
  readonly caution?: string
  readonly source: string
}

export interface FamilyExplanation {
  readonly family: string
  readonly what: string
  readonly behaves: string
  readonly watch: string
  readonly caution?: string
  readonly source: string
}

/**
 * The explanation of a key of one kind of document. Items of lists and named keys may be given as `*` or as they stand in a document:
 * 'instruments.*.division' and 'instruments.steel-rule.division' find the same.
 */
export function explain(kind: DocumentKind, path: string): Explanation | undefined {
  const sections = read(kind)
  const exact = sections.get(path)
  if (exact !== undefined) return { path, ...exact }
  const steps = path.split('.')
  for (const [pattern, section] of sections) {
    const wanted = pattern.split('.')
    if (wanted.length === steps.length && wanted.every((step, n) => step === '*' || step === steps[n]))
      return { path: pattern, ...section }
  }
  return undefined
}

export function explainFault(name: string): FaultExplanation | undefined {
  const section = read('faults').get(name)
  return section && { fault: name, ...section }
}

/** Families of stocks and of their layers. */
export function explainFamily(name: string): FamilyExplanation | undefined {
  const section = read('families').get(name)
  return section && { family: name, ...section }
}

/** What an explanation says, part by part: each one paragraph of Markdown. */
export interface ExplanationParts {
  readonly what: string
  readonly parts: readonly (readonly [label: string, text: string])[]
  readonly list?: string
  readonly caution?: string | undefined
  readonly source?: string
}

type Said = readonly (readonly [label: string, text: string | undefined])[]

const said = (parts: Said): ExplanationParts['parts'] =>
  parts.flatMap(([label, text]) => (text === undefined ? [] : [[label, text] as const]))

export const explanationParts = ({ what, raise, lower, change, costs, caution, source }: Explanation): ExplanationParts => ({
  what,
  parts: said([
    ['Raise when', raise],
    ['Lower when', lower],
    ['Change when', change],
    ['Costs', costs],
  ]),
  caution,
  source,
})

export const explanationMarkdown = (explanation: Explanation): string => markdown(explanationParts(explanation))

export function faultParts({ what, causes, first, caution, source }: FaultExplanation): ExplanationParts {
  const list = causes.map(({ setting, way, on, words }, n) => {
    const cure = setting === undefined ? '' : `${wayWords(way)} \`${setting}\`${on === undefined ? '' : ` on ${on}`}: `
    return `${n + 1}. ${cure}${words}`
  })
  return { what, parts: [['First', first]], list: `Causes, likeliest first:\n\n${list.join('\n')}`, caution, source }
}

export const faultMarkdown = (explanation: FaultExplanation): string => markdown(faultParts(explanation))

/** What to do to a setting, as a verb. */
export const wayWords = (way: Way | undefined): string => (way === 'up' ? 'raise' : way === 'down' ? 'lower' : 'look at')

export function familyMarkdown({ what, behaves, watch, caution, source }: FamilyExplanation): string {
  const parts = said([
    ['On the press', behaves],
    ['Watch', watch],
  ])
  return markdown({ what, parts, caution, source })
}

/** Parts as a list with their labels; empty where there is none. */
export const partsText = (parts: ExplanationParts['parts']): string =>
  parts.map(([label, text]) => `- **${label}:** ${text}`).join('\n')

function markdown({ what, parts, list, caution, source }: ExplanationParts): string {
  const told = partsText([...parts, ...said([['Caution', caution]])])
  return [what, ...(told === '' ? [] : [told]), ...(list ? [list] : []), `*Source: ${source}*`].join('\n\n')
}

interface Sections {
  readonly shop: Omit<Explanation, 'path'>
  readonly stock: Omit<Explanation, 'path'>
  readonly printer: Omit<Explanation, 'path'>
  readonly media: Omit<Explanation, 'path'>
  readonly faults: Omit<FaultExplanation, 'fault'>
  readonly families: Omit<FamilyExplanation, 'family'>
}

const done = new Map<keyof Sections, ReadonlyMap<string, unknown>>()

/** The sections of one file by their heading, read on first use: most sessions never need them all. */
function read<K extends keyof Sections>(file: K): ReadonlyMap<string, Sections[K]> {
  let sections = done.get(file)
  if (sections === undefined) {
    sections = new Map(Object.entries(JSON.parse(EXPLAIN_DATA[file]) as Readonly<Record<string, unknown>>))
    done.set(file, sections)
  }
  return sections as ReadonlyMap<string, Sections[K]>
}
