// On the name of a stock or a profile: retire it as of today. It stays on record with all that was measured, and nothing is asked of it any more.
import { touches } from '../base/span.ts'
import { addKey } from '../model/edit.ts'
import { keyBefore } from '../model/evidence-add.ts'
import { ID_KEY } from '../model/facts.ts'
import { schemaOf } from '../schema/schema.ts'
import type { Assist } from './assist.ts'

const WORDS: Readonly<Record<string, string>> = { stock: 'stock', media: 'profile' }

export const retire: Assist = {
  id: 'retire',
  summary: 'Retire a stock or a profile: it stays on record, and nothing is asked of it.',
  kind: 'refactor',
  at({ document: { kind, text, tree }, today }, { start }) {
    const { root, problems } = tree
    if (!WORDS[kind] || root?.kind !== 'map' || root.pair('retired') || problems.length > 0) return []
    const name = root.pair(ID_KEY[kind])
    if (!name || !touches(name, start)) return []
    const edit = addKey(text, root, 'retired', `\${1:${today}}`, keyBefore(root, schemaOf(kind), 'retired'))
    const title = `Retire this ${WORDS[kind]}, as of today`
    return [edit.ok ? { title, edits: edit.edits, snippet: true } : { title, edits: [], refused: edit.refused }]
  },
}
