// The settings of a profile that are others though its own text did not say so: a base changed, or is another one, or the profile no longer goes its own way.
import { LineIndex } from '../base/line-index.ts'
import type { RollDocument } from '../model/document.ts'
import { type Cell, settingCells } from '../model/evidence.ts'
import { schemaAt } from '../schema/schema.ts'
import { type Node, resolveAlias } from '../syntax/tree.ts'
import type { Cause, DocumentRef, Inherited, Written } from './change-set.ts'
import type { Version } from './follow.ts'
import { levelOf } from './levels.ts'
import { numberOf, sameValue, sizeOf, writtenAt } from './values.ts'

/** Where a value of a base comes from: the document, and whether these keys of it say something else now. */
export interface Origin {
  readonly document: DocumentRef
  readonly keys: ReadonlySet<string>
}

/** `originOf` tells of a file of either version. */
export function inheritedOf(
  before: Version,
  after: Version,
  originOf: (version: Version, file: string) => Origin | undefined,
): readonly Inherited[] {
  // Whoever builds on nothing inherits nothing.
  if (before.setup.bases.length + after.setup.bases.length === 0) return []
  const [then, now] = [cellsOf(before), cellsOf(after)]
  const out: Inherited[] = []
  for (const key of new Set([...then.keys(), ...now.keys()])) {
    const [a, b] = [then.get(key), now.get(key)]
    const isOwn = (cell: Cell | undefined, version: Version): boolean => !cell || cell.place.file === version.document.file
    if (isOwn(a, before) && isOwn(b, after)) continue
    const schema = schemaAt('media', key.split('.'))
    const [one, other] = [a && resolveAlias(a.place.node), b && resolveAlias(b.place.node)]
    if (one?.kind === 'scalar' && other?.kind === 'scalar' && sameValue(one, other, schema)) continue
    const size = sizeOf(one, other, schema)
    const told = (cell: Cell | undefined, node: Node | undefined, version: Version): Written | undefined =>
      cell && node && written(cell, node, version, key, originOf)
    const [was, is] = [told(a, one, before), told(b, other, after)]
    out.push({
      what: 'setting',
      path: key,
      ...(was && { before: was }),
      ...(is && { after: is }),
      ...(size !== undefined && { size }),
      level: levelOf(key),
      cause: causeOf(key, [a, before], [b, after], originOf),
    })
  }
  return out
}

/** By key; an uncertainty goes with its value. */
const cellsOf = ({ setup }: Version): ReadonlyMap<string, Cell> =>
  new Map(settingCells(setup.profile).flatMap((cell) => (cell.part === 'value' ? [[cell.key, cell] as const] : [])))

function written(
  { place }: Cell,
  node: Node,
  version: Version,
  key: string,
  originOf: (version: Version, file: string) => Origin | undefined,
): Written {
  const document = documentAt(version, place.file)
  const si = numberOf(node, schemaAt('media', key.split('.')))
  const from = place.file === version.document.file ? undefined : originOf(version, place.file)?.document
  return {
    text: document ? writtenAt(document.text, node) : '',
    ...(si !== undefined && { si }),
    line: document ? new LineIndex(document.text).range({ start: node.start, end: node.start }).start.line + 1 : 1,
    ...(from && { from }),
  }
}

const documentAt = ({ document, setup }: Version, file: string): RollDocument | undefined =>
  file === document.file ? document : setup.bases.find((base) => base.file === file)

/** The document that says something else at the key; or whoever names another base than before. */
function causeOf(
  key: string,
  then: readonly [Cell | undefined, Version],
  now: readonly [Cell | undefined, Version],
  originOf: (version: Version, file: string) => Origin | undefined,
): Cause {
  for (const [cell, version] of [now, then]) {
    const origin = cell && originOf(version, cell.place.file)
    if (origin && [...origin.keys].some((one) => one === key || key.startsWith(`${one}.`)))
      return { document: origin.document, path: key }
  }
  const chain = [now, then].flatMap(([, version]) =>
    [version.document, ...version.setup.bases].map(({ file }) => originOf(version, file)),
  )
  const leading = chain.find((origin) => origin?.keys.has('base'))
  if (leading) return { document: leading.document, path: 'base' }
  return { document: (chain.find((origin) => origin && origin.keys.size > 0) ?? chain[0])!.document }
}
