// A page as one HTML file that needs no other, for a browser, a mail or a printer: no script, nothing fetched, everything that a person wrote escaped.
import { escapedHtml } from '../base/html.ts'
import type { Block, Page, Passage } from './page.ts'

const STYLE = `body{font:11pt/1.45 system-ui,sans-serif;max-width:52em;margin:2em auto;padding:0 1em;color:#111;background:#fff}
h1{font-size:1.35em;border-bottom:2px solid}h2{font-size:1.1em;margin:1.4em 0 .4em}h3{font-size:1em}
table{border-collapse:collapse;margin:.5em 0}td,th{padding:.15em .9em .15em 0;text-align:left;vertical-align:top;border-bottom:1px solid #bbb}
h2:first-of-type+ul li:first-child{font-weight:bold}@media print{body{margin:0;font-size:10pt}h2,h3,tr{break-inside:avoid;break-after:avoid}}`

export function pageHtml({ title, passages }: Page): string {
  const parts = passages.map((passage) => passageHtml(passage, passage.nested ? 'h3' : 'h2'))
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width">
<title>${escaped(title)}</title>
<style>${STYLE}</style>
</head>
<body>
<h1>${escaped(title)}</h1>
${parts.join('\n')}
</body>
</html>
`
}

/** A passage under a heading of a level. */
export const passageHtml = ({ heading, blocks }: Passage, level: string): string =>
  `<${level}>${escaped(heading)}</${level}>\n${blocks.map(blockHtml).join('\n')}`

function blockHtml(block: Block): string {
  const all = (tag: string, texts: readonly string[]): string => texts.map((text) => `<${tag}>${escaped(text)}</${tag}>`).join('')
  if (block.kind !== 'table') return block.kind === 'items' ? `<ul>${all('li', block.lines)}</ul>` : all('p', block.lines)
  const head = block.header.some((cell) => cell !== '') ? `<thead><tr>${all('th', block.header)}</tr></thead>` : ''
  return `<table>${head}<tbody>${block.rows.map((row) => `<tr>${all('td', row)}</tr>`).join('\n')}</tbody></table>`
}

/** Also what no document may hold: control signs become the sign for a letter that cannot be shown. */
const escaped = (text: string): string => escapedHtml(text.replace(/(?![\t\r\n])\p{Cc}/gu, '\ufffd'))
