// The feed reckoning as Markdown, for the editor's command: the same page that `rollbook feed` prints.

import { table } from '../../base/markdown.ts'
import type { Setup } from '../../model/setup.ts'
import type { Block } from '../../report/page.ts'
import { reckoningPage } from './reckoning-text.ts'

/** The whole reckoning of a profile's feed. Never empty: says what is missing where there is nothing to reckon with. */
export function feedReckoningMarkdown(setup: Setup): string {
  const { title, passages } = reckoningPage(setup)
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
