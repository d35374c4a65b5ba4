// What the columns of a table mean: by our names, by those a shop has given to its own, or not at all, which is told and not guessed.
import { cellSchema, EVIDENCE, type EvidenceKind } from '../model/evidence.ts'
import type { Given } from '../model/evidence-new.ts'
import { dimensionInUnits, findUnit, likelyUnits } from '../quantities/units.ts'
import { CannotRun } from './host.ts'

/** A column by our name for it, 'measured (mm)'. */
export type Column =
  | { readonly is: 'profile' | 'evidence' | 'left-out' }
  | ({ readonly is: 'cell'; readonly name: string } & Pick<Given, 'key' | 'part' | 'unit'>)

export type CellColumn = Extract<Column, { is: 'cell' }>

/** Our name for a column that is left out. */
const LEFT_OUT = '-'

/** The name of the column that says which profile a row belongs to, and of the one that says which list. */
export const [PROFILE, LIST] = ['profile', 'evidence'] as const

export const columnName = ({ key, part, unit }: Pick<Given, 'key' | 'part' | 'unit'>): string =>
  `${key}${part === 'spread' ? ' ±' : ''}${unit === undefined ? '' : ` (${unit})`}`

/** A header read as one of our names. `undefined` where it is written as none. */
export function readColumn(name: string): Column | undefined {
  if (name === LEFT_OUT) return { is: 'left-out' }
  const [, written, spread, unit] = /^([^\s()[\]±]+)\s*(±|\+\/-)?\s*(?:[([]\s*([^()[\]]+?)\s*[)\]])?$/.exec(name.trim()) ?? []
  if (written === undefined) return undefined
  const key = /^x-|\.x-/.test(written) ? written : written.toLowerCase()
  if ((key === PROFILE || key === LIST) && spread === undefined && unit === undefined) return { is: key }
  return { is: 'cell', name, key, part: spread === undefined ? 'value' : 'spread', unit }
}

/** Whether a kind of evidence has such a key, whatever its unit. */
export const hasKey = (kind: EvidenceKind, { key }: CellColumn): boolean => cellSchema(kind, key) !== undefined

/** What is wrong with a column as one of a kind that has its key; undefined where nothing is. */
export function columnFault(kind: EvidenceKind, { name, key, part, unit }: CellColumn): string | undefined {
  const schema = cellSchema(kind, key)
  const types = schema?.kind === 'leaf' ? schema.accepts : []
  const dimensions = types.flatMap((type) => (type.type === 'quantity' ? [type.dimension] : []))
  const [first] = dimensions
  if (unit === undefined && part === 'value' && (first === undefined || dimensions.length < types.length)) return undefined
  if (first === undefined) return `'${name}' needs no unit: ${key} has none.`
  if (unit === undefined)
    return `'${name}' needs its unit beside its name, as in '${columnName({ key, part, unit: likelyUnits(first)[0] })}'.`
  if (dimensions.some((dimension) => findUnit(unit, dimension))) return undefined
  return `'${name}' is not given in ${unit}: ${key} is ${dimensionInUnits(first)}.`
}

/** Whether a column holds days. */
export function isDay(kind: EvidenceKind, { key }: CellColumn): boolean {
  const schema = cellSchema(kind, key)
  return schema?.kind === 'leaf' && schema.accepts.some(({ type }) => type === 'date')
}

/** Whether a column holds numbers, in any of the kinds. */
export const isNumeric = (kinds: readonly EvidenceKind[], column: CellColumn): boolean =>
  column.unit !== undefined ||
  kinds.some((kind) => {
    const schema = cellSchema(kind, column.key)
    return schema?.kind === 'leaf' && schema.accepts.some(({ type }) => type === 'number' || type === 'integer')
  })

/** The one kind of evidence that has all the columns, and whose needed keys are among them. Throws `CannotRun` where that is not one. */
export function kindOf(columns: readonly CellColumn[], file: string): EvidenceKind {
  const possible = EVIDENCE.filter((kind) => columns.every((column) => hasKey(kind, column)))
  const whole = possible.filter((kind) => kind.entry.required.every((key) => columns.some((column) => column.key === key)))
  const found = whole.length > 0 ? whole : possible
  if (found.length === 1) return found[0]!
  const choice = (found.length > 0 ? found : EVIDENCE).map(({ name }) => name).join(', ')
  throw new CannotRun(`What the rows of ${file} are is not clear: say --as with one of ${choice}.`)
}
