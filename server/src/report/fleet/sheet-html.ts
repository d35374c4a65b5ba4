// The sheet on paper: one page a profile, black on white, told by shapes and words and by no colour, so that one bit prints it. No script runs in it and
// nothing is fetched. How much goes on a page is reckoned from the length of the texts; letters shrink and the chart goes before a caution would.

import { STYLES } from '../../picture/looks.ts'
import { type Content, element, type Markup, markupOf } from '../../picture/markup.ts'
import { figureOf } from '../../picture/page.ts'
import type { Sheet, SheetKey } from './sheet.ts'
import type { SheetForm } from './sheet-forms.ts'
import { asideOf } from './sheet-text.ts'

/** Paper by its name, in mm. */
export const PAPERS = { A4: { width: 210, height: 297 }, Letter: { width: 215.9, height: 279.4 } } as const

export type PaperSize = keyof typeof PAPERS

/** mm on each side that printers leave white. */
const MARGIN = 9

export interface PrintedSheets {
  readonly html: string
  /** Those that take more than a page, by their profiles. */
  readonly tooLong: readonly string[]
}

/** A page that is printed as it is, a sheet a page. */
export function sheetsHtml(sheets: readonly Sheet[], size: PaperSize): PrintedSheets {
  const laid = sheets.map((sheet) => layOut(sheet, size))
  const head = [
    { markup: '<meta charset="utf-8">' },
    { markup: '<meta name="viewport" content="width=device-width">' },
    { markup: `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">` },
    element('title', {}, sheets.map(({ mark }) => mark).join(', ')),
    element('style', {}, { markup: `${STYLES.paper}\n${styleOf(size)}` }),
  ]
  const pages = sheets.map((sheet, i) => pageOf(sheet, laid[i]!))
  return {
    html: `<!doctype html>\n${markupOf(element('html', { lang: 'en' }, ...head, element('body', {}, ...pages)))}\n`,
    tooLong: sheets.filter((_, i) => !laid[i]!.fits).map(({ profile }) => profile),
  }
}

/** How a sheet is set: points of its letters, the chart's share of the width (0: it has no room), the empty rows for length checks. */
interface Layout {
  readonly points: number
  readonly chart: number
  readonly rows: number
  readonly fits: boolean
}

/** Tried in turn; the first that fits is taken. */
export const LAYOUTS: readonly Omit<Layout, 'fits'>[] = [
  { points: 10, chart: 0.48, rows: 4 },
  { points: 9.5, chart: 0.46, rows: 3 },
  { points: 9, chart: 0.46, rows: 3 },
  { points: 8.5, chart: 0.44, rows: 3 },
  { points: 8.5, chart: 0.42, rows: 2 },
  { points: 8, chart: 0.42, rows: 2 },
  { points: 7.5, chart: 0.4, rows: 2 },
  { points: 7.5, chart: 0.38, rows: 1 },
  { points: 7.5, chart: 0, rows: 2 },
  { points: 7, chart: 0, rows: 1 },
  { points: 6.5, chart: 0, rows: 1 },
]

function layOut(sheet: Sheet, size: PaperSize): Layout {
  const height = PAPERS[size].height - 2 * MARGIN
  const found = LAYOUTS.find((layout) => heightOf(sheet, size, layout) <= height)
  return found ? { ...found, fits: true } : { ...LAYOUTS.at(-1)!, fits: false }
}

const POINT = 25.4 / 72
/** Of the page's width what is loaded takes; beside it stands what to watch. */
const LOAD = 0.36
const GUTTER = 5
/** mm of a row to write in. */
const FORM_ROW = 6
/** Shares of the width in the table of what is keyed in: where, value, what stands beside it. */
const COLUMNS = { where: 0.44, value: 0.2, beside: 0.32 } as const

