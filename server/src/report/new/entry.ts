// An answer as it stands in a document: the keys that lead to it, and its YAML.
import { plainOrQuoted } from '../../model/edit.ts'
import { keysOf, type SchemaNode } from '../../schema/schema.ts'
import { isId } from '../../schema/structure.ts'
import type { Answers, NewKind, Question } from './question.ts'
import { DOCUMENT_OF, QUESTIONS, schemaOfQuestion } from './questions.ts'

export interface Entry {
  /** Keys of maps and tables; a list of mappings is led into by 0. */
  readonly path: readonly (string | number)[]
  readonly yaml: string
}

/** Where the answers of a kind stand, in the order of its schema. Sections that only lead to others are not among them. */
export function entriesOf(kind: NewKind, answers: Answers): readonly Entry[] {
  const order = keysOf(DOCUMENT_OF[kind])
  return QUESTIONS[kind]
    .filter(({ key }) => answers.has(key))
    .sort((a, b) => order.indexOf(a.path) - order.indexOf(b.path))
    .flatMap((question) => entriesFor(kind, question, answers))
}

/** What one answer writes. */
export function entriesFor(kind: NewKind, question: Question, answers: Answers): readonly Entry[] {
  const items = answers.get(question.key) ?? []
  const schema = schemaOfQuestion(kind, question)
  const path = pathOf(kind, question, answers)
  if (items.length === 0) return []
  if (schema.kind === 'map') return items.map((name) => ({ path: [...path, name], yaml: '{}' }))
  if (schema.kind === 'table' && schema.values.kind !== 'leaf') return [{ path: [...path, items[0]!], yaml: '{}' }]
  if (schema.kind === 'table')
    return items.map((item) => {
      const [, name = item, value = ''] = /^([^:=]*?)\s*[:=]\s*(.*)$/.exec(item) ?? []
      return { path: [...path, name], yaml: scalarText(schema.values, value) }
    })
  if (schema.kind !== 'list') return [{ path, yaml: scalarText(schema, items[0]!) }]
  const single = schema.single && items.length === 1 ? schema.single : undefined
  return [
    {
      path,
      yaml: single ? scalarText(single, items[0]!) : `[${items.map((item) => scalarText(schema.items, item)).join(', ')}]`,
    },
  ]
}

/** The keys that lead to an answer: the name in a table is what the table's own question was answered with, and of a list the first item is meant. */
export function pathOf(kind: NewKind, { path }: Question, answers: Answers): readonly (string | number)[] {
  const steps = path.split('.')
  return steps.map((step, n) => {
    if (step !== '*') return step
    const table = QUESTIONS[kind].find((one) => one.path === steps.slice(0, n).join('.'))
    return table ? (answers.get(table.key)?.[0] ?? 'unnamed') : 0
  })
}

/** One value as YAML on one line. Numbers, dates and words of the format are plain; what could be read as something else is quoted. */
export function scalarText(schema: SchemaNode, item: string): string {
  if (schema.kind !== 'leaf') return plainOrQuoted(item)
  const takes = (type: string): boolean => schema.accepts.some((one) => one.type === type)
  if (takes('boolean'))
    return /^(?:true|yes|y)$/i.test(item) ? 'true' : /^(?:false|no|n)$/i.test(item) ? 'false' : plainOrQuoted(item)
  const bare = isId(item) || /^\d{4}-\d\d-\d\d$/.test(item)
  return bare && !/^(?:true|false|null|yes|no|on|off|y|n)$/.test(item) ? item : plainOrQuoted(item)
}
