// The open documents as the client tells of them: opened, changed, closed.
import type { DidChangeTextDocumentParams, DidCloseTextDocumentParams, DidOpenTextDocumentParams } from 'vscode-languageserver'
import { type Feature, notification } from './feature.ts'
import { TextDocumentSyncKind } from './protocol.ts'

export const sync: Feature = {
  capability: { textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental, save: false } },
  notifications: {
    'textDocument/didOpen': notification<DidOpenTextDocumentParams>(
      { textDocument: 'opened' },
      ({ textDocument: { uri, version, text, languageId } }, session) => {
        const { file } = session.unsaved.place(uri, text, languageId)
        session.texts.open(file, uri, version, text)
        session.take(file, text)
      },
    ),
    'textDocument/didChange': notification<DidChangeTextDocumentParams>(
      { textDocument: 'document', contentChanges: 'changes' },
      ({ textDocument: { uri, version }, contentChanges }, session) => {
        const { texts, unsaved } = session
        const before = unsaved.fileOf(uri)
        const text = texts.change(before, version, contentChanges)
        if (text === undefined) {
          session.host.log('error', `a change to ${before} is left out: it is not open, or the change is older than its text`)
          return
        }
        const { file, left } = unsaved.place(uri, text)
        if (left !== undefined) {
          void session.leave(left)
          texts.open(file, uri, version, text)
        }
        session.take(file, text)
      },
    ),
    'textDocument/didClose': notification<DidCloseTextDocumentParams>(
      { textDocument: 'document' },
      async ({ textDocument: { uri } }, session) => {
        const file = session.unsaved.fileOf(uri)
        session.publisher.wait()
        session.unsaved.forget(uri)
        await session.leave(file)
        if (!session.able.pullsFindings && !session.workspace.isOpen(file))
          session.tell('textDocument/publishDiagnostics', { uri, diagnostics: [] })
        session.publisher.soon()
      },
    ),
  },
}
