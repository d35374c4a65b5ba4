// A syntax tree and the model read from it as text, with where each node stands: for comparing those made in different ways.
import { applyEdits } from '../../server/src/base/text-edit.ts'
import type { RollDocument } from '../../server/src/model/document.ts'
import type { SyntaxTree } from '../../server/src/syntax/parse.ts'
import type { SyntaxProblem } from '../../server/src/syntax/problem.ts'
import type { Node } from '../../server/src/syntax/tree.ts'

/** One node a line, indented: kind, [start-end], style and text. */
export function showNode(node: Node | undefined): string {
  const lines: string[] = []
  const add = (n: Node | undefined, depth: number, before: string): void => {
    const put = (text: string) => lines.push(`${'  '.repeat(depth)}${before}${text}`)
    if (!n) put('nothing')
    else if (n.kind === 'scalar') put(`${n.style} [${n.start}-${n.end}] ${JSON.stringify(n.text)}`)
    else if (n.kind === 'alias') put(`alias [${n.start}-${n.end}] ${n.name} -> ${n.target?.start}`)
    else if (n.kind === 'seq') {
      put(`${n.flow ? 'flow ' : ''}list [${n.start}-${n.end}]`)
      for (const item of n.items) add(item, depth + 1, '- ')
    } else {
      put(`${n.flow ? 'flow ' : ''}mapping [${n.start}-${n.end}]`)
      for (const pair of n.pairs) {
        const { key } = pair
        add(
          pair.value,
          depth + 1,
          `[${pair.start}-${pair.end}] ${key ? `${key.style} [${key.start}-${key.end}] ${JSON.stringify(key.text)}` : 'no key'}: `,
        )
      }
    }
  }
  add(node, 0, '')
  return lines.join('\n')
}

/** Everything a tree says: nodes, problems in the order of the text, conflicts. */
export function showTree(tree: SyntaxTree): string {
  return `${showNode(tree.root)}\n${showProblems(tree.problems).join('\n')}\n${JSON.stringify(tree.conflicts)}`
}

/** Everything a document is read as: its values, where each stands, what could not be read, and what its structure lacks. */
export function showModel(document: RollDocument): string {
  const place = (key: string, value: unknown): unknown => {
    if (value instanceof Map) return [...value]
    if (key === 'schema') return undefined
    if (typeof value !== 'object' || value === null || !('anchor' in value)) return value
    const { kind, start, end } = value as unknown as Node
    return `${kind} [${start}-${end}]`
  }
  return JSON.stringify([document.read(), document.structure()], place, 1)
}

export const showProblems = (problems: readonly SyntaxProblem[]): readonly string[] =>
  problems.map((p) => `${String(p.start).padStart(8)}-${p.end} ${p.code} ${p.detail}`).sort()

/** Applies one replacement. */
export const replaced = (text: string, start: number, end: number, newText: string): string =>
  applyEdits(text, [{ start, end, newText }])
