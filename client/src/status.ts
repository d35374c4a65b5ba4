// The one status item: how the language server is, with its log one click away. It shows only while a Rollbook document is in front.
import * as vscode from 'vscode'
import { LANGUAGE } from './language.ts'
import type { Server, ServerState } from './server.ts'

const TEXTS: Readonly<Record<ServerState, string>> = {
  idle: vscode.l10n.t('Rollbook is not running'),
  starting: vscode.l10n.t('Rollbook is starting'),
  running: 'Rollbook',
  restarting: vscode.l10n.t('Rollbook is starting again'),
  failed: vscode.l10n.t('Rollbook has stopped'),
}

export function registerStatus(server: Server): vscode.Disposable {
  const item = vscode.languages.createLanguageStatusItem('rollbook.server', { language: LANGUAGE })
  item.name = vscode.l10n.t('Rollbook language server')
  item.command = { command: 'rollbook.showLog', title: vscode.l10n.t('Show Log') }
  const show = (): void => {
    const { state } = server
    item.text = TEXTS[state]
    item.detail = state === 'running' && server.version !== undefined ? vscode.l10n.t('version {0}', server.version) : ''
    item.busy = state === 'starting' || state === 'restarting'
    item.severity = state === 'failed' ? vscode.LanguageStatusSeverity.Error : vscode.LanguageStatusSeverity.Information
  }
  show()
  return vscode.Disposable.from(item, server.onDidChangeState(show))
}

/** What is known of the profile in front, in a few words. */
interface ProfileWord {
  readonly word: string
  readonly says: string
  readonly sentence: string
}

/** Asked for anew after a pause in typing this long. */
const QUIET_MS = 300

/** The word of the profile in front, its sentence beside it, and the shop one click away. */
export function registerProfileWord(server: Server): vscode.Disposable {
  const selector = { language: LANGUAGE, pattern: '**/*.media.yaml' }
  const item = vscode.languages.createLanguageStatusItem('rollbook.profile', selector)
  item.name = vscode.l10n.t('Rollbook profile')
  item.command = { command: 'rollbook.shop.focus', title: vscode.l10n.t('Show the Shop') }
  let waiting: NodeJS.Timeout | undefined
  const show = async (): Promise<void> => {
    const document = vscode.window.activeTextEditor?.document
    if (document === undefined || server.state !== 'running' || vscode.languages.match(selector, document) === 0) return
    const word = await server.ask<ProfileWord | null>('rollbook/word', { uri: document.uri.toString() }).catch(() => null)
    item.text = word?.says ?? ''
    item.detail = word?.sentence ?? ''
    item.severity = word?.word === 'off' ? vscode.LanguageStatusSeverity.Warning : vscode.LanguageStatusSeverity.Information
  }
  const soon = (): void => {
    clearTimeout(waiting)
    waiting = setTimeout(() => void show(), QUIET_MS)
  }
  soon()
  return vscode.Disposable.from(
    item,
    server.onDidChangeState(soon),
    server.onDidChangeShop(soon),
    vscode.window.onDidChangeActiveTextEditor(soon),
    vscode.workspace.onDidChangeTextDocument(({ document }) => {
      if (document === vscode.window.activeTextEditor?.document) soon()
    }),
    { dispose: () => clearTimeout(waiting) },
  )
}
