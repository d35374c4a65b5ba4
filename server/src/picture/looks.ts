// How pictures look. Every mark carries its look as attributes, so that it can be read where no style sheet is let in, and a class by which a style sheet
// gives it the colours of a theme. Nothing is told by colour alone: each look has a dash of its own, each kind of point a shape.
import type { Attributes } from './markup.ts'
import type { Look } from './picture.ts'

interface Ink {
  readonly colour: string
  readonly width: number
  readonly dash?: string
}

/** On white paper; each has a contrast of 4.5 to 1 there at least (WCAG 2.2, 1.4.3). */
const INKS: Readonly<Record<Look, Ink>> = {
  asked: { colour: '#0b57d0', width: 2 },
  set: { colour: '#8a4600', width: 2, dash: '7 3' },
  tolerance: { colour: '#2e6b2e', width: 1, dash: '2 3' },
  drift: { colour: '#7a2e8e', width: 1.5, dash: '9 3 2 3' },
  limit: { colour: '#b3261e', width: 1.5, dash: '8 3 2 3 2 3' },
  event: { colour: '#57606a', width: 1, dash: '1 2' },
  today: { colour: '#57606a', width: 1 },
}

export const INK = '#1f2328'
export const QUIET = '#57606a'
export const PAPER = '#ffffff'

export function strokeOf(look: Look): Attributes {
  const { colour, width, dash } = INKS[look]
  return { class: `k-${look}`, fill: 'none', stroke: colour, 'stroke-width': width, 'stroke-dasharray': dash }
}

/** Pale, so that what lies on it is seen; its edges are drawn as a line of the same look. */
export const fillOf = (look: Look): Attributes => ({ class: `f-${look}`, fill: INKS[look].colour, 'fill-opacity': 0.1 })

const LOOKS = Object.keys(INKS) as readonly Look[]

/** Gives the marks the colours of these variables: --ink, --quiet, --paper, --focus, and one a look. */
const BY_VARIABLES = [
  'svg{display:block;max-width:720px;width:100%;height:auto;font-family:inherit}',
  'svg text{fill:var(--ink)}svg .quiet{fill:var(--quiet)}',
  ...LOOKS.map((look) => `.k-${look}{stroke:var(--${look})}.f-${look}{fill:var(--${look})}`),
  '.axis,.mark{stroke:var(--ink)}.grid{stroke:var(--grid)}.full{fill:var(--ink)}.open,.paper{fill:var(--paper)}',
  '.point{outline:none;cursor:pointer}.point:focus-visible .hit,.here .hit{stroke:var(--focus);stroke-width:2}',
].join('\n')

const COLOURS = (values: Readonly<Record<string, string>>): string =>
  Object.entries(values)
    .map(([name, value]) => `--${name}:${value}`)
    .join(';')

const each = (colour: string): Readonly<Record<string, string>> => Object.fromEntries(LOOKS.map((look) => [look, colour]))

const LIGHT = COLOURS({
  ink: INK,
  quiet: QUIET,
  paper: PAPER,
  grid: '#d8dee4',
  focus: '#0b57d0',
  ...Object.fromEntries(LOOKS.map((look) => [look, INKS[look].colour])),
})

const DARK = COLOURS({
  ink: '#e6edf3',
  quiet: '#9da7b3',
  paper: '#0d1117',
  grid: '#30363d',
  focus: '#79b8ff',
  asked: '#79b8ff',
  set: '#f0a35e',
  tolerance: '#7ee08a',
  drift: '#d2a8ff',
  limit: '#ff8f85',
  event: '#9da7b3',
  today: '#9da7b3',
})

/** Colours that the person chose for the whole system: lines are told apart by their dashes. */
const FORCED = COLOURS({
  ink: 'CanvasText',
  quiet: 'CanvasText',
  paper: 'Canvas',
  grid: 'GrayText',
  focus: 'Highlight',
  ...each('CanvasText'),
})

/** For a printer that knows ink and no ink. */
const PRINTED = COLOURS({ ink: '#000', quiet: '#000', paper: '#fff', grid: '#bbb', focus: '#000', ...each('#000') })

/** Lines are told apart by their dashes too, so one that a theme has no colour for (high contrast, orange) is drawn in that of the text. */
const chart = (name: string): string => `var(--vscode-charts-${name},var(--vscode-editor-foreground))`

/** What the editor calls its colours. */
const EDITOR = COLOURS({
  ink: 'var(--vscode-editor-foreground)',
  quiet: 'var(--vscode-editor-foreground)',
  paper: 'var(--vscode-editor-background)',
  grid: 'var(--vscode-editorIndentGuide-background1,var(--vscode-editor-foreground))',
  focus: 'var(--vscode-focusBorder)',
  asked: chart('blue'),
  set: chart('orange'),
  tolerance: chart('green'),
  drift: chart('purple'),
  limit: chart('red'),
  event: 'var(--vscode-editor-foreground)',
  today: 'var(--vscode-editor-foreground)',
})

/** Without the pale areas, which one ink would only grain. */
const NO_PALE = `${LOOKS.map((look) => `.f-${look}`).join(',')}{fill:none}`

/** The page around the pictures: text before figures, tables that stay within a narrow panel. */
const PAGE = [
  'main{max-width:720px}',
  'h1{font-size:1.3em}h2{font-size:1.1em;margin:1.6em 0 .4em}p{margin:.4em 0}',
  '.first{font-weight:600}',
  'table{border-collapse:collapse;margin:.6em 0;width:100%}',
  'th,td{text-align:left;vertical-align:top;padding:.15em .5em .15em 0;border-bottom:1px solid var(--grid);overflow-wrap:break-word}',
  'tbody th{font-weight:400;white-space:nowrap}',
  'td{font-variant-numeric:tabular-nums}th{font-weight:600}',
  'a{color:inherit}a:focus-visible{outline:2px solid var(--focus);outline-offset:1px}',
  'tr:target,tr.here{outline:2px solid var(--focus);outline-offset:-1px}',
].join('\n')

const CHOSEN = `@media(forced-colors:active){:root{${FORCED}}${NO_PALE}}`

const ON_PAPER = [
  `@media print{:root{${PRINTED}}${NO_PALE}body{background:#fff}`,
  'section,svg,tr{break-inside:avoid}h2{break-after:avoid}a{text-decoration:none}}',
  '@page{margin:15mm}',
].join('')

const OF_THE_SYSTEM = `:root{color-scheme:light dark;${LIGHT}}@media(prefers-color-scheme:dark){:root{${DARK}}}`

/** Style sheets: of a page by itself, of a picture by itself, of a panel of the editor, of pictures on a page that is only printed. */
export const STYLES = {
  page: `${OF_THE_SYSTEM}\nbody{margin:1em;background:var(--paper);color:var(--ink);font:14px/1.45 system-ui,sans-serif}\n${BY_VARIABLES}\n${PAGE}\n${CHOSEN}${ON_PAPER}`,
  picture: `${OF_THE_SYSTEM}\n${BY_VARIABLES}\nsvg{font-family:system-ui,sans-serif}${CHOSEN}@media print{:root{${PRINTED}}${NO_PALE}}`,
  editor: `:root{${EDITOR}}\nbody{margin:0;padding:8px 16px 40px;background:var(--paper);color:var(--ink);font:var(--vscode-font-size,13px)/1.45 var(--vscode-font-family,sans-serif)}\n${BY_VARIABLES}\n${PAGE}\n${CHOSEN}`,
  paper: `:root{${PRINTED}}\n${BY_VARIABLES}\n${NO_PALE}`,
} as const
