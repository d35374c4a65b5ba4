// What a count above a name leads to: the places, as the editor shows them. The server sends plain values, and this is their way in.
import * as vscode from 'vscode'

/** The server is told of it, so that it puts it behind its counts. */
export const SHOW_REFERENCES = 'rollbook.showReferences'

export function registerShowReferences(): vscode.Disposable {
  return vscode.commands.registerCommand(SHOW_REFERENCES, async (uri: string, at: { line: number; character: number }) => {
    const file = vscode.Uri.parse(uri, true)
    const position = new vscode.Position(at.line, at.character)
    const places = await vscode.commands.executeCommand('vscode.executeReferenceProvider', file, position)
    await vscode.commands.executeCommand('editor.action.showReferences', file, position, places)
  })
}
