// What starting a profile needs of a shop: its stocks and printers to choose from, where the new file goes, and the profiles to borrow from.

import type { Span } from '../base/span.ts'
import type { Action } from '../features/context.ts'
import type { RollDocument } from '../model/document.ts'
import type { Facts } from '../model/facts.ts'
import type { Setup } from '../model/setup.ts'
import type { Shelf } from '../model/shelf.ts'
import { fillEdits } from '../report/start/fill.ts'
import { inherited } from '../report/start/pairing.ts'
import { fillOpenSettings, type Start, startProfile } from '../report/start/start.ts'
import { isId } from '../schema/structure.ts'
import { type Analysis, severitiesOf } from './analysis.ts'
import { UNSETTLED } from './fleet.ts'
import { freeId } from './free-id.ts'
import { homeFor, mostUsed } from './homes.ts'
import type { Workspace } from './workspace.ts'

/** A stock or a printer to choose. */
export interface Choice {
  readonly id: string
  readonly title: string | undefined
}

export interface StartChoices {
  readonly stocks: readonly Choice[]
  readonly printers: readonly (Choice & { readonly modes: readonly string[] })[]
}

export interface StartWish {
  readonly stock: string
  readonly printer: string
  readonly mode?: string | undefined
  readonly id?: string | undefined
  /** The file of a profile of the same stock that the new one is to be like. */
  readonly like?: string | undefined
  /** Whether the profile may go by the name of a file that holds nothing: a shell makes the file it writes to before the command runs. */
  readonly intoBlank?: boolean
}

export type StartAnswer =
  | (Start & { readonly ok: true; readonly id: string; readonly file: string })
  | (Start & { readonly ok: false })

/** How many profiles of one printer are looked at for a neighbour: those of the same stock first. */
const MAX_LOOKED_AT = 300

export const choicesOf = (shelf: Shelf, kind: 'stock' | 'printer'): readonly Choice[] =>
  [...shelf.all(kind)]
    .flatMap(({ values }) => {
      const id = values[kind]?.text
      return id === undefined ? [] : [{ id, title: values.title?.text }]
    })
    .sort((a, b) => (a.id < b.id ? -1 : 1))

/** `at` is any file of the shop. */
export async function startChoices(workspace: Workspace, at: string): Promise<StartChoices> {
  await workspace.settled()
  const shelf = workspace.shelf(at)
  const printers = choicesOf(shelf, 'printer')
  await Promise.all(printers.map(({ id }) => loadWithId(workspace, shelf, 'printer', id)))
  return {
    stocks: choicesOf(shelf, 'stock'),
    printers: printers.map((printer) => ({
      ...printer,
      modes: [...(shelf.document('printer', printer.id)?.content?.modes?.entries.keys() ?? [])],
    })),
  }
}

/** Starts a profile for a stock and a printer that the shop has. */
export async function start(workspace: Workspace, at: string, wish: StartWish): Promise<StartAnswer> {
  await workspace.settled()
  const shelf = workspace.shelf(at)
  const { stock, printer, mode } = wish
  for (const [kind, id] of [
    ['stock', stock],
    ['printer', printer],
  ] as const)
    if (shelf.withId(kind, id).length === 0) return { ok: false, refused: `There is no ${kind} '${id}' in this shop.` }
  const others = await profilesOn(workspace, shelf, stock, printer)
  // Twice, since reading one may put another out of memory.
  for (let round = 0; round < 2; round++)
    for (const facts of [shelf.withId('stock', stock)[0], shelf.withId('printer', printer)[0], [...shelf.all('shop')][0]])
      if (facts) await workspace.load(facts.file)
  const severities = severitiesOf(shelf.shop()?.content)
  const names: readonly [string, ...string[]] = [
    `${stock}-${printer}`,
    ...(mode === undefined ? [] : [`${stock}-${mode}-${printer}`]),
  ]
  const id = wish.id ?? freeId(shelf, names, wish.intoBlank ? await blankProfiles(workspace, shelf) : undefined)
  if (!isId(id)) return { ok: false, refused: `'${id}' is no id: lower-case words joined by hyphens are.` }
  if (shelf.withId('media', id).length > 0) return { ok: false, refused: `There is a profile '${id}' already.` }
  const file = `${homeOf(shelf, printer)}${id}.media.yaml`
  const like = wish.like === undefined ? undefined : await setupAt(workspace, wish.like)
  if (wish.like !== undefined && like?.profile.stock?.value !== stock)
    return { ok: false, refused: 'A profile is carried to other printers on its own stock alone.' }
  if (wish.like !== undefined && workspace.document(wish.like)?.tree.conflicts.length) return { ok: false, refused: UNSETTLED }
  const started = startProfile({ shelf, file, id, stock, printer, mode, others, like, severities, today: workspace.host.today() })
  return started.ok ? { ...started, id, file } : started
}

