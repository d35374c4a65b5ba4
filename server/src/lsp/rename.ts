// Another name for a thing of the shop, in every document that names it, and for its file where the client can rename files.
import { ResponseError } from 'vscode-jsonrpc'
import type { PrepareRenameParams, RenameFile, RenameParams, TextDocumentEdit, WorkspaceEdit } from 'vscode-languageserver'
import type { TextEdit } from '../base/text-edit.ts'
import type { RollDocument } from '../model/document.ts'
import { aboutDocument, type Feature } from './feature.ts'
import { LSPErrorCodes } from './protocol.ts'
import type { Session } from './session.ts'
import { toEdit, toRange } from './to-proto.ts'

const refused = (why: string): ResponseError => new ResponseError(LSPErrorCodes.RequestFailed, why)

export const rename: Feature = {
  capability: (able) => ({ renameProvider: able.preparesRename ? { prepareProvider: true } : true }),
  requests: {
    'textDocument/prepareRename': aboutDocument<PrepareRenameParams, object | null>(
      { position: 'position' },
      ({ position }, { file, positions, session }) => {
        const name = session.analysis.nameAt(file, positions.offset(position))
        if (name?.refused !== undefined) throw refused(name.refused)
        return name ? { range: toRange(positions, name.span), placeholder: name.name } : null
      },
    ),
    'textDocument/rename': aboutDocument<RenameParams, WorkspaceEdit>(
      { position: 'position', newName: 'text' },
      async ({ position, newName }, { file, positions, session }) => {
        const renaming = await session.analysis.rename(file, positions.offset(position), newName)
        if (!renaming) throw refused('Nothing that has a name of the shop’s own stands here.')
        if (!renaming.ok) throw refused(renaming.refused)
        const changes = [...renaming.edits].map(([document, edits]) => inDocument(session, document, edits))
        if (!session.able.documentChanges)
          return { changes: Object.fromEntries(changes.map(({ textDocument, edits }) => [textDocument.uri, edits as never])) }
        return { documentChanges: [...changes, ...ofFile(session, renaming.file)] }
      },
    ),
  },
}

function inDocument(session: Session, document: RollDocument, edits: readonly TextEdit[]): TextDocumentEdit {
  const { file, text } = document
  // While closed documents were read, somebody may have gone on typing.
  if (session.workspace.isOpen(file) && session.workspace.document(file)?.text !== text)
    throw new ResponseError(LSPErrorCodes.ContentModified, 'The text has changed meanwhile.')
  const positions = session.texts.positions(file, text)
  return {
    textDocument: { uri: session.texts.uri(file), version: session.texts.version(file) ?? null },
    edits: edits.map((edit) => toEdit(edit, positions)),
  }
}

function ofFile({ able, texts }: Session, file: { from: string; to: string } | undefined): RenameFile[] {
  return file && able.renamesFiles ? [{ kind: 'rename', oldUri: texts.uri(file.from), newUri: file.to }] : []
}
