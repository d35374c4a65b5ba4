// A file of answers: YAML or JSON, the key of each question with what is answered. So that a script can answer as a person does.
import { nearest } from '../../base/nearest.ts'
import { SyntaxTree } from '../../syntax/parse.ts'
import { type Node, resolveAlias } from '../../syntax/tree.ts'

export interface Given {
  /** As typed, or item by item; a text for what is left open is empty. */
  readonly answers: ReadonlyMap<string, string | readonly string[]>
  /** Why the file cannot be taken, a sentence each. */
  readonly problems: readonly string[]
}

/** `keys` are those of the questions. */
export function answersIn(text: string, keys: readonly string[]): Given {
  const { root, problems } = SyntaxTree.parse(text)
  const answers = new Map<string, string | readonly string[]>()
  if (problems.length > 0) return { answers, problems: ['The answers cannot be read: their text is broken.'] }
  if (root === undefined) return { answers, problems: [] }
  if (root.kind !== 'map')
    return { answers, problems: ['The answers are no list of keys, each with a colon and its answer behind it.'] }
  const wrong: string[] = []
  for (const { key, value } of root.pairs) {
    const name = key?.text ?? ''
    const meant = nearest(name, keys)
    const answer = answerOf(resolveAlias(value))
    if (!keys.includes(name)) wrong.push(`Nothing is asked by '${name}'.${meant === undefined ? '' : ` Do you mean '${meant}'?`}`)
    else if (answer === undefined) wrong.push(`The answer to '${name}' is neither a value, a list of values nor a table of them.`)
    else answers.set(name, answer)
  }
  return { answers, problems: wrong }
}

function answerOf(node: Exclude<Node, { kind: 'alias' }> | undefined): string | readonly string[] | undefined {
  if (node === undefined) return ''
  if (node.kind === 'scalar') return node.text
  const items =
    node.kind === 'seq'
      ? node.items.map(scalarOf)
      : node.pairs.map(({ key, value }) => `${key?.text ?? ''}: ${scalarOf(value) ?? ''}`)
  return items.every((item) => item !== undefined) ? items : undefined
}

function scalarOf(node: Node): string | undefined {
  const value = resolveAlias(node)
  return value?.kind === 'scalar' ? value.text : undefined
}
