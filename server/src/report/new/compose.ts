// Makes a document of answers, or adds them to one that is there. What comes out is read by the rules before anybody gets it: with an error in it, there is none.
import type { RollDocument } from '../../model/document.ts'
import type { Shelf } from '../../model/shelf.ts'
import type { Finding, Severity } from '../../rules/rule.ts'
import { type MapSchema, schemaOf } from '../../schema/schema.ts'
import { nodeAt } from '../../syntax/tree.ts'
import { type Entry, entriesOf, pathOf } from './entry.ts'
import { withEntries } from './into.ts'
import { findingsOf } from './judge.ts'
import { layout } from './layout.ts'
import { type Answers, arises, type NewKind, type Question } from './question.ts'
import { DOCUMENT_OF, QUESTIONS } from './questions.ts'

export interface ComposeRequest {
  readonly kind: Exclude<NewKind, 'profile'>
  readonly answers: Answers
  /** The file the document is, or will be. */
  readonly file: string
  /** The text of a document that is there, to which the answers are added. */
  readonly into?: string | undefined
  readonly shelf: Shelf
  readonly severities?: ReadonlyMap<string, Severity | 'ignore'>
  /** YYYY-MM-DD. */
  readonly today: string
}

export type Composed =
  | {
      readonly ok: true
      readonly text: string
      /** The questions that arise and are left open. */
      readonly open: readonly Question[]
      /** Warnings that the document has from the beginning. */
      readonly remarks: readonly string[]
    }
  | { readonly ok: false; readonly refused: string }

export function compose(request: ComposeRequest): Composed {
  const { kind, answers, file, into, shelf, severities, today } = request
  const document = DOCUMENT_OF[kind]
  const missing = into === undefined || kind === 'instrument' ? unansweredMusts(kind, answers) : []
  if (missing.length > 0)
    return { ok: false, refused: `Without an answer it cannot begin: ${missing.map(({ key }) => key).join(', ')}.` }
  const entries = entriesOf(kind, answers)
  const made: { ok: true; text: string } | { ok: false; refused: string } =
    into === undefined
      ? { ok: true, text: layout(withSections(schemaOf(document), entries)) }
      : withEntries(into, schemaOf(document), identified(kind, entries))
  if (!made.ok) return made
  const before = into === undefined ? [] : findingsOf(file, document, into, shelf, today, severities)
  const told = new Set(before.map(({ code, message }) => `${code} ${message}`))
  const found = findingsOf(file, document, made.text, shelf, today, severities).filter(
    ({ code, message }) => !told.has(`${code} ${message}`),
  )
  const wrong = found.filter(({ severity }) => severity === 'error')
  if (wrong.length > 0) return { ok: false, refused: wrong.map(messageOf).join(' ') }
  const open = QUESTIONS[kind].filter((question) => !question.must && arises(question, answers) && !answers.has(question.key))
  return { ok: true, text: made.text, open, remarks: found.filter(({ severity }) => severity === 'warning').map(messageOf) }
}

const messageOf = ({ message }: Finding): string => message

export const unansweredMusts = (kind: NewKind, answers: Answers): readonly Question[] =>
  QUESTIONS[kind].filter((question) => question.must && arises(question, answers) && !answers.has(question.key))

/** The questions that a document does not answer yet; without a document, all of them. */
export const unansweredBy = (kind: NewKind, answers: Answers, document: RollDocument | undefined): readonly Question[] =>
  QUESTIONS[kind].filter((question) => document === undefined || !holds(document, pathOf(kind, question, answers)))

/** Whether a document has something at a path. */
export const holds = ({ tree }: RollDocument, path: readonly (string | number)[]): boolean =>
  nodeAt(tree.root, path) !== undefined

/** Without the name of a document that has it already. */
const identified = (kind: NewKind, entries: readonly Entry[]): readonly Entry[] =>
  entries.filter(({ path }) => path.length > 1 || path[0] !== kind)

/** With the sections that a document cannot be without, each in its place: one of which nothing is known yet is empty. */
function withSections({ properties, required }: MapSchema, entries: readonly Entry[]): readonly Entry[] {
  const order = [...properties.keys()]
  const lacking = required.filter((key) => !entries.some(({ path }) => path[0] === key))
  const rank = ({ path }: Entry): number => order.indexOf(String(path[0]))
  return [...entries, ...lacking.map((key): Entry => ({ path: [key], yaml: '{}' }))].sort((a, b) => rank(a) - rank(b))
}
