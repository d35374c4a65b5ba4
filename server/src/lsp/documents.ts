// The open documents' texts as the protocol sends them: incremental changes in whatever position encoding was agreed on.
import type { TextDocumentContentChangeEvent } from 'vscode-languageserver'
import { TextDocument } from 'vscode-languageserver-textdocument'
import { LineIndex, type LinePosition, type PositionEncoding } from '../base/line-index.ts'

/** Offsets to positions and back, for one text. */
export interface Positions {
  position(offset: number): LinePosition
  offset(position: LinePosition): number
}

export class OpenTexts {
  private readonly documents = new Map<string, TextDocument>()
  encoding: PositionEncoding = 'utf-16'

  open(uri: string, version: number, text: string): void {
    this.documents.set(uri, TextDocument.create(uri, 'rollbook', version, text))
  }

  /** The text after the changes; undefined for a document that was never opened. */
  change(uri: string, version: number, changes: readonly TextDocumentContentChangeEvent[]): string | undefined {
    const document = this.documents.get(uri)
    if (!document) return undefined
    let at = document
    for (const change of changes) at = TextDocument.update(at, [this.inUtf16(at, change)], version)
    this.documents.set(uri, at)
    return at.getText()
  }

  close(uri: string): void {
    this.documents.delete(uri)
  }

  version(uri: string): number | undefined {
    return this.documents.get(uri)?.version
  }

  /** Positions in a document: an open one's own, or those of the text given. */
  positions(uri: string, text: string): Positions {
    const document = this.documents.get(uri)
    if (this.encoding === 'utf-16' && document && document.getText().length === text.length) {
      return { position: (offset) => document.positionAt(offset), offset: (position) => document.offsetAt(position) }
    }
    const lines = new LineIndex(text, this.encoding)
    return { position: (offset) => lines.position(offset), offset: (position) => lines.offset(position) }
  }

  private inUtf16(document: TextDocument, change: TextDocumentContentChangeEvent): TextDocumentContentChangeEvent {
    if (this.encoding === 'utf-16' || !('range' in change)) return change
    const lines = new LineIndex(document.getText(), this.encoding)
    const start = document.positionAt(lines.offset(change.range.start))
    const end = document.positionAt(lines.offset(change.range.end))
    return { range: { start, end }, text: change.text }
  }
}
