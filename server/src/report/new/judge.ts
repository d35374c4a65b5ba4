// Whether an answer can stand in a document: it is written as it would stand there, and the rules of the format judge it, in their own words.
import { LiveDocument } from '../../model/document.ts'
import { ID_KEY } from '../../model/facts.ts'
import type { Shelf } from '../../model/shelf.ts'
import type { Finding, Severity } from '../../rules/rule.ts'
import { runRules } from '../../rules/run.ts'
import { idFrom } from '../../schema/structure.ts'
import { entriesFor } from './entry.ts'
import { layout } from './layout.ts'
import { type Answers, itemsIn, type NewKind, type Question } from './question.ts'
import { DOCUMENT_OF, isMany, isProse, schemaOfQuestion } from './questions.ts'

export type Judged =
  /** `items` is empty for what is left open; `remarks` say what is unlikely and may be so all the same. */
  | { readonly ok: true; readonly items: readonly string[]; readonly remarks: readonly string[] }
  | { readonly ok: false; readonly reason: string }

/** Of a document that holds one answer alone these say nothing of the answer. */
const OF_THE_REST: ReadonlySet<string> = new Set(['missing-key', 'id-unlike-file'])

/** What is told and does not keep an answer out. */
const UNLIKELY = 'implausible'

/** What a document without a name is called meanwhile. */
const UNNAMED = 'unnamed'

/** One answer as it was typed, or as the items of a list. `answers` are those before it, `today` is YYYY-MM-DD. */
export function judgeAnswer(
  kind: NewKind,
  question: Question,
  typed: string | readonly string[],
  answers: Answers,
  today: string,
): Judged {
  const schema = schemaOfQuestion(kind, question)
  const many = isMany(schema)
  const apart = many ? (isProse(schema) ? 'semicolons' : 'commas') : undefined
  const items = typeof typed === 'string' ? itemsIn(typed, apart) : typed.filter((item) => item.trim() !== '')
  if (items.length === 0)
    return question.must ? { ok: false, reason: 'It cannot begin without this.' } : { ok: true, items, remarks: [] }
  if (!many && items.length > 1) return { ok: false, reason: 'One answer is due here, and several are given.' }
  if (items.some((item) => /\p{Cc}/u.test(item))) return { ok: false, reason: 'An answer stands on one line.' }
  if (schema.kind === 'map') {
    const strange = items.find((item) => !schema.properties.has(item))
    if (strange !== undefined)
      return { ok: false, reason: `'${strange}' is none of ${[...schema.properties.keys()].join(', ')}.` }
  }
  const unnamed = schema.kind === 'table' && many ? items.find((item) => !/^[^:=]+[:=]\s*\S/.test(item)) : undefined
  if (unnamed !== undefined) return { ok: false, reason: `'${unnamed}' has no level and value; write 'level: value'.` }
  const entries = entriesFor(kind, question, new Map([...answers, [question.key, items]]))
  const names = entries.map(({ path }) => path.join('.'))
  const twice = names.find((name, n) => names.indexOf(name) < n)
  if (twice !== undefined) return { ok: false, reason: `'${twice.replace(/^.*\./, '')}' is given twice.` }
  const text = layout(entries)
  // A name that is none is told with the one that may be meant: that of the file.
  const document = DOCUMENT_OF[kind]
  const id = question.path === ID_KEY[document] ? (idFrom(items[0]!) ?? UNNAMED) : UNNAMED
  const file = document === 'shop' ? 'rollbook.yaml' : `${id}.${document}.yaml`
  const found = findingsOf(file, document, text, NO_SHELF, today).filter(({ code }) => !OF_THE_REST.has(code))
  const wrong = found.find(({ severity }) => severity === 'error')
  if (wrong) return { ok: false, reason: wrong.message }
  return { ok: true, items, remarks: found.filter(({ code }) => code === UNLIKELY).map(({ message }) => message) }
}

/** What the rules find in a text of a stock, a printer or a shop. */
export function findingsOf(
  file: string,
  kind: 'shop' | 'stock' | 'printer' | 'media',
  text: string,
  shelf: Shelf,
  today: string,
  severities?: ReadonlyMap<string, Severity | 'ignore'>,
): readonly Finding[] {
  const document = new LiveDocument(file, kind, text)
  return runRules({ document, setup: undefined, shelf, today, ...(severities && { severities }) })
}

/** A shop with nothing in it, and not all of it read: so nothing is called missing. */
export const NO_SHELF: Shelf = {
  all: () => [],
  withId: () => [],
  document: () => undefined,
  shop: () => undefined,
  withSlot: () => [],
  measured: () => undefined,
  attached: () => undefined,
  complete: false,
  unlisted: [],
}
