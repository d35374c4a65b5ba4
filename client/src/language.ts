// The name by which the editor knows our documents, and the prefix of our settings; and where documents are at home.
import * as vscode from 'vscode'

export const LANGUAGE = 'rollbook'

/** The scheme of documents as they were. */
export const EARLIER = 'rollbook-at'

/** Whether an address is that of a document as it was, which is to be compared and not worked on. */
export const isEarlier = (uri: { readonly scheme: string }): boolean => uri.scheme === 'git' || uri.scheme === EARLIER

/** Whether an address is that of a document in a place whose files the editor knows, be it to be read alone. */
export const isAtHome = (uri: vscode.Uri): boolean =>
  !isEarlier(uri) && (uri.scheme === 'untitled' || vscode.workspace.fs.isWritableFileSystem(uri.scheme) !== undefined)