/** About how many mm a sheet takes: letters 0.58 of their size wide on average, as in the widest fonts without serifs, lines 1.3 of it high. From above: no font is at hand here. */
export function heightOf(sheet: Sheet, size: PaperSize, { points, chart, rows }: Omit<Layout, 'fits'>): number {
  const width = PAPERS[size].width - 2 * MARGIN
  const line = points * POINT * 1.3
  const lines = (text: string, wide: number): number =>
    Math.max(1, Math.ceil(([...text].length * points * POINT * 0.58) / (wide * 0.96)))
  const block = (texts: readonly string[], wide: number): number =>
    texts.reduce((sum, text) => sum + lines(text, wide) * line + 0.6, 0)
  const heading = line * 1.1 + 2
  const { old, first, load, keys, notes, watch, evidence } = sheet
  const inner = width - GUTTER
  const loading =
    heading +
    block(
      load.map(({ text }) => text),
      inner * LOAD - 17,
    )
  const watching = heading + block(watch, inner * (1 - LOAD) - 4)
  const keying =
    heading +
    keys.reduce((sum, { where, key, text, ...rest }) => {
      const cells = [
        lines(nameOf({ where, key }).join(' '), width * COLUMNS.where),
        lines(text ?? '', width * COLUMNS.value),
        lines(besideOf({ where, key, text, ...rest }), width * COLUMNS.beside),
      ]
      return sum + Math.max(...cells) * line + 1
    }, 0) +
    block(notes, width - 7)
  const { figure, beside, below } = partsOf(sheet, chart)
  const drawn = figure ? figure.height * ((inner * chart) / figure.width) + 2 : 0
  const forms = (all: readonly SheetForm[], wide: number): number =>
    all.reduce((sum, form) => {
      const cell = wide / form.columns.length - 2
      const heads = Math.max(...form.columns.map((name) => lines(name, cell / 0.85)))
      const high = (row: string): number => Math.max(FORM_ROW, lines(row, cell) * line + 0.4)
      return sum + line * (1.2 + heads * 0.85) + 0.8 + rowsOf(form, rows).reduce((sum, row) => sum + high(row), 0)
    }, 0)
  const told = [...evidence.map(({ what, word, text }) => `${what}: ${word ?? ''} ${text}`), ...noRoom(sheet, chart)]
  const proof = heading + block(told, figure ? inner * (1 - chart) : width) + forms(beside, figure ? inner * (1 - chart) : width)
  const [checks, ...halves] = below
  const pairs = halves.flatMap((form, i) =>
    i % 2 === 0 ? Math.max(forms([form], inner / 2), forms(halves.slice(i + 1, i + 2), inner / 2)) : [],
  )
  return (
    line * 3 +
    lines(`${sheet.profile} ${sheet.on} ${sheet.place} ${sheet.shop ?? ''}`, width - 30) * line -
    line +
    block([...old, ...first], width - 6) +
    (old.length + first.length > 0 ? 4 : 0) +
    Math.max(loading, watching) +
    keying +
    Math.max(proof, drawn) +
    (checks ? heading + forms([checks], width) : 0) +
    pairs.reduce((sum, pair) => sum + pair, 0) +
    line * 2 +
    3
  )
}

/** What is drawn, the form that has room under the evidence beside the drawing, and the others. */
function partsOf({ chart, forms }: Sheet, share: number) {
  const figure = share > 0 && chart ? figureOf(chart) : undefined
  const last = figure && forms.length > 1 ? -1 : forms.length
  return { figure, beside: forms.slice(last), below: forms.slice(0, last) }
}

/** A chart that is left out is told of. */
const noRoom = ({ chart, profile }: Sheet, share: number): readonly string[] =>
  chart && share === 0 ? [`The chart of the feed has no room here: rollbook picture ${profile} --html FILE.`] : []

/** Rows with a name of their own all stay. */
const rowsOf = ({ rows }: SheetForm, most: number): readonly string[] =>
  rows.some((row) => row !== '') ? rows : rows.slice(0, Math.max(1, most))

