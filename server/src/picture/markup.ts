// Elements of SVG and HTML as text. Whatever is put in is escaped here and nowhere else, so that no text of a document becomes markup.

/** Markup that is ready; a plain text is none. */
export interface Markup {
  readonly markup: string
}

export type Content = Markup | string | undefined | readonly Content[]

export type Attributes = Readonly<Record<string, string | number | undefined>>

/** An element with its attributes, those without a value left out, numbers to a hundredth; texts in it are escaped. */
export function element(name: string, attributes: Attributes = {}, ...content: readonly Content[]): Markup {
  let written = ''
  for (const key in attributes) {
    const value = attributes[key]
    if (value !== undefined) written += ` ${key}="${typeof value === 'number' ? short(value) : escaped(value)}"`
  }
  const inner = markupOf(content)
  return { markup: inner === '' && CLOSED.has(name) ? `<${name}${written}/>` : `<${name}${written}>${inner}</${name}>` }
}

/** Elements of SVG that hold nothing. */
const CLOSED: ReadonlySet<string> = new Set(['path', 'rect', 'circle', 'line'])

export function markupOf(content: Content): string {
  if (content === undefined) return ''
  if (typeof content === 'string') return escaped(content)
  if (!isList(content)) return content.markup
  let markup = ''
  for (const one of content) markup += markupOf(one)
  return markup
}

const isList = (content: Content): content is readonly Content[] => Array.isArray(content)

/** To a hundredth, without a negative zero. */
export const short = (value: number): string => String(Math.round(value * 100) / 100 + 0)

/** What may stand in a text and in an attribute: marks are written out, and what XML does not take is shown as a question mark. */
const escaped = (text: string): string =>
  PLAIN.test(text)
    ? text
    : text
        .replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`)
        .replace(/(?![\t\n\r])\p{Cc}|\p{Cs}|[\ufffe\uffff]/gu, '\ufffd')

/** Most texts: printable, without marks and without anything beyond the first plane. */
const PLAIN = /^[ !#-%(-;=?-~\u00a0-\ud7ff\ue000-\ufffd]*$/
