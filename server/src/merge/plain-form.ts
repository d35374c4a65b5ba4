// A document as lines to compare: one for each setting with the keys that lead to it, one for each measurement and each state, whatever the layout. What
// people wrote beside it stays.
import type { RollDocument } from '../model/document.ts'
import { type Node, resolveAlias } from '../syntax/tree.ts'

/** Undefined for a text that cannot be read whole: it is compared as it is. */
export function plainForm({ tree, unsettled }: RollDocument): string | undefined {
  if (unsettled || tree.problems.length > 0 || tree.root?.kind !== 'map') return undefined
  const lines: string[] = []
  const walk = (node: Node, path: string): void => {
    const value = resolveAlias(node)
    if (value?.kind === 'map' && !isRecord(path))
      for (const { key, value: inner } of value.pairs) walk(inner, path === '' ? (key?.text ?? '') : `${path}.${key?.text ?? ''}`)
    else if (value?.kind === 'seq') for (const item of value.items) lines.push(`${path}: ${inLine(item)}`)
    else lines.push(`${path}: ${inLine(node)}`)
  }
  walk(tree.root, '')
  const comments = tree.text.split(/\r?\n/).flatMap((line) => /(?:^|\s)(#.*)$/.exec(line)?.[1] ?? [])
  return [...lines, ...comments].map((line) => `${line}\n`).join('')
}

/** A state is one thing. */
const isRecord = (path: string): boolean => /^conditions\../.test(path)

function inLine(node: Node): string {
  const value = resolveAlias(node)
  if (value?.kind === 'map') return value.pairs.map(({ key, value: inner }) => `${key?.text ?? ''} ${nested(inner)}`).join(', ')
  if (value?.kind === 'seq') return value.items.map(nested).join(', ')
  return (value?.text ?? '').trim().replace(/\s+/g, ' ')
}

const nested = (node: Node): string => (resolveAlias(node)?.kind === 'scalar' ? inLine(node) : `(${inLine(node)})`)
