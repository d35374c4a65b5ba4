// The outline of a document.
import type { DocumentSymbol, DocumentSymbolParams, SymbolInformation } from 'vscode-languageserver'
import { aboutDocument, type Feature } from './feature.ts'
import { flattened, toSymbol } from './to-proto.ts'

export const symbols: Feature = {
  capability: { documentSymbolProvider: true },
  requests: {
    'textDocument/documentSymbol': aboutDocument<DocumentSymbolParams, DocumentSymbol[] | SymbolInformation[]>(
      {},
      ({ textDocument }, { file, positions, session }) => {
        const outline = session.analysis.outline(file).map((item) => toSymbol(item, positions))
        return session.able.hierarchicalSymbols ? outline : flattened(outline, textDocument.uri)
      },
    ),
  },
}
