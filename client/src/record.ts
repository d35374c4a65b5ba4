// Records what was just read: the server offers the new entry, and the person types the reading alone. Picks are typed one key each, all else at its place.
import * as vscode from 'vscode'
import type { CodeAction, WorkspaceEdit } from 'vscode-languageclient'
import { chooseProfile } from './choose-profile.ts'
import { lacking, picksOf, rowsIn, withPicks } from './picks.ts'
import type { Server } from './server.ts'

/** The commands, by the evidence that they record. */
export const RECORDS: Readonly<Record<string, { readonly command: string; readonly title: string }>> = {
  'feed.checks': { command: 'rollbook.recordFeedCheck', title: vscode.l10n.t('Record a Feed Check') },
  'feed.fine': { command: 'rollbook.recordFinePicks', title: vscode.l10n.t('Record Fine Picks') },
  alignment: { command: 'rollbook.recordAlignment', title: vscode.l10n.t('Record an Alignment') },
  'heat.readings': { command: 'rollbook.recordHeatReading', title: vscode.l10n.t('Record a Heat Reading') },
  keyed: { command: 'rollbook.recordReadBack', title: vscode.l10n.t('Record a Read-Back') },
  observed: { command: 'rollbook.recordObservation', title: vscode.l10n.t('Record an Observation') },
}

/** The server is told of it, so that it puts it behind its words above a section. */
export const RECORD = 'rollbook.record'

/** True when something was written. `uri` names the profile; without it, it is the one in front, or one that is chosen. */
export async function record(server: Server, kind: string, uri?: string): Promise<boolean> {
  const title = RECORDS[kind]?.title ?? kind
  const document =
    uri === undefined ? await chooseProfile(title) : (await vscode.window.showTextDocument(vscode.Uri.parse(uri, true))).document
  if (document === undefined) return false
  // What is typed into such a document could never be saved.
  if (vscode.workspace.fs.isWritableFileSystem(document.uri.scheme) === false) {
    void vscode.window.showInformationMessage(vscode.l10n.t('Nothing can be recorded here: these documents can only be read.'))
    return false
  }
  const actions = await server.codeActions(document, `refactor.record.${kind}`)
  const action = kind === 'feed.checks' ? actions[0] : await choose(title, actions)
  if (action?.edit === undefined) {
    // Whoever left the list knows why nothing was written.
    if (actions.length < 2) await vscode.window.showInformationMessage(actions[0]?.disabled?.reason ?? NOTHING)
    return false
  }
  return (await typeAllPicks(title, action.edit)) && server.apply(action.edit)
}

const NOTHING = vscode.l10n.t('Nothing of this kind can be recorded here: the printer or the profile does not say of what.')

/** One way needs no question. */
async function choose(title: string, actions: readonly CodeAction[]): Promise<CodeAction | undefined> {
  if (actions.length < 2) return actions[0]
  const items = actions.map((action) => ({ label: action.title, action }))
  return (await vscode.window.showQuickPick(items, { title }))?.action
}

/** Puts what is typed into the snippets, in place; false when the person leaves. */
async function typeAllPicks(title: string, { documentChanges }: WorkspaceEdit): Promise<boolean> {
  for (const change of documentChanges ?? []) {
    for (const edit of 'edits' in change ? change.edits : []) {
      if (!('snippet' in edit)) continue
      const text = await typePicks(title, edit.snippet.value)
      if (text === undefined) return false
      edit.snippet = { ...edit.snippet, value: text }
    }
  }
  return true
}

async function typePicks(title: string, snippet: string): Promise<string | undefined> {
  let text = snippet
  const rows = rowsIn(snippet)
  for (const [n, row] of rows.entries()) {
    const typed = await vscode.window.showInputBox({
      title: `${title}: ${row.key}${rows.length > 1 ? vscode.l10n.t(' ({0} of {1})', n + 1, rows.length) : ''}`,
      prompt: vscode.l10n.t('One key a pick: {0}', row.names.join(', ')),
      ignoreFocusOut: true,
      validateInput: (value) => {
        const message = lacking(value, row)
        return message === undefined ? undefined : { message, severity: vscode.InputBoxValidationSeverity.Error }
      },
    })
    if (typed === undefined) return undefined
    text = withPicks(text, row, picksOf(typed) ?? [])
  }
  return text
}
