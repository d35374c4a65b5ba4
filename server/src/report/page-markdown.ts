// A page as Markdown: what a person wrote is escaped, signs before numbers are left alone.
import { table } from '../base/markdown.ts'
import type { Block, Page } from './page.ts'

export function pageMarkdown({ title, passages }: Page): string {
  const parts = [`# ${escaped(title)}`]
  for (const { heading, nested, blocks } of passages)
    parts.push(`${nested ? '###' : '##'} ${escaped(heading)}`, ...blocks.map(blockMarkdown))
  return `${parts.join('\n\n')}\n`
}

function blockMarkdown(block: Block): string {
  if (block.kind === 'table')
    return table(
      block.header.map((cell) => escaped(cell) || ' '),
      block.rows.map((row) => row.map(escaped)),
    )
  if (block.kind === 'items') return block.lines.map((line) => `- ${escaped(line)}`).join('\n')
  return block.lines.map(escaped).join('\n')
}

/** Text inside a line: what would be read as markup is escaped, signs before numbers are left alone. */
const escaped = (text: string): string =>
  text
    .replace(/[\r\n]+/g, ' ')
    .replace(/&/g, '&amp;')
    .replace(/[\\`*_[\]<>|~]/g, '\\$&')
