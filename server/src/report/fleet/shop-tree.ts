// The shop as a tree: for eyes at the side of an editor, and word for word for who has it read out. Every line says what it is, what is known of it and by when it is due.

import { escapeMarkdown } from '../../base/markdown.ts'
import type { EvidenceWord } from '../../model/evidence-word.ts'
import { dueFirst, type ShopCell, type ShopColumn, type ShopTable } from './shop-table.ts'

/** In which order the shop is looked at: by printer or by stock, or all profiles, what is due first. */
export type ShopOrder = 'printer' | 'stock' | 'due'

export interface ShopWish {
  readonly order?: ShopOrder
  /** Profiles with these words alone; undefined for all. Then pairs without a profile are left out. */
  readonly words?: readonly EvidenceWord[]
}

export interface ShopNode {
  /** The same for the same thing in another answer. */
  readonly key: string
  readonly label: string
  /** What is known of it, behind the label: "off, due today". */
  readonly says: string
  /** All of it in words, for who hears the tree: "banner-510 on bay-1: off, due today. Key in …". */
  readonly spoken: string
  /** Markdown that says more; undefined where there is no more. */
  readonly more?: string
  /** Of a profile its word; 'retired' for one out of use; 'empty' for a pair without a profile. */
  readonly word?: EvidenceWord | 'retired' | 'empty'
  /** The document that it is. */
  readonly file?: string
  /** The pair that a profile can be started for. */
  readonly start?: { readonly stock: string; readonly printer: string }
  readonly children?: readonly ShopNode[]
}

export function shopTree(table: ShopTable, { order = 'printer', words }: ShopWish = {}): readonly ShopNode[] {
  const wanted = (cell: ShopCell): boolean => words === undefined || (cell.retired === undefined && words.includes(cell.word))
  if (order === 'due')
    return dueFirst(table)
      .filter(wanted)
      .map((cell) => profileNode(cell, table, cell.profile))
  const groups = order === 'printer' ? printersOf(table) : stocksOf(table)
  const apart = table.apart.filter(wanted)
  return [
    ...groups.flatMap((group) => groupNode(group, table, wanted, words === undefined)),
    ...(apart.length > 0 ? [apartNode(apart, table)] : []),
  ]
}

interface Group {
  readonly kind: 'printer' | 'stock'
  readonly id: string
  readonly title: string | undefined
  readonly file: string | undefined
  /** Since when it is out of use. */
  readonly retired: string | undefined
  readonly cells: readonly ShopCell[]
  /** What it has no profile with, of what is in use. */
  readonly without: readonly string[]
}

const printersOf = ({ rows, columns }: ShopTable): readonly Group[] =>
  rows.map(({ printer, title, file, cells }) => ({
    kind: 'printer',
    id: printer,
    title,
    file,
    retired: undefined,
    cells: cells.flat(),
    without: columns.filter((column, i) => cells[i]!.length === 0 && startable(column)).map(({ stock }) => stock),
  }))

const stocksOf = ({ rows, columns }: ShopTable): readonly Group[] =>
  columns.map((column, i) => ({
    kind: 'stock',
    id: column.stock,
    title: column.title,
    file: column.file,
    retired: column.retired,
    cells: rows.flatMap(({ cells }) => cells[i]!),
    without: startable(column) ? rows.filter((row) => row.cells[i]!.length === 0 && row.file).map(({ printer }) => printer) : [],
  }))

/** A profile is started for a stock that has a document and is in use. */
const startable = ({ file, retired }: ShopColumn): boolean => file !== undefined && retired === undefined

