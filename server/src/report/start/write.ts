// Writes a started profile: flat, one setting a line, each below the comment that says why.
import { wrapped } from '../wrap.ts'
import type { Chosen } from './chosen.ts'

const WIDTH = 100

/** Keys in the order of the samples; what is not listed comes last. */
const ORDER = [
  'profile',
  'title',
  'stock',
  'printer',
  'mode',
  'slot',
  'gap',
  'feed',
  'heat',
  'drying',
  'suction',
  'carriage',
  'web',
  'colour',
]

/** The document. `head` is commented out ahead of it, an empty text between paragraphs. */
export function profileText(settings: readonly Chosen[], head: readonly string[] = []): string {
  const out = head.flatMap((line) => (line === '' ? ['#'] : comment(line, '')))
  if (head.length > 0) out.push('')
  const groups = bySection(settings)
  const keys = [...groups.keys()].sort((a, b) => rank(a) - rank(b))
  let before: string | undefined
  for (const key of keys) {
    const group = groups.get(key)!
    const apart = group[0]!.path.length > 1 || group[0]!.why !== ''
    if (before !== undefined && apart) out.push('')
    before = key
    const nested = group[0]!.path.length > 1
    if (nested) out.push(`${key}:`)
    for (const one of group) out.push(...settingLines(one, nested ? '  ' : ''))
  }
  return `${out.join('\n')}\n`
}

/** One setting below the comment that says why. */
export function settingLines({ path, text, why }: Chosen, indent: string): readonly string[] {
  return [...(why === '' ? [] : comment(why, indent)), `${indent}${path.at(-1)}: ${text}`]
}

/** Settings by the section they stand in, in the order given. */
export function bySection(settings: readonly Chosen[]): ReadonlyMap<string, readonly Chosen[]> {
  const groups = new Map<string, Chosen[]>()
  for (const one of settings) groups.set(one.path[0]!, [...(groups.get(one.path[0]!) ?? []), one])
  return groups
}

const rank = (key: string): number => (ORDER.includes(key) ? ORDER.indexOf(key) : ORDER.length)

/** Names and titles come from documents: nothing in them may end the comment's line. */
function comment(text: string, indent: string): readonly string[] {
  const lead = /^(\s*(?:\d+\. |- )?)/.exec(text)![1]!
  const words = text.slice(lead.length).replace(/[\p{Cc}\u2028\u2029]+/gu, ' ')
  return wrapped(words, WIDTH, `${indent}# ${lead}`, `${indent}# ${' '.repeat(lead.length)}`)
}

/** A text as a YAML value on one line. */
export function valueText(text: string): string {
  const line = text.replace(/[\p{Cc}\u2028\u2029]+/gu, ' ').trim()
  return /^\p{L}[\p{L}\p{N} ,.²³µ/()+-]*$/u.test(line) && !/^(?:true|false|null|y|n|yes|no|on|off)$/i.test(line)
    ? line
    : `"${line.replace(/[\\"]/g, '\\$&')}"`
}
