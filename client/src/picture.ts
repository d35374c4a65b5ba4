// The picture beside the text: a panel that shows what the server draws of the profile in front. It follows the text and the cursor; a click leads to the line.
import * as vscode from 'vscode'
import { chooseProfile } from './choose-profile.ts'
import { isEarlier, LANGUAGE } from './language.ts'
import { PICTURE_SCRIPT } from './picture-page.ts'
import type { Server } from './server.ts'

/** As `rollbook/picture` answers. */
interface Drawn {
  readonly title: string
  readonly body: string
  readonly style: string
  readonly places: readonly { readonly id: string; readonly uri: string; readonly range: Lines }[]
}

interface Lines {
  readonly start: { readonly line: number; readonly character: number }
  readonly end: { readonly line: number; readonly character: number }
}

/** The picture is asked for again after a pause in typing this long. */
const QUIET_MS = 120

export function registerPicture(server: Server): vscode.Disposable {
  let shown: PicturePanel | undefined
  const show = async (): Promise<void> => {
    const document = await chooseProfile(vscode.l10n.t('Show Picture Beside'))
    if (document === undefined) return
    shown ??= new PicturePanel(server, () => {
      shown = undefined
    })
    shown.show(document.uri)
  }
  return vscode.Disposable.from(
    vscode.commands.registerCommand('rollbook.showPicture', show),
    vscode.window.onDidChangeActiveTextEditor((editor) => {
      if (editor && isProfile(editor.document)) shown?.show(editor.document.uri)
    }),
    vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => shown?.follow(textEditor)),
    // A profile rests on other documents too.
    vscode.workspace.onDidChangeTextDocument(({ document }) => {
      if (document.languageId === LANGUAGE) shown?.drawSoon()
    }),
    { dispose: () => shown?.dispose() },
  )
}

const isProfile = ({ languageId, uri }: vscode.TextDocument): boolean =>
  languageId === LANGUAGE && !isEarlier(uri) && uri.path.endsWith('.media.yaml')

class PicturePanel implements vscode.Disposable {
  private readonly panel: vscode.WebviewPanel
  private uri: vscode.Uri | undefined
  private drawn: Drawn | undefined
  private line = -1
  /** Counts what was asked, so that a late answer never covers a newer one. */
  private asked = 0
  private waiting: NodeJS.Timeout | undefined
  private style = ''

  constructor(
    private readonly server: Server,
    closed: () => void,
  ) {
    const beside = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true }
    this.panel = vscode.window.createWebviewPanel('rollbook.picture', vscode.l10n.t('Picture'), beside, {
      enableScripts: true,
      localResourceRoots: [],
    })
    this.panel.onDidDispose(() => {
      clearTimeout(this.waiting)
      this.asked++
      closed()
    })
    this.panel.webview.onDidReceiveMessage((message: { ready?: boolean; go?: string }) => {
      if (message.ready) this.put(true)
      else if (message.go !== undefined) void this.go(message.go)
    })
  }

  /** Shows a profile, and its panel where that is hidden behind another. */
  show(uri: vscode.Uri): void {
    const editor = vscode.window.activeTextEditor
    if (editor?.document.uri.toString() === uri.toString()) this.line = editor.selection.active.line
    if (uri.toString() === this.uri?.toString()) {
      this.panel.reveal(undefined, true)
      return
    }
    this.uri = uri
    void this.draw(true)
  }

  follow({ document, selection }: vscode.TextEditor): void {
    if (document.uri.toString() !== this.uri?.toString() || selection.active.line === this.line) return
    this.line = selection.active.line
    void this.panel.webview.postMessage({ line: this.line })
  }

  drawSoon(): void {
    clearTimeout(this.waiting)
    this.waiting = setTimeout(() => void this.draw(false), QUIET_MS)
  }

  dispose(): void {
    this.panel.dispose()
  }

  private async draw(other: boolean): Promise<void> {
    const { uri } = this
    if (uri === undefined) return
    const asked = ++this.asked
    const drawn = await this.server
      .ask<Drawn | null>('rollbook/picture', { textDocument: { uri: uri.toString() } })
      .catch(() => null)
    // A text that cannot be read while it is typed keeps the picture of the last one that could.
    if (asked !== this.asked || drawn === null) return
    this.drawn = drawn
    this.panel.title = vscode.l10n.t('Picture of {0}', nameOf(uri))
    if (drawn.style === this.style) this.put(other)
    else {
      this.style = drawn.style
      this.panel.webview.html = pageOf(drawn.style)
    }
  }

  /** The page asks for it when it is there, and again whenever it was hidden meanwhile. */
  private put(other: boolean): void {
    const { drawn, line } = this
    if (!drawn) return
    const uri = this.uri?.toString()
    const parts = drawn.places.flatMap(({ id, uri: file, range: { start, end } }) =>
      sameFile(file, uri)
        ? [{ id, from: start.line, to: end.character === 0 ? Math.max(start.line, end.line - 1) : end.line }]
        : [],
    )
    void this.panel.webview.postMessage({ body: drawn.body, parts, line, other })
  }

  /** Puts the cursor where a part of the picture stands. */
  private async go(id: string): Promise<void> {
    const place = this.drawn?.places.find((one) => one.id === id)
    if (!place) return
    const { start } = place.range
    const uri = vscode.Uri.parse(place.uri, true)
    const open = vscode.window.visibleTextEditors.find(({ document }) => document.uri.toString() === uri.toString())
    const at = new vscode.Range(start.line, start.character, start.line, start.character)
    await vscode.window.showTextDocument(uri, { viewColumn: open?.viewColumn ?? vscode.ViewColumn.One, selection: at })
  }
}

const sameFile = (file: string, uri: string | undefined): boolean => vscode.Uri.parse(file, true).toString() === uri

/** Nothing is loaded, and only what carries this page's own word runs. */
function pageOf(style: string): string {
  const nonce = crypto.randomUUID()
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Picture</title>
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'nonce-${nonce}'; script-src 'nonce-${nonce}'">
<style nonce="${nonce}">${style}</style></head>
<body><div id="page"></div><script nonce="${nonce}">${PICTURE_SCRIPT}</script></body></html>`
}

const nameOf = (uri: vscode.Uri): string => uri.path.slice(uri.path.lastIndexOf('/') + 1).replace(/\.media\.yaml$/, '')
