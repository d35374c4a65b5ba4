// Pages beside the text: the sheet for the wall, what to key in at a printer, one stock on its printers, the whole shop. The server makes them whole; nothing in
// them runs. And the questions of a sheet that somebody wrote on.
import * as vscode from 'vscode'
import type { TextEdit } from 'vscode-languageclient'
import { chooseProfile } from './choose-profile.ts'
import { LANGUAGE } from './language.ts'
import type { Server } from './server.ts'
import { pick, placeInTheShop, tell } from './start-profile.ts'
import { ON_NODE } from './transport.ts'

type Kind = 'sheet' | 'to-key' | 'differences' | 'shop'

/** The commands, by the page that they show. */
const COMMANDS: Readonly<Record<Kind, { readonly command: string; readonly title: string }>> = {
  sheet: { command: 'rollbook.showSheet', title: vscode.l10n.t('Show the Wall Sheet') },
  'to-key': { command: 'rollbook.showToKey', title: vscode.l10n.t('What to Key In') },
  differences: { command: 'rollbook.comparePrinters', title: vscode.l10n.t('Compare Printers') },
  shop: { command: 'rollbook.showShopPage', title: vscode.l10n.t('Show the Shop as a Page') },
}

/** As `rollbook/page` answers: with choices where it is not said of what. */
interface Answer {
  readonly title: string
  readonly html: string
  readonly choices?: readonly { readonly id: string; readonly title?: string }[]
}

interface Wish {
  readonly uri: string
  readonly kind: Kind
  readonly of?: string
}

/** A page is asked for again after a pause in typing this long. */
const QUIET_MS = 400

export function registerPages(server: Server): vscode.Disposable {
  const open = new Set<Page>()
  const show = async (kind: Kind, of?: string): Promise<void> => {
    const { title } = COMMANDS[kind]
    const uri = kind === 'sheet' ? (await chooseProfile(title))?.uri.toString() : placeInTheShop()
    if (uri === undefined)
      return kind === 'sheet' ? undefined : tell(vscode.l10n.t('Open the folder of your shop, or one of its documents.'))
    const first = await ask(server, { uri, kind, ...(of !== undefined && { of }) })
    const chosen = of ?? (first?.choices && (await pick(title, first.choices)))
    if (!first || (first.choices && chosen === undefined)) return
    const wish = { uri, kind, ...(chosen !== undefined && { of: chosen }) }
    const answer = first.choices ? await ask(server, wish) : first
    if (answer?.html === undefined) return tell(vscode.l10n.t("There is no '{0}' in this shop.", chosen ?? ''))
    const page: Page = new Page(server, wish, () => open.delete(page))
    open.add(page)
    page.put(answer)
  }
  let waiting: NodeJS.Timeout | undefined
  return vscode.Disposable.from(
    ...Object.entries(COMMANDS).map(([kind, { command }]) =>
      vscode.commands.registerCommand(command, (of?: unknown) => show(kind as Kind, typeof of === 'string' ? of : undefined)),
    ),
    vscode.commands.registerCommand('rollbook.printPage', () => [...open].find((page) => page.isInFront)?.print()),
    vscode.commands.registerCommand('rollbook.enterSheet', () => enterSheet(server)),
    vscode.workspace.onDidChangeTextDocument(({ document }) => {
      if (document.languageId !== LANGUAGE) return
      clearTimeout(waiting)
      waiting = setTimeout(() => open.forEach((page) => void page.again()), QUIET_MS)
    }),
    {
      dispose: () => {
        clearTimeout(waiting)
        for (const page of open) page.dispose()
      },
    },
  )
}

const ask = (server: Server, wish: Wish): Promise<Answer | null> =>
  server.ask<Answer | null>('rollbook/page', { ...wish, trusted: vscode.workspace.isTrusted })

class Page implements vscode.Disposable {
  private readonly panel: vscode.WebviewPanel
  private html = ''

  constructor(
    private readonly server: Server,
    private readonly wish: Wish,
    closed: () => void,
  ) {
    const beside = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true }
    this.panel = vscode.window.createWebviewPanel(`rollbook.${wish.kind}`, COMMANDS[wish.kind].title, beside, {
      localResourceRoots: [],
    })
    this.panel.onDidDispose(closed)
  }

  put({ title, html }: Answer): void {
    this.html = html
    this.panel.title = title
    this.panel.webview.html = html
  }

  /** A text that cannot be read while it is typed keeps the page of the last one that could. */
  async again(): Promise<void> {
    const answer = await ask(this.server, this.wish).catch(() => null)
    if (answer?.html !== undefined && answer.html !== this.html) this.put(answer)
  }

  get isInFront(): boolean {
    return this.panel.active
  }

  /** Panels of an editor cannot print: a browser does. */
  async print(): Promise<void> {
    if (!ON_NODE)
      return tell(
        vscode.l10n.t(
          'There is no disk here to hand the page to a browser by: print it from VS Code on a computer, or with the command rollbook.',
        ),
      )
    const { temporaryFolder } = await import('./disk.ts')
    const file = vscode.Uri.joinPath(vscode.Uri.file(await temporaryFolder()), `${this.wish.kind}.html`)
    await vscode.workspace.fs.writeFile(file, new TextEncoder().encode(this.html))
    await vscode.env.openExternal(file)
  }

  dispose(): void {
    this.panel.dispose()
  }
}

interface Step {
  readonly question?: {
    readonly part: string
    readonly ask: string
    readonly proposed?: string
    readonly choices?: readonly string[]
    readonly fault?: string
  }
  readonly edits?: readonly TextEdit[]
  readonly told?: readonly string[]
}

/** Question by question, in the order of the sheet; whoever leaves, leaves the profile as it was. */
async function enterSheet(server: Server): Promise<void> {
  const document = await chooseProfile(vscode.l10n.t('Enter the Values of a Sheet'))
  if (document === undefined) return
  const textDocument = { uri: document.uri.toString() }
  const { version } = document
  const answers: string[] = []
  for (;;) {
    const step = await server.ask<Step | null>('rollbook/enterSheet', { textDocument, answers })
    if (!step) return tell(vscode.l10n.t('The text of this profile is broken: put that right first.'))
    const { question, edits, told = [] } = step
    if (question === undefined) {
      if (told.length === 0) return tell(vscode.l10n.t('Nothing is written.'))
      if (document.version !== version) return tell(vscode.l10n.t('Nothing is written: the profile was changed meanwhile.'))
      await server.apply({ changes: { [textDocument.uri]: [...(edits ?? [])] } })
      return
    }
    const { part, ask: prompt, proposed, choices, fault } = question
    const answer = await vscode.window.showInputBox({
      title: part,
      prompt: [fault, `${prompt}${choices ? `: ${choices.join(', ')}` : ''}`].filter((text) => text !== undefined).join(' '),
      ...(proposed !== undefined && { value: proposed }),
      ignoreFocusOut: true,
    })
    if (answer === undefined) return
    // What is proposed stands there to be taken: taken away, the cell is left open.
    answers.push(answer.trim() === '' && proposed !== undefined ? '-' : answer)
  }
}
