// The little Markdown the features write: escaped user text, inline code, tables.

/** User text as plain text in Markdown. */
export const escapeMarkdown = (text: string): string => text.replace(/[\\`*_{}[\]<>|~]/g, '\\$&')

/** User text as inline code; never closes early. */
export function code(text: string): string {
  const flat = text.replace(/\s+/g, ' ').slice(0, 200)
  return flat.includes('`') ? `\`\` ${flat} \`\`` : `\`${flat}\``
}

/** A table with a header row. Cells are Markdown; pipes in them must be escaped by the caller. */
export function table(header: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`
  return [line(header), line(header.map(() => '---')), ...rows.map(line)].join('\n')
}
