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

/** Ones that print the stock of a profile on other printers: its settings are carried to the safe side, and its evidence is not. All of them, or none. */
export async function profileLike(server: Server, printer?: string): Promise<void> {
  const document = await chooseProfile(vscode.l10n.t('New Profile Like This One'))
  if (document === undefined) return
  const uri = document.uri.toString()
  const { printers } = await server.ask<Choices>(METHOD, { uri })
  const started: Started[] = []
  for (const { label } of printer === undefined
    ? await pickSome(vscode.l10n.t('New Profile Like This One: Printers'), printers)
    : [{ label: printer }])
    started.push(await server.ask<Started>(METHOD, { uri, like: uri, printer: label }))
  if (started.length > 0) await open(...started)
}

async function open(...started: readonly Started[]): Promise<void> {
  const refused = started.find((one) => one.refused !== undefined)?.refused
  if (refused !== undefined) return tell(refused)
  const files = started.map(({ uri, text }) => [uri, text] as const)
  if (files.some(([uri]) => uri === undefined))
    return tell(vscode.l10n.t('This profile names no stock: nothing can be carried from it.'))
  await openAsNewFiles(files.map(([uri, text]) => [vscode.Uri.parse(uri!), text] as const))
  const problems = started.flatMap((one) => one.problems)
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
  return (await vscode.window.showQuickPick(itemsOf(choices), { title, matchOnDescription: true }))?.label
}

const pickSome = async (title: string, choices: readonly Choice[]) =>
  (await vscode.window.showQuickPick(itemsOf(choices), { title, matchOnDescription: true, canPickMany: true })) ?? []

const itemsOf = (choices: readonly Choice[]) =>
  choices.map(({ id, title: description }) => ({ label: id, ...(description && { description }) }))

/** Created rather than untitled: only a document among the others finds its stock and printer. Undo takes them away again. */
async function openAsNewFiles(files: readonly (readonly [file: vscode.Uri, text: string])[]): Promise<void> {
  const edit = new vscode.WorkspaceEdit()
  for (const [file, text] of files) edit.createFile(file, { ignoreIfExists: false, contents: new TextEncoder().encode(text) })
  if (!(await vscode.workspace.applyEdit(edit)))
    return tell(vscode.l10n.t('{0} could not be written.', files.map(([{ path }]) => path).join(', ')))
  for (const [file] of [...files].reverse())
    await vscode.window.showTextDocument(
      await vscode.workspace.openTextDocument(file),
      files.length > 1 ? { preview: false } : {},
    )
}

export function tell(message: string): void {
  void vscode.window.showInformationMessage(message)
}
