// The table of a shop for people: as a text with what is due first below it, and as one HTML page to be opened or printed.

import { chanceText } from '../../areas/feed/verdict-words.ts'
import { escapedHtml } from '../../base/html.ts'
import { dueFirst, type ShopCell, type ShopTable } from './shop-table.ts'

/** A word with its chance: "proven 97 %", "off <1 %". Of one out of use, that it is. */
export function cellText({ word, chance, retired }: ShopCell): string {
  if (retired !== undefined) return 'retired'
  return chance === undefined ? word : `${word} ${chanceText(chance)}`
}

/** A cell on one line; a pair that has no profile is neutral. */
const pairText = (cells: readonly ShopCell[]): string => (cells.length === 0 ? '-' : cells.map(cellText).join(', '))

const WHAT =
  'Each word tells of the length of prints: unknown, doubtful, off, carried, proven; the share that comes out within tolerance beside it.'

export function shopText(table: ShopTable, shop: string | undefined): string {
  const { columns, rows, apart, today, goal } = table
  const out = [
    `${shop ?? 'The shop'} as on ${today}: ${many(rows.length, 'printer')}, ${many(columns.length, 'stock')}; ${chanceText(goal)} are asked for`,
    WHAT,
    '',
  ]
  if (columns.length > 0) {
    // Stocks are many and printers few: on paper and in a terminal a stock is a line.
    const lines = [
      ['', ...rows.map(({ printer }) => printer)],
      ...columns.map((column, i) => [
        `${column.stock}${column.retired === undefined ? '' : ' (retired)'}`,
        ...rows.map(({ cells }) => pairText(cells[i]!)),
      ]),
    ]
    const widths = lines[0]!.map((_, i) => Math.max(...lines.map((line) => [...line[i]!].length)))
    for (const line of lines)
      out.push(
        line
          .map((cell, i) => cell + ' '.repeat(widths[i]! - [...cell].length))
          .join('  ')
          .trimEnd(),
      )
  }
  const lots = rows.filter((row) => row.lots.length > 0)
  if (lots.length > 0) out.push('', 'Lots on the machines:')
  for (const { printer, lots: on } of lots) out.push(`  ${printer}: ${on.map(({ stock, lot }) => `${stock} ${lot}`).join(', ')}`)
  const replaced = columns.filter(({ retired }) => retired !== undefined)
  if (replaced.length > 0) out.push('', 'Out of use:')
  for (const { stock, retired, replacedBy } of replaced)
    out.push(`  ${stock}: retired on ${retired}${replacedBy === undefined ? '' : `, replaced by ${replacedBy}`}`)
  if (apart.length > 0)
    out.push('', `In no cell, since they name no stock or no printer: ${apart.map(({ profile }) => profile).join(', ')}`)
  const due = dueFirst(table)
  out.push('', due.length === 0 ? 'Nothing is due.' : 'Due first:')
  for (const cell of due) {
    out.push(`  ${cell.due === today ? 'now       ' : cell.due}  ${cell.profile}  ${cellText(cell)}`)
    if (cell.due === today) out.push(`    ${cell.sentence}`)
  }
  return `${out.join('\n')}\n`
}

const many = (n: number, word: string): string => `${n} ${word}${n === 1 ? '' : 's'}`

/** One page without scripts or anything from elsewhere. Words carry the meaning; shades only help the eye, and it prints in grey. `notRead` stands first. */
export function shopHtml(table: ShopTable, shop: string | undefined, notRead: readonly string[] = []): string {
  const { columns, rows, today, goal } = table
  const head = rows.map(({ printer, title, lots }) => {
    const on = lots.map(({ stock, lot }) => `${stock} ${lot}`).join(', ')
    return `<th scope="col"${title === undefined ? '' : ` title="${escaped(title)}"`}>${escaped(printer)}${on === '' ? '' : `<small>${escaped(on)}</small>`}</th>`
  })
  const body = columns.map(({ stock, title, retired, replacedBy }, i) => {
    const out =
      retired === undefined
        ? ''
        : `<small>retired on ${retired}${replacedBy === undefined ? '' : `, replaced by ${escaped(replacedBy)}`}</small>`
    const cells = rows.map(({ cells: all }) => `<td>${all[i]!.map(cellHtml).join('') || '<span class="none">–</span>'}</td>`)
    return `<tr><th scope="row"${title === undefined ? '' : ` title="${escaped(title)}"`}>${escaped(stock)}${out}</th>${cells.join('')}</tr>`
  })
  const due = dueFirst(table).map(
    (cell) =>
      `<tr><td>${cell.due === today ? 'now' : cell.due}</td><td>${escaped(cell.profile)}</td><td class="${classOf(cell)}">${escaped(cellText(cell))}</td><td>${escaped(cell.sentence)}</td></tr>`,
  )
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${escaped(shop ?? 'The shop')}, ${today}</title>
<style>
body { font: 14px/1.4 sans-serif; margin: 1.5em; color: #111; background: #fff }
table { border-collapse: collapse; margin: 1em 0 }
th, td { border: 1px solid #999; padding: .3em .5em; text-align: left; vertical-align: top }
small { display: block; font-weight: normal }
.none { color: #666 }
.off { font-weight: bold; text-decoration: underline }
.doubtful, .unknown { font-style: italic }
.retired { text-decoration: line-through }
@media print { body { margin: 0 } tr { break-inside: avoid } }
</style>
</head>
<body>
<h1>${escaped(shop ?? 'The shop')}, ${today}</h1>
<p>${escaped(WHAT)} ${chanceText(goal)} are asked for.</p>
${notRead.map((text) => `<p><strong>${escaped(text)}</strong></p>`).join('')}<table>
<thead><tr><th></th>${head.join('')}</tr></thead>
<tbody>
${body.join('\n')}
</tbody>
</table>
<h2>Due first</h2>
${due.length === 0 ? '<p>Nothing is due.</p>' : `<table>\n<tbody>\n${due.join('\n')}\n</tbody>\n</table>`}
<p>Rollbook advises; it never drives a machine. The machine's and the material's own safety documents come first.</p>
</body>
</html>
`
}

const classOf = ({ retired, word }: ShopCell): string => (retired === undefined ? word : 'retired')

const cellHtml = (cell: ShopCell): string =>
  `<div class="${classOf(cell)}" title="${escaped(`${cell.profile}: ${cell.sentence}`)}">${escaped(cellText(cell))}</div>`

const escaped = (text: string): string => escapedHtml(text.replace(/\p{Cc}+/gu, ' '))
