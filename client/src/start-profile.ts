// Starts a profile: asks for a stock, a printer and a mode of the shop, and opens the text that the server makes as a new file beside the other profiles.
import * as vscode from 'vscode'
import { chooseProfile } from './choose-profile.ts'
import { isAtHome, LANGUAGE } from './language.ts'
import type { Server } from './server.ts'

/** What is not given is asked for. */
export interface StartWish {
  readonly stock?: string
  readonly printer?: string
  readonly mode?: string
}

interface Choice {
  readonly id: string
  readonly title?: string
}

interface Choices {
  readonly stocks: readonly Choice[]
  readonly printers: readonly (Choice & { readonly modes: readonly string[] })[]
}

interface Started {
  readonly refused?: string
  readonly uri?: string
  readonly text: string
  readonly problems: readonly string[]
}

const METHOD = 'rollbook/start'

export async function startProfile(server: Server, wish: StartWish = {}): Promise<void> {
  const uri = placeInTheShop()
  if (uri === undefined) return tell(vscode.l10n.t('Open the folder of your shop, or one of its documents, to start a profile.'))
  const { stocks, printers } = await server.ask<Choices>(METHOD, { uri })
  if (stocks.length === 0 || printers.length === 0)
    return tell(vscode.l10n.t('A profile joins a stock with a printer: make a new stock and a new printer first.'))
  const stock = wish.stock ?? (await pick(vscode.l10n.t('New Profile: Stock'), stocks))
  if (stock === undefined) return
  const printer = wish.printer ?? (await pick(vscode.l10n.t('New Profile: Printer'), printers))
  if (printer === undefined) return
  const modes = printers.find(({ id }) => id === printer)?.modes ?? []
  const asks = wish.mode === undefined && modes.length > 1
  const mode = asks
    ? await pick(
        vscode.l10n.t('New Profile: Mode'),
        modes.map((id) => ({ id })),
      )
    : wish.mode
  if (asks && mode === undefined) return
  await open(await server.ask<Started>(METHOD, { uri, stock, printer, mode }))
}

/** One that prints the stock of a profile on another printer: its settings are carried to the safe side, and its evidence is not. */
export async function profileLike(server: Server, printer?: string): Promise<void> {
  const document = await chooseProfile(vscode.l10n.t('New Profile Like This One'))
  if (document === undefined) return
  const uri = document.uri.toString()
  const { printers } = await server.ask<Choices>(METHOD, { uri })
  const chosen = printer ?? (await pick(vscode.l10n.t('New Profile Like This One: Printer'), printers))
  if (chosen !== undefined) await open(await server.ask<Started>(METHOD, { uri, like: uri, printer: chosen }))
}

async function open({ refused, uri, text, problems }: Started): Promise<void> {
  if (refused !== undefined) return tell(refused)
  if (uri === undefined) return tell(vscode.l10n.t('This profile names no stock: nothing can be carried from it.'))
  await openAsNewFile(vscode.Uri.parse(uri), text)
  if (problems.length > 0) tell(problems.join(' '))
}

/** A document of ours in front tells the shop, else the first folder does. */
export function placeInTheShop(): string | undefined {
  const document = vscode.window.activeTextEditor?.document
  if (document?.languageId === LANGUAGE && document.uri.scheme !== 'untitled' && isAtHome(document.uri))
    return document.uri.toString()
  const [folder] = vscode.workspace.workspaceFolders ?? []
  return folder && vscode.Uri.joinPath(folder.uri, 'rollbook.yaml').toString()
}

export async function pick(title: string, choices: readonly Choice[]): Promise<string | undefined> {
  const items = choices.map(({ id, title: description }) => ({ label: id, ...(description && { description }) }))
  const picked = await vscode.window.showQuickPick(items, { title, matchOnDescription: true })
  return picked?.label
}

/** Created rather than untitled: only a document among the others finds its stock and printer. Undo takes it away again. */
async function openAsNewFile(file: vscode.Uri, text: string): Promise<void> {
  const edit = new vscode.WorkspaceEdit()
  edit.createFile(file, { ignoreIfExists: false, contents: new TextEncoder().encode(text) })
  if (await vscode.workspace.applyEdit(edit)) await vscode.window.showTextDocument(await vscode.workspace.openTextDocument(file))
  else tell(vscode.l10n.t('{0} could not be written.', file.path))
}

export function tell(message: string): void {
  void vscode.window.showInformationMessage(message)
}