const nameOf = ({ where, key }: Pick<SheetKey, 'where' | 'key'>): readonly string[] =>
  where === undefined ? [key] : [where, key]

const besideOf = (key: SheetKey): string => asideOf({ ...key, where: undefined, mark: 'key-in' }).join(' · ')

function pageOf(sheet: Sheet, { points, chart, rows }: Layout): Markup {
  const { profile, title, shop, on, place, today, mark, old, first, load, keys, notes, watch, evidence } = sheet
  const { figure, beside, below } = partsOf(sheet, chart)
  const section = (name: string, heading: string, ...content: readonly Content[]): Markup =>
    element('section', { class: name }, element('h2', {}, heading), ...content)
  const under = [title === undefined ? undefined : profile, on, place, shop, `as of ${today}`]
    .filter((text) => text !== undefined)
    .join(' · ')
  const columns = (left: number): string =>
    `grid-template-columns:minmax(0,${left}fr) minmax(0,${Math.round((1 - left) * 100) / 100}fr)`
  return element(
    'article',
    { style: `font-size:${points}pt` },
    element('header', {}, element('h1', {}, title ?? profile), element('p', {}, under)),
    old.length + first.length > 0
      ? element(
          'div',
          { class: 'first' },
          [...old, ...first].map((sentence) => element('p', {}, `! ${sentence}`)),
        )
      : undefined,
    element(
      'div',
      { class: 'beside', style: columns(LOAD) },
      section(
        'load',
        'Load',
        element(
          'dl',
          {},
          load.map(({ name, text, missing }) => [
            element('dt', {}, name),
            element('dd', missing ? { class: 'missing' } : {}, missing ? `! ${text}` : text),
          ]),
        ),
      ),
      section(
        'watch',
        'Watch',
        element(
          'ul',
          {},
          watch.map((sentence) => element('li', {}, sentence)),
        ),
      ),
    ),
    section(
      'keys',
      'Key in',
      keyTable(keys),
      notes.map((note, i) => element('p', { class: 'note' }, element('b', {}, `!${i + 1}`), element('span', {}, note))),
    ),
    element(
      'div',
      figure ? { class: 'beside', style: columns(Math.round((1 - chart) * 100) / 100) } : {},
      section(
        'evidence',
        'Evidence',
        evidence.map(({ what, word, text }) =>
          element('p', {}, element('b', {}, what), word === undefined ? ': ' : [': ', element('b', {}, word), '. '], text),
        ),
        noRoom(sheet, chart).map((sentence) => element('p', {}, sentence)),
        beside.map((form) => formOf(form, rows)),
      ),
      figure ? element('div', { class: 'chart' }, figure.markup) : undefined,
    ),
    below.length > 0
      ? section(
          'next',
          'Write down next',
          formOf(below[0]!, rows),
          element(
            'div',
            { class: 'beside', style: columns(0.5) },
            below.slice(1).map((form) => formOf(form, rows)),
          ),
        )
      : undefined,
    element('footer', {}, element('b', {}, mark), ` · what changed since: rollbook sheet --from '${mark}'`),
  )
}

/** Marks are shapes: an empty box, a ticked one, a note's number in a thick frame, a question mark. */
function keyTable(keys: readonly SheetKey[]): Markup {
  if (keys.length === 0) return element('p', {}, 'Nothing.')
  return element(
    'table',
    {},
    element(
      'tbody',
      {},
      keys.map((key) => {
        const { mark, note, text } = key
        const sign = mark === 'in-doubt' ? `!${note}` : mark === 'missing' ? '?' : mark === 'has-it' ? '✓' : ''
        const [name, small] = nameOf(key)
        return element(
          'tr',
          { class: mark },
          element('td', { class: 'sign' }, element('span', {}, sign)),
          element('th', { scope: 'row' }, name, small === undefined ? undefined : element('small', {}, ` ${small}`)),
          element('td', { class: 'value' }, text ?? 'missing'),
          element('td', {}, besideOf(key)),
        )
      }),
    ),
  )
}

