// What would be wrong with a picture wherever it is shown.
import { type PicturePage, pageBody, pictureSvg, placesOf } from '../../server/src/picture/page.ts'

const TAG = /<(\/?)([a-z0-9]+)((?: [a-zA-Z-]+="[^"<>]*")*)(\/?)>/g

/** Elements that are not closed where they must be, marks in a text, attributes that a page forbids, numbers that are none, addresses twice or to nowhere. */
export function faultsOf(page: PicturePage): readonly string[] {
  const body = pageBody(page)
  const drawings = page.pictures.flatMap((picture) => pictureSvg(picture)?.replace(/<style>[^<]*<\/style>/, '') ?? [])
  const ids = [...body.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id!)
  const to = [...body.matchAll(/ href="#([^"]*)"/g)].map(([, id]) => id!)
  return [
    ...[body, ...drawings].flatMap(markupFaults),
    ...ids.filter((id, i) => ids.indexOf(id) !== i || /\s/.test(id)),
    ...[...to, ...placesOf(page).map(({ id }) => id)].filter((id) => !ids.includes(id)),
    ...(body.match(/<a (?![^>]*href="#)[^>]*>|<[^>]*aria-label=""[^>]*>/g) ?? []),
  ]
}

function markupFaults(markup: string): readonly string[] {
  const open: string[] = []
  const faults: string[] = []
  for (const [tag, close, name, attributes, empty] of markup.matchAll(TAG)) {
    if (/ (?:style|on\w+)=|javascript:/.test(attributes!) || /^(?:script|style|foreignObject|iframe)$/.test(name!))
      faults.push(tag)
    if (!close && !empty) open.push(name!)
    if (close && open.pop() !== name) faults.push(tag)
  }
  const texts = markup.replace(TAG, ' ')
  return [
    ...faults,
    ...open,
    ...(/[<>]/.exec(texts) ?? []),
    ...(markup.match(/.{0,40}(?:NaN|\bundefined\b|Infinity|\[object).{0,20}/) ?? []),
  ]
}
