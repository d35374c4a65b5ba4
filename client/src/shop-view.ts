// The shop in the side bar: a tree of printers and stocks that the server makes, in the order and with the words that a person chose. An item opens its document, or
// starts a profile where there is none.
import * as vscode from 'vscode'
import type { Server } from './server.ts'
import { placeInTheShop } from './start-profile.ts'

/** As the server answers. */
interface Node {
  readonly key: string
  readonly label: string
  readonly says: string
  readonly spoken: string
  readonly more?: string
  readonly word?: Word
  readonly uri?: string
  readonly start?: { readonly stock: string; readonly printer: string }
  readonly children?: readonly Node[]
}

type Word = 'proven' | 'carried' | 'off' | 'doubtful' | 'unknown' | 'retired' | 'empty'
type Order = 'printer' | 'stock' | 'due'

const VIEW = 'rollbook.shop'
const ORDER = 'rollbook.shopOrder'
const WORDS = 'rollbook.shopWords'

/** Each word by a shape of its own: none is told by its colour alone. */
const ICONS: Readonly<Record<Word, vscode.ThemeIcon>> = {
  off: new vscode.ThemeIcon('error', new vscode.ThemeColor('problemsErrorIcon.foreground')),
  doubtful: new vscode.ThemeIcon('warning', new vscode.ThemeColor('problemsWarningIcon.foreground')),
  unknown: new vscode.ThemeIcon('question'),
  carried: new vscode.ThemeIcon('arrow-small-right'),
  proven: new vscode.ThemeIcon('check'),
  retired: new vscode.ThemeIcon('archive'),
  empty: new vscode.ThemeIcon('dash'),
}

const FILTERS: readonly (vscode.QuickPickItem & { readonly word: Word })[] = [
  { word: 'off', label: 'off', description: vscode.l10n.t('the number is wrong, and the right one is known') },
  { word: 'doubtful', label: 'doubtful', description: vscode.l10n.t('what was measured proves too little for today') },
  { word: 'unknown', label: 'unknown', description: vscode.l10n.t('nothing usable was measured') },
  { word: 'carried', label: 'carried', description: vscode.l10n.t('brought here from other conditions, and good enough') },
  { word: 'proven', label: 'proven', description: vscode.l10n.t('good enough under just these conditions') },
]

const ORDERS: Readonly<Record<Order, string>> = {
  printer: vscode.l10n.t('by printer'),
  stock: vscode.l10n.t('by stock'),
  due: vscode.l10n.t('due first'),
}

/** While one document is typed in, the tree follows after a pause this long. */
const QUIET_MS = 400

export function registerShopView(context: vscode.ExtensionContext, server: Server): vscode.Disposable {
  const state = context.workspaceState
  const changed = new vscode.EventEmitter<undefined>()
  const order = (): Order => state.get<Order>(ORDER) ?? 'printer'
  const words = (): readonly Word[] | undefined => state.get<readonly Word[]>(WORDS)
  const provider: vscode.TreeDataProvider<Node> = {
    onDidChangeTreeData: changed.event,
    getTreeItem: itemOf,
    getChildren: async (node) => {
      if (node !== undefined) return node.children?.slice() ?? []
      try {
        const nodes = await ask(server, order(), words())
        view.message = ''
        return nodes
      } catch (error) {
        view.message = vscode.l10n.t('The shop cannot be shown: {0}.', error instanceof Error ? error.message : String(error))
        return []
      }
    },
  }
  const view: vscode.TreeView<Node> = vscode.window.createTreeView(VIEW, { treeDataProvider: provider, showCollapseAll: true })
  let waiting: NodeJS.Timeout | undefined
  let stale = false
  const refresh = (): void => {
    clearTimeout(waiting)
    stale = !view.visible
    if (view.visible) waiting = setTimeout(() => changed.fire(undefined), QUIET_MS)
  }
  const look = (): void => {
    view.description = [ORDERS[order()], ...(words() ? [words()!.join(', ')] : [])].join(' · ')
    void vscode.commands.executeCommand('setContext', ORDER, order())
    changed.fire(undefined)
  }
  const orderBy = (by: Order) => state.update(ORDER, by).then(look)
  look()
  return vscode.Disposable.from(
    changed,
    view,
    view.onDidChangeVisibility(() => stale && refresh()),
    server.onDidChangeShop(refresh),
    server.onDidChangeState((now) => now === 'running' && refresh()),
    vscode.commands.registerCommand('rollbook.shopByPrinter', () => orderBy('printer')),
    vscode.commands.registerCommand('rollbook.shopByStock', () => orderBy('stock')),
    vscode.commands.registerCommand('rollbook.shopByDay', () => orderBy('due')),
    vscode.commands.registerCommand('rollbook.openFromShop', openGroup),
    vscode.commands.registerCommand('rollbook.filterShop', async () => {
      const picked = await pickWords(words())
      if (picked) await state.update(WORDS, picked.length === FILTERS.length ? undefined : picked).then(look)
    }),
    { dispose: () => clearTimeout(waiting) },
  )
}

/** Without a folder or a document there is no shop: the view says how to begin. */
async function ask(server: Server, order: Order, words: readonly Word[] | undefined): Promise<Node[]> {
  const uri = placeInTheShop()
  if (uri === undefined) return []
  const { nodes } = await server.ask<{ nodes: Node[] }>('rollbook/shop', { uri, order, ...(words && { words }) })
  return nodes
}

function itemOf({ key, label, says, spoken, more, word, uri, start, children }: Node): vscode.TreeItem {
  const { None, Collapsed, Expanded } = vscode.TreeItemCollapsibleState
  const item = new vscode.TreeItem(label, children === undefined ? None : word === 'empty' ? Collapsed : Expanded)
  item.id = key
  item.description = says
  item.accessibilityInformation = { label: spoken }
  // What a document says reaches it: it may name no command and bring no HTML.
  if (more !== undefined) item.tooltip = new vscode.MarkdownString(more)
  if (word !== undefined) item.iconPath = ICONS[word]
  if (start !== undefined) {
    item.command = { command: 'rollbook.startProfile', title: vscode.l10n.t('Start a Profile'), arguments: [start] }
    item.contextValue = 'empty'
  } else if (uri !== undefined) {
    if (children === undefined)
      item.command = { command: 'vscode.open', title: vscode.l10n.t('Open'), arguments: [vscode.Uri.parse(uri)] }
    item.contextValue = children === undefined ? 'profile' : 'group'
  }
  return item
}

async function pickWords(now: readonly Word[] | undefined): Promise<readonly Word[] | undefined> {
  const items = FILTERS.map((item) => ({ ...item, picked: now?.includes(item.word) ?? true }))
  const picked = await vscode.window.showQuickPick(items, {
    title: vscode.l10n.t('Show Profiles That Are'),
    placeHolder: vscode.l10n.t('All of them, or some of the five words'),
    canPickMany: true,
  })
  return picked?.map(({ word }) => word)
}

/** Opens the document of a printer or a stock in the tree. */
const openGroup = (node: Node): Thenable<unknown> | undefined =>
  node.uri === undefined ? undefined : vscode.commands.executeCommand('vscode.open', vscode.Uri.parse(node.uri))
