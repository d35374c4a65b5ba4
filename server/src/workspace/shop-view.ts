// The shop in view: its tree from the cells of its profiles, which whoever asks keeps from one time to the next.

import { resolveShop } from '../model/shop.ts'
import { type ShopCell, shopTable } from '../report/fleet/shop-table.ts'
import { type ShopNode, type ShopWish, shopTree, stateOf } from '../report/fleet/shop-tree.ts'
import { knownOf } from './fleet.ts'
import type { Workspace } from './workspace.ts'

export type { ShopCell, ShopNode, ShopWish }

/** A file of the shop that is in view: one given, where profiles are in its shop; else that of the first profile there is. */
export function inView(workspace: Workspace, at: string): string {
  const [here] = workspace.shelf(at).all('media')
  return here ? at : (workspace.everything().find(({ kind }) => kind === 'media')?.file ?? at)
}

export async function shopViewOf(
  workspace: Workspace,
  at: string,
  cells: readonly ShopCell[],
  wish: ShopWish,
): Promise<readonly ShopNode[]> {
  const [stocks, printers] = [await knownOf(workspace, at, 'stock'), await knownOf(workspace, at, 'printer')]
  const shelf = workspace.shelf(at)
  for (const { file } of [...shelf.all('shop')]) await workspace.load(file)
  const goal = 1 - resolveShop(shelf.shop()?.content).tolerance.risk.value
  return shopTree(shopTable({ cells, stocks, printers, goal, today: workspace.host.today() }), wish)
}

/** What is known of one profile, in a few words and in full. */
export interface ProfileWord {
  readonly word: ShopCell['word'] | 'retired'
  /** "off, due today" */
  readonly says: string
  readonly sentence: string
}

export const wordOf = (cell: ShopCell, today: string): ProfileWord => ({
  word: cell.retired === undefined ? cell.word : 'retired',
  says: stateOf(cell, today),
  sentence: cell.sentence,
})
