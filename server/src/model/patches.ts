// The patches of a measurement file with their colours, and the reference's held against the measured ones, patch by patch.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { type ColourSpread, deltaE2000, isColour, type Lab, spreadOfDifferences } from '../calc/colour.ts'
import { type CgatsFile, type CgatsTable, cgatsNumber, wordText } from './cgats.ts'

export interface Patch {
  /** As it stands in SAMPLE_ID, or in SAMPLE_NAME where there is no such column. */
  readonly id: string
  readonly name: string | undefined
  readonly lab: Lab
  /** How much of each ink, by the column's name: 'CMYK_C'. */
  readonly inks: ReadonlyMap<string, number>
}

/** A measurement file as far as colours can be taken from it. */
export interface PatchSet {
  readonly patches: readonly Patch[]
  /** What is wrong with the file, in the order of its lines: clauses without a full stop. Nothing is compared while there is anything. */
  readonly faults: readonly string[]
  /** What is said of the measurement before the patches. */
  readonly keywords: ReadonlyMap<string, string>
}

const kept = new WeakMap<CgatsFile, PatchSet>()

/** The same set for the same file. */
export function patchesOf(file: CgatsFile): PatchSet {
  let found = kept.get(file)
  if (!found) {
    found = takePatches(file)
    kept.set(file, found)
  }
  return found
}

const MAX_FAULTS = 60

const COLOUR = ['LAB_L', 'LAB_A', 'LAB_B'] as const
const IDS = ['SAMPLE_ID', 'SAMPLE_NAME'] as const

function takePatches({ tables, problems }: CgatsFile): PatchSet {
  const faults = problems.map(({ line, reason }) => `line ${line}: ${reason}`)
  const keywords = new Map<string, string>()
  const patches = new Map<string, Patch & { readonly line: number }>()
  const coloured = tables.filter(({ fields }) => COLOUR.every((field) => fields.includes(field)))
  for (const table of coloured.length > 0 ? tables.slice(0, tables.indexOf(coloured[0]!) + 1) : [])
    for (const [word, text] of table.keywords) keywords.set(word, text)
  if (tables.length > 0 && coloured.length === 0) faults.push(lackingColumns(tables))
  const named = coloured.filter(({ fields }) => IDS.some((field) => fields.includes(field)))
  if (coloured.length > 0 && named.length === 0)
    faults.push('it has no column SAMPLE_ID, so that nobody can tell which patch is which')
  const tell = (fault: string): void => {
    if (faults.length < MAX_FAULTS) faults.push(fault)
  }
  for (const table of named) takeRows(table, patches, tell)
  if (named.length > 0 && patches.size === 0 && faults.length === 0) faults.push('it has no patches')
  return { patches: [...patches.values()], faults, keywords }
}

function lackingColumns(tables: readonly CgatsTable[]): string {
  const has = (prefix: string): boolean => tables.some(({ fields }) => fields.some((field) => field.startsWith(prefix)))
  const other = has('XYZ_') ? '; XYZ is not taken for it' : has('SPECTRAL') || has('NM') ? '; spectra are not taken for it' : ''
  return `it has no columns LAB_L, LAB_A and LAB_B${other}`
}

function takeRows(table: CgatsTable, into: Map<string, Patch & { readonly line: number }>, tell: (fault: string) => void): void {
  const at = (field: string): number => table.fields.indexOf(field)
  const idColumn = at(IDS.find((field) => at(field) >= 0)!)
  const nameColumn = at('SAMPLE_NAME')
  const inkColumns = table.fields.flatMap((field, column) =>
    /^(?:CMYK|RGB|CMY|GRAY|\d+CLR)_/.test(field) ? [{ field, column }] : [],
  )
  for (const { line, cells } of table.rows) {
    const id = idOf(cells[idColumn]!)
    const before = into.get(id)
    if (before) tell(`line ${line}: the patch '${wordText(id)}' stands in line ${before.line} already`)
    const numbers = COLOUR.map((field) => cgatsNumber(cells[at(field)]!))
    const odd = numbers.indexOf(undefined)
    if (odd >= 0) {
      const text = wordText(cells[at(COLOUR[odd]!)]!)
      tell(`line ${line}: ${COLOUR[odd]} is '${text}', which is no number${text.includes(',') ? ' with a decimal point' : ''}`)
      continue
    }
    const [l, a, b] = numbers as [number, number, number]
    if (!isColour({ l, a, b })) tell(`line ${line}: no colour has the numbers ${l}, ${a}, ${b}`)
    const inks = new Map<string, number>()
    for (const { field, column } of inkColumns) {
      const amount = cgatsNumber(cells[column]!)
      if (amount !== undefined) inks.set(field, amount)
    }
    const name = nameColumn < 0 ? '' : cells[nameColumn]!.trim()
    into.set(id, { id, name: name === '' ? undefined : name, lab: { l, a, b }, inks, line })
  }
}

