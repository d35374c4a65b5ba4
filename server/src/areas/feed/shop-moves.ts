// Over a shop: by how much prints of each printer became longer or shorter from one quarter to the next, and which printers moved together. Only prints of one
// profile, state and lot are compared, so that nothing has to be carried; no verdict of a profile rests on it.
import { type Move, type Moves, movesOf } from '../../calc/moves.ts'
import { scatterMixture } from '../../calc/scatter-mixture.ts'
import type { ScatterValue } from '../../calc/scatter-model.ts'
import type { StatedScatter } from '../../calc/scatter-nodes.ts'
import { daysBetween } from '../../model/dates.ts'
import { openedSince } from '../../model/events.ts'
import type { Setup } from '../../model/setup.ts'
import { spreadOf } from './facts.ts'
import { printOf } from './history.ts'
import { K95 } from './words.ts'

/** A calendar quarter: "2026-Q1". */
export type Quarter = string

export const quarterOf = (date: string): Quarter => `${date.slice(0, 4)}-Q${Math.ceil(Number(date.slice(5, 7)) / 3)}`

/** From one quarter in which something was measured to the next such. */
export interface ShopStep {
  readonly from: Quarter
  readonly to: Quarter
  /** By printer: how much longer prints became, a share of length, by prints of so many profiles. */
  readonly moves: readonly (Move & { readonly prints: number; readonly profiles: number })[]
  /** Printers of which too little was printed in both quarters to say anything. */
  readonly few: readonly string[]
  /** Printers on which something was done in between that opens the feed: they are compared with nothing. */
  readonly opened: readonly { readonly printer: string; readonly date: string; readonly what: string }[]
  /** Undefined with fewer than two printers. */
  readonly judged: Moves | undefined
}

/** Prints a group needs on either side, on days of their own: with one, nobody knows whether it was the print or the printer. */
const LEAST = 2

interface Print {
  readonly date: string
  readonly instrument: string
  readonly value: ScatterValue
}

/** The steps of a shop by the setups of its profiles, oldest first. `significance` is shared by all steps, so that many quarters find no more by chance. */
export function shopMoves(setups: readonly Setup[], significance = 0.05): readonly ShopStep[] {
  const printers = new Map<string, { setup: Setup; groups: (readonly Print[])[] }>()
  for (const setup of setups) {
    const id = setup.printer?.printer?.value
    if (id === undefined) continue
    const printer = printers.get(id) ?? { setup, groups: [] }
    printer.groups.push(...groupsOf(setup))
    printers.set(id, printer)
  }
  const all = [...printers.values()].flatMap(({ groups }) => groups.flat())
  const quarters = [...new Set(all.map(({ date }) => quarterOf(date)))].sort()
  const steps = quarters.slice(1).map((to, i) => stepOf(printers, quarters[i]!, to))
  const judged = steps.filter(({ moves }) => moves.length > 1).length
  return steps.map((step) => {
    const found = step.moves.length > 1 ? movesOf({ moves: step.moves, significance: significance / judged }) : undefined
    return { ...step, judged: found?.ok ? found.value : undefined }
  })
}

/** The prints of a profile by state and lot. */
function groupsOf(setup: Setup): readonly (readonly Print[])[] {
  const { own, stock, printer, shop, material, today } = setup
  if (!stock || !printer) return []
  const groups = new Map<string, Print[]>()
  for (const check of own.feed?.checks?.items ?? []) {
    const value = check.under && printOf(check, { media: own, stock, printer, shop, today }, material, true)
    if (!value || !check.date) continue
    const key = `${check.under.value}\n${check.lot?.value ?? ''}`
    groups.set(key, [...(groups.get(key) ?? []), { date: check.date.value, instrument: check.with?.value ?? '', value }])
  }
  return [...groups.values()].map((group) => group.sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0)))
}

function stepOf(
  printers: ReadonlyMap<string, { setup: Setup; groups: readonly (readonly Print[])[] }>,
  from: Quarter,
  to: Quarter,
): Omit<ShopStep, 'judged'> {
  const moves: ShopStep['moves'][number][] = []
  const few: string[] = []
  const opened: ShopStep['opened'][number][] = []
  for (const [id, { setup, groups }] of printers) {
    const sides = groups.map(
      (group) => [from, to].map((quarter) => group.filter(({ date }) => quarterOf(date) === quarter)) as [Print[], Print[]],
    )
    const dates = sides
      .flatMap(([before, after]) => [...before, ...after])
      .map(({ date }) => date)
      .sort()
    const first = dates[0]
    if (first === undefined) continue
    const event = openedSince(setup.printer, 'feed', first, dates.at(-1)!)
    if (event) {
      opened.push({ printer: id, date: event.date, what: event.what })
      continue
    }
    const changes = sides.flatMap((side) => changeOf(side, spreadOf(setup.printer?.feed?.repeatability)) ?? [])
    if (changes.length === 0) {
      few.push(id)
      continue
    }
    const weight = changes.reduce((sum, { u }) => sum + 1 / u ** 2, 0)
    const change = changes.reduce((sum, one) => sum + one.change / one.u ** 2, 0) / weight
    const prints = changes.reduce((sum, one) => sum + one.prints, 0)
    moves.push({ id, change, u: 1 / Math.sqrt(weight), prints, profiles: changes.length })
  }
  return { from, to, moves, few, opened }
}

/** Of one group; undefined where either side has too few days. The rule's own error is the same before and after where the same rules were used, and falls out. */
function changeOf(
  [before, after]: readonly [readonly Print[], readonly Print[]],
  repeatability: StatedScatter | undefined,
): { change: number; u: number; prints: number } | undefined {
  const days = (prints: readonly Print[]): number => new Set(prints.map(({ date }) => date)).size
  if (days(before) < LEAST || days(after) < LEAST) return undefined
  const rules = (prints: readonly Print[]): string => [...new Set(prints.map(({ instrument }) => instrument))].sort().join('\n')
  const same = rules(before) === rules(after)
  const meanOf = (prints: readonly Print[]) => {
    const newest = prints.at(-1)!.date
    const values = prints.map(({ date, value: { shared, ...own } }) => ({
      ...own,
      age: Math.max(0, daysBetween(date, newest)),
      ...(!same && shared && { shared }),
    }))
    return scatterMixture({ values, lotNow: values.at(-1)!.lot, suspicion: false, repeatability })
  }
  const [a, b] = [meanOf(before), meanOf(after)]
  if (!a.ok || !b.ok) return undefined
  // The scatter is not known: what holds 95 % of it stands for the normal distribution's.
  return {
    change: b.value.value - a.value.value,
    u: Math.hypot(a.value.U, b.value.U) / K95,
    prints: before.length + after.length,
  }
}
