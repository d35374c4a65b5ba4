// Ready-made text: a new document of each kind, an item of a list, a feed check filled in from the one before.

import { escapeSnippet, newCheck } from '../assists/new-check.ts'
import { startOfLine } from '../base/lines.ts'
import type { MediaDocument } from '../model/generated/documents.ts'
import type { ListSchema, MapSchema, SchemaNode } from '../schema/schema.ts'
import type { Cursor } from '../syntax/cursor.ts'
import type { Completion, FeatureContext } from './context.ts'

/** The keys a new document must have, with stops to fill in. */
export function skeleton({ document }: FeatureContext, cursor: Cursor): Completion | undefined {
  const { schema } = document
  const due = [...schema.required, ...(schema.requiredUnless?.keys ?? [])]
  let stop = 0
  const lines = due.map((key) => {
    const property = schema.properties.get(key)
    const isId = property?.kind === 'leaf' && property.accepts.some((t) => t.type === 'text' && t.id === true)
    return isId ? `${key}: ${escapeSnippet(document.baseName)}` : `${key}: \${${++stop}}`
  })
  return {
    label: `new ${document.kind === 'media' ? 'profile' : document.kind}`,
    kind: 'snippet',
    detail: `the keys a ${document.kind === 'media' ? 'profile' : document.kind} needs`,
    edit: { start: cursor.start, end: cursor.end, newText: `${lines.join('\n')}\n` },
    snippet: true,
    sort: '00',
  }
}

/** One item of a list of mappings, on one line. */
export function itemSnippet(context: FeatureContext, cursor: Cursor, schema: ListSchema): Completion | undefined {
  if (schema.items.kind !== 'map') return undefined
  const body =
    schema.path === 'feed.checks'
      ? newCheck(context.document.content as MediaDocument | undefined, context.setup?.profile, context.today)
      : newItem(schema.items, context.today)
  const text = context.document.text
  const afterDash = cursor.flow || /-[ ]+$/.test(text.slice(startOfLine(text, cursor.start), cursor.start))
  return {
    label: schema.path === 'feed.checks' ? 'a feed check' : `a new ${schema.path.split('.').at(-1)} entry`,
    kind: 'snippet',
    edit: { start: cursor.start, end: cursor.end, newText: afterDash ? body : `- ${body}` },
    snippet: true,
    sort: '00',
    filter: '{',
  }
}

function newItem(schema: MapSchema, today: string): string {
  const due = schema.required.length ? schema.required : [...schema.properties.keys()].slice(0, 3)
  let stop = 0
  return `{${due.map((key) => `${key}: ${isDate(schema.properties.get(key)) ? today : `\${${++stop}}`}`).join(', ')}}`
}

const isDate = (schema: SchemaNode | undefined): boolean =>
  schema?.kind === 'leaf' && schema.accepts.some((t) => t.type === 'date')