/** `007` and `7` are one patch; other names are taken as they stand. */
const idOf = (text: string): string => (/^\d{1,15}$/.test(text) ? String(Number(text)) : text.trim())

export interface ComparedPatch {
  readonly reference: Patch
  readonly measured: Patch
  /** CIEDE2000. */
  readonly difference: number
}

export interface Comparison {
  readonly spread: ColourSpread
  /** The greatest difference first. */
  readonly patches: readonly ComparedPatch[]
  /** Patches of the reference that were not measured, and measured ones that the reference does not have. */
  readonly notMeasured: readonly Patch[]
  readonly notAimedAt: readonly Patch[]
  /** Patches of one name that are printed with other inks, so that they are not compared. */
  readonly otherInks: readonly OtherInk[]
  /** What both files say of the measurement, and say differently. */
  readonly conditions: readonly OtherCondition[]
}

export interface OtherInk {
  readonly patch: Patch
  readonly field: string
  readonly reference: number
  readonly measured: number
}

export interface OtherCondition {
  readonly keyword: string
  readonly reference: string
  readonly measured: string
}

/** How many patches of either file take no part in a comparison. */
export const leftOut = ({ notMeasured, notAimedAt, otherInks }: Comparison): number =>
  notMeasured.length + notAimedAt.length + otherInks.length

/** Errors: a file with faults; no patch that both have (the input is then `colour`). */
export function compareColours(reference: PatchSet, measured: PatchSet): Outcome<Comparison> {
  if (reference.faults.length > 0) return refuse('colour.reference', 'the file of the colours aimed at has a fault')
  if (measured.faults.length > 0) return refuse('colour.measured', 'the file of the measured colours has a fault')
  const found = new Map(measured.patches.map((patch) => [patch.id, patch]))
  const notMeasured: Patch[] = []
  const otherInks: OtherInk[] = []
  const compared: ComparedPatch[] = []
  for (const aim of reference.patches) {
    const patch = found.get(aim.id)
    found.delete(aim.id)
    if (!patch) notMeasured.push(aim)
    else {
      const other = otherInkOf(aim, patch)
      if (other) otherInks.push(other)
      else {
        const difference = deltaE2000({ reference: aim.lab, measured: patch.lab })
        if (!difference.ok) return difference
        compared.push({ reference: aim, measured: patch, difference: difference.value })
      }
    }
  }
  if (compared.length === 0) return refuse('colour', 'the two files have no patch in common')
  const spread = spreadOfDifferences({ differences: compared.map(({ difference }) => difference) })
  if (!spread.ok) return spread
  return ok({
    spread: spread.value,
    patches: spread.value.worst.map((i) => compared[i]!),
    notMeasured,
    notAimedAt: [...found.values()],
    otherInks,
    conditions: otherConditions(reference.keywords, measured.keywords),
  })
}

/** Files round amounts of ink to whole or half per cent; a patch of another colour is further off. */
const SAME_INK = 0.51

function otherInkOf(aim: Patch, patch: Patch): OtherInk | undefined {
  for (const [field, reference] of aim.inks) {
    const measured = patch.inks.get(field)
    if (measured !== undefined && Math.abs(measured - reference) > SAME_INK) return { patch: aim, field, reference, measured }
  }
  return undefined
}

/** Keywords of CGATS.17 and ISO 13655 that say how a colour was measured. */
const CONDITIONS = [
  'MEASUREMENT_GEOMETRY',
  'MEASUREMENT_SOURCE',
  'ILLUMINATION_NAME',
  'ILLUMINANT',
  'OBSERVER',
  'OBSERVER_ANGLE',
  'FILTER',
  'POLARIZATION',
  'SAMPLE_BACKING',
] as const

function otherConditions(reference: PatchSet['keywords'], measured: PatchSet['keywords']): readonly OtherCondition[] {
  const same = (text: string): string => text.replace(/[\s_-]+/g, '').toLowerCase()
  return CONDITIONS.flatMap((keyword) => {
    const [aim, found] = [reference.get(keyword), measured.get(keyword)]
    if (aim === undefined || found === undefined || same(aim) === same(found)) return []
    return [{ keyword, reference: aim, measured: found }]
  })
}
