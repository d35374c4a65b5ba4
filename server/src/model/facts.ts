// The few facts kept of every document of the shop, open or closed: its id and what it refers to. They are read from the entries they stand
// in, without parsing the rest, so that ten thousand profiles are indexed quickly and held in little memory; and by the same reader, so that
// they are the same whether the document is open or not.
import type { Span } from '../base/span.ts'
import { type DocumentKind, schemaOf } from '../schema/schema.ts'
import { ownCopy } from '../syntax/reader.ts'
import { skim } from '../syntax/skim.ts'
import type { RollDocument } from './document.ts'
import type { F } from './field.ts'
import { ModelReader } from './read.ts'

/** A scalar of the root and where it stands. */
export interface Fact extends Span {
  readonly text: string
}

export type FactKey = 'profile' | 'stock' | 'printer' | 'shop' | 'base' | 'mode' | 'slot' | 'title' | 'retired' | 'replaced-by'

export interface Facts {
  readonly file: string
  readonly kind: DocumentKind
  readonly values: Readonly<Partial<Record<FactKey, Fact>>>
}

/** The key that holds a kind's own id. */
export const ID_KEY: Readonly<Record<DocumentKind, FactKey>> = {
  media: 'profile',
  stock: 'stock',
  printer: 'printer',
  shop: 'shop',
}

/** Whether a document says that it is out of use on a day. */
export const isOutOfUse = ({ values: { retired } }: Facts, today: string): boolean =>
  retired !== undefined && retired.text <= today

/** As many profiles as tell of a printer or a stock how far it scatters: more say hardly more, and all of them are parsed for it. */
const TELLING = 12

/** The first profiles that name a printer or a stock themselves. */
export function tellingOf(all: Iterable<Facts>, kind: 'printer' | 'stock', id: string): readonly Facts[] {
  const found: Facts[] = []
  for (const facts of all) {
    if (facts.values[kind]?.text !== id || !facts.values.profile) continue
    found.push(facts)
    if (found.length === TELLING) break
  }
  return found
}

const KEYS: Readonly<Record<DocumentKind, ReadonlySet<FactKey>>> = {
  media: new Set(['profile', 'title', 'stock', 'printer', 'base', 'mode', 'slot', 'retired', 'replaced-by'] as const),
  stock: new Set(['stock', 'title', 'retired', 'replaced-by'] as const),
  printer: new Set(['printer', 'title'] as const),
  shop: new Set(['shop'] as const),
}

type Content = Readonly<Partial<Record<FactKey, F<unknown>>>>

/** The facts of a text that is not parsed. */
export function readFacts(file: string, kind: DocumentKind, text: string): Facts {
  return factsIn(file, kind, new ModelReader(file).read<Content>(skim(text, KEYS[kind]), schemaOf(kind)).value)
}

/** The facts of a parsed document, from its model: cheap enough for every keystroke. Below a hundred mistakes they still stand in the text. */
export const factsOf = (document: RollDocument): Facts =>
  document.tree.problems.at(-1)?.code === 'unread'
    ? readFacts(document.file, document.kind, document.text)
    : factsIn(document.file, document.kind, document.content as Content | undefined)

function factsIn(file: string, kind: DocumentKind, content: Content | undefined): Facts {
  const values: Partial<Record<FactKey, Fact>> = {}
  for (const key of KEYS[kind]) {
    const field = content?.[key]
    if (typeof field?.value !== 'string' && typeof field?.value !== 'number') continue
    const { start, end } = field.place.node
    values[key] = { text: ownCopy(String(field.value)), start, end }
  }
  return { file, kind, values }
}
