// What the work at hand does to prints, in a panel beside it: against what is saved, the last commit or the main branch. A line of it leads to its document, and a
// document that changed to the editor's own comparison of both texts.
import * as vscode from 'vscode'
import { EARLIER } from './language.ts'
import { reviewPage } from './review-page.ts'
import type { Server } from './server.ts'
import { placeInTheShop, tell } from './start-profile.ts'
import { ON_NODE } from './transport.ts'

/** The server is told of it, so that it puts it above a text that is not saved. */
export const REVIEW = 'rollbook.reviewChanges'

type Against = 'saved' | 'commit' | 'main'

/** What the review is of: a document of the shop, or a place where one would be. */
interface Wish {
  readonly uri: string
  readonly against: Against
  /** Also what is the same and written anew, and what moves by less than is shown. */
  readonly all?: boolean
}

/** As the server answers: a link leads to a document, to its earlier text, or to both side by side. */
interface Lead {
  readonly uri?: string
  readonly line?: number
  readonly before?: { readonly uri: string; readonly at: string }
}

interface Reviewed {
  readonly refused?: string
  readonly title: string
  readonly body: string
  readonly leads: readonly Lead[]
}

const CHOICES: readonly (vscode.QuickPickItem & { readonly against: Against })[] = [
  { against: 'saved', label: vscode.l10n.t('Saved version'), description: vscode.l10n.t('what is typed and not saved yet') },
  {
    against: 'commit',
    label: vscode.l10n.t('Last commit'),
    description: vscode.l10n.t('what is not committed yet, saved or not'),
  },
  { against: 'main', label: vscode.l10n.t('Main branch'), description: vscode.l10n.t('all since this work left it') },
]

export function registerReview(server: Server): vscode.Disposable {
  let shown: ReviewPanel | undefined
  const show = async (wished?: Against): Promise<void> => {
    const uri = placeInTheShop()
    if (uri === undefined)
      return tell(vscode.l10n.t('Open the folder of your shop, or one of its documents, to review what changed.'))
    const against = wished ?? (await pick(uri))
    if (against === undefined) return
    const reviewed = await ask(server, { uri, against })
    if (reviewed === undefined) return
    shown ??= new ReviewPanel(server, () => {
      shown = undefined
    })
    shown.show({ uri, against }, reviewed)
  }
  const changed = new vscode.EventEmitter<vscode.Uri>()
  return vscode.Disposable.from(
    changed,
    vscode.commands.registerCommand(REVIEW, show),
    vscode.workspace.registerTextDocumentContentProvider(EARLIER, {
      onDidChange: changed.event,
      provideTextDocumentContent: (uri) => textBefore(server, uri),
    }),
    // Of what is saved the earlier text is another once it is saved again.
    vscode.workspace.onDidSaveTextDocument(({ uri }) => {
      for (const { uri: page } of vscode.workspace.textDocuments)
        if (page.scheme === EARLIER && page.path === uri.path) changed.fire(page)
    }),
    { dispose: () => shown?.dispose() },
  )
}

/** Older versions are git's, which is run for folders on disk that a person trusts. */
async function pick(uri: string): Promise<Against | undefined> {
  const title = vscode.l10n.t('Review Changes: Compare With')
  const why =
    !ON_NODE || !uri.startsWith('file:')
      ? vscode.l10n.t('There is no git here, so that only what is saved can be compared.')
      : vscode.workspace.isTrusted
        ? undefined
        : vscode.l10n.t('Git is run in a trusted folder alone, so that only what is saved can be compared.')
  const choices = why === undefined ? CHOICES : CHOICES.slice(0, 1)
  const picked = await vscode.window.showQuickPick(choices, {
    title,
    ...(why && { placeHolder: why }),
  })
  return picked?.against
}

/** Undefined where there is no review: the person is told why. */
async function ask(server: Server, wish: Wish): Promise<Reviewed | undefined> {
  const params = { ...wish, trusted: vscode.workspace.isTrusted }
  const location = { location: vscode.ProgressLocation.Window, title: vscode.l10n.t('Rollbook: reviewing changes') }
  try {
    const reviewed = await vscode.window.withProgress(location, () => server.ask<Reviewed>('rollbook/review', params))
    if (reviewed.refused === undefined) return reviewed
    tell(reviewed.refused)
  } catch (error) {
    tell(vscode.l10n.t('The changes cannot be reviewed: {0}.', error instanceof Error ? error.message : String(error)))
  }
  return undefined
}

class ReviewPanel implements vscode.Disposable {
  private readonly panel: vscode.WebviewPanel
  private wish: Wish | undefined
  private leads: readonly Lead[] = []

  constructor(
    private readonly server: Server,
    closed: () => void,
  ) {
    const beside = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true }
    this.panel = vscode.window.createWebviewPanel('rollbook.review', vscode.l10n.t('Review'), beside, {
      enableScripts: true,
      localResourceRoots: [],
    })
    this.panel.onDidDispose(closed)
    this.panel.webview.onDidReceiveMessage((message: { again?: { all: boolean }; go?: number }) => {
      if (message.again) void this.again(message.again.all)
      else if (message.go !== undefined) void go(this.leads[message.go])
    })
  }

  show(wish: Wish, { title, body, leads }: Reviewed): void {
    this.wish = wish
    this.leads = leads
    this.panel.title = vscode.l10n.t('Review of Changes')
    this.panel.webview.html = reviewPage(title, body, crypto.randomUUID())
    this.panel.reveal(undefined, true)
  }

  dispose(): void {
    this.panel.dispose()
  }

  private async again(all: boolean): Promise<void> {
    const wish = this.wish && { ...this.wish, all }
    const reviewed = wish && (await ask(this.server, wish))
    if (wish && reviewed) this.show(wish, reviewed)
  }
}

/** Beside the review, where documents are. */
async function go(lead: Lead | undefined): Promise<void> {
  if (!lead) return
  const { uri, line = 0, before } = lead
  const now = uri === undefined ? undefined : vscode.Uri.parse(uri, true)
  const earlier = before && earlierUri(before)
  const open = vscode.window.visibleTextEditors.find(({ document }) => document.uri.toString() === now?.toString())
  const viewColumn = open?.viewColumn ?? vscode.ViewColumn.One
  if (now && earlier) await vscode.commands.executeCommand('vscode.diff', earlier, now, diffTitle(now), { viewColumn })
  else if (now) await vscode.window.showTextDocument(now, { viewColumn, selection: new vscode.Range(line, 0, line, 0) })
  else if (earlier) await vscode.window.showTextDocument(earlier, { viewColumn })
}

const diffTitle = (uri: vscode.Uri): string => vscode.l10n.t('{0} (before ↔ now)', uri.path.slice(uri.path.lastIndexOf('/') + 1))

/** Its name tells the language; the query is what the server is asked. */
const earlierUri = (before: NonNullable<Lead['before']>): vscode.Uri =>
  vscode.Uri.from({ scheme: EARLIER, path: vscode.Uri.parse(before.uri, true).path, query: JSON.stringify(before) })

async function textBefore(server: Server, page: vscode.Uri): Promise<string> {
  const params = { ...(JSON.parse(page.query) as object), trusted: vscode.workspace.isTrusted }
  const { refused, text } = await server.ask<{ refused?: string; text: string }>('rollbook/textBefore', params)
  if (refused !== undefined) throw new Error(refused)
  return text
}
