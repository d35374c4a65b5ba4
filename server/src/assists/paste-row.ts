// A row that was pasted from a spreadsheet among the checks, tabs between its cells, as an entry. What a cell is has to show in itself: a day, a name the shop
// knows, a unit, a length that is a pattern's or next to one. Nothing is guessed, and nothing that the row does not say is written.
import { startOfLine } from '../base/lines.ts'
import type { FeatureContext } from '../features/context.ts'
import { plainOrQuoted } from '../model/edit.ts'
import type { Check } from '../model/generated/documents.ts'
import { isDate } from '../model/read.ts'
import type { Setup } from '../model/setup.ts'
import { equalSi } from '../quantities/compare.ts'
import { displayUnit } from '../quantities/display-unit.ts'
import { parseAnyQuantity } from '../quantities/parse.ts'
import type { Quantity } from '../quantities/quantity.ts'
import type { Fix } from '../rules/rule.ts'
import type { Assist } from './assist.ts'

const TITLE = 'Write this row of a spreadsheet as a feed check'

/** In the order of the format. */
const KEYS = ['date', 'commanded', 'measured', 'applied', 'with', 'web', 'lot'] as const
type Key = (typeof KEYS)[number]

/** How far a measured length may be from what was commanded: further off it may be anything. */
const NEAR = 0.05

export const pasteRow: Assist = {
  id: 'paste-row',
  summary: 'Write a row of a spreadsheet, pasted among the feed checks, as an entry.',
  kind: 'refactor',
  at({ document: { text, tree }, setup }: FeatureContext, span) {
    const feed = tree.root?.kind === 'map' ? tree.root.pair('feed')?.value : undefined
    const checks = feed?.kind === 'map' ? feed.pair('checks') : undefined
    const start = startOfLine(text, span.start)
    const [, row] = /^[ \t]*(?:-[ \t]+)?([^\s#{[-][^\r\n]*\t[^\r\n]*)/.exec(text.slice(start)) ?? []
    const list = checks?.value
    if (!setup || !checks?.key || row === undefined || /^[\w-]+:\s/.test(row) || checks.key.end > start) return []
    if (list && list.kind !== 'scalar' && (list.kind !== 'seq' || list.flow)) return []
    // Of another section is what stands behind a key as far out as the list.
    const from = startOfLine(text, checks.key.start)
    const column = checks.key.start - from
    const between = text.slice(text.indexOf('\n', checks.key.end) + 1, start).split('\n')
    if (between.some((line) => /^ *[^\s#-]/.test(line) && line.search(/\S/) <= column)) return []
    const entry = entryOf(row, setup)
    if (typeof entry !== 'string') return [entry]
    const first = list?.kind === 'seq' ? list.items[0]?.start : undefined
    const dash = first === undefined ? undefined : text.slice(startOfLine(text, first), first).search(/-/)
    const newText = `${' '.repeat(dash !== undefined && dash >= 0 ? dash : column + 2)}- ${entry}`
    const end = start + text.slice(start).search(/\r?\n|$/)
    return [{ title: TITLE, edits: [{ start, end, newText }] }]
  },
}

function entryOf(row: string, setup: Setup): string | Fix {
  const refuse = (refused: string): Fix => ({ title: TITLE, edits: [], refused })
  const found = new Map<Key, string>()
  const lengths: { readonly text: string; readonly si: number }[] = []
  const newest = setup.own.feed?.checks?.items.at(-1)
  const unit = newest?.measured?.value.unit.id ?? displayUnit(1, 'length', setup.shop.units).id
  for (const cell of row.split('\t').map((one) => one.trim())) {
    if (cell === '') continue
    const point = cell.replace(/^([-+]?\d+),(\d{1,2}|\d{4,})(?!\d)/, '$1.$2')
    const text = /^\d+(\.\d+)?$/.test(point) ? `${point} ${unit}` : point
    const key = nameOf(cell, setup)
    const quantity = key ? undefined : parseAnyQuantity(text)
    const of = key ?? (quantity && meant(quantity, newest))
    if (of === undefined)
      return refuse(
        `What '${cell}' is cannot be told: write its unit behind it, a day as 2026-03-31, and names as the shop has them.`,
      )
    if (of === 'length') lengths.push({ text, si: quantity!.si })
    else if (found.has(of)) return refuse(`Two cells can be '${of}': ${found.get(of)} and ${cell}. Leave one out.`)
    else found.set(of, plainOrQuoted(key ? cell : text))
  }
  const known = [...(setup.printer?.feed?.['pattern-lengths']?.items ?? []), ...commandedOf(setup)]
  const isKnown = ({ si }: { si: number }): boolean => known.some(({ value }) => equalSi(value.si, si, 'length'))
  const [a, b] = lengths
  if (lengths.length > 2)
    return refuse(
      `Which of ${lengths.map(({ text }) => text).join(', ')} are lengths cannot be told: write its unit behind what is none, as 0 % or 23 °C.`,
    )
  if (!found.has('date') || !a || !b)
    return refuse('A row needs a day and two lengths: what was commanded, and what was measured.')
  const commanded = isKnown(a) ? a : b
  const measured = commanded === a ? b : a
  if (!isKnown(commanded) || (isKnown(measured) && a.si !== b.si) || Math.abs(measured.si / commanded.si - 1) > NEAR)
    return refuse(
      `Which of ${a.text} and ${b.text} was commanded cannot be told: neither or both are a length of the printer's pattern or of an older check, or they are far apart.`,
    )
  found.set('commanded', commanded.text).set('measured', measured.text)
  return `{ ${KEYS.flatMap((key) => (found.has(key) ? [`${key}: ${found.get(key)}`] : [])).join(', ')} }`
}

const commandedOf = ({ own }: Setup) => (own.feed?.checks?.items ?? []).flatMap(({ commanded }) => commanded ?? [])

/** A share may be a humidity, and a temperature the room's: taken are small ones, and the web's where the newest check has that and not the other. */
function meant({ dimension, si }: Quantity, newest: Check | undefined): 'length' | 'applied' | 'web' | undefined {
  if (dimension === 'length') return 'length'
  if (dimension === 'relative') return Math.abs(si) <= NEAR ? 'applied' : undefined
  return dimension === 'temperature' && newest?.web && !newest.climate ? 'web' : undefined
}

/** A day, an instrument of the shop, or a lot of the stock. */
function nameOf(cell: string, { shop, stock }: Setup): Key | undefined {
  if (isDate(cell)) return 'date'
  if (shop.instruments.has(cell)) return 'with'
  return stock?.lots?.items.some(({ lot }) => String(lot?.value) === cell) ? 'lot' : undefined
}
