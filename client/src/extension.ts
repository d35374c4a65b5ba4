// The extension's entry: registers the commands and the status item, and starts the language server once a Rollbook document is open.
import * as vscode from 'vscode'
import { registerCommands } from './commands.ts'
import { isAtHome, LANGUAGE } from './language.ts'
import { registerPages } from './pages.ts'
import { registerPicture } from './picture.ts'
import { registerReview } from './review.ts'
import { Server } from './server.ts'
import { registerShopView } from './shop-view.ts'
import { registerShowReferences } from './show-references.ts'
import { registerProfileWord, registerStatus } from './status.ts'
import { registerSuggestAgain } from './suggest-again.ts'
import { registerViews } from './views.ts'

let server: Server | undefined

export function activate(context: vscode.ExtensionContext): void {
  const log = vscode.window.createOutputChannel('Rollbook', { log: true })
  server = new Server(vscode.Uri.joinPath(context.extensionUri, 'dist'), log)
  context.subscriptions.push(log, server, registerStatus(server), registerViews(server), registerCommands(context, server))
  context.subscriptions.push(registerSuggestAgain(), registerShowReferences(), registerProfileWord(server))
  context.subscriptions.push(registerShopView(context, server))
  context.subscriptions.push(registerPicture(server), registerReview(server), registerPages(server))
  void vscode.commands.executeCommand('setContext', 'rollbook.active', true)
  startWithTheFirstDocument(context, server)
}

/** Lets the server end in an orderly way; VS Code waits for it. */
export function deactivate(): Promise<void> | undefined {
  return server?.stop()
}

/** A command of ours may activate the extension in a window without a document: then the server is not yet needed. */
function startWithTheFirstDocument(context: vscode.ExtensionContext, server: Server): void {
  const take = ({ languageId, uri }: vscode.TextDocument): void => {
    if (languageId === LANGUAGE && (server.state === 'idle' || isAtHome(uri))) void server.startFor(uri.scheme)
  }
  vscode.workspace.textDocuments.forEach(take)
  context.subscriptions.push(vscode.workspace.onDidOpenTextDocument(take))
}