function groupNode(group: Group, table: ShopTable, wanted: (cell: ShopCell) => boolean, all: boolean): readonly ShopNode[] {
  const { kind, id, title, file, retired } = group
  const shown = inOrder(group.cells.filter(wanted), table)
  const without = all ? group.without : []
  if (shown.length === 0 && !all) return []
  const due = shown.filter((cell) => cell.due === table.today).length
  const says = [
    counted(shown.length, 'profile'),
    ...(due > 0 ? [`${due} due`] : []),
    ...(retired === undefined ? [] : [`retired on ${retired}`]),
    ...(file === undefined ? [`there is no document of this ${kind}`] : []),
  ].join(', ')
  const name = title === undefined ? id : `${id}, ${title}`
  return [
    {
      key: `${kind} ${id}`,
      label: id,
      says,
      spoken: `${kind === 'printer' ? 'Printer' : 'Stock'} ${name}: ${says}.`,
      ...(title !== undefined && { more: escapeMarkdown(title) }),
      ...(file !== undefined && { file }),
      children: [
        ...shown.map((cell) => profileNode(cell, table, labelIn(kind, cell, shown))),
        ...(without.length > 0 ? [emptyNode(group, without)] : []),
      ],
    },
  ]
}

/** What is due first, then by name; what is out of use last. */
function inOrder(cells: readonly ShopCell[], table: ShopTable): readonly ShopCell[] {
  const rank = new Map(dueFirst(table).map((cell, i) => [cell, i]))
  const of = (cell: ShopCell): number => rank.get(cell) ?? (cell.retired === undefined ? rank.size : rank.size + 1)
  return cells.toSorted((a, b) => of(a) - of(b) || (a.profile < b.profile ? -1 : 1))
}

/** Below a printer a profile is called by its stock, and the other way round; where several are of one pair, by its own name. */
function labelIn(kind: Group['kind'], cell: ShopCell, all: readonly ShopCell[]): string {
  const other = kind === 'printer' ? ('stock' as const) : ('printer' as const)
  return all.some((one) => one !== cell && one[other] === cell[other]) ? cell.profile : (cell[other] ?? cell.profile)
}

function profileNode(cell: ShopCell, table: ShopTable, label: string): ShopNode {
  const { profile, file, printer, stock, mode, word, retired, sentence, lot } = cell
  const says = stateOf(cell, table.today)
  const pair = stock !== undefined && printer !== undefined ? `${stock} on ${printer}` : profile
  const detail = [mode, lot === undefined ? undefined : `lot ${lot}`].filter((part) => part !== undefined).join(', ')
  return {
    key: `profile ${file}`,
    label,
    says,
    spoken: `${pair}${mode === undefined ? '' : `, ${mode}`}: ${says}. ${sentence}`,
    more: [`**${escapeMarkdown(profile)}**${detail === '' ? '' : ` · ${escapeMarkdown(detail)}`}`, escapeMarkdown(sentence)].join(
      '\n\n',
    ),
    word: retired === undefined ? word : 'retired',
    file,
  }
}

/** "off, due today", "proven, next by 2026-12-10", "out of use". */
export function stateOf({ word, due, retired }: ShopCell, today: string): string {
  if (retired !== undefined) return 'out of use'
  return due === undefined ? word : `${word}, ${due <= today ? 'due today' : `next by ${due}`}`
}

/** Pairs that nobody has a profile for stand together, and say nothing against anybody: not every stock runs on every printer. */
function emptyNode({ kind, id }: Group, without: readonly string[]): ShopNode {
  const other = kind === 'printer' ? 'stock' : 'printer'
  const label = `${counted(without.length, other)} without a profile`
  return {
    key: `empty ${kind} ${id}`,
    label,
    says: '',
    spoken: `${label} ${kind === 'printer' ? 'on' : 'for'} ${id}: open the list to start one.`,
    word: 'empty',
    children: without.map((name) => {
      const start = kind === 'printer' ? { stock: name, printer: id } : { stock: id, printer: name }
      const says = 'no profile'
      return {
        key: `empty ${start.stock} ${start.printer}`,
        label: name,
        says,
        spoken: `${start.stock} on ${start.printer}: ${says}. Open it to start one.`,
        word: 'empty' as const,
        start,
      }
    }),
  }
}

function apartNode(cells: readonly ShopCell[], table: ShopTable): ShopNode {
  const label = 'In no pair'
  const says = `${counted(cells.length, 'profile')} that name no stock or no printer`
  return { key: 'apart', label, says, spoken: `${says}.`, children: cells.map((cell) => profileNode(cell, table, cell.profile)) }
}

const counted = (count: number, what: string): string => `${count} ${what}${count === 1 ? '' : 's'}`
