// In a list of evidence that stands out of order: put it in the order of its dates, oldest first, as new entries are added.
import { EVIDENCE } from '../model/evidence.ts'
import { fixOf } from '../rules/support/fixes.ts'
import { inOrder } from '../rules/support/in-order.ts'
import { nodeAt } from '../syntax/tree.ts'
import type { Assist } from './assist.ts'

/** The lists of which a rule tells when they are out of order, in its words. */
const WORDS: Readonly<Record<string, string>> = { 'feed.checks': 'checks', keyed: 'read-backs' }

export const sortEvidence: Assist = {
  id: 'sort-evidence',
  summary: 'Put a list of evidence in the order of its dates, each entry with its comments.',
  kind: 'refactor',
  at({ document: { kind: which, text, tree } }, { start, end }) {
    if (which !== 'media' || tree.problems.length > 0) return []
    return EVIDENCE.map(({ name, path, form }) => {
      const list = form === 'list' ? nodeAt(tree.root, path) : undefined
      if (list?.kind !== 'seq' || list.start > end || list.end < start) return undefined
      const edit = inOrder(text, list)
      return edit && fixOf(`Put the ${WORDS[name] ?? name} in the order of their dates`, edit)
    })
  },
}
