// Documents found by a few letters of their id or title, as somebody types who half remembers one.
import { lastPart } from '../base/uri.ts'
import { type Facts, ID_KEY } from '../model/facts.ts'
import type { DocumentKind } from '../schema/schema.ts'
import type { Location } from './context.ts'

export interface FoundDocument extends Location {
  readonly kind: DocumentKind
  /** Its id, and behind it the title. */
  readonly name: string
}

/** More are no list to choose from. */
const MAX_FOUND = 200

/** The documents whose id and title hold the letters in their order, the best ones first; all, by id, where no letters are given. */
export function findDocuments(all: Iterable<Facts>, query: string): readonly FoundDocument[] {
  const wanted = query.toLowerCase().replace(/\s+/g, '')
  const found: { readonly score: number; readonly name: string; readonly facts: Facts }[] = []
  for (const facts of all) {
    const name = nameOf(facts)
    const score = scoreOf(name.toLowerCase(), wanted)
    if (score !== undefined) found.push({ score, name, facts })
  }
  found.sort((a, b) => b.score - a.score || (a.name < b.name ? -1 : a.name > b.name ? 1 : a.facts.file < b.facts.file ? -1 : 1))
  return found.slice(0, MAX_FOUND).map(({ name, facts: { file, kind, values } }) => {
    const { start, end } = values[ID_KEY[kind]] ?? { start: 0, end: 0 }
    return { name, kind, file, span: { start, end } }
  })
}

/** An editor picks by the name alone, so the title is part of it. */
function nameOf({ file, kind, values }: Facts): string {
  const id = values[ID_KEY[kind]]?.text ?? lastPart(file)
  return values.title ? `${id} · ${values.title.text}` : id
}

/** Letters that follow one another, or that begin a word, count more; undefined where one is not there. */
function scoreOf(name: string, wanted: string): number | undefined {
  let score = 0
  let run = 0
  let from = 0
  for (const letter of wanted) {
    const at = name.indexOf(letter, from)
    if (at < 0) return undefined
    run = at === from && from > 0 ? run + 1 : 0
    score += run + (at === 0 || /[^\p{L}\p{N}]/u.test(name[at - 1]!) ? 2 : 0)
    from = at + letter.length
  }
  return score + (name.includes(wanted) ? 100 : 0) + (name.startsWith(wanted) ? 100 : 0)
}
