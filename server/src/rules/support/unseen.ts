// Letters that cannot be seen, and letters that turn the order in which a line shows: a key or value that holds one is not what it looks like.
import type { Span } from '../../base/span.ts'
import type { RollDocument } from '../../model/document.ts'
import { type SchemaNode, schemaAt } from '../../schema/schema.ts'
import type { Node, ScalarNode } from '../../syntax/tree.ts'
import { lineAt } from './lines.ts'
import type { TextMistake } from './text-mistakes.ts'

/** In keys, numbers and names none of these has a meaning: soft hyphen, zero widths and joiners, marks of direction, byte order mark. */
const UNSEEN = /[\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u206f\ufeff]/

/** In a line of text, such as a title, joiners and marks of direction belong to some scripts; these belong to none, or show another order than is read. */
const IN_WORDS = /[\u200b\u202a-\u202e\u2060-\u2064\ufeff]/

/** In notes and comments only what makes a reader see another order than is read. */
const TURNING = /[\u202d\u202e]/

/** The unseen letters of a document, each key, value or line told once. */
export function unseenLetters({ tree, kind, text }: RollDocument): readonly TextMistake[] {
  // A byte order mark in front of everything is what it is there for.
  const unseen = UNSEEN.test(text.slice(1))
  if (!unseen && !text.includes('\\')) return []
  const found: TextMistake[] = []
  const look = (node: ScalarNode, letters: RegExp, what: string): void => {
    const at = unseen ? text.slice(node.start, node.end).search(letters) : -1
    if (at >= 0) found.push(mistake(text, { start: node.start + at, end: node.end }, node, letters, what))
    else if (node.style === 'double' && TURNING.test(node.text)) found.push(escaped(node, what))
  }
  const visit = (node: Node, path: readonly (string | number)[]): void => {
    if (node.kind === 'map')
      for (const { key, value } of node.pairs) {
        if (key) look(key, UNSEEN, 'this key')
        visit(value, [...path, key?.text ?? ''])
      }
    else if (node.kind === 'seq') node.items.forEach((item, i) => void visit(item, [...path, i]))
    else if (node.kind === 'scalar') look(node, lettersOf(schemaAt(kind, path)), 'this value')
  }
  if (tree.root) visit(tree.root, [])
  if (unseen) found.push(...outside(text, found))
  return found.slice(0, MAX_LINES)
}

/** A text without what cannot be seen in it. */
export const withoutUnseen = (text: string): string => (UNSEEN.test(text) ? text.replace(new RegExp(UNSEEN, 'g'), '') : text)

/** More of these in one document are not told. */
const MAX_LINES = 50

function lettersOf(schema: SchemaNode | undefined): RegExp {
  if (schema?.kind === 'any') return TURNING
  return schema?.kind === 'leaf' && schema.accepts.some((one) => one.type === 'text') ? IN_WORDS : UNSEEN
}

/** What turns the order in comments, and in whatever else is no key or value. */
function outside(text: string, told: readonly TextMistake[]): readonly TextMistake[] {
  const found: TextMistake[] = []
  for (const { index } of text.matchAll(new RegExp(TURNING, 'g'))) {
    const line = lineAt(text, index)
    const known = [...told, ...found].some((m) => index >= m.region.start && index < m.region.end)
    if (!known) found.push(mistake(text, { start: index, end: line.end }, line, TURNING, 'this line'))
    if (found.length === MAX_LINES) break
  }
  return found
}

function mistake(text: string, at: Span, region: Span, letters: RegExp, what: string): TextMistake {
  const letter = text[at.start]!
  const edits = [...text.slice(at.start, at.end).matchAll(new RegExp(letters, 'g'))].map(({ index }) => {
    const start = at.start + index
    return { start, end: start + 1, newText: '' }
  })
  const [those, title] = edits.length > 1 ? ['them', 'Delete the invisible letters'] : ['it', 'Delete the invisible letter']
  return {
    code: 'unseen-letter',
    start: at.start,
    end: at.start + 1,
    message: `${words(letter, what, edits.length)} Delete ${those}.`,
    fixes: [{ title, edits, preferred: true }],
    region: { start: region.start, end: region.end },
  }
}

function words(letter: string, what: string, count: number): string {
  const code = letter.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')
  const more = count > 1 ? `, and ${count - 1} more like it` : ''
  return TURNING.test(letter)
    ? `A sign that turns the order of the letters (U+${code}) stands in ${what}${more}, so it is read otherwise than it shows.`
    : `A letter that cannot be seen (U+${code}) stands in ${what}${more}, so it is not what it looks like.`
}

/** The letter is written as an escape, which is seen in the document and not where the text is shown. */
function escaped(node: ScalarNode, what: string): TextMistake {
  const letter = TURNING.exec(node.text)![0]
  return {
    code: 'unseen-letter',
    start: node.start,
    end: node.end,
    message: `${words(letter, what, 1)} Take its escape out.`,
    fixes: [],
    region: { start: node.start, end: node.start },
  }
}
