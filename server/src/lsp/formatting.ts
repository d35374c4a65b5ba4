// A document, or some lines of it, put in order. How wide a step is the format's to say, and not the editor's.
import type { DocumentFormattingParams, DocumentRangeFormattingParams, TextEdit } from 'vscode-languageserver'
import type { Span } from '../base/span.ts'
import { type Asked, aboutDocument, type Feature } from './feature.ts'
import { toEdit, toSpan } from './to-proto.ts'

export const formatting: Feature = {
  capability: { documentFormattingProvider: true, documentRangeFormattingProvider: true },
  requests: {
    'textDocument/formatting': aboutDocument<DocumentFormattingParams, TextEdit[] | null>({}, (_, at) => edits(at)),
    'textDocument/rangeFormatting': aboutDocument<DocumentRangeFormattingParams, TextEdit[] | null>(
      { range: 'range' },
      ({ range }, at) => edits(at, toSpan(at.positions, range)),
    ),
  },
}

/** Nothing where the text has mistakes: these are told already, and a message at every saving would be in the way. */
function edits({ file, positions, session }: Asked, within?: Span): TextEdit[] | null {
  return session.analysis.format(file, within)?.map((edit) => toEdit(edit, positions)) ?? null
}
