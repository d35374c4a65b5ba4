// VS Code indents the lines of a snippet like the line it is put into, which our server has done already: twice indented, the YAML
// would be another. A new line is therefore put in at the beginning of the next line, where there is nothing to indent by.
import * as vscode from 'vscode'
import type { CodeAction, Command, SnippetTextEdit } from 'vscode-languageclient'
import { TextDocumentEdit } from 'vscode-languageclient'

/** Moves the snippets of code actions, in place. */
export function moveSnippets(actions: readonly (CodeAction | Command)[]): void {
  for (const action of actions) {
    if (!('edit' in action)) continue
    for (const change of action.edit?.documentChanges ?? []) {
      if (!TextDocumentEdit.is(change)) continue
      const document = openDocument(change.textDocument.uri)
      for (const edit of change.edits) if (document !== undefined && 'snippet' in edit) moveToNextLine(edit, document)
    }
  }
}

function moveToNextLine(edit: SnippetTextEdit, document: vscode.TextDocument): void {
  const { line, character } = edit.range.start
  const [, lineBreak, rest] = /^(\r?\n)(.*)$/s.exec(edit.snippet.value) ?? []
  const isAtLineEnd = character === document.lineAt(line).text.length && edit.range.end.line === line
  if (lineBreak === undefined || !isAtLineEnd || line + 1 === document.lineCount) return
  const start = { line: line + 1, character: 0 }
  edit.range = { start, end: start }
  edit.snippet = { ...edit.snippet, value: `${rest}${lineBreak}` }
}

function openDocument(uri: string): vscode.TextDocument | undefined {
  const wanted = vscode.Uri.parse(uri).toString()
  return vscode.workspace.textDocuments.find((document) => document.uri.toString() === wanted)
}
