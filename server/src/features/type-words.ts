// What kind of value a key takes, in a word or two.
import type { SchemaNode } from '../schema/schema.ts'

export function typeWords(schema: SchemaNode): string {
  if (schema.kind === 'map') return 'section'
  if (schema.kind === 'table') return 'table'
  if (schema.kind === 'list') return schema.tuple ? 'pair' : 'list'
  if (schema.kind === 'any') return 'anything'
  const words = schema.accepts.map((t) =>
    t.type === 'quantity'
      ? t.dimension.replace(/-/g, ' ')
      : t.type === 'integer'
        ? 'whole number'
        : 'form' in t && t.form === 'level'
          ? 'name'
          : t.type,
  )
  return [...new Set(words)].join(' or ')
}
