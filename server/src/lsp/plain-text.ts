// Markdown as plain text, for clients that show no Markdown: the little of it that the features write, without its marks.

/** The text a reader would see: marks, escapes and table rules are gone; line breaks stay. */
export function plainText(markdown: string): string {
  const out: string[] = []
  let fenced = false
  for (const line of markdown.split('\n')) {
    if (/^\s*```/.test(line)) fenced = !fenced
    else if (fenced) out.push(line)
    else if (!/^\|(?:\s*:?-+:?\s*\|)+\s*$/.test(line)) out.push(inline(unframed(line)))
  }
  return out
    .join('\n')
    .replace(/\n{3,}/g, '\n\n')
    .trim()
}

/** A line without the marks at its beginning, the cells of a table side by side. */
function unframed(line: string): string {
  if (/^\|.*\|\s*$/.test(line)) return line.replace(/^\|\s*|\s*\|\s*$/g, '').replace(/\s*(?<!\\)\|\s*/g, '   ')
  return line.replace(/^#{1,6}\s+|^>\s?/, '')
}

const MARKS =
  /``\s(.*?)\s``|`([^`]*)`|\\([\\`*_{}[\]()#+!|<>~-])|\[((?:\\.|[^\]\\])*)\]\(([^)]*)\)|\*\*|(?<![\w*\\])[*_](?=[^\s*])|(?<=[^\s*\\])[*_](?![\w*])/g

function inline(text: string): string {
  return text.replace(MARKS, (_, longCode?: string, code?: string, escaped?: string, label?: string, target?: string) => {
    if (label !== undefined) return /^https?:/.test(target ?? '') ? `${inline(label)} (${target})` : inline(label)
    return longCode ?? code ?? escaped ?? ''
  })
}
