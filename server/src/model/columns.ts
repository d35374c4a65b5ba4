// How a shop's own tables name their columns: a small YAML file beside rollbook.yaml, one line a column, header to our name for it.
import { applyEdits, editsOf } from '../base/text-edit.ts'
import { SyntaxTree } from '../syntax/parse.ts'
import { resolveAlias } from '../syntax/tree.ts'
import { addKey, plainOrQuoted, replaceValue } from './edit.ts'

/** The name of the file. */
export const COLUMNS_FILE = '.rollbook-columns.yaml'

const HEAD = `# How our tables name what Rollbook takes: 'header of the column: key (unit)', or '-' for a column that is left out.
`

export interface Columns {
  readonly names: ReadonlyMap<string, string>
  /** Why the file cannot be read. */
  readonly problem?: string
}

export function columnsIn(text: string): Columns {
  const { root, problems } = SyntaxTree.parse(text)
  const names = new Map<string, string>()
  if (problems.length > 0) return { names, problem: 'its text is broken' }
  if (root === undefined) return { names }
  if (root.kind !== 'map') return { names, problem: 'it is no list of headers, each with a colon behind it' }
  for (const { key, value } of root.pairs) {
    const name = resolveAlias(value)
    if (!key || name?.kind !== 'scalar' || name.text === '') return { names, problem: `it says nothing of '${key?.text ?? ''}'` }
    names.set(key.text, name.text)
  }
  return { names }
}

/** The file's text with names added or changed; undefined where it cannot be edited. */
export function withColumns(before: string | undefined, added: ReadonlyMap<string, string>): string | undefined {
  let text = before ?? ''
  for (const [header, name] of added) {
    const { root } = SyntaxTree.parse(text)
    const line = `${quoted(header)}: ${plainOrQuoted(name)}`
    if (root === undefined) text = `${text === '' ? HEAD : text.replace(/\n?$/, '\n')}${line}\n`
    else if (root.kind !== 'map') return undefined
    else {
      const value = root.pair(header)?.value
      const edit = value
        ? replaceValue({ file: '', node: value }, name)
        : addKey(text, root, quoted(header), plainOrQuoted(name), root.pairs.at(-1)?.key?.text)
      if (!edit.ok) return undefined
      text = applyEdits(text, editsOf(text, edit.edits))
    }
  }
  const { names, problem } = columnsIn(text)
  return problem === undefined && [...added].every(([header, name]) => names.get(header) === name) ? text : undefined
}

/** A header as a key, on one line whatever it holds. */
const quoted = (header: string): string =>
  /^[\p{L}\p{N}][\p{L}\p{N} _/.-]*$/u.test(header) ? plainOrQuoted(header) : JSON.stringify(header)
