// The profiles of a whole shop one after the other, so that however many there are, few are in memory at once; and the table of the shop from them.
import type { Facts } from '../model/facts.ts'
import { retiredOf } from '../model/retired.ts'
import type { Setup } from '../model/setup.ts'
import { resolveShop } from '../model/shop.ts'
import { type Differences, differencesOn } from '../report/fleet/differences.ts'
import { type Known, type ShopCell, type ShopTable, shopCell, shopTable } from '../report/fleet/shop-table.ts'
import { type OnPrinter, type ToKeySlot, toKey } from '../report/fleet/to-key.ts'
import { inherited } from '../report/start/pairing.ts'
import type { Analysis } from './analysis.ts'
import type { Workspace } from './workspace.ts'

/** A profile that holds conflict marks: which of its numbers will stay nobody knows yet. */
export const UNSETTLED = 'A merge waits in this profile: settle it first.'

export interface ShopSetup {
  readonly setup: Setup
  /** Why its numbers are not known to stay; undefined where they are. */
  readonly unsettled: string | undefined
}

/** The profiles of the shop that a file lies in, in the order of their files, those that `wanted` takes. What cannot be read is left out: `workspace.unread` tells. */
export async function* setupsOf(
  workspace: Workspace,
  at: string,
  wanted: (facts: Facts) => boolean = () => true,
): AsyncGenerator<ShopSetup, void> {
  await workspace.settled()
  for (const facts of [...workspace.shelf(at).all('media')]) {
    if (!wanted(facts)) continue
    const document = await workspace.load(facts.file)
    if (!document) continue
    await workspace.prepare(facts.file)
    const setup = workspace.setup(document)
    if (setup) yield { setup, unsettled: document.tree.conflicts.length > 0 ? UNSETTLED : undefined }
  }
}

/** What is to be keyed in at a printer, slot by slot. */
export async function toKeyOf(analysis: Analysis, at: string, printer: string): Promise<readonly ToKeySlot[]> {
  const { workspace } = analysis
  const shelf = workspace.shelf(at)
  const profiles: OnPrinter[] = []
  for await (const { setup, unsettled } of setupsOf(workspace, at, (facts) => inherited(shelf, facts, 'printer') === printer)) {
    // What is wrong with an inherited setting is told where it stands.
    const files = [setup.file, ...setup.bases.map(({ file }) => file)]
    for (const file of files) await workspace.prepare(file)
    profiles.push({ setup, unsettled, findings: files.flatMap((file) => analysis.findings(file)) })
  }
  return toKey(profiles)
}

/** A profile that is loaded as its sheet tells of it: also what may hurt somebody by a rule that the shop ignores. */
export function onSheet(analysis: Analysis, setup: Setup): OnPrinter {
  const files = [setup.file, ...setup.bases.map(({ file }) => file)]
  const conflicts = files.some((file) => (analysis.workspace.document(file)?.tree.conflicts.length ?? 0) > 0)
  return {
    setup,
    unsettled: conflicts ? UNSETTLED : undefined,
    findings: files.flatMap((file) => [...analysis.findings(file), ...analysis.dangers(file)]),
  }
}

/** How one stock prints on the printers of a shop: the profiles in use whose numbers are known to stay. */
export async function differencesOf(workspace: Workspace, at: string, stock: string): Promise<Differences> {
  const shelf = workspace.shelf(at)
  const setups: Setup[] = []
  for await (const { setup, unsettled } of setupsOf(workspace, at, (facts) => inherited(shelf, facts, 'stock') === stock))
    if (unsettled === undefined && !retiredOf(setup)) setups.push(setup)
  return differencesOn(stock, setups)
}

/** The stocks or printers that a shop has documents of. */
export async function knownOf(workspace: Workspace, at: string, kind: 'stock' | 'printer'): Promise<readonly Known[]> {
  const known: Known[] = []
  const today = workspace.host.today()
  for (const { file, values } of [...workspace.shelf(at).all(kind)]) {
    const id = values[kind]?.text
    if (id === undefined) continue
    const content = kind === 'stock' ? (await workspace.load(file))?.content : undefined
    const { retired, 'replaced-by': replaced } = (content ?? {}) as Pick<NonNullable<Setup['stock']>, 'retired' | 'replaced-by'>
    const out = retired !== undefined && retired.value <= today
    known.push({
      id,
      title: values.title?.text,
      file,
      ...(out && { retired: retired.value, replacedBy: replaced?.value }),
    })
  }
  return known
}

/** The table of the shop that a file lies in. */
export async function shopTableOf(workspace: Workspace, at: string): Promise<ShopTable> {
  const cells: ShopCell[] = []
  for await (const { setup, unsettled } of setupsOf(workspace, at)) cells.push(shopCell(setup, unsettled))
  const [stocks, printers] = [await knownOf(workspace, at, 'stock'), await knownOf(workspace, at, 'printer')]
  const shelf = workspace.shelf(at)
  for (const { file } of [...shelf.all('shop')]) await workspace.load(file)
  const goal = 1 - resolveShop(shelf.shop()?.content).tolerance.risk.value
  return shopTable({ cells, stocks, printers, goal, today: workspace.host.today() })
}