function formOf(form: SheetForm, most: number): Markup {
  const { title, columns } = form
  const named = columns[0] === ''
  return element(
    'table',
    {},
    element('caption', {}, title),
    element(
      'thead',
      {},
      element(
        'tr',
        {},
        columns.map((name) => element('th', { scope: 'col' }, name)),
      ),
    ),
    element(
      'tbody',
      {},
      rowsOf(form, most).map((row) =>
        element(
          'tr',
          {},
          columns.map((_, i) => (i === 0 && named ? element('th', { scope: 'row' }, row) : element('td', {}))),
        ),
      ),
    ),
  )
}

const styleOf = (size: PaperSize): string =>
  [
    `@page{size:${size === 'A4' ? 'A4' : 'letter'};margin:${MARGIN}mm}`,
    'html{background:#fff;color:#000}*{box-sizing:border-box}',
    `body{margin:0 auto;width:${PAPERS[size].width - 2 * MARGIN}mm;font-family:"Liberation Sans",Arial,Helvetica,sans-serif;line-height:1.3}`,
    'article{break-after:page;overflow-wrap:anywhere}article:last-child{break-after:auto}',
    'h1,h2,p,ul,dl,dd,dt{margin:0;padding:0}h1{font-size:1.5em;line-height:1.15}h2{font-size:1.05em;margin:1.5mm 0 .4mm;line-height:1.15;border-bottom:.4mm solid #000}',
    '.first{border:.7mm solid #000;padding:1mm 2mm;margin-top:1mm;font-weight:700}',
    `.beside{display:grid;align-items:start;column-gap:${GUTTER}mm}`,
    'dl{display:grid;grid-template-columns:17mm 1fr;row-gap:.3mm}dt{font-weight:700}dd.missing{font-style:italic}',
    'table{border-collapse:collapse;width:100%}th,td{text-align:left;vertical-align:top;font-weight:400}',
    '.keys td,.keys th{border-bottom:.15mm solid #000;padding:.3mm 1mm .3mm 0}.keys small{font-size:.85em}',
    `.keys .value{width:${COLUMNS.value * 100}%;font-weight:700}.keys th{width:${COLUMNS.where * 100}%}`,
    '.keys .sign{width:4%;line-height:1}.sign span{display:inline-block;min-width:1.5em;height:1.2em;border:.25mm solid #000;text-align:center;line-height:1.05;vertical-align:top}',
    // What is not proven is no bold number: it stands in italics behind its mark.
    '.keys .in-doubt .value,.keys .missing .value{font-weight:400;font-style:italic}.in-doubt .sign span,.missing .sign span{border-width:.5mm;font-weight:700}',
    '.note{display:grid;grid-template-columns:7mm 1fr;margin-top:.6mm}',
    '.watch ul{list-style:none}.watch li{padding-left:3.5mm;text-indent:-3.5mm;margin-bottom:.6mm}',
    '.watch li::before{content:"\\25B2";font-size:.8em;display:inline-block;width:3.5mm;text-indent:0}.watch li:last-child{font-weight:700}',
    '.evidence p{margin-bottom:.6mm}.chart{padding-top:1.5mm}.chart svg{width:100%;max-width:none;height:auto}',
    'caption{text-align:left;font-weight:700;padding-top:.8mm}thead th{font-size:.85em;padding-right:1mm}',
    `.next table,.evidence table{table-layout:fixed}.next tbody td,.next tbody th,.evidence tbody td{height:${FORM_ROW}mm;border:.2mm solid #000;padding:0 1mm;vertical-align:middle}`,
    'footer{margin-top:1.5mm;border-top:.4mm solid #000;padding-top:.5mm}',
    '@media screen{article{margin:5mm 0 15mm}}',
  ].join('\n')
