// Which profile a command works on: the one in front, else one that is open, else one that the person picks from the shop.
import * as vscode from 'vscode'
import { isEarlier, LANGUAGE } from './language.ts'

const PROFILES = '**/*.media.yaml'
/** A list to choose from; a shop has fewer stocks and printers than this together. */
const MAX_LISTED = 2000

/** Shows the profile that is chosen, since what the command does is seen in it. Tells what to do where there is none. */
export async function chooseProfile(title: string): Promise<vscode.TextDocument | undefined> {
  const active = vscode.window.activeTextEditor?.document
  if (active !== undefined && isProfile(active.uri) && active.languageId === LANGUAGE) return active
  const uri = await choose(title, openProfiles())
  if (uri === undefined) return undefined
  const editor = await vscode.window.showTextDocument(uri, { preview: false })
  return editor.document
}

/** One open profile needs no question; several, or those of the shop, are offered. */
async function choose(title: string, open: readonly vscode.Uri[]): Promise<vscode.Uri | undefined> {
  if (open.length === 1) return open[0]
  const found = open.length > 0 ? open : await vscode.workspace.findFiles(PROFILES, '**/node_modules/**', MAX_LISTED)
  if (found.length === 0) return tellHowToBegin()
  const items = found
    .map((uri) => ({ label: nameOf(uri), description: vscode.workspace.asRelativePath(uri), uri }))
    .sort((a, b) => a.label.localeCompare(b.label))
  const picked = await vscode.window.showQuickPick(items, {
    title: vscode.l10n.t('{0}: Profile', title),
    matchOnDescription: true,
  })
  return picked?.uri
}

async function tellHowToBegin(): Promise<undefined> {
  const sample = vscode.l10n.t('Open the Sample Shop')
  const start = vscode.l10n.t('New Profile')
  const chosen = await vscode.window.showInformationMessage(
    vscode.l10n.t('There is no profile (*.media.yaml) here yet.'),
    start,
    sample,
  )
  if (chosen === sample) await vscode.commands.executeCommand('rollbook.openSampleShop')
  if (chosen === start) await vscode.commands.executeCommand('rollbook.startProfile')
  return undefined
}

function openProfiles(): readonly vscode.Uri[] {
  const inputs = vscode.window.tabGroups.all.flatMap(({ tabs }) => tabs.map(({ input }) => input))
  const uris = inputs.flatMap((input) => (input instanceof vscode.TabInputText && isProfile(input.uri) ? [input.uri] : []))
  return uris.filter((uri, n) => uris.findIndex((other) => other.toString() === uri.toString()) === n)
}

const isProfile = (uri: vscode.Uri): boolean => !isEarlier(uri) && uri.path.endsWith('.media.yaml')

const nameOf = (uri: vscode.Uri): string => uri.path.slice(uri.path.lastIndexOf('/') + 1).replace(/\.media\.yaml$/, '')
