// Puts a list of evidence into the order of its dates: whole lines with their comments, as few as can be.
import { type Edit, sortItems } from '../../model/edit.ts'
import { nodeAt, resolveAlias, type SeqNode } from '../../syntax/tree.ts'

const textAt = (list: SeqNode, i: number, key: string): string | undefined => {
  const node = resolveAlias(nodeAt(list.items[i], [key]))
  return node?.kind === 'scalar' && node.text !== '' ? node.text : undefined
}

/** Undefined where one has no date, or nothing is to be moved. */
export function inOrder(text: string, list: SeqNode): Edit | undefined {
  const dates = list.items.map((_, i) => textAt(list, i, 'date') ?? '')
  if (dates.includes('') || dates.every((date, i) => i === 0 || date >= dates[i - 1]!)) return undefined
  const torn = dates.some((date, i) => textAt(list, i, 'same-print') === 'true' && date !== dates[i - 1])
  if (torn)
    return {
      ok: false,
      refused: "A line says 'same-print', which means the line above it, and that one is of another day: put this right first.",
    }
  return sortItems(text, list, dates)
}
