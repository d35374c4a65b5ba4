// The open documents' texts as the protocol sends them: incremental changes in whatever position encoding was agreed on.
import type { TextDocumentContentChangeEvent } from 'vscode-languageserver'
import { TextDocument } from 'vscode-languageserver-textdocument'
import { LineIndex, type LinePosition, type PositionEncoding } from '../base/line-index.ts'

/** Offsets to positions and back, for one text. */
export interface Positions {
  position(offset: number): LinePosition
  offset(position: LinePosition): number
}

/** For how many documents the index of lines is kept. */
const KEPT = 32

export class OpenTexts {
  private readonly documents = new Map<string, TextDocument>()
  private readonly indices = new Map<string, LineIndex>()
  encoding: PositionEncoding = 'utf-16'

  /** Files go by their one normal name here; `uri` is how the client spells it. */
  open(file: string, uri: string, version: number, text: string): void {
    this.documents.set(file, TextDocument.create(uri, 'rollbook', version, text))
  }

  /** The text after the changes; undefined for a document that was never opened, and for changes to a text that is not there any more. */
  change(file: string, version: number, changes: readonly TextDocumentContentChangeEvent[]): string | undefined {
    const document = this.documents.get(file)
    if (!document || version < document.version) return undefined
    let at = document
    for (const change of changes) at = TextDocument.update(at, [this.inUtf16(at, change)], version)
    this.documents.set(file, at)
    return at.getText()
  }

  close(file: string): void {
    this.documents.delete(file)
    this.indices.delete(file)
  }

  /** Every open text; `uri` is how the client spells its file. */
  all(): readonly { readonly file: string; readonly uri: string; readonly text: string }[] {
    return [...this.documents].map(([file, document]) => ({ file, uri: document.uri, text: document.getText() }))
  }

  version(file: string): number | undefined {
    return this.documents.get(file)?.version
  }

  /** A file's name as the client spells it. */
  uri(file: string): string {
    return this.documents.get(file)?.uri ?? file
  }

  /** Positions in a document's text. */
  positions(file: string, text: string): Positions {
    const document = this.documents.get(file)
    if (this.encoding === 'utf-16' && document && document.getText() === text) {
      return { position: (offset) => document.positionAt(offset), offset: (position) => document.offsetAt(position) }
    }
    return this.lines(file, text)
  }

  private lines(file: string, text: string): LineIndex {
    const before = this.indices.get(file)
    if (before?.text === text) return before
    const lines = new LineIndex(text, this.encoding)
    this.indices.set(file, lines)
    if (this.indices.size > KEPT) this.indices.delete(this.indices.keys().next().value!)
    return lines
  }

  private inUtf16(document: TextDocument, change: TextDocumentContentChangeEvent): TextDocumentContentChangeEvent {
    if (this.encoding === 'utf-16' || !('range' in change)) return change
    const lines = new LineIndex(document.getText(), this.encoding)
    const start = document.positionAt(lines.offset(change.range.start))
    const end = document.positionAt(lines.offset(change.range.end))
    return { range: { start, end }, text: change.text }
  }
}