async function setupAt(workspace: Workspace, file: string): Promise<Setup | undefined> {
  const document = await workspace.load(file)
  await workspace.prepare(file)
  return document && workspace.setup(document)
}

async function loadWithId(workspace: Workspace, shelf: Shelf, kind: 'stock' | 'printer', id: string): Promise<void> {
  const [facts] = shelf.withId(kind, id)
  if (facts) await workspace.load(facts.file)
}

/** The fix of a profile that leaves settings open: fills them in as a started profile has them, each with its reason. */
export async function fillOpen(analysis: Analysis, file: string, span: Span): Promise<Action | undefined> {
  const { workspace } = analysis
  const context = analysis.context(file)
  const finding = context?.findings().find(({ code }) => code === 'setting-missing')
  if (!context?.setup || !finding || finding.span.end < span.start || finding.span.start > span.end) return undefined
  const { stock, printer, profile } = context.setup.profile
  if (!stock || !printer) return undefined
  const others = (await profilesOn(workspace, context.shelf, stock.value, printer.value)).filter((one) => one.file !== file)
  await workspace.prepare(file)
  const now = analysis.context(file)
  if (!now?.setup) return undefined
  const settings = fillOpenSettings(now.setup, {
    shelf: now.shelf,
    file,
    id: profile?.value ?? '',
    stock: stock.value,
    printer: printer.value,
    others,
    today: now.today,
  })
  if (settings.length === 0) return undefined
  const title = `Fill in ${settings.length === 1 ? 'the open setting' : `${settings.length} open settings`} as a started profile has them, with the reasons`
  const edit = fillEdits(now.document as RollDocument, settings)
  const action = { title, kind: 'quickfix', file, code: finding.code, mends: { file: finding.file, span: finding.span } } as const
  return edit.ok ? { ...action, edits: edit.edits } : { ...action, edits: [], refused: edit.refused }
}

/** One after the other, so that however many there are, few are in memory at once. */
async function profilesOn(workspace: Workspace, shelf: Shelf, stock: string, printer: string): Promise<readonly Setup[]> {
  const all = [...shelf.all('media')].filter((facts) => inherited(shelf, facts, 'printer') === printer)
  const same = (facts: Facts): boolean => inherited(shelf, facts, 'stock') === stock
  const wanted = [...all.filter(same), ...all.filter((facts) => !same(facts))].slice(0, MAX_LOOKED_AT)
  const setups: Setup[] = []
  for (const { file } of wanted) {
    const document = await workspace.load(file)
    // Of a merge conflict nobody knows yet which numbers will stay.
    if (!document || document.tree.conflicts.length > 0) continue
    await workspace.prepare(file)
    const setup = workspace.setup(document)
    if (setup) setups.push(setup)
  }
  return setups
}

/** Files of profiles in which nothing is written. */
async function blankProfiles(workspace: Workspace, shelf: Shelf): Promise<ReadonlySet<string>> {
  const blank = new Set<string>()
  for (const { file, values } of shelf.all('media'))
    if (Object.keys(values).length === 0 && (await workspace.load(file))?.text.trim() === '') blank.add(file)
  return blank
}

/** The folder that holds most profiles, those on the printer first. */
function homeOf(shelf: Shelf, printer: string): string {
  return (
    mostUsed([...shelf.all('media')].filter((facts) => inherited(shelf, facts, 'printer') === printer)) ??
    homeFor(shelf, 'media', '')
  )
}
