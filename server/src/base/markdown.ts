// The little Markdown the features write: escaped user text, inline code, tables.

/** User text as plain text in Markdown. */
export const escapeMarkdown = (text: string): string => text.replace(/[\\`*_{}[\]<>|~]/g, '\\$&')

/** User text as inline code; never closes early. */
export function code(text: string): string {
  const flat = text.replace(/\s+/g, ' ').slice(0, 200)
  return flat.includes('`') ? `\`\` ${flat} \`\`` : `\`${flat}\``
}

/**
 * A table with a header row, padded so that it reads as plain text too; columns of numbers stand to the right. Cells are Markdown; pipes in them must
 * be escaped by the caller.
 */
export function table(header: readonly string[], rows: readonly (readonly string[])[]): string {
  const right = header.map((_, i) => isNumeric(rows.map((row) => row[i] ?? '')))
  const padded = columns([header, ...rows], right)
  const rule = padded[0]!.map((cell, i) => (right[i] ? `${'-'.repeat(cell.length - 1)}:` : '-'.repeat(cell.length)))
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`
  return [line(padded[0]!), line(rule), ...padded.slice(1).map(line)].join('\n')
}

/** Cells padded to the widest of their column, at least three. */
export function columns(rows: readonly (readonly string[])[], right: readonly boolean[]): readonly (readonly string[])[] {
  const widths = right.map((_, i) => Math.max(3, ...rows.map((row) => (row[i] ?? '').length)))
  return rows.map((row) =>
    right.map((isRight, i) => (isRight ? (row[i] ?? '').padStart(widths[i]!) : (row[i] ?? '').padEnd(widths[i]!))),
  )
}

/** Whether each cell is one number with its unit, or says that there is none. */
const isNumeric = (cells: readonly string[]): boolean =>
  cells.some((cell) => NUMBER.test(cell)) && cells.every((cell) => cell === '' || cell === '—' || NUMBER.test(cell))

const NUMBER = /^(?:\*\*)?[+−-]?\d[\d.,]*(?: [^\s(]+){0,2}(?:\*\*)?$/
