// On a quantity: write it in another unit of its dimension, exact where it can be, else no coarser than the last digit written. What is evidence, or what a
// state says, is a record: it is written in another unit only where nothing of it is rounded.

import { replaceValue } from '../model/edit.ts'
import { equalQuantities } from '../quantities/compare.ts'
import { displayUnit } from '../quantities/display-unit.ts'
import { rewriteIn } from '../quantities/format.ts'
import { parseQuantity } from '../quantities/parse.ts'
import { canonicalUnit } from '../quantities/units.ts'
import { schemaAt } from '../schema/schema.ts'
import { locate } from '../syntax/locate.ts'
import type { Assist } from './assist.ts'

export const convertUnit: Assist = {
  id: 'convert-unit',
  summary: 'Write a quantity in another unit.',
  kind: 'refactor',
  at({ document }, span) {
    const at = locate(document.tree.root, span.start)
    if (at?.on !== 'value' || at.node.kind !== 'scalar' || at.node.style === 'block') return []
    const schema = schemaAt(document.kind, at.path)
    const leaf = schema?.kind === 'list' ? schema.single : schema
    if (leaf?.kind !== 'leaf') return []
    const { node } = at
    for (const type of leaf.accepts) {
      if (type.type !== 'quantity' || type.dimension === 'resolution') continue
      const parsed = parseQuantity(node.text, type.dimension)
      if (!parsed.ok) continue
      const { si, unit: written } = parsed.value
      const shown = (['metric', 'us'] as const).map((system) => displayUnit(si, type.dimension, system))
      const others = [...new Set([canonicalUnit(type.dimension), ...shown])].filter((unit) => unit.id !== written.id)
      const isRecord = document.kind === 'media' && !leaf.inherit
      return others.map((unit) => {
        const text = rewriteIn(parsed.value, unit)
        const again = parseQuantity(text, type.dimension)
        const rounded = again.ok && equalQuantities(again.value, parsed.value) ? '' : ', rounded'
        if (isRecord && rounded !== '') return undefined
        const edit = replaceValue({ file: document.file, node }, text)
        return edit.ok ? { title: `Write it as ${text}${rounded}`, edits: edit.edits } : undefined
      })
    }
    return []
  },
}
