// The facts of a parsed document, from its model: cheap enough for every keystroke.
import type { RollDocument } from '../model/document.ts'
import type { Fact, FactKey, Facts } from '../model/facts.ts'
import type { F } from '../model/field.ts'

const KEYS: readonly FactKey[] = ['profile', 'stock', 'printer', 'shop', 'base', 'mode', 'slot', 'title']

export function factsOf(document: RollDocument): Facts {
  const content = document.content as Partial<Record<FactKey, F<unknown>>> | undefined
  const values: Partial<Record<FactKey, Fact>> = {}
  for (const key of KEYS) {
    const field = content?.[key]
    if (field && (typeof field.value === 'string' || typeof field.value === 'number')) {
      const { node } = field.place
      values[key] = { text: String(field.value), start: node.start, end: node.end }
    }
  }
  return { file: document.file, kind: document.kind, values }
}
