// A review as text for a terminal: tables with their columns under each other, where they fit, and else each row under its first cell.

import type { Block } from '../report/page.ts'
import { wrapped } from '../report/wrap.ts'
import type { Page } from './page.ts'

const WIDTH = 120

/** `bold` sets a heading off, where the terminal can. Control characters are the caller's to take out. */
export function reviewText({ title, summary, sections }: Page, bold: (text: string) => string): string {
  const out = [bold(title), ...summary.flatMap((line) => wrapped(line, WIDTH))]
  for (const { heading, blocks } of sections) {
    out.push('', bold(heading))
    for (const block of blocks) out.push(...linesOf(block))
  }
  return `${out.map((line) => line.trimEnd()).join('\n')}\n`
}

function linesOf(block: Block): readonly string[] {
  if (block.kind === 'table') return tableLines(block.header, block.rows)
  const [first, rest] = block.kind === 'items' ? ['  - ', '    '] : ['  ', '  ']
  return block.lines.flatMap((line) => wrapped(line, WIDTH, first, rest))
}

const length = (text: string): number => [...text].length

function tableLines(header: readonly string[], rows: readonly (readonly string[])[]): readonly string[] {
  const all = [header, ...rows]
  const widths = header.map((_, column) => Math.max(...all.map((row) => length(row[column] ?? ''))))
  const last = widths.length - 1
  const before = widths.slice(0, last).reduce((sum, width) => sum + width + 2, 2)
  // The last column is broken between words; a table that is too wide for that is written row by row.
  if (before + Math.min(widths[last]!, 24) > WIDTH) return rows.flatMap((row) => rowLines(header, row))
  return all.flatMap((row) => {
    const cells = row.slice(0, last).map((cell, column) => cell + ' '.repeat(widths[column]! - length(cell) + 2))
    return wrapped(row[last] ?? '', WIDTH, `  ${cells.join('')}`, ' '.repeat(before))
  })
}

/** "In banner-510: suction" over "Before 3 · After 4". */
function rowLines(header: readonly string[], row: readonly string[]): readonly string[] {
  const [first, second] = row
  const rest = row.slice(2).flatMap((cell, i) => (cell === '' ? [] : [`${header[i + 2]!.toLowerCase()}: ${cell}`]))
  return [...wrapped(`${first}: ${second}`, WIDTH, '  ', '    '), ...wrapped(rest.join('; '), WIDTH, '      ')]
}
