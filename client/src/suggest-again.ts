// Where a completion or Tab brings the cursor to an empty place behind a key or in a section, what may stand there is suggested at once. Only the
// list is opened: no character is put in, so that nothing can come between what the person types.
import * as vscode from 'vscode'
import { LANGUAGE } from './language.ts'

const { Keyboard, Mouse } = vscode.TextEditorSelectionChangeKind

/** Text that is put in moves the cursor to its end before it goes to its first stop. */
const SETTLED_MS = 50

export function registerSuggestAgain(): vscode.Disposable {
  let isNewLine = false
  const changes = vscode.workspace.onDidChangeTextDocument(({ contentChanges }) => {
    isNewLine = contentChanges.some(({ text }) => /^\r?\n[ -]*$/.test(text))
  })
  const moves = vscode.window.onDidChangeTextEditorSelection(async ({ textEditor, kind }) => {
    // Enter moves the cursor too, but whoever makes a line may want to go on by the arrows, which a list would take.
    const isTyped = kind === Keyboard || kind === Mouse || isNewLine
    isNewLine = false
    if (!isTyped && textEditor.document.languageId === LANGUAGE) await suggestAtEmptyPlace(textEditor)
  })
  return vscode.Disposable.from(changes, moves)
}

async function suggestAtEmptyPlace(editor: vscode.TextEditor): Promise<void> {
  const { active } = editor.selection
  await new Promise((resolve) => setTimeout(resolve, SETTLED_MS))
  const { selection, document } = editor
  if (editor !== vscode.window.activeTextEditor || !selection.isEmpty || !selection.active.isEqual(active)) return
  const { text } = document.lineAt(active.line)
  const [before, after] = [text.slice(0, active.character), text.slice(active.character)]
  const isEmpty =
    after === '' ? /^(?: +| *- |[^#]*: )$/.test(before) : /^ *[,}]/.test(after) && /^[^#]*[{,] *[^:,{]*: $/.test(before)
  if (!isEmpty) return
  await vscode.commands.executeCommand('editor.action.triggerSuggest', { auto: true })
}
