// The few facts kept of every document of the shop, open or closed: its id and what it refers to. They are read from the entries they stand
// in, without parsing the rest, so that ten thousand profiles are indexed quickly and held in little memory.
import type { Span } from '../base/span.ts'
import type { DocumentKind } from '../schema/schema.ts'
import { compose, composeAll } from '../syntax/compose.ts'
import { MAX_TEXT } from '../syntax/parse.ts'
import { type Cut, cutBlock } from '../syntax/split.ts'
import type { MapNode } from '../syntax/tree.ts'

/** A scalar of the root and where it stands. */
export interface Fact extends Span {
  readonly text: string
}

export type FactKey = 'profile' | 'stock' | 'printer' | 'shop' | 'base' | 'mode' | 'slot' | 'title'

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

const KEYS: Readonly<Record<DocumentKind, ReadonlySet<string>>> = {
  media: new Set(['profile', 'title', 'stock', 'printer', 'base', 'mode', 'slot']),
  stock: new Set(['stock', 'title']),
  printer: new Set(['printer', 'title']),
  shop: new Set(['shop']),
}

export function readFacts(file: string, kind: DocumentKind, text: string): Facts {
  if (text.length > MAX_TEXT) return { file, kind, values: {} }
  const values: Partial<Record<FactKey, Fact>> = {}
  const wanted = KEYS[kind]
  const start = text.charCodeAt(0) === 0xfeff ? 1 : 0
  const cuts = cutBlock(text, start, text.length, 0)
  if (cuts?.kind === 'map') {
    for (const cut of cuts.entries) {
      if (cut.keyEnd < 0 || !wanted.has(text.slice(cut.start, cut.keyEnd))) continue
      if (takePlain(text, cut, values)) continue
      take(compose(text.slice(cut.start, cut.end), { start: cut.start }).contents as MapNode | undefined, wanted, values)
    }
  } else if (!cuts) {
    take(composeAll(text, { start: 0 }).contents as MapNode | undefined, wanted, values)
  }
  return { file, kind, values }
}

function take(node: MapNode | undefined, wanted: ReadonlySet<string>, into: Partial<Record<FactKey, Fact>>): void {
  if (node?.kind !== 'map') return
  for (const { key, value } of node.pairs) {
    if (!key || !wanted.has(key.text) || value.kind !== 'scalar' || value.style === 'empty') continue
    // A copy of its own: a slice would keep the whole text in memory.
    into[key.text as FactKey] ??= { text: ` ${value.text}`.slice(1), start: value.start, end: value.end }
  }
}

/** `key: word` on one line: bare words without a colon or a hash are what they look like in any YAML. */
const PLAIN = /:[ \t]+([A-Za-z0-9][^\s:#]*(?:[ \t]+[^\s:#]+)*)[ \t]*(?:[ \t]#[^\n]*)?\r?(?:\n|$)/y

/** Takes the commonest kind of fact without the YAML library, which costs a hundred times as much. False where it is of another kind. */
function takePlain(text: string, cut: Cut, into: Partial<Record<FactKey, Fact>>): boolean {
  PLAIN.lastIndex = cut.keyEnd
  const found = PLAIN.exec(text)
  const end = PLAIN.lastIndex
  if (!found || end > cut.end || (end < cut.end && /^[ \t]*[^\s#]/m.test(text.slice(end, cut.end)))) return false
  const value = found[1]!
  const start = text.indexOf(value, cut.keyEnd)
  const key = text.slice(cut.start, cut.keyEnd) as FactKey
  into[key] ??= { text: ` ${value}`.slice(1), start, end: start + value.length }
  return true
}
