// A review as one HTML page: nothing is fetched, no script runs, and all text of documents is escaped. Readable in light, dark and on paper.
import type { Block } from '../report/page.ts'
import type { Page } from './page.ts'

const STYLE = `:root{color-scheme:light dark}body{font:15px/1.5 system-ui,sans-serif;max-width:72rem;margin:2rem auto;padding:0 1rem}
h1{font-size:1.4rem}h2{font-size:1.15rem;margin:2rem 0 .5rem;border-bottom:1px solid}table{border-collapse:collapse;margin:1rem 0;display:block;overflow-x:auto}
th,td{text-align:left;vertical-align:top;padding:.25rem .75rem .25rem 0;border-bottom:1px solid #8886}th{font-weight:600}td{overflow-wrap:anywhere;min-width:4rem}
@media print{table{display:table}body{max-width:none}}`

export function reviewHtml({ title, summary, sections }: Page): string {
  const body = sections.map(
    ({ heading, blocks }) => `<section>\n<h2>${escaped(heading)}</h2>\n${blocks.map(blockHtml).join('\n')}\n</section>`,
  )
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${escaped(title)}</title>
<style>${STYLE}</style>
</head>
<body>
<h1>${escaped(title)}</h1>
${summary.map((line) => `<p>${escaped(line)}</p>`).join('\n')}
${body.join('\n')}
</body>
</html>
`
}

function blockHtml(block: Block): string {
  if (block.kind === 'table') {
    const row = (tag: 'th' | 'td', cells: readonly string[]): string =>
      `<tr>${cells.map((cell) => `<${tag}${tag === 'th' ? ' scope="col"' : ''}>${escaped(cell)}</${tag}>`).join('')}</tr>`
    return `<table>\n<thead>${row('th', block.header)}</thead>\n<tbody>\n${block.rows.map((cells) => row('td', cells)).join('\n')}\n</tbody>\n</table>`
  }
  if (block.kind === 'lines') return block.lines.map((line) => `<p>${escaped(line)}</p>`).join('\n')
  return `<ul>\n${block.lines.map((line) => `<li>${escaped(line)}</li>`).join('\n')}\n</ul>`
}

const ENTITIES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' }

const escaped = (text: string): string => text.replace(/[&<>"']/g, (sign) => ENTITIES[sign]!)
