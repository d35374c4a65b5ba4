// A review as one HTML page: nothing is fetched, no script runs, and all text of documents is escaped. Readable in light, dark and on paper.
import { escapedHtml } from '../base/html.ts'
import type { At, Page, PlacedBlock } from './page.ts'

const STYLE = `:root{color-scheme:light dark}body{font:15px/1.5 system-ui,sans-serif;max-width:72rem;margin:2rem auto;padding:0 1rem}
h1{font-size:1.4rem}h2{font-size:1.15rem;margin:2rem 0 .5rem;border-bottom:1px solid}table{border-collapse:collapse;margin:1rem 0;display:block;overflow-x:auto}
th,td{text-align:left;vertical-align:top;padding:.25rem .75rem .25rem 0;border-bottom:1px solid #8886}th{font-weight:600}td{overflow-wrap:anywhere;min-width:4rem}
@media print{table{display:table}body{max-width:none}}`

export function reviewHtml(page: Page): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${escapedHtml(page.title)}</title>
<style>${STYLE}</style>
</head>
<body>
${reviewBody(page)}
</body>
</html>
`
}

/** The addresses that a line's place has on the page that holds it: of the document at its line, and of its two versions side by side. */
export type Leads = (at: At) => { readonly to?: string; readonly compare?: string }

/** What stands on the page. Without `leads` nothing is a link. */
export function reviewBody({ title, summary, sections }: Page, leads: Leads = () => ({})): string {
  const body = sections.map(
    ({ heading, blocks }) =>
      `<section>\n<h2>${escapedHtml(heading)}</h2>\n${blocks.map((block) => blockHtml(block, leads)).join('\n')}\n</section>`,
  )
  return `<h1>${escapedHtml(title)}</h1>
${summary.map((line) => `<p>${escapedHtml(line)}</p>`).join('\n')}
${body.join('\n')}`
}

function blockHtml(block: PlacedBlock, leads: Leads): string {
  const linked = (text: string, i: number): string => linkedHtml(text, block.at?.[i], leads)
  if (block.kind === 'table') {
    const header = block.header.map((cell) => `<th scope="col">${escapedHtml(cell)}</th>`).join('')
    const rows = block.rows.map(
      (cells, i) => `<tr>${cells.map((cell, n) => `<td>${n === 0 ? linked(cell, i) : escapedHtml(cell)}</td>`).join('')}</tr>`,
    )
    return `<table>\n<thead><tr>${header}</tr></thead>\n<tbody>\n${rows.join('\n')}\n</tbody>\n</table>`
  }
  if (block.kind === 'lines') return block.lines.map((line) => `<p>${escapedHtml(line)}</p>`).join('\n')
  return `<ul>\n${block.lines.map((line, i) => `<li>${linked(line, i)}</li>`).join('\n')}\n</ul>`
}

/** A link of its own is named after what it leads to, for whoever hears the links alone. */
function linkedHtml(text: string, at: At | undefined, leads: Leads): string {
  if (!at) return escapedHtml(text)
  const { to, compare } = leads(at)
  const link = (address: string, words: string): string => `<a href="${escapedHtml(address)}">${escapedHtml(words)}</a>`
  const told =
    to === undefined || !text.startsWith(at.words)
      ? escapedHtml(text)
      : link(to, at.words) + escapedHtml(text.slice(at.words.length))
  return compare === undefined ? told : `${told} ${link(compare, `Compare the texts of ${at.words}`)}`
}
