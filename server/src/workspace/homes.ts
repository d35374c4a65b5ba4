// Where a new document goes: beside those of its kind; where there is none yet, in a folder as the samples have it.
import type { Facts } from '../model/facts.ts'
import type { Shelf } from '../model/shelf.ts'
import type { DocumentKind } from '../schema/schema.ts'
import { folderOf } from './folders.ts'

/** The folders of the samples. */
const HOMES: Readonly<Record<Exclude<DocumentKind, 'shop'>, string>> = {
  stock: 'stocks/',
  printer: 'printers/',
  media: 'profiles/',
}

/** The folder that holds most documents of a kind; where there is none yet, one beside those of the other kinds, as the samples have them. */
export function homeFor(shelf: Shelf, kind: Exclude<DocumentKind, 'shop'>, at: string): string {
  const own = mostUsed([...shelf.all(kind)])
  if (own !== undefined) return own
  const other = mostUsed((['printer', 'stock', 'media'] as const).flatMap((one) => [...shelf.all(one)]))
  if (other === undefined) return `${folderOf([...shelf.all('shop')][0]?.file ?? at)}${HOMES[kind]}`
  const home = Object.values(HOMES).find((name) => other.endsWith(`/${name}`))
  return home === undefined ? other : `${other.slice(0, -home.length)}${HOMES[kind]}`
}

/** The folder in which most of these documents lie. */
export function mostUsed(all: readonly Pick<Facts, 'file'>[]): string | undefined {
  const count = new Map<string, number>()
  for (const { file } of all) count.set(folderOf(file), (count.get(folderOf(file)) ?? 0) + 1)
  return [...count].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))[0]?.[0]
}
