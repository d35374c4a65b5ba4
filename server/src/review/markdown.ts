// A review as Markdown for a merge request, within the length that hosts take. What does not fit is counted where it stands, never cut in silence: the
// sections come by risk, so that what may hurt somebody is always there.
import type { Block } from '../report/page.ts'
import type { Page, Section } from './page.ts'

/** Characters. GitHub refuses above 65,536; some room is left for what a build writes around it. */
export const MOST_CHARACTERS = 60_000

/** What a sentence takes that tells of what was left out: one a block, at most. */
const RESERVE = 160

export function reviewMarkdown({ title, summary, sections }: Page, most = MOST_CHARACTERS): string {
  const remarks = sections.reduce((sum, { blocks }) => sum + blocks.length + 1, 0)
  const out = new Bounded(most - RESERVE * remarks)
  out.put([`## ${escaped(title)}`, '', ...summary.map((line) => `- ${escaped(line)}`)])
  for (const section of sections) putSection(section, out)
  return out.text
}

function putSection({ heading, blocks }: Section, out: Bounded): void {
  const lines = blocks.reduce((sum, block) => sum + (block.kind === 'table' ? block.rows.length : block.lines.length), 0)
  if (!out.put(['', `### ${escaped(heading)}`])) {
    out.remark(`${escaped(heading)}: ${lines} lines are not shown here.`)
    return
  }
  for (const block of blocks) {
    const [head, body] = linesOf(block)
    const fits = out.put(['', ...head])
    const shown = fits ? body.findIndex((line) => !out.put([line])) : 0
    if (shown >= 0) out.remark(`${body.length - shown} more lines of ${escaped(heading)} are not shown here.`)
  }
}

/** What stands once, and what may be left out line by line. */
function linesOf(block: Block): readonly [head: readonly string[], body: readonly string[]] {
  if (block.kind === 'table') {
    const row = (cells: readonly string[]): string => `| ${cells.map(escaped).join(' | ')} |`
    return [[row(block.header), `|${' --- |'.repeat(block.header.length)}`], block.rows.map(row)]
  }
  return [[], block.lines.map((line) => (block.kind === 'items' ? `- ${escaped(line)}` : escaped(line)))]
}

class Bounded {
  private readonly lines: string[] = []
  private left: number

  constructor(most: number) {
    this.left = most
  }

  /** Takes all of the lines or none. */
  put(lines: readonly string[]): boolean {
    const size = lines.reduce((sum, line) => sum + line.length + 1, 0)
    if (size > this.left) return false
    this.left -= size
    this.lines.push(...lines)
    return true
  }

  /** For these there is room kept. */
  remark(text: string): void {
    this.lines.push('', `**${text} 'rollbook review --format json' tells all.**`)
  }

  get text(): string {
    return `${this.lines.join('\n')}\n`
  }
}

/** Text of documents says what it says: no markup, no link, no mention, no line of its own. */
const escaped = (text: string): string =>
  text
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/[\\`*_[\]|~#]/g, '\\$&')
    .replace(/@/g, '&#64;')
