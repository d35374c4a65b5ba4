// The whole shop on one table: a row a printer, a column a stock, and where they meet what is known of each profile's length, in the five words. Pure:
// setups in, plain values out, for the command line and the editor alike.

import { feedOf } from '../../areas/feed/facts.ts'
import { toldChance, verdictOf } from '../../areas/feed/verdict.ts'
import { verdictSentences } from '../../areas/feed/verdict-words.ts'
import { feedDueOf } from '../../areas/feed/watch.ts'
import type { EvidenceWord } from '../../model/evidence-word.ts'
import { retiredOf, retiredText } from '../../model/retired.ts'
import type { Setup } from '../../model/setup.ts'

/** One profile where its printer and its stock meet. */
export interface ShopCell {
  /** Its id, and the file that holds it. */
  readonly profile: string
  readonly file: string
  /** As the profile names them; undefined where it names none. */
  readonly printer: string | undefined
  readonly stock: string | undefined
  readonly mode: string | undefined
  /** What the evidence proves of its length. */
  readonly word: EvidenceWord
  /** Probability that a print made now is within the shop's tolerance of length; undefined where there is none to tell. */
  readonly chance: number | undefined
  /** The day by which something is to be printed or keyed in, YYYY-MM-DD: today where it is due; undefined where nothing is asked for. */
  readonly due: string | undefined
  /** What sets that day: the shop's re-check time, or the risk that the feed has wandered by then. Undefined where it is due now. */
  readonly dueBy: 'recheck' | 'risk' | undefined
  /** The lot that is printed on, as far as anybody wrote it down. */
  readonly lot: string | undefined
  /** Since when profile or stock are out of use, in words; undefined for one in use. */
  readonly retired: string | undefined
  /** What to do first, or what is proven: one or more plain sentences. */
  readonly sentence: string
}

export interface ShopColumn {
  readonly stock: string
  readonly title: string | undefined
  /** Its document; undefined where profiles name a stock that is not there. */
  readonly file: string | undefined
  /** Since when the stock is out of use, and what is used instead. */
  readonly retired: string | undefined
  readonly replacedBy: string | undefined
}

export interface ShopRow {
  readonly printer: string
  readonly title: string | undefined
  readonly file: string | undefined
  /** The lots that are on the machine, by their stocks. */
  readonly lots: readonly { readonly stock: string; readonly lot: string }[]
  /** As many as there are columns; each with the profiles of that pair, by name. An empty one is neutral: not every stock runs on every printer. */
  readonly cells: readonly (readonly ShopCell[])[]
}

export interface ShopTable {
  /** The day the table speaks of, YYYY-MM-DD. */
  readonly today: string
  /** Share of prints that the shop asks to be within its tolerance. */
  readonly goal: number
  readonly columns: readonly ShopColumn[]
  readonly rows: readonly ShopRow[]
  /** Profiles in no cell, since they name no stock or no printer. */
  readonly apart: readonly ShopCell[]
}

/** What is known of a stock or a printer beside its profiles. */
export interface Known {
  readonly id: string
  readonly title: string | undefined
  readonly file: string
  readonly retired?: string | undefined
  readonly replacedBy?: string | undefined
}

/** The cell of one profile. `unsettled` says why its numbers are not known to stay, as in a merge that waits. */
export function shopCell(setup: Setup, unsettled?: string): ShopCell {
  const facts = feedOf(setup)
  const verdict = verdictOf(facts)
  const { word } = verdict
  const { profile, printer, stock, mode } = setup.profile
  const retired = retiredOf(setup)
  const next = feedDueOf(setup)
  const place = {
    profile: setup.own.profile?.value ?? profile?.value ?? '',
    file: setup.file,
    printer: printer?.value,
    stock: stock?.value,
    mode: mode?.value,
    lot: facts.lot,
    retired: retired && retiredText(retired),
  }
  if (unsettled !== undefined)
    return { ...place, word: 'doubtful', chance: undefined, due: setup.today, dueBy: undefined, sentence: unsettled }
  const known = { ...place, word, chance: toldChance(verdict) }
  if (retired) return { ...known, due: undefined, dueBy: undefined, sentence: `Out of use: ${retiredText(retired)}.` }
  const sentences = verdictSentences(facts)
  return {
    ...known,
    due: next === undefined || next.date < setup.today ? setup.today : next.date,
    dueBy: next?.by,
    sentence: [...sentences, ...(next ? [`Check again by ${next.date}.`] : [])].join(' '),
  }
}

/** The table of a shop from the cells of all its profiles and the stocks and printers that it has documents of. */
export function shopTable({
  cells,
  stocks,
  printers,
  goal,
  today,
}: {
  readonly cells: readonly ShopCell[]
  readonly stocks: readonly Known[]
  readonly printers: readonly Known[]
  readonly goal: number
  readonly today: string
}): ShopTable {
  const placed = cells.filter(({ stock, printer }) => stock !== undefined && printer !== undefined)
  const columns = named(
    stocks,
    placed.map(({ stock }) => stock!),
  ).map(([stock, known]) => ({
    stock,
    title: known?.title,
    file: known?.file,
    retired: known?.retired,
    replacedBy: known?.replacedBy,
  }))
  const rows = named(
    printers,
    placed.map(({ printer }) => printer!),
  ).map(([printer, known]): ShopRow => {
    const here = placed.filter((cell) => cell.printer === printer)
    return {
      printer,
      title: known?.title,
      file: known?.file,
      lots: lotsOf(here),
      cells: columns.map(({ stock }) =>
        here.filter((cell) => cell.stock === stock).sort((a, b) => (a.profile < b.profile ? -1 : 1)),
      ),
    }
  })
  return { today, goal, columns, rows, apart: cells.filter((cell) => !placed.includes(cell)) }
}

/** All ids, those that have no document too, in order. */
function named(known: readonly Known[], used: readonly string[]): readonly (readonly [string, Known | undefined])[] {
  const byId = new Map(known.toReversed().map((one) => [one.id, one]))
  return [...new Set([...byId.keys(), ...used])].sort().map((id) => [id, byId.get(id)])
}

function lotsOf(cells: readonly ShopCell[]): ShopRow['lots'] {
  const lots = new Map<string, { readonly stock: string; readonly lot: string }>()
  for (const { stock, lot, retired } of cells)
    if (stock !== undefined && lot !== undefined && retired === undefined) lots.set(`${stock}\n${lot}`, { stock, lot })
  return [...lots].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, one]) => one)
}

/** The order of what to do: what prints wrong now, what cannot be told, what nobody measured; then by the day. */
const FIRST: readonly EvidenceWord[] = ['off', 'doubtful', 'unknown', 'carried', 'proven']

/** All profiles in use, what is due first: of what is due now the worst word, of one word the least chance; then by the day. */
export function dueFirst({ rows, apart, today }: ShopTable): readonly ShopCell[] {
  const rank = ({ word, due }: ShopCell): number => (due === today ? FIRST.indexOf(word) : FIRST.length)
  return [...rows.flatMap(({ cells }) => cells.flat()), ...apart]
    .filter(({ due }) => due !== undefined)
    .sort(
      (a, b) =>
        rank(a) - rank(b) ||
        (a.due! < b.due! ? -1 : a.due! > b.due! ? 1 : 0) ||
        (a.chance ?? 0) - (b.chance ?? 0) ||
        (a.profile < b.profile ? -1 : 1),
    )
}
