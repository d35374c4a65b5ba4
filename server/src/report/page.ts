// A report as plain values: passages of lines, lists and tables. It is written as text here and as Markdown by a feature, in the same words.

export type Block =
  | { readonly kind: 'lines' | 'items'; readonly lines: readonly string[] }
  | { readonly kind: 'table'; readonly header: readonly string[]; readonly rows: readonly (readonly string[])[] }

export interface Passage {
  readonly heading: string
  /** A passage of the one before it. */
  readonly nested?: boolean
  readonly blocks: readonly Block[]
}

export interface Page {
  readonly title: string
  readonly passages: readonly Passage[]
}

export const lines = (...texts: readonly (string | undefined)[]): Block => ({
  kind: 'lines',
  lines: texts.filter((t) => t !== undefined),
})

export const items = (...texts: readonly (string | undefined)[]): Block => ({
  kind: 'items',
  lines: texts.filter((t) => t !== undefined),
})

/** A page as lines for a terminal or a printer: headings with a rule under the title, tables with their columns under each other. */
export function pageText({ title, passages }: Page): string {
  const out = [title, '='.repeat([...title].length)]
  for (const { heading, nested, blocks } of passages) {
    const indent = nested ? '  ' : ''
    out.push('', indent + heading)
    for (const block of blocks) out.push(...blockLines(block).map((line) => `${indent}  ${line}`.trimEnd()))
  }
  return `${out.join('\n')}\n`
}

function blockLines(block: Block): readonly string[] {
  if (block.kind !== 'table') return block.kind === 'lines' ? block.lines : block.lines.map((line) => `- ${line}`)
  const rows = block.header.some((cell) => cell !== '') ? [block.header, ...block.rows] : block.rows
  const widths = block.header.map((_, column) => Math.max(...rows.map((row) => [...(row[column] ?? '')].length)))
  return rows.map((row) => row.map((cell, column) => cell + ' '.repeat(widths[column]! - [...cell].length)).join('  '))
}
