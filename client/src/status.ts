// The one status item: how the language server is, with its log one click away. It shows only while a Rollbook document is in front.
import * as vscode from 'vscode'
import { LANGUAGE } from './language.ts'
import type { Server, ServerState } from './server.ts'

const TEXTS: Readonly<Record<ServerState, string>> = {
  idle: 'Rollbook is not running',
  starting: 'Rollbook is starting',
  running: 'Rollbook',
  restarting: 'Rollbook is starting again',
  failed: 'Rollbook has stopped',
}

export function registerStatus(server: Server): vscode.Disposable {
  const item = vscode.languages.createLanguageStatusItem('rollbook.server', { language: LANGUAGE })
  item.name = 'Rollbook language server'
  item.command = { command: 'rollbook.showLog', title: 'Show Log' }
  const show = (): void => {
    const { state } = server
    item.text = TEXTS[state]
    item.detail = state === 'running' && server.version !== undefined ? `version ${server.version}` : ''
    item.busy = state === 'starting' || state === 'restarting'
    item.severity = state === 'failed' ? vscode.LanguageStatusSeverity.Error : vscode.LanguageStatusSeverity.Information
  }
  show()
  return vscode.Disposable.from(item, server.onDidChangeState(show))
}
