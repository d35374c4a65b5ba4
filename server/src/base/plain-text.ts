// Markdown as plain text, for clients that show no Markdown: the little of it that the features write, without its marks.

import { columns } from '../base/markdown.ts'

/** The text a reader would see: marks, escapes and table rules are gone; line breaks stay. */
export function plainText(markdown: string): string {
  const out: string[] = []
  let fenced = false
  let rows: string[][] = []
  let right: readonly boolean[] = []
  const endTable = (): void => {
    out.push(...columns(rows, right).map((row) => row.join('   ').trimEnd()))
    rows = []
  }
  for (const line of markdown.split('\n')) {
    if (fenced || !/^\|.*\|\s*$/.test(line)) {
      if (rows.length > 0) endTable()
      if (/^\s*```/.test(line)) fenced = !fenced
      else out.push(fenced ? line : inline(line.replace(/^#{1,6}\s+|^>\s?/, '')))
    } else if (/^\|(?:\s*:?-+:?\s*\|)+\s*$/.test(line)) right = cellsOf(line).map((rule) => rule.endsWith(':'))
    else rows.push(cellsOf(line).map(inline))
  }
  if (rows.length > 0) endTable()
  return out
    .join('\n')
    .replace(/\n{3,}/g, '\n\n')
    .trim()
}

/** The cells of a row, without what frames them. */
const cellsOf = (line: string): string[] => line.replace(/^\|\s*|\s*\|\s*$/g, '').split(/\s*(?<!\\)\|\s*/)

const MARKS =
  /``\s(.*?)\s``|`([^`]*)`|\\([\\`*_{}[\]()#+!|<>~-])|\[((?:\\.|[^\]\\])*)\]\(([^)]*)\)|\*\*|(?<![\w*\\])[*_](?=[^\s*])|(?<=[^\s*\\])[*_](?![\w*])/g

function inline(text: string): string {
  return text.replace(MARKS, (_, longCode?: string, code?: string, escaped?: string, label?: string, target?: string) => {
    if (label !== undefined) return /^https?:/.test(target ?? '') ? `${inline(label)} (${target})` : inline(label)
    return longCode ?? code ?? escaped ?? ''
  })
}
