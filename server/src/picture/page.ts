// Pictures as files and as the body of a panel: one drawing for all of them, so that the same picture has the same bytes wherever it is asked for.
import { drawn, WIDTH, widthOf } from './chart.ts'
import { INK, PAPER, STYLES } from './looks.ts'
import { type Content, element, type Markup, markupOf } from './markup.ts'
import type { At, Chart, Picture, PictureRow } from './picture.ts'

export interface PicturePage {
  readonly title: string
  /** What is to be settled before any number here is used. */
  readonly first: readonly string[]
  readonly pictures: readonly Picture[]
}

/** What has a place in a document, by its address on the page. */
export interface Placed {
  readonly id: string
  readonly at: At
}

/** The page without the head: sections of sentences, a drawing, a table. Addresses are `feed` for a section and `feed-3` for a row. */
export const pageBody = ({ title, first, pictures }: PicturePage): string =>
  markupOf(
    element(
      'main',
      {},
      element('h1', {}, title),
      first.map((sentence) => element('p', { class: 'first' }, sentence)),
      pictures.map(sectionOf),
    ),
  )

/** A page that needs nothing beside itself, and in which no script can run. */
export const pageHtml = (page: PicturePage): string =>
  `<!doctype html>\n${markupOf(
    element(
      'html',
      { lang: 'en' },
      { markup: '<meta charset="utf-8">' },
      { markup: '<meta name="viewport" content="width=device-width">' },
      { markup: `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">` },
      element('title', {}, page.title),
      element('style', {}, { markup: STYLES.page }),
      element('body', {}, { markup: pageBody(page) }),
    ),
  )}\n`

/** One picture as a file: title, the thing to do, the drawing. Undefined where there is nothing to draw. */
export function pictureSvg({ title, said, chart }: Picture): string | undefined {
  if (!chart) return undefined
  const { content, height } = drawn(chart, undefined)
  const words = [title, ...wrapped(said[0] ?? '')]
  const head = words.length * 17 + 8
  const lines = words.map((line, i) =>
    element('text', { x: 2, y: 15 + i * 17, 'font-size': 13, fill: INK, 'font-weight': i === 0 ? 600 : undefined }, line),
  )
  const size = { viewBox: `0 0 ${WIDTH} ${Math.ceil(head + height)}`, width: WIDTH, height: Math.ceil(head + height) }
  return `${markupOf(
    element(
      'svg',
      {
        xmlns: 'http://www.w3.org/2000/svg',
        ...size,
        role: 'graphics-document',
        'aria-label': title,
        'font-family': 'sans-serif',
      },
      element('style', {}, { markup: STYLES.picture }),
      element('rect', { class: 'paper', width: '100%', height: '100%', fill: PAPER }),
      lines,
      element('g', { transform: `translate(0 ${head})` }, content),
    ),
  )}\n`
}

/** Where the sections and rows of a page stand in the documents. */
export const placesOf = ({ pictures }: PicturePage): readonly Placed[] =>
  pictures.flatMap(({ id, at, table }) => [
    ...(at ? [{ id, at }] : []),
    ...table.rows.flatMap((row) => (row.at ? [{ id: `${id}-${row.id}`, at: row.at }] : [])),
  ])

const sections = new WeakMap<Picture, Markup>()

/** A picture is never changed, so it is drawn once. */
function sectionOf(picture: Picture): Markup {
  let section = sections.get(picture)
  if (!section) {
    section = drawnSection(picture)
    sections.set(picture, section)
  }
  return section
}

function drawnSection(picture: Picture): Markup {
  const { id, title, said, chart, table, notes } = picture
  const pointed = new Set(chart?.points.map(({ row }) => row))
  return element(
    'section',
    { id, 'aria-labelledby': `${id}-heading` },
    element('h2', { id: `${id}-heading` }, title),
    said.map((sentence, i) => element('p', i === 0 ? { class: 'first' } : {}, sentence)),
    chart && svgOf(picture),
    table.rows.length > 0
      ? element(
          'table',
          {},
          element(
            'thead',
            {},
            element(
              'tr',
              {},
              table.header.map((cell) => element('th', { scope: 'col' }, cell)),
            ),
          ),
          element(
            'tbody',
            {},
            table.rows.map((row) => rowOf(id, row, pointed.has(row.id))),
          ),
        )
      : undefined,
    notes.map((sentence) => element('p', {}, sentence)),
  )
}

/** A drawing among other things, with nowhere to lead: its markup, and its size in the units of its box. Undefined where there is nothing to draw. */
export function figureOf({
  title,
  chart,
}: Picture): { readonly markup: Markup; readonly width: number; readonly height: number } | undefined {
  if (!chart) return undefined
  const { markup, height } = svgIn(title, chart, undefined)
  return { markup, width: WIDTH, height }
}

const svgOf = ({ id, title, chart }: Picture): Content => chart && svgIn(title, chart, id).markup

function svgIn(title: string, chart: Chart, address: string | undefined): { readonly markup: Markup; readonly height: number } {
  const drawing = drawn(chart, address)
  const height = Math.ceil(drawing.height)
  const box = { viewBox: `0 0 ${WIDTH} ${height}`, width: WIDTH, height }
  return { markup: element('svg', { ...box, role: 'graphics-document', 'aria-label': title }, drawing.content), height }
}

/** The name of a row leads to its point; in an editor, both lead to the line. */
const rowOf = (picture: string, { id, cells: [name = '', ...cells], at }: PictureRow, pointed: boolean): Markup => {
  const address = `${picture}-${id}`
  const linked = pointed || at !== undefined
  return element(
    'tr',
    { id: address },
    element('th', { scope: 'row' }, linked ? element('a', { href: `#${address}${pointed ? '-point' : ''}` }, name) : name),
    cells.map((cell) => element('td', {}, unbroken(cell))),
  )
}

/** A number and its unit stay on one line. */
const unbroken = (words: string): string => words.replace(/(?<=\d) (?=(?:%|°[CF]|K|[µm]?m|mil|in|s|min|h|Pa)(?![\w]))/g, '\u00a0')

/** Lines that are no wider than the drawing. */
function wrapped(sentence: string): readonly string[] {
  const lines: string[] = []
  for (const word of sentence.split(' ')) {
    const longer = lines.length === 0 ? word : `${lines.at(-1)} ${word}`
    if (lines.length > 0 && widthOf(longer, 13) <= WIDTH) lines[lines.length - 1] = longer
    else lines.push(word)
  }
  return lines.filter((line) => line !== '')
}
